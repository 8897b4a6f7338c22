"""The window's one model: the input in hand, the answer that is shown, what is selected. No widget lives here.

An answer belongs to the input, the navigation data and the settings that it was asked for with. The moment one of them
differs it is outdated, and the session says so before it asks for the next one. Routes are assessed on a worker thread
(`assessor`), navigation data is loaded on another (`data_loader`), so that each goes on while the other is busy.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from routecheck.gui.assessor import AssessmentRequest, Assessor, AssessorThread, NearbyRequest
from routecheck.gui.data_loader import DataLoader
from routecheck.gui.input_reader import InputReader
from routecheck.presentation.selection import select_finding, select_leg, select_point, select_words
from routecheck.settings import Settings

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable

    from routecheck.earth.projection import Projection
    from routecheck.gui.data_loader import Loader
    from routecheck.known.known_routes import KnownRoutes
    from routecheck.model import Assessment, Route, RouteInput, Span
    from routecheck.navdata.database import NavDatabase
    from routecheck.presentation.assessment_view import AssessmentView
    from routecheck.presentation.graticule import ChartBox
    from routecheck.presentation.selection import Selection

WAIT_MS = 0
"""How long typing must rest before a request goes out: all that one event changes goes out together."""


class Session(QObject):
    """What the window is about. Views listen to its signals and never to each other."""

    input_changed = Signal(object)
    """The RouteInput in hand, after every change."""
    input_replaced = Signal(object)
    """A RouteInput that did not come from typing: from a file, the demo, the route before."""

    assessed = Signal(object)
    """The AssessmentView that answers the newest request. It is about the input in hand."""
    answer_outdated = Signal()
    """The answer that is shown is no longer about the input in hand: its verdict must go until the next one comes."""
    answer_lost = Signal(str)
    """There is no answer about the input in hand, and why: nothing of it may look checked."""
    selected = Signal(object)
    """The Selection, or None."""
    trial_assessed = Signal(object)
    """The Assessment of the corrected route that was last asked for; the input in hand stays as it is."""
    nearby_found = Signal(object)
    """The NearbyFixes of the view that was last asked for, or None."""

    pointed = Signal(object)
    """A PlaceAlong: where on the route the mouse is in one of the views; None = nowhere on it."""

    data_loaded = Signal(object)
    """The Loader whose navigation data is in use from now on."""
    data_failed = Signal(str)
    """Why navigation data was not loaded, as a sentence. The data in use stays."""
    load_progressed = Signal(float)
    """The share of the navigation data that is loaded; 1 = nothing is being loaded."""

    _assessment_wanted = Signal(object)
    _trial_wanted = Signal(object)
    _nearby_wanted = Signal(object)

    def __init__(self, route_input: RouteInput, today: Callable[[], dt.date], settings: Settings | None = None) -> None:
        super().__init__()
        self.route_input = route_input
        self.settings = settings or Settings()
        self.answer: AssessmentView | None = None
        self.selection: Selection | None = None
        self._answered: AssessmentRequest | None = None
        self._is_said_outdated = False
        self._database: NavDatabase | None = None
        self.known: KnownRoutes | None = None
        """The known routes with which routes are compared; None = there are none."""
        self._with_side = self._is_straightened = False
        self._rest = QTimer(self, singleShot=True)
        self._rest.timeout.connect(self.request_assessment)
        self._loader = DataLoader(self)
        self.reader = InputReader(self)
        self._thread = AssessorThread(self)
        self.assessor = Assessor(today)
        self.assessor.moveToThread(self._thread)
        self._connect()
        self._thread.start()

    @property
    def database(self) -> NavDatabase | None:
        """The navigation data in use; None where none is loaded yet."""
        return self._database

    @property
    def is_answer_current(self) -> bool:
        """Whether there is an answer, and it is about the input, the data and the settings as they are now."""
        answered = self._answered
        return answered is not None and self._is_about_now(answered)

    # ---- the input

    def change_input(self, route_input: RouteInput, wait_ms: int = WAIT_MS) -> None:
        """Take what was typed; the answer follows a moment later. Until then the one there is is outdated."""
        if route_input == self.route_input:
            return
        self.route_input = route_input
        self.input_changed.emit(route_input)
        self._say_if_outdated()
        self._rest.start(wait_ms)

    def replace_input(self, route_input: RouteInput) -> None:
        """Take a whole route from elsewhere and let the panes show it; what is still being read is dropped."""
        self.reader.drop()
        self.route_input = route_input
        self.select(None)
        self.input_replaced.emit(route_input)
        self.input_changed.emit(route_input)
        self.request_assessment()

    def use_settings(self, settings: Settings) -> None:
        """Judge by other limits and Aircraft sheets from now on."""
        self.settings = settings
        self.request_assessment()

    def use_known(self, known: KnownRoutes | None) -> None:
        """Compare with other known routes from now on."""
        self.known = known
        self.request_assessment()

    # ---- answers

    def request_assessment(self) -> None:
        """Ask for an answer about the input as it is now."""
        self._rest.stop()
        self._say_if_outdated()
        self.assessor.newest_answer += 1
        if self._database is not None:
            self._assessment_wanted.emit(self._request(self.assessor.newest_answer, self._database, self.route_input))

    def request_trial(self, route_input: RouteInput | None) -> None:
        """Ask how a corrected route would come out; None = take no answer any more."""
        self.assessor.newest_trial += 1
        if route_input is not None and self._database is not None:
            self._trial_wanted.emit(self._request(self.assessor.newest_trial, self._database, route_input))

    def request_nearby(self, route: Route, projection: Projection, view: ChartBox) -> None:
        """Ask which fixes of the loaded data lie in a view of the Picture."""
        self.assessor.newest_nearby += 1
        if self._database is not None:
            request = NearbyRequest(self.assessor.newest_nearby, self._database, route, projection, view)
            self._nearby_wanted.emit(request)

    def include_side_view(self) -> None:
        """Let every answer bring the Side view from now on."""
        self._with_side = True

    def straighten(self, is_wanted: bool) -> None:
        """Let every answer bring the Picture with the direct line straight across, or with north up."""
        self._is_straightened = is_wanted
        self.request_assessment()

    # ---- navigation data

    def load_data(self, loader: Loader) -> None:
        """Load navigation data; once it is there it is used. Until then routes are assessed with the data in use."""
        self._loader.load(loader)

    def stop_loading(self) -> None:
        """Give up loading; the data in use stays."""
        self._loader.stop()

    # ---- the selection

    def select(self, selection: Selection | None) -> None:
        """Select something in all panes, or nothing."""
        if selection != self.selection:
            self.selection = selection
            self.selected.emit(selection)

    def select_words(self, span: Span) -> None:
        """Select the words that a span touches."""
        if self.answer is not None:
            self.select(select_words(self.answer.assessment, span))

    def select_finding(self, index: int) -> None:
        """Select a finding by its index; nothing where there is none of that index."""
        if self.answer is not None and index < len(self.answer.assessment.findings):
            self.select(select_finding(self.answer.assessment, index))

    def select_point(self, index: int) -> None:
        """Select a point of the path."""
        if self.answer is not None:
            self.select(select_point(self.answer.assessment, index))

    def select_leg(self, index: int) -> None:
        """Select a leg."""
        if self.answer is not None:
            self.select(select_leg(self.answer.assessment, index))

    def step_selection(self, by: int) -> None:
        """Select the next (+1) or previous (-1) finding; after the last comes the first."""
        count = len(self.answer.assessment.findings) if self.answer else 0
        if not count:
            return
        now = self.selection.findings[0] if self.selection and self.selection.findings else None
        first = 0 if by > 0 else count - 1
        self.select_finding(first if now is None else (now + by) % count)

    def close(self) -> None:
        """End the threads; waits for the request in hand, but for no load."""
        self._rest.stop()
        self.reader.drop()
        self._loader.close()
        self.assessor.newest_answer += 1
        self._thread.quit()
        self._thread.wait()

    # ---- how it is done

    def _connect(self) -> None:
        self._assessment_wanted.connect(self.assessor.assess)
        self._trial_wanted.connect(self.assessor.assess_trial)
        self._nearby_wanted.connect(self.assessor.find_nearby)
        self.assessor.assessed.connect(self.take_answer)
        self.assessor.failed.connect(self._take_failure)
        self.assessor.trial_assessed.connect(self._take_trial)
        self.assessor.nearby_found.connect(self._take_nearby)
        self._loader.loaded.connect(self._take_data)
        self._loader.failed.connect(self._take_failed_load)
        self._loader.progressed.connect(self.load_progressed)

    def _request(self, number: int, database: NavDatabase, route_input: RouteInput) -> AssessmentRequest:
        views = {"with_side": self._with_side, "straightened": self._is_straightened}
        return AssessmentRequest(number, route_input, database, self.settings, known=self.known, **views)

    def _is_about_now(self, request: AssessmentRequest) -> bool:
        """Whether an answer to a request is about everything as it is now."""
        return request.is_about(self.route_input, self._database, self.settings, self.known)

    def _say_if_outdated(self) -> None:
        """Say once that the answer shown is outdated."""
        if self.answer is not None and not self._is_said_outdated and not self.is_answer_current:
            self._is_said_outdated = True
            self.answer_outdated.emit()

    @Slot(object, object)
    def take_answer(self, request: AssessmentRequest, answer: AssessmentView) -> None:
        """Show an answer of the assessor, if it is about the input, the data and the settings as they are now."""
        is_newest = request.number == self.assessor.newest_answer
        if not is_newest or not self._is_about_now(request):
            return
        if self._answered is None or self._answered.route_input != request.route_input:
            self.selection = None
        self.answer, self._answered, self._is_said_outdated = answer, request, False
        self.assessed.emit(answer)
        self.selected.emit(self.selection)

    @Slot(object, str)
    def _take_failure(self, request: AssessmentRequest, why: str) -> None:
        if request.number == self.assessor.newest_answer:
            self._lose_answer(why)

    def _lose_answer(self, why: str) -> None:
        self.answer = self._answered = None
        self._is_said_outdated = False
        self.select(None)
        self.answer_lost.emit(why)

    @Slot(int, object)
    def _take_trial(self, number: int, assessment: Assessment) -> None:
        if number == self.assessor.newest_trial:
            self.trial_assessed.emit(assessment)

    @Slot(int, object)
    def _take_nearby(self, number: int, found: object) -> None:
        if number == self.assessor.newest_nearby:
            self.nearby_found.emit(found)

    @Slot(object, object)
    def _take_data(self, loader: Loader, database: NavDatabase) -> None:
        self._database = database
        self.data_loaded.emit(loader)
        self.request_assessment()

    @Slot(str)
    def _take_failed_load(self, why: str) -> None:
        self.data_failed.emit(why)
        if self._database is None:
            self._lose_answer(why)
