"""One route of a drill as a question: its words to point at, the kind of error, what was meant."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QComboBox, QFormLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.drill.marking import TraineeAnswer
from routecheck.gui.theme import fixed_font
from routecheck.gui.widgets.flow_layout import FlowLayout

if TYPE_CHECKING:
    from routecheck.drill.cases import DrillCase

_NOT_SAID = "choose the kind of error, or clean"
_LEAST_PX = 40
"""A word can be hit with a finger."""


class Question(QWidget):
    """Asks what is wrong with a route."""

    answered = Signal(object)
    """What the trainee says (TraineeAnswer)."""

    def __init__(self) -> None:
        super().__init__()
        self._words, self._line = QWidget(), QButtonGroup(self)
        self._line.setExclusive(False)
        self.kind, self.correction = QComboBox(), QLineEdit()
        self.kind.addItems([_NOT_SAID, CLEAN, *ERROR_KINDS])
        self.kind.setAccessibleName("Kind of error")
        self.correction.setPlaceholderText("the word that was meant; “leave out” where it is one too many")
        self.answer_button = QPushButton("&Answer")
        self.answer_button.clicked.connect(self._answer)
        self.kind.currentIndexChanged.connect(self._enable)
        form = QFormLayout()
        form.addRow("&Kind", self.kind)
        form.addRow("&Meant", self.correction)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(self._words)
        self._column.addLayout(form)
        self._column.addWidget(self.answer_button)

    def ask(self, case: DrillCase) -> None:
        """Show the words of a route, none of them chosen."""
        for button in self._line.buttons():
            self._line.removeButton(button)
        words = QWidget()
        flow = FlowLayout(words, 6, 6)
        for text in (case.departure, *case.route.split(), case.destination):
            button = QPushButton(text.replace("&", "&&"))
            button.setCheckable(True)
            button.setFont(fixed_font())
            button.setMinimumHeight(_LEAST_PX)
            self._line.addButton(button)
            flow.addWidget(button)
        self._column.replaceWidget(self._words, words)
        self._words.deleteLater()
        self._words = words
        self.kind.setCurrentIndex(0)
        self.correction.clear()
        self.setEnabled(True)
        self._enable()

    def words(self) -> list[QPushButton]:
        """The buttons of the words, in the order of the route."""
        return [button for button in self._line.buttons() if isinstance(button, QPushButton)]

    def _answer(self) -> None:
        chosen = " ".join(button.text().replace("&&", "&") for button in self.words() if button.isChecked())
        is_clean = self.kind.currentText() == CLEAN
        self.answered.emit(
            TraineeAnswer(
                "", "" if is_clean else chosen, self.kind.currentText(), "" if is_clean else self.correction.text()
            )
        )

    def _enable(self) -> None:
        is_clean = self.kind.currentText() == CLEAN
        self.answer_button.setEnabled(self.kind.currentIndex() > 0)
        self.correction.setEnabled(not is_clean)
