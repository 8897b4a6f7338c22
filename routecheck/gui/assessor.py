"""The worker thread of the window: it assesses routes and looks for fixes near a view. Here no widget is touched.

Of each kind of request only the newest counts: an older one is skipped unread when its turn comes.
"""

from __future__ import annotations

import logging
from dataclasses import KW_ONLY
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QThread, Signal, Slot

from routecheck.frozen_dataclass import dataclass
from routecheck.gui import persistence
from routecheck.pipeline import assess
from routecheck.presentation.assessment_view import view_assessment
from routecheck.presentation.nearby_fixes import find_nearby_fixes

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable

    from routecheck.earth.projection import Projection
    from routecheck.known.known_routes import KnownRoutes
    from routecheck.model import Assessment, Route, RouteInput
    from routecheck.navdata.database import NavDatabase
    from routecheck.presentation.assessment_view import AssessmentView
    from routecheck.presentation.graticule import ChartBox
    from routecheck.settings import Settings

LOG = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class AssessmentRequest:
    """All that an answer depends on but the day. `number` counts the requests of its kind."""

    number: int
    route_input: RouteInput
    database: NavDatabase
    settings: Settings
    _: KW_ONLY
    known: KnownRoutes | None = None
    with_side: bool = False
    straightened: bool = False

    def is_about(
        self, route_input: RouteInput, database: NavDatabase | None, settings: Settings, known: KnownRoutes | None
    ) -> bool:
        """Whether an answer to this request is one about these."""
        is_same_data = self.database is database and self.settings is settings and self.known is known
        return is_same_data and self.route_input == route_input


@dataclass(frozen=True, slots=True)
class NearbyRequest:
    """A view of the Picture, in the plane of its projection, to look for fixes in."""

    number: int
    database: NavDatabase
    route: Route
    projection: Projection
    view: ChartBox


class AssessorThread(QThread):
    """Stays one thread to Python as long as it lives. A bare QThread is a new one at every slot, and pyproj goes on
    using what it keeps per thread after Python has thrown it away."""

    def run(self) -> None:
        """Wait for work."""
        self.exec()


class Assessor(QObject):
    """Answers requests on the worker thread. The session sets the numbers of the newest requests from its own."""

    assessed = Signal(object, object)
    """The AssessmentRequest, and the AssessmentView that answers it."""
    failed = Signal(object, str)
    """The AssessmentRequest, and why there is no answer."""
    trial_assessed = Signal(int, object)
    nearby_found = Signal(int, object)

    def __init__(self, today: Callable[[], dt.date]) -> None:
        super().__init__()
        self.newest_answer = 0
        self.newest_trial = 0
        self.newest_nearby = 0
        self._last_answered = 0
        self._today = today

    @Slot(object)
    def assess(self, request: AssessmentRequest) -> None:
        """Assess the route in hand and make what the window shows of it."""
        if request.number < self.newest_answer:
            return
        self._last_answered = request.number
        answer = self._make_answer(request)
        if answer is None:
            why = f"This route could not be worked out: our mistake, told in {persistence.log_file()}."
            self.failed.emit(request, why)
        else:
            self.assessed.emit(request, answer)

    @Slot(object)
    def assess_trial(self, request: AssessmentRequest) -> None:
        """Assess a route that is not the one in hand. A failure is only logged: nothing is shown of it."""
        if request.number < self.newest_trial:
            return
        try:
            assessment = self._assess(request)
        except Exception:
            LOG.exception("trying a correction failed")
            return
        if not assessment.failure:
            self.trial_assessed.emit(request.number, assessment)

    @Slot(object)
    def find_nearby(self, request: NearbyRequest) -> None:
        """Look for fixes in a view. Answers about the route go first; after each of them the Picture asks again."""
        if request.number < self.newest_nearby or self._last_answered < self.newest_answer:
            return
        try:
            found = find_nearby_fixes(request.database, request.route, request.projection, request.view)
            self.nearby_found.emit(request.number, found)
        except Exception:
            LOG.exception("looking for nearby fixes failed")

    def _make_answer(self, request: AssessmentRequest) -> AssessmentView | None:
        """What the window shows; None where something of ours failed."""
        try:
            assessment = self._assess(request)
            return None if assessment.failure else self._view(request, assessment)
        except Exception:
            LOG.exception("assessing failed")
            return None

    def _view(self, request: AssessmentRequest, assessment: Assessment) -> AssessmentView:
        return view_assessment(assessment, with_side=request.with_side, straightened=request.straightened)

    def _assess(self, request: AssessmentRequest) -> Assessment:
        return assess(request.route_input, request.database, request.settings, self._today(), request.known)
