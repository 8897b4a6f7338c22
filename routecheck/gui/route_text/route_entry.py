"""What stands in the text and in the fields beside it becomes the input in hand, whoever put it there."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from routecheck.gui.route_text.flight_fields import TYPING_MS
from routecheck.gui.session import WAIT_MS

if TYPE_CHECKING:
    from routecheck.gui.route_text.correction_actions import CorrectionActions
    from routecheck.gui.route_text.editor import RouteText
    from routecheck.gui.route_text.flight_fields import FlightFields
    from routecheck.gui.route_text.next_flight import NextFlight
    from routecheck.gui.session import Session
    from routecheck.model import Proposal, RouteInput


class RouteEntry(QObject):
    """Follows typing, makes corrections as if they were typed, and puts back what stood beside the text."""

    reported = Signal(str)
    """A sentence about the fields that cannot be read; "" where there are none."""

    def __init__(
        self,
        session: Session,
        text: RouteText,
        fields: FlightFields,
        corrections: CorrectionActions,
        next_flight: NextFlight,
    ) -> None:
        super().__init__(text)
        self._session, self._text, self._fields = session, text, fields
        self._corrections, self._next_flight = corrections, next_flight
        text.typed.connect(self._take_typing)
        fields.edited.connect(lambda: self._take_fields(session.route_input))
        fields.unread_changed.connect(self._settle_fields)
        corrections.apply_requested.connect(self._apply)
        corrections.restore_requested.connect(self._put_back)

    def restore(self, route_input: RouteInput) -> None:
        """Put back what stood beside the text at an earlier step."""
        if route_input.changed != self._session.route_input.changed:
            self._corrections.take_record(route_input)
        self._fields.show_input(route_input)
        self._take_fields(route_input)

    def _take_typing(self) -> None:
        self._take_fields(self._next_flight.follow_text(self._session.route_input, self._text.toPlainText()))

    def _take_fields(self, route_input: RouteInput) -> None:
        """Take what stands in the text and the fields now, and the rest from a RouteInput."""
        route_input = replace(route_input, route=self._text.toPlainText(), unread="")
        wait_ms = TYPING_MS if self._fields.is_half_typed else WAIT_MS
        self._session.change_input(self._corrections.carry_changes(self._fields.apply_to(route_input)), wait_ms)
        self._say_unread()

    def _say_unread(self) -> None:
        self.reported.emit(self._fields.describe_unread())

    def _settle_fields(self) -> None:
        self._say_unread()
        if not self._session.is_answer_current:
            self._session.request_assessment()

    def _apply(self, proposal: Proposal, then: RouteInput) -> None:
        """Make a correction as if it were typed: the text in one step for undo, what stands beside it in its fields."""
        self._fields.show_values(then, [one.field for one in proposal.beside])
        if proposal.span is not None:
            self._text.replace_stretch(proposal.span, proposal.new)
        now = self._session.route_input
        if proposal.beside or then.claims != now.claims:
            self._take_fields(replace(now, windows=then.windows, claims=then.claims))

    def _put_back(self, field: str, then: RouteInput) -> None:
        """Put a value beside the text back as it was."""
        self._fields.show_values(then, [field])
        self._take_fields(replace(self._session.route_input, windows=then.windows))
