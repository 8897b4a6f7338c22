"""A route as entered, to point at its words, by mouse or keyboard, several at once: as words, or as legs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QItemSelectionModel, QSize, Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QPushButton, QTableWidget, QTableWidgetItem, QWidget

from routecheck.gui.theme import fixed_font
from routecheck.gui.widgets.flow_layout import FlowLayout

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QResizeEvent

    from routecheck.drill.cases import DrillCase

LEAST_PX = 40
"""A word can be hit with a finger."""
ROW_HIGH = 1.6
"""How high a leg is, in heights of its text."""
_ITEM_STYLE = """
    QTableView::item { border: 2px solid transparent; padding: 0 3px; }
    QTableView::item:selected { background: palette(highlight); color: palette(highlighted-text); }
    QTableView::item:focus { border: 2px solid palette(highlight); }
    QTableView::item:selected:focus { border: 2px solid palette(text); }
"""
"""Where the arrow keys are is seen whether the word is chosen or not."""


class WordButtons(QWidget):
    """The words of a route as typed, each a button that is pressed or not."""

    changed = Signal()

    def __init__(self, words: Sequence[str]) -> None:
        super().__init__()
        flow = FlowLayout(self, 6, 6)
        self.buttons = [QPushButton(text.replace("&", "&&")) for text in words]
        for button in self.buttons:
            button.setCheckable(True)
            button.setAutoDefault(False)
            button.setFont(fixed_font())
            button.setMinimumHeight(LEAST_PX)
            button.toggled.connect(self.changed)
            flow.addWidget(button)
        self._words = tuple(words)

    def words(self) -> tuple[str, ...]:
        """All words, in order."""
        return self._words

    def chosen(self) -> tuple[int, ...]:
        """Which of the words are pointed at."""
        return tuple(index for index, button in enumerate(self.buttons) if button.isChecked())

    def choose(self, chosen: Sequence[int]) -> None:
        """Point at words."""
        for index, button in enumerate(self.buttons):
            button.setChecked(index in chosen)


class LegList(QTableWidget):
    """The legs of a route: by what, to where. A click or space points at a word; the number of a leg at both."""

    changed = Signal()

    def __init__(self, departure: str, legs: Sequence[tuple[str, str]]) -> None:
        super().__init__(len(legs) + 1, 2)
        self.setAccessibleName("Entered legs")
        self.setHorizontalHeaderLabels(["by", "to"])
        self.setVerticalHeaderLabels(["", *(str(number) for number in range(1, len(legs) + 1))])
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.MultiSelection)
        self.setTabKeyNavigation(False)
        self.setFont(fixed_font())
        self.setShowGrid(False)
        for row, words in enumerate([("", departure), *legs]):
            for column, text in enumerate(words):
                item = QTableWidgetItem(text)
                if not text:
                    item.setFlags(Qt.ItemFlag.NoItemFlags)
                self.setItem(row, column, item)
        head = self.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setStretchLastSection(True)
        head.setHighlightSections(False)
        self.verticalHeader().setHighlightSections(False)
        self.setStyleSheet(_ITEM_STYLE)
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().setDefaultSectionSize(round(self.fontMetrics().height() * ROW_HIGH))
        self.setCurrentCell(0, 1, QItemSelectionModel.SelectionFlag.NoUpdate)  # where the arrow keys begin
        self.itemSelectionChanged.connect(self.changed)
        self._places = [
            (row, column, text)
            for row, words in enumerate([("", departure), *legs])
            for column, text in enumerate(words)
            if text
        ]

    def words(self) -> tuple[str, ...]:
        """All words, in order."""
        return tuple(text for _, _, text in self._places)

    def chosen(self) -> tuple[int, ...]:
        """Which of the words are pointed at."""
        return tuple(index for index, (row, column, _) in enumerate(self._places) if self._is_selected(row, column))

    def _is_selected(self, row: int, column: int) -> bool:
        return self.selectionModel().isSelected(self.model().index(row, column))

    def choose(self, chosen: Sequence[int]) -> None:
        """Point at words."""
        self.clearSelection()
        for index in chosen:
            row, column, _ = self._places[index]
            self.selectionModel().select(self.model().index(row, column), QItemSelectionModel.SelectionFlag.Select)

    def sizeHint(self) -> QSize:  # noqa: N802
        """High enough for all legs: what is around it scrolls."""
        rows = sum(self.rowHeight(row) for row in range(self.rowCount()))
        return QSize(super().sizeHint().width(), rows + self.horizontalHeader().height() + 2 * self.frameWidth())

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """The same height."""
        return QSize(super().minimumSizeHint().width(), self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Rows as high as a finger needs."""
        super().resizeEvent(event)
        self.updateGeometry()


def make_entry_view(case: DrillCase) -> WordButtons | LegList:
    """The view of a case in the form in which it is shown."""
    return LegList(case.departure, case.legs) if case.legs else WordButtons(case.shown_words)
