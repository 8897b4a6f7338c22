"""The next flight in place of the last: what belongs to the last one goes with its text, and comes back with it.

Undo reaches the text alone, so what stands beside it follows the text: where the text reads again as it did before
values were cleared, they are back.
"""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

from routecheck.frozen_dataclass import dataclass
from routecheck.model import RouteInput, Span

if TYPE_CHECKING:
    from routecheck.gui.persistence import RouteSaver
    from routecheck.gui.route_text.correction_actions import CorrectionActions
    from routecheck.gui.route_text.editor import RouteText
    from routecheck.gui.route_text.flight_fields import FlightFields

_KEPT = frozenset(
    {"departure", "destination", "speed", "level", "off_block", "role", "wind", "aircraft_sheet", "sheet"}
)
"""What a text that takes the place of another leaves: it stands in sight, and may be meant for the new one."""
_VALUES = tuple(one.name for one in dataclasses.fields(RouteInput) if one.name not in ("route", "typed", "origin"))


@dataclass(frozen=True, slots=True)
class _Clearing:
    """One text that took the place of another, with the input before and after."""

    before: RouteInput
    text: str
    after: RouteInput


class NextFlight:
    """Clears what is left of the last flight when its text is replaced, and brings it back with the text."""

    def __init__(
        self, text: RouteText, fields: FlightFields, corrections: CorrectionActions, saver: RouteSaver
    ) -> None:
        self._text, self._fields, self._corrections, self._saver = text, fields, corrections, saver
        self._done: list[_Clearing] = []
        self._undone: list[_Clearing] = []
        self._emptied: RouteInput | None = None
        self._is_starting_anew = False
        self._version: RouteInput | None = None

    def start_new_route(self, route_input: RouteInput) -> None:
        """Empty the text and the fields, in one step for undo."""
        self._saver.save_before(route_input)
        self._is_starting_anew = True
        self._text.clear_text()
        self._is_starting_anew = False

    def take_version(self, now: RouteInput, version: RouteInput) -> None:
        """Put another version of the same route in place of the one in hand, in one step for undo."""
        self._saver.save_before(now)
        self._version = version
        if version.route == now.route:
            self._text.typed.emit(now.route)  # nothing is typed, but what stands beside the text is new
        else:
            self._text.replace_stretch(Span(0, len(now.route)), version.route)
        self._version = None

    def follow_text(self, now: RouteInput, text: str) -> RouteInput:
        """The input beside a text that was just typed, pasted, undone or redone; its fields then show it."""
        self._fields.note_kept(())
        if self._version is not None:
            return self._take(_Clearing(now, text, self._version))
        if text == now.route and not self._is_starting_anew:
            return now
        if self._is_starting_anew:
            return self._begin_anew(now, text)
        if self._done and text == self._done[-1].before.route:
            self._undone.append(self._done.pop())
            return self._show(self._undone[-1].before)
        if self._undone and text == self._undone[-1].text:
            self._done.append(self._undone.pop())
            return self._show(self._done[-1].after)
        return self._clear_leftovers(now, text)

    def _begin_anew(self, now: RouteInput, text: str) -> RouteInput:
        self._emptied = None
        return self._take(_Clearing(now, text, RouteInput("")))

    def _clear_leftovers(self, now: RouteInput, text: str) -> RouteInput:
        """Clear what is left of the flight whose text was replaced at once, or emptied before this one."""
        if not text.strip():
            self._emptied = now if now.route.strip() else self._emptied
            return now
        last, self._emptied = (now if self._text.is_wholly_replaced else self._emptied), None
        if last is None:
            return now
        left = {name for name in _VALUES if name not in _KEPT and getattr(now, name) == getattr(last, name)}
        kept: dict[str, Any] = {name: getattr(now, name) for name in _VALUES if name not in left}
        typed = tuple((name, unread) for name, unread in now.typed if name not in left)
        made = self._take(_Clearing(now, text, RouteInput(text, typed=typed, **kept)))
        self._fields.note_kept({name for name in _KEPT if getattr(now, name) == getattr(last, name)})
        return made

    def _take(self, clearing: _Clearing) -> RouteInput:
        self._undone.clear()
        self._done.append(clearing)
        return self._show(clearing.after)

    def _show(self, route_input: RouteInput) -> RouteInput:
        self._fields.show_input(route_input)
        self._corrections.take_record(route_input)
        return route_input
