"""The Picture pane: its frame from the start, and the drawing in it as soon as pyqtgraph is there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QVBoxLayout, QWidget

from routecheck.gui.pane import Pane

if TYPE_CHECKING:
    from PySide6.QtGui import QAction, QPaintEvent

    from routecheck.gui.picture.chart import MapChart
    from routecheck.gui.picture.point_finder import PointFinder
    from routecheck.gui.picture.ruler import Ruler
    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.gui.widgets.chart_import import ChartImport
    from routecheck.model import Assessment

_SOON_MS, _LATEST_MS = 10, 1000
"""So long after the first answer, or after the first painting where no answer comes, pyqtgraph is imported."""


class PicturePane(Pane, QWidget):
    """Holds the place of the drawing until it can be made; what was asked of it meanwhile is made up for then."""

    drawn = Signal()
    """The drawing is there."""
    go_to = ("Go to the &Picture", "Ctrl+Shift+P")

    def __init__(self, session: Session, theme: Theme, drawing: ChartImport, use_ruler: QAction) -> None:
        super().__init__()
        self.setObjectName("picture")
        self.setAccessibleName("Picture")
        self.setMinimumSize(280, 150)
        self._session, self._theme = session, theme
        self._use_ruler = use_ruler
        use_ruler.toggled.connect(self._toggle_ruler)
        self._then: Assessment | None = None
        self._drawing = drawing
        drawing.done.connect(self._on_charts_imported)
        self._waiting = QTimer(self, singleShot=True)
        self._waiting.timeout.connect(drawing.begin)
        session.assessed.connect(self._begin_soon)
        session.answer_lost.connect(self._begin_soon)
        self._why_not = ""
        self.chart: MapChart | None = None
        self.finder: PointFinder | None = None
        self.ruler: Ruler | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)

    def make_chart(self) -> None:
        """Make the drawing. pyqtgraph should be imported by then: it takes a quarter of a second."""
        from routecheck.gui.picture.chart import MapChart
        from routecheck.gui.picture.point_finder import PointFinder
        from routecheck.gui.picture.ruler import Ruler

        chart = self.chart = MapChart(self._session, self._theme)
        self._column.addWidget(chart)
        self.finder, self.ruler = PointFinder(self, self._session, chart), Ruler(chart)
        self.ruler.ended.connect(lambda: self._use_ruler.setChecked(False))
        self.setFocusProxy(chart)
        if self._session.answer is not None:
            chart.show_screen(self._session.answer)
        chart.show_pick(self._session.selection)
        chart.show_trial(self._then)
        self.drawn.emit()

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        if self.chart is not None:
            self.chart.set_theme(theme)
        self.update()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        if self.chart is not None and self.finder is not None:
            self.chart.refresh_font()
            self.finder.bar.refresh_font()

    def take_focus(self) -> None:
        """Let the keyboard move the view."""
        self.setFocus()

    def show_nothing(self, _why: str) -> None:
        """Draw an empty picture, for when there is no assessment."""
        if self.chart is not None:
            self.chart.show_nothing()

    def show_trial(self, then: Assessment | None) -> None:
        """Draw, dotted, the stretch that a tried correction would change; None = nothing."""
        self._then = then
        if self.chart is not None:
            self.chart.show_trial(then)

    def fit_route(self) -> None:
        """Show the whole route, and follow it from now on."""
        if self.chart is not None:
            self.chart.fit_route()

    def zoom(self, factor: float) -> None:
        """Get closer (factor below 1) or back off."""
        if self.chart is not None:
            self.chart.zoom(factor)

    def find_point(self) -> None:
        """Ask for the name or the position of a point to go to."""
        if self.finder is not None:
            self.finder.begin()

    def _toggle_ruler(self, is_wanted: bool) -> None:
        if self.ruler is not None and is_wanted:
            self.ruler.begin()
        elif self.ruler is not None:
            self.ruler.put_away()

    def _begin_soon(self, _answer: object) -> None:
        """The first answer is shown before anything is imported: both would take longer side by side."""
        if self.chart is None:
            self._waiting.start(_SOON_MS)

    def _on_charts_imported(self, why_not: str) -> None:
        if why_not:
            self._why_not = f"There is no Picture: pyqtgraph, which draws it, cannot be loaded. {why_not}"
            self.setAccessibleDescription(self._why_not)
            self.update()
        elif self.chart is None:
            self.make_chart()

    def look_back(self) -> None:
        """Show what was looked at before."""
        if self.chart is not None:
            self.chart.look_back()

    def look_forward(self) -> None:
        """Show what was looked at after that."""
        if self.chart is not None:
            self.chart.look_forward()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """Paint paper and rim while there is no drawing, and why there will be none."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._theme.paper))
        painter.setPen(QPen(QColor(self._theme.line), 1))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        if self._why_not:
            painter.setPen(QColor(self._theme.ink))
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, self._why_not)
        painter.end()
        if self.chart is None and not self._waiting.isActive():
            self._waiting.start(_LATEST_MS)
