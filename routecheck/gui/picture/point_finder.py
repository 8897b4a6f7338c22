"""Finding a point in the Picture: joins the field in which it is typed with the map that goes there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from routecheck.gui.picture.find_bar import FindBar
from routecheck.presentation.point_search import find_points

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.gui.picture.chart import MapChart
    from routecheck.gui.session import Session
    from routecheck.presentation.point_search import FoundPoint

_CLOSE_NM, _FAR_NM = 150.0, 2500.0
"""So wide the view is at least and at most: between them the route is in view too."""
_WITH_ROUTE = 2.6


class PointFinder(QObject):
    """Shows the field, marks what is found, and takes the map back to where it was in the end."""

    def __init__(self, pane: QWidget, session: Session, chart: MapChart) -> None:
        super().__init__(pane)
        self._session, self._chart = session, chart
        self.bar = FindBar(pane, self._find)
        self.bar.listed.connect(lambda: chart.show_found(self.bar.found, self.bar.current))
        self.bar.chosen.connect(self._go_to)
        self.bar.ended.connect(self.end)
        chart.installEventFilter(self.bar)
        session.assessed.connect(lambda _: self.bar.renew())

    def begin(self) -> None:
        """Ask for a name or a position."""
        self.bar.begin()

    def end(self) -> None:
        """Mark nothing any more and show the view before, unless somebody moved since."""
        self.bar.hide()
        self.bar.forget()
        self._chart.show_found((), None)
        self._chart.come_back()
        self._chart.setFocus()

    def _find(self, text: str) -> tuple[FoundPoint, ...]:
        database, answer = self._session.database, self._session.answer
        if database is None:
            return ()
        return find_points(text, database, answer.assessment.route if answer else None)

    def _go_to(self, point: FoundPoint) -> None:
        self._chart.show_found(self.bar.found, point)
        width = max(_CLOSE_NM, _WITH_ROUTE * (point.from_route_nm or 0.0))
        width = width if width <= _FAR_NM else _CLOSE_NM
        self._chart.leave_for(lambda: self._chart.look_at_place(point.place, width))
