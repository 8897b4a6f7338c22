"""The buttons that lie in an open finding of the Margin: what can be done about it. What they do is in window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from routecheck.gui.theme import words

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

Doing = tuple[str, "Callable[[], object]"]
"""What a button says and does."""
SPACE = 6


class FindingActions(QWidget):
    """A row of buttons under the sentence of an open finding. Clicks beside them go to the row."""

    def __init__(self, doings: Sequence[Doing], left: int, top: int) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.buttons = [_button(*doing) for doing in doings]
        row = QHBoxLayout()
        row.setSpacing(SPACE)
        for button in self.buttons:
            row.addWidget(button)
        row.addStretch()
        column = QVBoxLayout(self)
        column.setContentsMargins(left, top + SPACE, SPACE, 0)
        column.addLayout(row)
        column.addStretch()


def _button(text: str, does: Callable[[], object]) -> QPushButton:
    button = QPushButton(text)
    button.setFont(words(-1))
    button.setAutoDefault(False)
    button.clicked.connect(lambda: does())
    return button


def room_needed() -> int:
    """The height that the row of buttons takes."""
    return _button("Ag", lambda: None).sizeHint().height() + 2 * SPACE
