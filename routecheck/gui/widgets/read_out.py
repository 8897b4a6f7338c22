"""The small pane that says what lies under the mouse. What it says comes from elsewhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import PlainLabel

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.gui.theme import Theme

_ANY_WIDTH = 16777215


class ReadOut(PlainLabel):
    """Text over a drawing; the mouse goes through it. Whoever owns it moves it where it covers nothing."""

    def __init__(self, parent: QWidget, theme: Theme) -> None:
        super().__init__(parent=parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setMargin(5)
        self.set_theme(theme)
        self.refresh_font()
        self.hide()

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self.setStyleSheet(f"background: {theme.pane}; color: {theme.ink}; border: 1px solid {theme.line};")

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.setFont(text_font(-0.5))

    def say(self, text: str, widest: int) -> None:
        """Show a text, in lines of at most so many pixels; "" puts it away."""
        self.setVisible(bool(text))
        self.setText(text)
        self.setWordWrap(False)
        self.setMinimumWidth(0)
        self.setMaximumWidth(_ANY_WIDTH)
        if self.sizeHint().width() > widest:
            self.setWordWrap(True)
            self.setFixedWidth(widest)
        self.adjustSize()
