"""The box in the Margin that lists what was changed since the last look, and what each change undoes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QPushButton, QVBoxLayout

from routecheck.gui.pane import Pane
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import ShrinkingLabel
from routecheck.presentation.changed_since import changes_since

if TYPE_CHECKING:
    from routecheck.gui.session import Session
    from routecheck.model import RouteInput


class ChangesBox(Pane, QFrame):
    """Shown once somebody said that he has looked, as long as something differs from what he saw."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("notice")
        self._session = session
        self._seen: RouteInput | None = None
        self.title, self.list = ShrinkingLabel("Changed since the last look"), ShrinkingLabel()
        self.list.setAccessibleName("Changed since the last look")
        self.looked_button = QPushButton("Looked at again")
        self.looked_button.clicked.connect(self.note_look)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 8)
        column.addWidget(self.title)
        column.addWidget(self.list)
        column.addWidget(self.looked_button, 0, Qt.AlignmentFlag.AlignLeft)
        self.refresh_font()
        self.hide()
        session.input_changed.connect(self._compare)
        session.input_replaced.connect(self._forget)

    def note_look(self) -> None:
        """The route as it is now has been looked at: from now on changes are counted from it."""
        self._seen = self._session.route_input
        self.hide()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.title.setFont(text_font(bold=True))
        for widget in (self.list, self.looked_button):
            widget.setFont(text_font(-1))

    def _compare(self, now: RouteInput) -> None:
        changes = changes_since(self._seen, now) if self._seen else ()
        self.list.setText("\n".join(changes))
        self.setVisible(bool(changes))

    def _forget(self, _now: RouteInput) -> None:
        self._seen = None
        self.hide()
