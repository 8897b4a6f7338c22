"""One route of a drill as a question: as cleared, as entered, the kind of error, what was meant."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QLineEdit, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from routecheck.drill.cases import LEAVE_OUT
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS, explain_kind
from routecheck.drill.marking import TraineeAnswer
from routecheck.drill.progress import Draft
from routecheck.gui.drill.entry_view import WordButtons, make_entry_view
from routecheck.gui.theme import fixed_font, text_font
from routecheck.gui.widgets.labels import PlainLabel, WrappingLabel

if TYPE_CHECKING:
    from routecheck.drill.cases import DrillCase
    from routecheck.gui.drill.entry_view import LegList

_NOT_SAID = "choose the kind of error, or clean"
_CLEARED, _ENTERED, _POINT = "As cleared", "As entered", "As entered: point at what is wrong"


class Question(QWidget):
    """Asks what is wrong with a route."""

    answered = Signal(object)
    """What the trainee says (TraineeAnswer)."""
    changed = Signal()
    """Something was pointed at, chosen or typed."""

    def __init__(self) -> None:
        super().__init__()
        self.cleared_head, self.clearance = _make_head(_CLEARED), WrappingLabel()
        self.entered_head = _make_head(_ENTERED)
        self.entry: WordButtons | LegList = WordButtons(())
        self.kind, self.correction = QComboBox(), QLineEdit()
        self.kind.addItems([_NOT_SAID, CLEAN, *ERROR_KINDS])
        self.kind.setAccessibleName("Kind of error")
        self.correction.setPlaceholderText(f"the word that was meant; “{LEAVE_OUT}” where it is one too many")
        self.answer_button = QPushButton("&Answer")
        self.answer_button.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.answer_button.clicked.connect(self._answer)
        self.meaning = WrappingLabel()
        self.meaning.setObjectName("muted")
        self.kind.currentIndexChanged.connect(self._enable)
        self.kind.currentIndexChanged.connect(self.changed)
        self.correction.textEdited.connect(self.changed)
        self.fields = QWidget()
        """Where the answer is given: it stands apart, so that it is in sight however long the route is."""
        fields, form = QVBoxLayout(self.fields), QFormLayout()
        form.addRow("&Kind", self.kind)
        form.addRow("&Meant", self.correction)
        fields.addLayout(form)
        fields.addWidget(self.meaning)
        fields.addWidget(self.answer_button)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        for widget in (self.cleared_head, self.clearance, self.entered_head, self.entry):
            self._column.addWidget(widget)

    def ask(self, case: DrillCase, draft: Draft) -> None:
        """Show a route as cleared and as entered, with what was already said of it."""
        entry = make_entry_view(case)
        self._column.replaceWidget(self.entry, entry)
        self.entry.deleteLater()
        self.entry = entry
        self.clearance.setText(case.clearance)
        self.clearance.setFont(text_font(1) if case.legs else fixed_font())
        self.clearance.setVisible(bool(case.clearance))
        self.cleared_head.setVisible(bool(case.clearance))
        self.kind.setCurrentIndex(max(self.kind.findText(draft.kind), 0))
        self.correction.setText(draft.correction)
        entry.choose(draft.chosen)
        entry.changed.connect(self.changed)
        self.open_for_answer(True)

    def open_for_answer(self, is_open: bool) -> None:
        """Take an answer, or no more."""
        for part in (self.entry, self.kind, self.correction, self.answer_button):
            part.setEnabled(is_open)
        self.entered_head.setText(_POINT if is_open else _ENTERED)
        if is_open:
            self._enable()

    def draft(self) -> Draft:
        """What was said so far."""
        kind = self.kind.currentText() if self.kind.currentIndex() else ""
        return Draft(self.entry.chosen(), kind, self.correction.text())

    def _answer(self) -> None:
        words = self.entry.words()
        chosen = " ".join(dict.fromkeys(words[index] for index in self.entry.chosen()))
        kind = self.kind.currentText()
        said = ("", "") if kind == CLEAN else (chosen, self.correction.text())
        self.answered.emit(TraineeAnswer("", said[0], kind, said[1]))

    def _enable(self) -> None:
        is_clean = self.kind.currentText() == CLEAN
        self.answer_button.setEnabled(self.kind.currentIndex() > 0)
        self.correction.setEnabled(not is_clean)
        self.meaning.setText(explain_kind(self.kind.currentText()))
        self.meaning.setVisible(bool(self.meaning.text()))


def _make_head(text: str) -> PlainLabel:
    head = PlainLabel(text)
    head.setObjectName("muted")
    return head
