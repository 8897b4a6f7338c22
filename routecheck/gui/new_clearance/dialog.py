"""Asks for a clearance, and shows while it is typed what it makes of the route in hand. Nothing is changed before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QPlainTextEdit, QVBoxLayout

from routecheck.compare.new_clearance import put_in_clearance, sentences_of
from routecheck.gui.input_bounds import LONGEST_TEXT
from routecheck.gui.theme import fixed_font, text_font
from routecheck.gui.widgets.labels import WrappingLabel

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QKeyEvent
    from PySide6.QtWidgets import QWidget

    from routecheck.model import Route, RouteInput

WHAT_IT_IS_FOR = (
    "Type or paste the clearance as it was said: “cleared direct TOVIK, then as filed”, “LENDU2 departure, climb and "
    "maintain 5,000, expect FL350”. The route in hand stays beside it as the version before."
)


class NewClearanceDialog(QDialog):
    """Gives the version as cleared to `take`, once there is one and it is wanted."""

    def __init__(self, parent: QWidget, route: Route, take: Callable[[RouteInput], object]) -> None:
        super().__init__(parent)
        self._route, self._take = route, take
        self._version: RouteInput | None = None
        self.setWindowTitle("New clearance")
        self.text = _ClearanceText(self.accept)
        self.route, self.notes = WrappingLabel(), WrappingLabel()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.take_button = self.buttons.addButton("Put into the route", QDialogButtonBox.ButtonRole.AcceptRole)
        self.text.textChanged.connect(self._show_outcome)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        self._lay_out()
        self._show_outcome()

    def accept(self) -> None:
        """Hand on the version; without one stay."""
        if self._version is not None:
            self._take(self._version)
            super().accept()

    def _show_outcome(self) -> None:
        said = self.text.toPlainText()[:LONGEST_TEXT]
        new = put_in_clearance(self._route, said) if said.strip() else None
        self._version = new.version if new else None
        self.take_button.setEnabled(self._version is not None)
        self.route.setText(self._version.route if self._version else "")
        self.notes.setText("\n".join(sentences_of(new)) if new else "")

    def _lay_out(self) -> None:
        self.text.setAccessibleName("The clearance as it was said")
        self.route.setAccessibleName("The route as cleared")
        self.notes.setAccessibleName("What the clearance changes, and what of it was not read")
        self.route.setFont(fixed_font(1))
        self.notes.setFont(text_font())
        self.notes.setMinimumHeight(self.fontMetrics().height() * 6)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        column.setSpacing(10)
        for widget in (WrappingLabel(WHAT_IT_IS_FOR), self.text, self.route, self.notes, self.buttons):
            column.addWidget(widget)
        self.resize(self.fontMetrics().averageCharWidth() * 84, self.sizeHint().height())
        self.text.setFocus()


class _ClearanceText(QPlainTextEdit):
    """A few lines; Enter puts the clearance in, Shift and Enter begin another line."""

    def __init__(self, enter: Callable[[], object]) -> None:
        super().__init__()
        self._enter = enter
        self.setTabChangesFocus(True)
        self.setFixedHeight(self.fontMetrics().height() * 4)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Take Enter as the wish to put it in."""
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if is_enter and not event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self._enter()
        else:
            super().keyPressEvent(event)
