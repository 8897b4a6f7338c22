"""What can be done about the columns of a pasted nav log: choose them, and take choices back."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.gui.route_text.columns_dialog import ColumnsDialog
    from routecheck.gui.session import Session
    from routecheck.model import RouteInput


class ColumnActions(QObject):
    """Reads the table in hand again by other columns. The inputs before stay, so that every choice can be undone."""

    refused = Signal(str)
    """A sentence: why the table cannot be read so. The input in hand stays."""

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self._before: list[RouteInput] = []
        session.input_replaced.connect(self._forget_other_text)

    @property
    def can_undo(self) -> bool:
        """Whether there is a choice to take back."""
        return bool(self._before)

    def show_dialog(self, parent: QWidget) -> ColumnsDialog | None:
        """Open the dialog; None where no table was pasted."""
        from routecheck.gui.route_text.columns_dialog import ColumnsDialog

        pasted = self._session.route_input.pasted
        if pasted is None or not pasted.columns:
            self.refused.emit("No table was pasted.")
            return None
        dialog = ColumnsDialog(parent, self._session, self)
        dialog.open()
        return dialog

    def choose(self, number: int, kind: str) -> None:
        """Take the column of that number, from 0, for something else; the table is read beside the window."""
        from routecheck.presentation.column_choices import choose_column
        from routecheck.reading.nav_logs.read_again import read_again

        now = self._session.route_input
        self._session.reader.read(
            partial(read_again, now, choose_column(now.columns, number, kind)),
            lambda then: self._take(now, then),
            self.refused.emit,
        )

    def _take(self, before: RouteInput, then: RouteInput) -> None:
        if then.unread:
            self.refused.emit(f"Not read so: {then.unread}.")
        elif before is self._session.route_input:  # else something was typed meanwhile, and wins
            self._before.append(before)
            self._session.replace_input(then)
        else:
            self.refused.emit("Not read anew, for the route was changed meanwhile.")

    def undo(self) -> None:
        """Take the last choice back, with whatever was done since."""
        if self._before:
            self._session.replace_input(self._before.pop())

    def _forget_other_text(self, now: RouteInput) -> None:
        text = now.pasted.text if now.pasted else None
        self._before = [one for one in self._before if one.pasted and one.pasted.text == text]
