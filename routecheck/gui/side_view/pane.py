"""The Side view pane: its head with the fold and the three views, and the drawing, made when it is first unfolded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QSplitter, QToolButton, QVBoxLayout, QWidget

from routecheck import formatting
from routecheck.gui.pane import Pane
from routecheck.gui.side_view.text import LEAST_LINES, line_height
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import PlainLabel, plain_tooltip

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QAction, QResizeEvent

    from routecheck.gui.session import Session
    from routecheck.gui.side_view.chart import SideChart
    from routecheck.gui.theme import Theme
    from routecheck.gui.widgets.chart_import import ChartImport
    from routecheck.model import Assessment
    from routecheck.presentation.assessment_view import AssessmentView
    from routecheck.presentation.selection import Selection

_OPEN_HEIGHT, _ABOVE_HEIGHT = 190, 200
"""So high it is when it is first unfolded, and so much is left to the Picture where the Leg table can give it."""
_REST_MS = 20
"""What is said in the head follows the drawing: typing must not wait for what finds no room."""
_LEAST_WITH_HEAD = LEAST_LINES + 1
"""So many lines of text the pane needs to be unfolded."""


class SidePane(Pane, QFrame):
    """Folded until there are altitude windows to see, or until somebody unfolds it; then as it was left."""

    go_to = ("Go to the Side vi&ew", "Ctrl+Shift+E")

    def __init__(
        self, session: Session, theme: Theme, drawing: ChartImport, fold: QAction, looks: Sequence[QAction]
    ) -> None:
        super().__init__()
        self.setObjectName("side")
        self._session, self._theme = session, theme
        self._drawing = drawing
        self._action = fold
        self._open_height = _OPEN_HEIGHT
        self.chosen = False
        """Whether somebody said if it is to be folded."""
        self.chart: SideChart | None = None
        self._screen: AssessmentView | None = None
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._rest.timeout.connect(self._say)
        self.fold = QToolButton()
        self.fold.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.fold.setText(fold.text().replace("&", ""))
        self.fold.clicked.connect(fold.trigger)
        self.notes = PlainLabel()
        self.notes.setObjectName("muted")
        self.notes.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.looks = [QToolButton() for _ in looks]
        for button, look in zip(self.looks, looks, strict=True):
            button.setDefaultAction(look)
            button.setAccessibleName(look.text().replace("&", ""))
        self._lay_out()
        fold.triggered.connect(self._choose)
        fold.toggled.connect(self._on_fold)
        session.assessed.connect(self.show_screen)
        drawing.done.connect(self._on_charts_imported)
        self.refresh_font()
        self._on_fold(fold.isChecked())

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        if self.chart is not None:
            self.chart.set_theme(theme)

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for part in (self.fold, self.notes, *self.looks):
            part.setFont(text_font(-1))
        if self.chart is not None:
            self.chart.refresh_font()
        self._bound_height()

    def show_screen(self, screen: AssessmentView) -> None:
        """Say in the head what there is; unfold for the first windows where nobody chose and there is room."""
        self._screen = screen
        if any(screen.assessment.route.windows) and not self.chosen and self._has_room():
            self._action.setChecked(True)
        self._rest.start()

    def show_trial(self, then: Assessment | None) -> None:
        """Show what a tried correction would change of the altitudes; None = nothing."""
        if self.chart is not None:
            self.chart.show_trial(then)

    def take_focus(self) -> None:
        """Unfold the drawing and let the keyboard move in it."""
        self.unfold().setFocus()

    def show_nothing(self, _why: str) -> None:
        """Show nothing, for when there is no assessment."""
        self._screen = None
        if self.chart is not None:
            self.chart.show_nothing()
        self._say()

    @property
    def is_unfolded(self) -> bool:
        """Whether the drawing is to be seen."""
        return self._action.isChecked()

    def unfold(self) -> SideChart:
        """The drawing, unfolded; it is made when it is first wanted: the start must not wait for it."""
        self._action.setChecked(True)
        return self.chart or self._make_chart()

    def sizeHint(self) -> QSize:  # noqa: N802
        """As high as it was."""
        return QSize(400, self._open_height if self._action.isChecked() else self.fold.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Let what is said take the room there is."""
        super().resizeEvent(event)
        self._say()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(2, 0, 2, 0)
        head.setSpacing(10)
        head.addWidget(self.fold)
        head.addWidget(self.notes, 1)
        for button in self.looks:
            head.addWidget(button)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addLayout(head)

    def _has_room(self) -> bool:
        """Whether it can be unfolded without squeezing the other panes below what they need."""
        panes = self.parentWidget()
        if not isinstance(panes, QSplitter) or not isinstance(outer := panes.parentWidget(), QSplitter):
            return True
        others = [pane for split in (panes, outer) for pane in _panes_of(split) if pane not in (self, panes)]
        least = sum(max(pane.minimumHeight(), pane.minimumSizeHint().height()) for pane in others)
        return outer.height() - least >= self.fold.sizeHint().height() + _LEAST_WITH_HEAD * self.fontMetrics().height()

    def _choose(self) -> None:
        self.chosen = True

    def _on_charts_imported(self, _why_not: str) -> None:
        self._unfold_chart()

    def _unfold_chart(self) -> None:
        """Make the drawing, where it is wanted and can be made."""
        if self._action.isChecked() and self.chart is None and self._drawing.is_there:
            self._make_chart()

    def _make_chart(self) -> SideChart:
        from routecheck.gui.side_view.chart import SideChart

        chart = SideChart(self._session, self._theme)
        chart.looked.connect(self._rest.start)
        self._column.addWidget(chart, 1)
        self.chart = chart
        if self._screen is not None:
            chart.show_screen(self._screen)
        pick: Selection | None = self._session.selection
        chart.show_pick(pick)
        return chart

    def _on_fold(self, on: bool) -> None:
        high = self.fold.sizeHint().height()
        if not on and self.height() > 2 * high and self.chart is not None:
            self._open_height = self.height()
        if on:
            self._session.include_side_view()
            self._unfold_chart()
        self.fold.setArrowType(Qt.ArrowType.DownArrow if on else Qt.ArrowType.RightArrow)
        if self.chart is not None:
            self.chart.setVisible(on)
        for button in self.looks:
            button.setVisible(on)
        self._bound_height()
        if isinstance(panes := self.parentWidget(), QSplitter):
            wanted = self._open_height if on else high
            if on:
                _make_room(panes, wanted)
            panes.setSizes([sum(panes.sizes()) - wanted, wanted])
        self._say()

    def _bound_height(self) -> None:
        high, is_open = self.fold.sizeHint().height(), self._action.isChecked()
        self.setMinimumHeight(high + (LEAST_LINES * int(line_height()) if is_open else 0))
        self.setMaximumHeight(16777215 if is_open else high)

    def _say(self) -> None:
        """What has no room, what is missing; where it is folded, what there would be to see."""
        notes = self._notes()
        whole = " ".join(notes)
        metrics = self.notes.fontMetrics()
        self.notes.setText(metrics.elidedText(whole, Qt.TextElideMode.ElideRight, max(self.notes.width(), 0)))
        self.notes.setToolTip(plain_tooltip("\n".join(notes)))
        self.notes.setAccessibleName(whole)

    def _notes(self) -> list[str]:
        if self._screen is None:
            return []
        if self.chart is None or not self._action.isChecked():
            windows = sum(map(len, self._screen.assessment.route.windows))
            return [formatting.count(windows, "altitude window") if windows else "no altitude windows"]
        layout = self.chart.layout_now
        left_out = [
            formatting.count(number, thing)
            for number, thing in ((layout.marks_left_out, "mark"), (layout.values_left_out, "altitude"))
            if number
        ]
        crowded = (
            [f"Left out for lack of room: {formatting.listing(left_out)}. Zoom in to see more."] if left_out else []
        )
        return [*crowded, *self.chart.view.notes]


def _panes_of(split: QSplitter) -> list[QWidget]:
    return [pane for i in range(split.count()) if (pane := split.widget(i)) is not None]


def _make_room(panes: QSplitter, wanted: int) -> None:
    """Let the panes below give what the Side view lacks beside the pane above it."""
    outer = panes.parentWidget()
    above = panes.widget(0)
    if above is None or not isinstance(outer, QSplitter) or sum(outer.sizes()) == 0:
        return
    lack = max(above.minimumHeight(), _ABOVE_HEIGHT) + wanted + panes.handleWidth() - panes.height()
    if lack > 0:
        first, *others = outer.sizes()
        outer.setSizes([first + lack, *(size - lack for size in others)])
