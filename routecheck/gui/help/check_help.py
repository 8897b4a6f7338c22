"""What a check says about itself, in a window beside: any check, the one of the selected finding first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QDialog, QDialogButtonBox, QPlainTextEdit, QVBoxLayout

from routecheck.gui.theme import fixed_font
from routecheck.report.explanation import explain_check, read_catalogue

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

_WIDTH = 84


class CheckHelp(QDialog):
    """A list of all checks, and what the chosen one says about itself."""

    def __init__(self, parent: QWidget, check: str = "") -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Checks explained")
        self._catalogue = read_catalogue()
        self.checks = QComboBox()
        self.checks.setAccessibleName("Check")
        self.checks.addItems(list(self._catalogue))
        self.text = QPlainTextEdit()
        self.text.setAccessibleName("What the check says about itself")
        self.text.setReadOnly(True)
        self.text.setFont(fixed_font())
        self.text.setMinimumSize(self.text.fontMetrics().averageCharWidth() * (_WIDTH + 6), 420)
        self.checks.currentTextChanged.connect(self._show)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        for widget in (self.checks, self.text, buttons):
            column.addWidget(widget)
        self.checks.setCurrentText(check)
        self._show(self.checks.currentText())

    def _show(self, check: str) -> None:
        self.text.setPlainText(explain_check(self._catalogue[check], _WIDTH))
