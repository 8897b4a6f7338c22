"""What the menus do in the last minutes: put in a new clearance, read across, count changes since the last look."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Signal

from routecheck.gui.new_clearance.changes_box import ChangesBox

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.gui.new_clearance.dialog import NewClearanceDialog
    from routecheck.gui.read_across.dialog import ReadAcrossDialog
    from routecheck.gui.route_text.next_flight import NextFlight
    from routecheck.gui.session import Session
    from routecheck.model import Route, RouteInput

NO_ANSWER = "There is no route yet that was read and checked."


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

        if (route := self._current_route()) is None:
            return None
        dialog = NewClearanceDialog(self._window, route, self._take)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        return dialog

    def read_across(self) -> ReadAcrossDialog | None:
        """Read the rows across against another display, from the first that is not read."""
        from routecheck.gui.read_across.dialog import ReadAcrossDialog

        if (route := self._current_route()) is None:
            return None
        dialog = ReadAcrossDialog(self._window, self._session, route)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.accepted.connect(self.box.note_look)
        dialog.open()
        return dialog

    def _current_route(self) -> Route | None:
        """The route in hand as it was assessed; without it says so."""
        answer = self._session.answer
        if answer is None or not self._session.is_answer_current or answer.assessment.route.route_input.unread:
            self.reported.emit(NO_ANSWER)
            return None
        return answer.assessment.route

    def _take(self, version: RouteInput) -> None:
        self.box.note_look()
        self._next_flight.take_version(self._session.route_input, version)
