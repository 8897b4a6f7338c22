"""The dialog that asks why a finding is accepted, and by whom."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLineEdit, QVBoxLayout

from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import WrappingLabel

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.model import Finding

WHAT_IT_MEANS = (
    "You answer for this finding. It stays on the record with your reason, marked as accepted; nothing is counted away."
)


def ask_reason(
    parent: QWidget, finding: Finding, number: int, by: str, accept: Callable[[int, str, str, str], object]
) -> AcceptDialog:
    """Ask for the reason and the initials; `accept(number, sentence, reason, by)` is called with them."""
    dialog = AcceptDialog(parent, f"Accept finding {number} with a reason", finding.message, by)
    dialog.accepted.connect(
        lambda: accept(number, finding.message, dialog.reason.text().strip(), dialog.by.text().strip())
    )
    dialog.open()
    return dialog


class AcceptDialog(QDialog):
    """Reason and initials; neither may be left out."""

    def __init__(self, parent: QWidget, title: str, sentence: str, by: str) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self.reason, self.by = QLineEdit(), QLineEdit(by)
        self.reason.setPlaceholderText("for example: cleared so by the controller")
        self.reason.setMinimumWidth(self.fontMetrics().averageCharWidth() * 56)
        self.by.setPlaceholderText("initials or name")
        self.by.setMaximumWidth(self.fontMetrics().averageCharWidth() * 24)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.accept_button = self.buttons.addButton("Accept", QDialogButtonBox.ButtonRole.AcceptRole)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        for field in (self.reason, self.by):
            field.textChanged.connect(self._enable_accept)
        self._lay_out(sentence)
        self._enable_accept()

    def _lay_out(self, finding: str) -> None:
        sentence, meaning = WrappingLabel(finding), WrappingLabel(WHAT_IT_MEANS)
        sentence.setFont(text_font(bold=True))
        meaning.setObjectName("muted")
        form = QFormLayout()
        form.addRow("&Reason", self.reason)
        form.addRow("B&y", self.by)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        column.setSpacing(10)
        column.addWidget(sentence)
        column.addWidget(meaning)
        column.addLayout(form)
        column.addWidget(self.buttons)

    def _enable_accept(self) -> None:
        self.accept_button.setEnabled(bool(self.reason.text().strip() and self.by.text().strip()))
