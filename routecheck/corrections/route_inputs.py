"""An entry with a proposal made in it, in the text or beside it, and what tells findings apart. No choosing here."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from routecheck.formatting import heights_allowed
from routecheck.model import AltitudeWindow, FieldChange, Weight

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from routecheck.model import Assessment, Finding, Proposal, RouteInput, Span

    Again = Callable[[Sequence[RouteInput]], Sequence[Assessment]]
    """Assesses corrected routes by the checks alone, without looking for corrections again."""

NAMES = {
    "departure": "departure",
    "destination": "destination",
    "departure_runway": "departure runway",
    "destination_runway": "destination runway",
    "approach": "approach",
    "level": "level",
    "windows": "altitude window",
}
"""What the values beside the text are called."""


def is_heavy(finding: Finding) -> bool:
    """Whether a finding asks for a correction: Notes do not."""
    return finding.weight is not Weight.NOTE


def words_at(text: str, spans: tuple[Span, ...]) -> tuple[str, ...]:
    """The words of a text at these places, upper case."""
    return tuple(text[s.start : s.end].upper() for s in spans)


def told(value: str | AltitudeWindow) -> str:
    """A value beside the text as a reader sees it: "27", "KEBUL at or above 11,000 ft"."""
    if isinstance(value, AltitudeWindow):
        return f"{value.point} {heights_allowed(value.low_ft, value.high_ft)}"
    return value


def named(changes: Iterable[FieldChange]) -> str:
    """What would stand beside the text, with the name of each value: "departure runway 27"."""
    return ", ".join(f"{NAMES[one.field]} {told(one.new)}" for one in changes)


def with_values(route_input: RouteInput, changes: Iterable[FieldChange]) -> RouteInput:
    """The entry with the values beside its text changed; a window that is not there (any more) stays away."""
    for one in changes:
        if isinstance(one.new, AltitudeWindow):
            windows = tuple(one.new if window == one.old else window for window in route_input.windows)
            route_input = replace(route_input, windows=windows)
        else:
            changed: dict[str, Any] = {one.field: one.new}
            route_input = replace(route_input, **changed)
    return route_input


def with_proposal(route_input: RouteInput, proposal: Proposal) -> RouteInput:
    """The entry with the proposal made in it."""
    made = with_values(route_input, proposal.beside)
    return made if proposal.span is None else replace(made, route=proposal.route)


def ends_beside(route_input: RouteInput, departure: str, destination: str) -> tuple[FieldChange, ...]:
    """Which of the two aerodromes beside the text become others; "" = that one stays."""
    pairs = (("departure", route_input.departure, departure), ("destination", route_input.destination, destination))
    return tuple(FieldChange(field, old, new) for field, old, new in pairs if new and new != old)
