"""The rows of the Leg table as Qt wants them, and how a cell is painted. Which rows there are is said by present."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QPointF, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics
from PySide6.QtWidgets import QFrame, QStyledItemDelegate, QStyleOptionViewItem

from routecheck.gui.theme import blend, words
from routecheck.gui.widgets.finding_badges import mark_size, paint_mark
from routecheck.model import Weight
from routecheck.presentation.leg_table import LegRow, LegTable

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

    from routecheck.gui.theme import Theme
    from routecheck.model import Finding
    from routecheck.presentation.assessment_view import Screen

    AnyIndex = QModelIndex | QPersistentModelIndex

EDGE = 4
"""What is left free at both sides of a text."""
MARK_SHARE, MOST_MARKS = 0.8, 3
_Role = Qt.ItemDataRole
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class LegModel(QAbstractTableModel):
    """The rows and columns of a LegTable, behind a first column for the marks of findings."""

    def __init__(self, parent: QFrame) -> None:
        super().__init__(parent)
        self.table = LegTable((), ())
        self.lines: tuple[LegRow, ...] = ()
        self.accepted: frozenset[int] = frozenset()
        self._findings: tuple[Finding, ...] = ()
        self._looks: list[tuple[object, ...]] = []
        """All that is seen of each row."""

    def show(self, screen: Screen | None) -> None:
        """Take another table; None = an empty one. Of the same columns only the rows that differ are shown anew."""
        table = screen.legs if screen else LegTable((), ())
        if table.columns != self.table.columns:
            self.beginResetModel()
            self._take(table, screen)
            self.endResetModel()
            return
        before, was = len(self.lines), self._looks
        after = len(table.rows) + bool(table.total)
        if after > before:
            self.beginInsertRows(QModelIndex(), before, after - 1)
            self._take(table, screen)
            self.endInsertRows()
        elif after < before:
            self.beginRemoveRows(QModelIndex(), after, before - 1)
            self._take(table, screen)
            self.endRemoveRows()
        else:
            self._take(table, screen)
        changed = [row for row, (old, new) in enumerate(zip(was, self._looks, strict=False)) if old != new]
        if changed:
            last = self.index(changed[-1], self.columnCount() - 1)
            self.dataChanged.emit(self.index(changed[0], 0), last)

    def _take(self, table: LegTable, screen: Screen | None) -> None:
        self.table = table
        total = LegRow(table.total, (), None, table.basis, is_gap=False)
        self.lines = (*table.rows, total) if table.total else table.rows
        self.accepted = screen.accepted if screen else frozenset()
        self._findings = screen.assessment.findings if screen else ()
        self._looks = [
            (row, self.is_leg(i), [(self.weight_of(one), one in self.accepted) for one in row.findings])
            for i, row in enumerate(self.lines)
        ]

    def weight_of(self, finding: int) -> Weight:
        """The weight of a finding, by its index."""
        return self._findings[finding].weight

    def rowCount(self, parent: AnyIndex | None = None) -> int:  # noqa: N802
        """How many legs there are, and one for the total where there is one."""
        return 0 if parent is not None and parent.isValid() else len(self.lines)

    def is_leg(self, row: int) -> bool:
        """Whether a row is a leg, not the total."""
        return 0 <= row < len(self.table.rows)

    def unnamed(self, index: AnyIndex) -> bool:
        """Whether a cell holds the name of a point that the text does not name."""
        ends = [i for i, column in enumerate(self.table.columns, 1) if column.key in ("from", "to")]
        return index.column() in ends and not self.lines[index.row()].in_text[ends.index(index.column())]

    def columnCount(self, parent: AnyIndex | None = None) -> int:  # noqa: N802
        """One for marks, those of the table, and an empty one that takes what room is left."""
        return 0 if parent is not None and parent.isValid() else len(self.table.columns) + 2

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = _Role.DisplayRole) -> object:  # noqa: N802
        """The heads of the columns."""
        if orientation != Qt.Orientation.Horizontal or not 0 < section <= len(self.table.columns):
            return "" if role == _Role.DisplayRole else None
        column = self.table.columns[section - 1]
        if role == _Role.DisplayRole:
            return column.head
        if role == _Role.ToolTipRole:
            return column.tip or None
        return _align(figures=column.figures) if role == _Role.TextAlignmentRole else None

    def data(self, index: AnyIndex, role: int = _Role.DisplayRole) -> object:
        """Cells as text; what a screen reader says of the marks."""
        row = self.lines[index.row()]
        if role == _Role.ToolTipRole:
            return row.tip or None
        if index.column() == 0:
            return _spoken(row) if role == _Role.AccessibleTextRole else None
        if index.column() > len(self.table.columns):
            return None
        if role == _Role.DisplayRole:
            return row.cells[index.column() - 1]
        if role == _Role.AccessibleTextRole and self.unnamed(index):
            return f"{row.cells[index.column() - 1]}, not named in the text"
        if role == _Role.TextAlignmentRole:
            return _align(figures=self.table.columns[index.column() - 1].figures)
        return None


class RowPainter(QStyledItemDelegate):
    """Paints cells on a ground that says what is picked and what is flagged, and the marks of findings."""

    def __init__(self, model: LegModel, theme: Theme) -> None:
        super().__init__(model)
        self._model = model
        self.theme = theme
        self.picked: frozenset[int] = frozenset()

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        """Paint one cell."""
        row = self._model.lines[index.row()]
        rect: QRect = option.rect
        if ground := self._ground(index.row(), row):
            painter.fillRect(rect, ground)
        if not self._model.is_leg(index.row()):
            painter.setPen(QColor(self.theme.line))
            painter.drawLine(rect.topLeft(), rect.topRight())
        if index.column() == 0:
            self._paint_marks(painter, rect, row)
            return
        if index.column() > len(self._model.table.columns):
            return
        text = row.cells[index.column() - 1]
        if not text:
            return
        column = self._model.table.columns[index.column() - 1]
        self._set_pen(painter, index, muted=row.is_gap and column.key == "distance_nm")
        room = rect.adjusted(EDGE, 0, -EDGE, 0)
        metrics = painter.fontMetrics()
        if metrics.horizontalAdvance(text) > room.width():
            text = metrics.elidedText(text, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, _align(figures=column.figures), text)

    def _set_pen(self, painter: QPainter, index: AnyIndex, *, muted: bool) -> None:
        """Names that the text does not give are slanted and grey, the total is bold."""
        unnamed = self._model.unnamed(index)
        font = words(bold=not self._model.is_leg(index.row()))
        if unnamed:
            font = QFont(font)
            font.setItalic(True)
        painter.setFont(font)
        painter.setPen(QColor(self.theme.muted if muted or unnamed else self.theme.ink))

    def sizeHint(self, _option: QStyleOptionViewItem, _index: AnyIndex) -> QSize:  # noqa: N802
        """Rows of one height."""
        return QSize(40, row_height())

    def _ground(self, number: int, row: LegRow) -> QColor | None:
        if number in self.picked:
            return QColor(self.theme.picked)
        if row.weight in (Weight.WRONG, Weight.DOUBTFUL) and row.weight is not None:
            return QColor(blend(self.theme.weight(row.weight).name(), self.theme.paper, 0.1))
        return None

    def _paint_marks(self, painter: QPainter, rect: QRect, row: LegRow) -> None:
        size = mark_size() * MARK_SHARE
        painter.setFont(words())
        for place, index in enumerate(row.findings[:MOST_MARKS]):
            centre = QPointF(rect.left() + 6 + size * (0.5 + place * 1.35), rect.center().y() + 0.5)
            weight = self._model.weight_of(index)
            accepted = index in self._model.accepted
            paint_mark(painter, centre, weight, str(index + 1), self.theme, MARK_SHARE, accepted=accepted)


def row_height() -> int:
    """The height of a row, pixels."""
    return QFontMetrics(words()).height() + 5


def _align(*, figures: bool) -> Qt.AlignmentFlag:
    return _RIGHT if figures else _LEFT


def _spoken(row: LegRow) -> str:
    numbers = ", ".join(str(index + 1) for index in row.findings)
    return f"{row.weight.value} findings, number {numbers}" if row.weight else "no findings"
