"""The window's one model: the route in hand, its assessment, what is picked. No widget lives here.

Assessing and loading run on one worker thread; the newest answer wins and stale requests are skipped unread.
"""

from __future__ import annotations

import gc
import logging
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QThread, QTimer, Signal, Slot

from routecheck.gui import persistence
from routecheck.pipeline import assess
from routecheck.presentation import selection
from routecheck.presentation.assessment_view import view_assessment
from routecheck.presentation.nearby_fixes import gather_surroundings
from routecheck.settings import DataError, Settings, UsageError

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable

    from routecheck.earth.projection import Projection
    from routecheck.model import Assessment, Route, RouteInput, Span
    from routecheck.navdata.database import NavDatabase
    from routecheck.presentation.assessment_view import AssessmentView
    from routecheck.presentation.graticule import ChartBox
    from routecheck.presentation.selection import Selection

    Loader = Callable[[Callable[[float], None]], NavDatabase]

LOG = logging.getLogger(__name__)
WAIT_MS = 0
"""How long typing must rest before a request goes out: all that one event changes goes out together."""


class StoppedError(Exception):
    """The user stopped the loading."""


class _Thread(QThread):
    """Stays one thread to Python as long as it lives. A bare QThread is a new one at every slot, and pyproj goes on
    using what it keeps per thread after Python has thrown it away."""

    def run(self) -> None:
        """Wait for work."""
        self.exec()


class _Worker(QObject):
    """Lives on the worker thread; holds the library. Requests older than `newest` are skipped."""

    answered = Signal(int, object)
    loaded = Signal(object)
    lost = Signal(int, str)
    failed = Signal(str)
    progressed = Signal(float)
    surveyed = Signal(int, object)
    tried = Signal(int, object)

    def __init__(self, settings: Settings, today: Callable[[], dt.date]) -> None:
        super().__init__()
        self.newest = 0
        self.newest_survey = 0
        self.newest_trial = 0
        self.stop = False
        self.with_side = False
        self._answered = 0
        self.settings = settings
        self._today = today
        self._database: NavDatabase | None = None

    @Slot(object)
    def load(self, loader: Loader) -> None:
        self.stop = False
        self.progressed.emit(0.0)
        gc.unfreeze()
        try:
            self._database = loader(self._progress)
        except StoppedError:
            self.failed.emit("Loading was stopped. The data in use is as before.")
        except (DataError, UsageError, OSError) as trouble:
            self._could_not_load(f"Navigation data not loaded. {trouble}")
        except Exception:
            LOG.exception("loading navigation data failed")
            self._could_not_load(f"Navigation data not loaded: our mistake, told in {persistence.log_file()}.")
        else:
            # What was loaded stays: the garbage collector would go through all of it while somebody types.
            gc.freeze()
            self.loaded.emit(loader)
        self.progressed.emit(1.0)

    def _could_not_load(self, why: str) -> None:
        self.failed.emit(why)
        if self._database is None:
            self.lost.emit(self.newest, why)

    def _progress(self, share: float) -> None:
        if self.stop:
            raise StoppedError
        self.progressed.emit(min(share, 0.999))

    @Slot(int, object)
    def assess(self, number: int, route_input: RouteInput) -> None:
        if number < self.newest or self._database is None:
            return
        self._answered = number
        try:
            assessment = assess(route_input, self._database, self.settings, self._today())
            answer = None if assessment.failure else view_assessment(assessment, with_side=self.with_side)
        except Exception:
            LOG.exception("assessing failed")
            answer = None
        if answer is not None:
            self.answered.emit(number, answer)
        else:
            self.lost.emit(
                number, f"This route could not be worked out: our mistake, told in {persistence.log_file()}."
            )

    @Slot(int, object)
    def try_out(self, number: int, route_input: RouteInput) -> None:
        """Assess a route that is not the one in hand. What fails is logged: nothing is shown of it."""
        if number < self.newest_trial or self._database is None:
            return
        try:
            assessment = assess(route_input, self._database, self.settings, self._today())
        except Exception:
            LOG.exception("trying a correction failed")
            return
        if not assessment.failure:
            self.tried.emit(number, assessment)

    @Slot(int, object, object, object)
    def survey(self, number: int, route: Route, projection: Projection, view: ChartBox) -> None:
        """Gather what lies about a view. Answers about the route come first; after each the Picture asks again."""
        if number < self.newest_survey or self._database is None or self._answered < self.newest:
            return
        try:
            self.surveyed.emit(number, gather_surroundings(self._database, route, projection, view))
        except Exception:
            LOG.exception("gathering what lies about a view failed")


class Session(QObject):
    """The route in hand. Views listen to its signals and never to each other."""

    assessed = Signal(object)
    """An AssessmentView: the answer to the newest request."""
    selected = Signal(object)
    """A Pick, or None."""
    input_replaced = Signal(object)
    """A RouteInput that did not come from typing: a file, the demo, the route before."""
    input_changed = Signal(object)
    """The RouteInput in hand, after every change."""
    data_failed = Signal(str)
    """A sentence about something that failed."""
    answer_lost = Signal(str)
    """There is no answer about the route in hand, and why: nothing of it may look checked."""
    data_loaded = Signal(object)
    """The loader whose navigation data is now in use."""

    load_progressed = Signal(float)
    """Share of the navigation data loaded, 1 = done."""
    nearby_found = Signal(object)
    """Surroundings, or None: what the loaded data has about the view that was last asked for."""

    pointed = Signal(object)
    """A PlaceAlong: where on the route the mouse is in one of the views; None = nowhere on it."""

    trial_assessed = Signal(object)
    """The Assessment of the corrected route that was last asked for; the route in hand stays as it is."""

    _to_assess = Signal(int, object)
    _to_try = Signal(int, object)
    _to_survey = Signal(int, object, object, object)
    _to_load = Signal(object)

    def __init__(self, route_input: RouteInput, today: Callable[[], dt.date], settings: Settings | None = None) -> None:
        super().__init__()
        self.route_input = route_input
        self.answer: AssessmentView | None = None
        self.selection: Selection | None = None
        self.settings = settings or Settings()
        self._thread = _Thread(self)
        self.worker = _Worker(self.settings, today)
        self.worker.moveToThread(self._thread)
        self._to_assess.connect(self.worker.assess)
        self._to_try.connect(self.worker.try_out)
        self._to_load.connect(self.worker.load)
        self._to_survey.connect(self.worker.survey)
        self.worker.answered.connect(self.take_answer)
        self.worker.loaded.connect(self._take_data)
        self.worker.tried.connect(self._take_trial)
        self.worker.lost.connect(self._take_loss)
        self.worker.failed.connect(self.data_failed)
        self.worker.progressed.connect(self.load_progressed)
        self.worker.surveyed.connect(self._take_survey)
        self._rest = QTimer(self, singleShot=True, interval=WAIT_MS)
        self._rest.timeout.connect(self.request_assessment)
        self._thread.start()

    def load_data(self, loader: Loader) -> None:
        """Load navigation data off the GUI thread and assess again when it is there."""
        self._to_load.emit(loader)

    def use_settings(self, settings: Settings) -> None:
        """Judge by other limits and Aircraft sheets from now on."""
        self.settings = self.worker.settings = settings
        self.request_assessment()

    def include_side_view(self) -> None:
        """Let every answer bring the Side view from now on."""
        self.worker.with_side = True

    def stop_loading(self) -> None:
        """Give up loading; the data in use stays."""
        self.worker.stop = True

    def request_nearby(self, route: Route, projection: Projection, view: ChartBox) -> None:
        """Ask what the loaded data has about a view of the Picture."""
        self.worker.newest_survey += 1
        self._to_survey.emit(self.worker.newest_survey, route, projection, view)

    def request_trial(self, route_input: RouteInput | None) -> None:
        """Ask how a corrected route would come out; None = take no answer any more."""
        self.worker.newest_trial += 1
        if route_input is not None:
            self._to_try.emit(self.worker.newest_trial, route_input)

    def change_input(self, route_input: RouteInput) -> None:
        """Take what was typed; the answer follows a moment later."""
        if route_input == self.route_input:
            return
        self.route_input = route_input
        self.input_changed.emit(route_input)
        self._rest.start()

    def replace_input(self, route_input: RouteInput) -> None:
        """Take a whole route from elsewhere and let the panes show it."""
        self.route_input = route_input
        self.select(None)
        self.input_replaced.emit(route_input)
        self.input_changed.emit(route_input)
        self.request_assessment()

    def request_assessment(self) -> None:
        """Ask for an answer about the route as it is now."""
        self._rest.stop()
        self.worker.newest += 1
        self._to_assess.emit(self.worker.newest, self.route_input)

    def select(self, selection: Selection | None) -> None:
        """Pick something everywhere, or nothing."""
        if selection != self.selection:
            self.selection = selection
            self.selected.emit(selection)

    def select_words(self, span: Span) -> None:
        """Pick the words that a span touches."""
        self._select_by(selection.select_words, span)

    def select_finding(self, index: int) -> None:
        """Pick a finding by its index; nothing where there is none of that index."""
        if self.answer and index < len(self.answer.assessment.findings):
            self._select_by(selection.select_finding, index)

    def select_point(self, index: int) -> None:
        """Pick a point of the path."""
        self._select_by(selection.select_point, index)

    def select_leg(self, index: int) -> None:
        """Pick a leg."""
        self._select_by(selection.select_leg, index)

    def step_selection(self, by: int) -> None:
        """Pick the next (+1) or previous (-1) finding, round the end."""
        count = len(self.answer.assessment.findings) if self.answer else 0
        if not count:
            return
        now = self.selection.findings[0] if self.selection and self.selection.findings else None
        first = 0 if by > 0 else count - 1
        self.select_finding(first if now is None else (now + by) % count)

    def close(self) -> None:
        """End the worker thread; waits for the request in hand."""
        self._rest.stop()
        self.worker.newest += 1
        self.worker.stop = True
        self._thread.quit()
        self._thread.wait()

    def _select_by(self, how: Callable[[Assessment, Any], Selection | None], what: Span | int) -> None:
        if self.answer is not None:
            self.select(how(self.answer.assessment, what))

    @Slot(int, object)
    def take_answer(self, number: int, answer: AssessmentView) -> None:
        """Take an answer of the worker and tell the views; one older than the newest request is dropped."""
        if number < self.worker.newest:
            return
        same_text = (
            self.answer is not None and self.answer.assessment.route.route_input == answer.assessment.route.route_input
        )
        self.answer = answer
        if not same_text:
            self.selection = None
        self.assessed.emit(answer)
        self.selected.emit(self.selection)

    @Slot(int, str)
    def _take_loss(self, number: int, why: str) -> None:
        if number < self.worker.newest:
            return
        self.answer = None
        self.select(None)
        self.answer_lost.emit(why)

    @Slot(int, object)
    def _take_survey(self, number: int, found: object) -> None:
        if number == self.worker.newest_survey:
            self.nearby_found.emit(found)

    @Slot(int, object)
    def _take_trial(self, number: int, assessment: Assessment) -> None:
        if number == self.worker.newest_trial:
            self.trial_assessed.emit(assessment)

    @Slot(object)
    def _take_data(self, loader: object) -> None:
        self.data_loaded.emit(loader)
        self.request_assessment()
