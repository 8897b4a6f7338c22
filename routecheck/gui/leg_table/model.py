"""The model of the Leg table for Qt, and the painter of its cells."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QPointF, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics
from PySide6.QtWidgets import QFrame, QStyledItemDelegate, QStyleOptionViewItem

from routecheck.gui.theme import blend_colours, text_font
from routecheck.gui.widgets.finding_badges import badge_size, paint_badge
from routecheck.gui.widgets.labels import plain_tooltip
from routecheck.model import Weight
from routecheck.presentation.leg_table import LegRow, LegTable

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

    from routecheck.gui.theme import Theme
    from routecheck.model import Finding
    from routecheck.presentation.assessment_view import AssessmentView

    AnyIndex = QModelIndex | QPersistentModelIndex

EDGE = 4
"""What is left free at both sides of a text."""
BADGE_SHARE, MOST_BADGES = 0.8, 3
_Role = Qt.ItemDataRole
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class LegModel(QAbstractTableModel):
    """The rows and columns of a LegTable, after a first column for the badges of findings."""

    def __init__(self, parent: QFrame) -> None:
        super().__init__(parent)
        self.table = LegTable((), ())
        self.rows: tuple[LegRow, ...] = ()
        self.accepted: frozenset[int] = frozenset()
        self._findings: tuple[Finding, ...] = ()
        self._visible: list[tuple[object, ...]] = []
        """What each row shows: the rows that differ from it are shown anew."""

    def show_answer(self, answer: AssessmentView | None) -> None:
        """Show the table of an answer; None = an empty one. Under the same columns only rows that differ change."""
        table = answer.legs if answer else LegTable((), ())
        if table.columns != self.table.columns:
            self.beginResetModel()
            self._take_table(table, answer)
            self.endResetModel()
            return
        before, was = len(self.rows), self._visible
        after = len(self.rows_of(table))
        if after > before:
            self.beginInsertRows(QModelIndex(), before, after - 1)
            self._take_table(table, answer)
            self.endInsertRows()
        elif after < before:
            self.beginRemoveRows(QModelIndex(), after, before - 1)
            self._take_table(table, answer)
            self.endRemoveRows()
        else:
            self._take_table(table, answer)
        changed = [row for row, (old, new) in enumerate(zip(was, self._visible, strict=False)) if old != new]
        if changed:
            last = self.index(changed[-1], self.columnCount() - 1)
            self.dataChanged.emit(self.index(changed[0], 0), last)

    def _take_table(self, table: LegTable, answer: AssessmentView | None) -> None:
        self.table, self.rows = table, self.rows_of(table)
        self.accepted = answer.accepted if answer else frozenset()
        self._findings = answer.assessment.findings if answer else ()
        self._visible = [
            (row, self.is_leg(i), [(self.weight_of(one), one in self.accepted) for one in row.findings])
            for i, row in enumerate(self.rows)
        ]

    def rows_of(self, table: LegTable) -> tuple[LegRow, ...]:
        """The rows that are shown: the legs."""
        return table.rows

    def weight_of(self, finding: int) -> Weight:
        """The weight of a finding, by its index."""
        return self._findings[finding].weight

    def rowCount(self, parent: AnyIndex | None = None) -> int:  # noqa: N802
        """How many there are."""
        return 0 if parent is not None and parent.isValid() else len(self.rows)

    def is_leg(self, row: int) -> bool:
        """Whether a row is a leg."""
        return 0 <= row < len(self.rows)

    def is_unnamed(self, index: AnyIndex) -> bool:
        """Whether a cell holds the name of a point that the text does not name."""
        ends = [i for i, column in enumerate(self.table.columns, 1) if column.key in ("from", "to")]
        return index.column() in ends and not self.rows[index.row()].in_text[ends.index(index.column())]

    def columnCount(self, parent: AnyIndex | None = None) -> int:  # noqa: N802
        """One for badges, those of the table, and an empty one that fills the rest of the width."""
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
        return _alignment(figures=column.figures) if role == _Role.TextAlignmentRole else None

    def data(self, index: AnyIndex, role: int = _Role.DisplayRole) -> object:
        """Cells as text, their tooltips, and what a screen reader says of the badges."""
        row = self.rows[index.row()]
        if role == _Role.ToolTipRole:
            return plain_tooltip(row.tip) or None
        if index.column() == 0:
            return _accessible_text(row) if role == _Role.AccessibleTextRole else None
        if index.column() > len(self.table.columns):
            return None
        if role == _Role.DisplayRole:
            return row.cells[index.column() - 1]
        if role == _Role.AccessibleTextRole and self.is_unnamed(index):
            return f"{row.cells[index.column() - 1]}, not named in the text"
        if role == _Role.TextAlignmentRole:
            return _alignment(figures=self.table.columns[index.column() - 1].figures)
        return None


class TotalModel(LegModel):
    """The total of the same table, a row of its own under the same columns; none where there is no total."""

    def rows_of(self, table: LegTable) -> tuple[LegRow, ...]:
        """The total."""
        if not table.total:
            return ()
        return (LegRow(table.total, findings=(), weight=None, tip=table.basis, is_gap=False),)

    def is_leg(self, _row: int) -> bool:
        """Whether a row is a leg: none is."""
        return False


class RowPainter(QStyledItemDelegate):
    """Paints cells on a ground that shows what is selected and flagged, and the badges of findings."""

    def __init__(self, model: LegModel, theme: Theme) -> None:
        super().__init__(model)
        self._model = model
        self.theme = theme
        self.selected: frozenset[int] = frozenset()
        self.leads: dict[int, int] = {}
        """How far from the left end of its column a text begins, pixels, by column; 0 where none is named."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        """Paint one cell."""
        row = self._model.rows[index.row()]
        rect: QRect = option.rect
        if background := self._background(index.row(), row):
            painter.fillRect(rect, background)
        if not self._model.is_leg(index.row()):
            painter.setPen(QColor(self.theme.line))
            painter.drawLine(rect.topLeft(), rect.topRight())
        if index.column() == 0:
            self._paint_badges(painter, rect, row)
            return
        if index.column() > len(self._model.table.columns):
            return
        text = row.cells[index.column() - 1]
        if not text:
            return
        column = self._model.table.columns[index.column() - 1]
        self._set_pen(painter, index, muted=row.is_gap and column.key == "distance_nm")
        room = rect.adjusted(EDGE + self.leads.get(index.column(), 0), 0, -EDGE, 0)
        metrics = painter.fontMetrics()
        if metrics.horizontalAdvance(text) > room.width():
            text = metrics.elidedText(text, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, _alignment(figures=column.figures), text)

    def _set_pen(self, painter: QPainter, index: AnyIndex, *, muted: bool) -> None:
        """Names that the text does not give are in italics and grey, the total is bold."""
        unnamed = self._model.is_unnamed(index)
        font = text_font(bold=not self._model.is_leg(index.row()))
        if unnamed:
            font = QFont(font)
            font.setItalic(True)
        painter.setFont(font)
        painter.setPen(QColor(self.theme.muted if muted or unnamed else self.theme.ink))

    def sizeHint(self, _option: QStyleOptionViewItem, _index: AnyIndex) -> QSize:  # noqa: N802
        """Rows of one height."""
        return QSize(40, row_height())

    def _background(self, number: int, row: LegRow) -> QColor | None:
        if number in self.selected:
            return QColor(self.theme.selected)
        if row.weight in (Weight.WRONG, Weight.DOUBTFUL) and row.weight is not None:
            return QColor(blend_colours(self.theme.weight(row.weight).name(), self.theme.paper, 0.1))
        return None

    def _paint_badges(self, painter: QPainter, rect: QRect, row: LegRow) -> None:
        size = badge_size() * BADGE_SHARE
        painter.setFont(text_font())
        for place, index in enumerate(row.findings[:MOST_BADGES]):
            centre = QPointF(rect.left() + 6 + size * (0.5 + place * 1.35), rect.center().y() + 0.5)
            weight = self._model.weight_of(index)
            accepted = index in self._model.accepted
            paint_badge(painter, centre, weight, str(index + 1), self.theme, BADGE_SHARE, accepted=accepted)


def row_height() -> int:
    """The height of a row, pixels."""
    return QFontMetrics(text_font()).height() + 5


def _alignment(*, figures: bool) -> Qt.AlignmentFlag:
    return _RIGHT if figures else _LEFT


def _accessible_text(row: LegRow) -> str:
    numbers = ", ".join(str(index + 1) for index in row.findings)
    return f"{row.weight.value} findings, number {numbers}" if row.weight else "no findings"
