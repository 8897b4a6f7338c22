"""The class: what each trainee has come to, and how the class did with each kind of error; CSV, PDF, names deleted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from routecheck.drill.class_overview import (
    KIND_HEADS,
    TRAINEE_HEADS,
    kind_cells,
    sum_by_kind,
    sum_by_trainee,
    trainee_cells,
)
from routecheck.gui.widgets.labels import PlainLabel, ShrinkingLabel

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from routecheck.drill.marking import Mark

_INTRODUCTION = (
    "Every drill that was gone through on this computer, and the answers that you add. Names are kept on this computer "
    "alone, until they are deleted."
)
_NONE = "No drill has been gone through yet."


class ClassWindow(QDialog):
    """The overview. It reads and writes nothing itself."""

    add_wanted = Signal()
    save_wanted = Signal()
    delete_wanted = Signal(list)
    """Names of trainees; [] = of all."""

    def __init__(self, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowFlag(Qt.WindowType.WindowMaximizeButtonHint)
        self.setWindowTitle("Drill: the class")
        self.trainees, self.kinds = _make_table("Trainees", TRAINEE_HEADS), _make_table("Kinds of error", KIND_HEADS)
        self.kinds.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.message = ShrinkingLabel()
        self.add_button, self.save_button = QPushButton("&Add answers…"), QPushButton("&Save…")
        self.delete_button, self.delete_all_button = QPushButton("&Delete the name"), QPushButton("Delete a&ll")
        self.close_button = QPushButton("&Close")
        self._lay_out()
        self.add_button.clicked.connect(self.add_wanted)
        self.save_button.clicked.connect(self.save_wanted)
        self.delete_button.clicked.connect(lambda: self.delete_wanted.emit(self._chosen()))
        self.delete_all_button.clicked.connect(lambda: self.delete_wanted.emit([]))
        self.close_button.clicked.connect(self.reject)
        self.trainees.itemSelectionChanged.connect(self._enable)

    def show_marks(self, marks: Mapping[str, Sequence[Mark]]) -> None:
        """Show the marks of a class."""
        _fill(self.trainees, (trainee_cells(one) for one in sum_by_trainee(marks)))
        _fill(self.kinds, (kind_cells(one) for one in sum_by_kind(marks)))
        self.show_message("" if marks else _NONE)
        for button in (self.save_button, self.delete_all_button):
            button.setEnabled(bool(marks))
        self._enable()

    def show_message(self, text: str) -> None:
        """Say something below the tables; "" = nothing."""
        self.message.setText(text)
        self.message.setVisible(bool(text))

    def _lay_out(self) -> None:
        introduction = ShrinkingLabel(_INTRODUCTION)
        introduction.setObjectName("muted")
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        for head, table in (("By trainee", self.trainees), ("By kind of error, averages", self.kinds)):
            part = QWidget()
            column = QVBoxLayout(part)
            column.setContentsMargins(0, 0, 0, 0)
            column.addWidget(PlainLabel(head))
            column.addWidget(table)
            split.addWidget(part)
        row = QHBoxLayout()
        for button in (self.add_button, self.save_button, self.delete_button, self.delete_all_button):
            button.setAutoDefault(False)
            row.addWidget(button)
        row.addStretch()
        row.addWidget(self.close_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        column.addWidget(introduction)
        column.addWidget(split, 1)
        column.addWidget(self.message)
        column.addLayout(row)
        wanted = QSize(self.fontMetrics().averageCharWidth() * 120, self.fontMetrics().height() * 34)
        self.resize(wanted.boundedTo(self.screen().availableSize()))

    def _chosen(self) -> list[str]:
        rows = sorted({index.row() for index in self.trainees.selectedIndexes()})
        items = (self.trainees.item(row, 0) for row in rows)
        return [item.text() for item in items if item]

    def _enable(self) -> None:
        self.delete_button.setEnabled(bool(self._chosen()))


def _make_table(name: str, heads: Sequence[str]) -> QTableWidget:
    table = QTableWidget(0, len(heads))
    table.setAccessibleName(name)
    table.setHorizontalHeaderLabels(list(heads))
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setTabKeyNavigation(False)
    table.verticalHeader().hide()
    table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    return table


def _fill(table: QTableWidget, rows: Iterable[Sequence[str]]) -> None:
    cells = list(rows)
    table.clearSelection()
    table.setRowCount(len(cells))
    for row, texts in enumerate(cells):
        for column, text in enumerate(texts):
            item = QTableWidgetItem(text)
            side = Qt.AlignmentFlag.AlignRight if column else Qt.AlignmentFlag.AlignLeft
            item.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
            table.setItem(row, column, item)
