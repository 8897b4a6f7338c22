"""What the menus do with a new clearance: ask for it, put it in as one step, count changes from the version before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Signal

from routecheck.gui.new_clearance.changes_box import ChangesBox

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.gui.new_clearance.dialog import NewClearanceDialog
    from routecheck.gui.route_text.next_flight import NextFlight
    from routecheck.gui.session import Session
    from routecheck.model import RouteInput

NO_ANSWER = "There is no route to put a clearance into yet."


class ClearanceActions(QObject):
    """Acts on the route in hand."""

    reported = Signal(str)

    def __init__(self, session: Session, next_flight: NextFlight, parent: QWidget) -> None:
        super().__init__(parent)
        self._session, self._next_flight, self._window = session, next_flight, parent
        self.box = ChangesBox(session)

    def ask(self) -> NewClearanceDialog | None:
        """Ask for a clearance; without an answer about the route in hand there is nothing to put it into."""
        from routecheck.gui.new_clearance.dialog import NewClearanceDialog

        answer = self._session.answer
        if answer is None or not self._session.is_answer_current or answer.assessment.route.route_input.unread:
            self.reported.emit(NO_ANSWER)
            return None
        dialog = NewClearanceDialog(self._window, answer.assessment.route, self._take)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        return dialog

    def _take(self, version: RouteInput) -> None:
        self.box.note_look()
        self._next_flight.take_version(self._session.route_input, version)
