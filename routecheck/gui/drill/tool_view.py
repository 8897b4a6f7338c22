"""What the tool shows of a route of a drill: its picture and its figures, each at once or for marks."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QPushButton,
    QSizePolicy,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from routecheck.drill.difficulty import DIFFICULTIES
from routecheck.drill.entered_legs import FIGURE_HEADS, figure_rows, total_line
from routecheck.drill.marking import REVEAL
from routecheck.gui.drill.entry_view import ROW_HIGH
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.chart_export import FINER
from routecheck.gui.widgets.flow_layout import FlowLayout
from routecheck.gui.widgets.labels import WrappingLabel

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from PySide6.QtGui import QPaintEvent, QResizeEvent

    from routecheck.drill.cases import DrillCase
    from routecheck.model import Assessment, RouteInput

PICTURE, FIGURES = "picture", "figures"
_LEAST_CHARACTERS, _HIGH = 48, 0.6
"""How many characters wide a picture is drawn at least, so that the caution fits below, and how high for its width."""
_REST_MS = 150
"""So long its width must rest before it is drawn anew."""
_MIDDLE = 128
"""A background darker than that is dark."""
_FIRST_FIGURE = 2
"""The first column of figures, which stand to the right."""


Draw = Callable[["Assessment", tuple[int, int], bool, bool], bytes]
"""Draws a picture as PNG: of what, its size in pixels, whether dark, whether plain."""


class FittedPicture(QWidget):
    """A picture as wide as there is room, never wider than it was drawn."""

    def __init__(self) -> None:
        super().__init__()
        self.pixmap = QPixmap()
        self.setAccessibleName("Picture of the route as entered")
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_picture(self, png: bytes) -> None:
        """Show a picture; b"" = none."""
        self.pixmap = QPixmap()
        self.pixmap.loadFromData(png)
        self.setVisible(bool(png))
        self.updateGeometry()
        self.update()

    def heightForWidth(self, width: int) -> int:  # noqa: N802
        """As high as it is then."""
        wide = min(width, self._usual_width())
        return round(wide * self.pixmap.height() / self.pixmap.width()) if self.pixmap.width() else 0

    def sizeHint(self) -> QSize:  # noqa: N802
        """As it was drawn for."""
        return QSize(self._usual_width(), self.heightForWidth(self._usual_width()))

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """It shrinks with the window."""
        return QSize(200, self.heightForWidth(200))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """Paint it smoothly."""
        if not self.pixmap.isNull():
            wide = min(self.width(), self._usual_width())
            painter = QPainter(self)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawPixmap(QRect(0, 0, wide, self.heightForWidth(wide)), self.pixmap)
            painter.end()

    def _usual_width(self) -> int:
        return round(self.pixmap.width() / FINER)


class FigureTable(QTableWidget):
    """The figures of the legs."""

    def __init__(self) -> None:
        super().__init__(0, len(FIGURE_HEADS))
        self.setAccessibleName("Figures of the legs as entered")
        self.setHorizontalHeaderLabels(list(FIGURE_HEADS))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setShowGrid(False)
        self.verticalHeader().hide()
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def show_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Show figures, as high as they are."""
        self.setRowCount(len(rows))
        for row, cells in enumerate(rows):
            for column, text in enumerate(cells):
                item = QTableWidgetItem(text)
                side = Qt.AlignmentFlag.AlignRight if column >= _FIRST_FIGURE else Qt.AlignmentFlag.AlignLeft
                item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
                self.setItem(row, column, item)
        self.setFont(text_font())
        self.verticalHeader().setDefaultSectionSize(round(self.fontMetrics().height() * ROW_HIGH))
        high = sum(self.rowHeight(row) for row in range(len(rows))) + self.horizontalHeader().sizeHint().height()
        self.setFixedHeight(high + self.horizontalScrollBar().sizeHint().height() + 2 * self.frameWidth())


class ToolView(QWidget):
    """Picture and figures of the route as entered: shown, or hidden behind a button that says what they cost."""

    revealed = Signal(str)
    """PICTURE or FIGURES was asked for."""

    def __init__(self, assess: Callable[[RouteInput], Assessment], draw: Draw) -> None:
        super().__init__()
        self._assess, self._draw = assess, draw
        self._case: DrillCase | None = None
        self._is_answered, self._drawn_px = False, 0
        self._draw_anew = QTimer(self, interval=_REST_MS, singleShot=True)
        self._draw_anew.timeout.connect(self._fit_picture)
        self.picture, self.figures, self.total = FittedPicture(), FigureTable(), WrappingLabel()
        self.picture_button = QPushButton(f"Show the &picture (−{REVEAL})")
        self.figures_button = QPushButton(f"Show the &figures (−{REVEAL})")
        self._buttons = {PICTURE: self.picture_button, FIGURES: self.figures_button}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        row = FlowLayout(None, 6, 6)
        for name, button in self._buttons.items():
            button.setAutoDefault(False)
            button.clicked.connect(lambda _=False, name=name: self._reveal(name))
            row.addWidget(button)
        column.addLayout(row)
        for part in (self.picture, self.figures, self.total):
            column.addWidget(part)
        column.addStretch()

    def show_case(self, case: DrillCase, revealed: Collection[str]) -> None:
        """Show of a route what its difficulty shows, and what was revealed before."""
        self._case, self._is_answered = case, False
        difficulty = DIFFICULTIES[case.difficulty]
        is_shown = {
            PICTURE: difficulty.shows_picture or PICTURE in revealed,
            FIGURES: difficulty.shows_figures or FIGURES in revealed,
        }
        self.clear()
        for name, button in self._buttons.items():
            button.setVisible(not is_shown[name])
            button.setEnabled(True)
            if is_shown[name]:
                self._show(name)

    def clear(self) -> None:
        """Show nothing."""
        self.picture.show_picture(b"")
        self.figures.hide()
        self.total.hide()
        for button in self._buttons.values():
            button.hide()

    def show_all(self) -> None:
        """Show everything, the marks of findings too, for nothing: the route is answered."""
        self._is_answered = True
        for name, button in self._buttons.items():
            button.hide()
            self._show(name)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Draw the picture anew for another width, once it rests."""
        super().resizeEvent(event)
        self._draw_anew.start()

    def _fit_picture(self) -> None:
        if not self.picture.isHidden() and self._wanted_px() != self._drawn_px:
            self._show(PICTURE)

    def _wanted_px(self) -> int:
        return max(self.width(), self.fontMetrics().averageCharWidth() * _LEAST_CHARACTERS)

    def _reveal(self, name: str) -> None:
        self._buttons[name].hide()
        self._show(name)
        self.revealed.emit(name)

    def _show(self, name: str) -> None:
        assert self._case is not None
        answer = self._assess(self._case.as_entered())
        if name == PICTURE:
            self._drawn_px = self._wanted_px()
            is_dark = self.palette().window().color().lightness() < _MIDDLE
            size_px = self._drawn_px, round(self._drawn_px * _HIGH)
            self.picture.show_picture(self._draw(answer, size_px, is_dark, not self._is_answered))
            return
        self.figures.show_rows(figure_rows(answer))
        self.total.setText(total_line(answer))
        self.figures.show()
        self.total.show()
