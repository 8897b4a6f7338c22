"""The table of a worklist for Qt: which rows are shown, in which order. It sorts and filters the rows itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import plain_tooltip
from routecheck.worklist.columns import COLUMNS
from routecheck.worklist.order import Urgency, group_name, urgency

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtCore import QObject

    from routecheck.report.route_row import RowFinding
    from routecheck.worklist.rows import WorklistRow
    from routecheck.worklist.worklist import Worklist

    AnyIndex = QModelIndex | QPersistentModelIndex

_Role = Qt.ItemDataRole
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
ALL, TO_LOOK_AT = "all routes", "to look at"
"""Names of what is shown that are no group."""


class WorklistModel(QAbstractTableModel):
    """The rows that have come, as far as they are shown."""

    def __init__(self, worklist: Worklist, parent: QObject) -> None:
        super().__init__(parent)
        self._worklist = worklist
        self._open: list[tuple[RowFinding, ...]] = []
        self._shown: list[int] = []
        self._sorted_by, self._is_descending = 0, False
        self._group, self._text = ALL, ""

    def take_rows(self) -> None:
        """Show the rows that have come since."""
        rows = self._worklist.rows
        self._open += map(self._worklist.acceptances.open_findings, rows[len(self._open) :])
        self._show()

    def take_acceptances(self) -> None:
        """Show what was accepted since."""
        self._open = []
        self.take_rows()

    def show_only(self, group: str, text: str) -> None:
        """Show the routes of a group that hold a text somewhere in the table."""
        self._group, self._text = group, text.casefold()
        self._show()

    @property
    def open_findings(self) -> Sequence[tuple[RowFinding, ...]]:
        """Of every row that has come the findings that nobody answers for."""
        return self._open

    def number_at(self, shown: int) -> int:
        """Which route of the list is shown in a row of the table."""
        return self._shown[shown]

    def place_of(self, number: int) -> int | None:
        """In which row of the table a route of the list is shown; None where it is not."""
        return self._shown.index(number) if number in self._shown else None

    def is_to_look_at(self, number: int) -> bool:
        """Whether somebody should look at a route: something is open, or not all of it was checked."""
        return urgency(self._worklist.rows[number], self._open[number]) < Urgency.ACCEPTED

    def rowCount(self, parent: AnyIndex = QModelIndex()) -> int:  # noqa: B008, N802
        """As many as are shown."""
        return 0 if parent.isValid() else len(self._shown)

    def columnCount(self, parent: AnyIndex = QModelIndex()) -> int:  # noqa: B008, N802
        """Those of every worklist."""
        return 0 if parent.isValid() else len(COLUMNS)

    def data(self, index: AnyIndex, role: int = _Role.DisplayRole) -> Any:
        """Text, place and weight of a cell."""
        number, column = self._shown[index.row()], COLUMNS[index.column()]
        if role == _Role.TextAlignmentRole:
            return _RIGHT if column.is_figure else None
        if role == _Role.FontRole:
            return text_font(bold=True) if index.column() == 0 and self.is_to_look_at(number) else None
        if role not in (_Role.DisplayRole, _Role.ToolTipRole):
            return None
        text = column.describe(*self._row(number))
        return plain_tooltip(text) if role == _Role.ToolTipRole else text

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = _Role.DisplayRole) -> Any:  # noqa: N802
        """The heads of the columns."""
        if orientation != Qt.Orientation.Horizontal or role != _Role.DisplayRole:
            return None
        return COLUMNS[section].head

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort by a column; equal rows stay in the order of the list."""
        self._sorted_by, self._is_descending = column, order == Qt.SortOrder.DescendingOrder
        self._show()

    def _row(self, number: int) -> tuple[WorklistRow, tuple[RowFinding, ...]]:
        return self._worklist.rows[number], self._open[number]

    def _show(self) -> None:
        key = COLUMNS[self._sorted_by].key
        keyed = [(key(*self._row(number)), number) for number in range(len(self._open)) if self._is_wanted(number)]
        keyed.sort(key=lambda one: one[0], reverse=self._is_descending)
        keyed.sort(key=lambda one: one[0][0])  # what is not known stands last in either order
        self.beginResetModel()
        self._shown = [number for _, number in keyed]
        self.endResetModel()

    def _is_wanted(self, number: int) -> bool:
        row, still_open = self._row(number)
        if self._group == TO_LOOK_AT:
            is_of_group = self.is_to_look_at(number)
        else:
            is_of_group = self._group in (ALL, group_name(still_open))
        return is_of_group and (
            not self._text or any(self._text in column.describe(row, still_open).casefold() for column in COLUMNS)
        )
