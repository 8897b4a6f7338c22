"""The end of a drill: the marks of each route, and again the truth of the one that is chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from routecheck.drill.class_overview import minutes_and_seconds
from routecheck.drill.drill_files import describe_given
from routecheck.drill.marking import WHOLE
from routecheck.formatting import count
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import WrappingLabel

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.drill.marking import Mark

_HEADS = "route", "of 100", "time", "error", "you said"
_FIGURES = (1, 2)
"""The columns of figures, which stand to the right."""


class MarksView(QWidget):
    """What a trainee has come to."""

    chosen = Signal(int)
    """A route, by its number from 0."""
    save_wanted = Signal()
    class_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.summary, self.table = WrappingLabel(), QTableWidget(0, len(_HEADS))
        self.summary.setFont(text_font(3, bold=True))
        self.table.setAccessibleName("Marks of the routes")
        self.table.setHorizontalHeaderLabels(list(_HEADS))
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.horizontalHeader().setStretchLastSection(True)
        self.table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        self.table.currentCellChanged.connect(self._choose)
        self.save_button, self.class_button = QPushButton("&Save my answers…"), QPushButton("&Class…")
        self.save_button.clicked.connect(self.save_wanted)
        self.class_button.clicked.connect(self.class_wanted)
        row = QHBoxLayout()
        for button in (self.save_button, self.class_button):
            button.setAutoDefault(False)
            row.addWidget(button)
        row.addStretch()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.summary)
        column.addWidget(self.table, 1)
        column.addLayout(row)

    def show_marks(self, marks: Sequence[Mark]) -> None:
        """Show the marks of all routes."""
        average = sum(mark.total for mark in marks) / len(marks)
        alarms = count(sum(mark.is_false_alarm for mark in marks), "false alarm")
        self.summary.setText(f"The end of the drill: {average:.0f} of {WHOLE} on average, {alarms}.")
        self.table.setRowCount(len(marks))
        for row, mark in enumerate(marks):
            seconds = mark.given.seconds if mark.given else 0
            cells = mark.case.name, str(mark.total), minutes_and_seconds(seconds), mark.case.kind, describe_given(mark)
            for column, text in enumerate(cells):
                item = QTableWidgetItem(text)
                side = Qt.AlignmentFlag.AlignRight if column in _FIGURES else Qt.AlignmentFlag.AlignLeft
                item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
                self.table.setItem(row, column, item)
        self.table.setFocus()

    def _choose(self, row: int, *_: int) -> None:
        if row >= 0:
            self.chosen.emit(row)
