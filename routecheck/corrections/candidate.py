"""One change that may have been meant, and the route input with it. Nothing is tried and nothing is chosen here."""

from __future__ import annotations

from dataclasses import KW_ONLY, replace
from typing import TYPE_CHECKING, Any

from routecheck.formatting import LEVELS_EVERYWHERE_FT, altitudes_allowed
from routecheck.frozen_dataclass import dataclass
from routecheck.model import AltitudeWindow, FieldChange

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.corrections.finding_key import FindingKey
    from routecheck.model import Assessment, Finding, Proposal, Route, RouteInput, Span
    from routecheck.navdata.database import NavDatabase

FIELD_NAMES = {
    "departure": "departure",
    "destination": "destination",
    "departure_runway": "departure runway",
    "destination_runway": "destination runway",
    "approach": "approach",
    "speed": "speed",
    "level": "level",
    "windows": "altitude window",
}
"""What a reader calls the values beside the text."""


@dataclass(frozen=True, slots=True)
class Question:
    """A finding for which candidates are wanted, in the assessment it stands in."""

    assessment: Assessment
    finding: Finding
    database: NavDatabase

    @property
    def route(self) -> Route:
        """The route it is about."""
        return self.assessment.route

    @property
    def route_input(self) -> RouteInput:
        """The route as handed in."""
        return self.assessment.route.route_input


@dataclass(frozen=True, slots=True)
class Candidate:
    """One change: `new` in place of `span`, values beside the text, or both.

    `why` says in words why it may have been meant, `cost` how unlikely that is, on the scale of what made it.
    """

    why: str
    cost: float
    span: Span | None = None
    new: str = ""
    _: KW_ONLY
    beside: tuple[FieldChange, ...] = ()
    entry_error: str = ""
    """The kind of entry error that it undoes; "" where it is of none of the kinds."""
    beyond_doubt: bool = False
    """Whether it may bring to light another finding as heavy as the one that it clears."""
    best_edit: frozenset[FindingKey] = frozenset()
    """The finding of the best edit that it is: the checks alone, without corrections, cannot say that it goes away."""

    @property
    def label(self) -> str:
        """What would stand there, in words: "PIKAR", "departure runway 27"."""
        return " and ".join(filter(None, (" ".join(self.new.split()), changes_in_words(self.beside))))

    def applied_to(self, route_input: RouteInput) -> RouteInput:
        """The route input with it."""
        made = with_values(route_input, self.beside)
        return made if self.span is None else with_words(made, self.span, self.new)


def value_in_words(value: str | AltitudeWindow) -> str:
    """A value beside the text as a reader sees it: "27", "KEBUL at or above 11,000 ft"."""
    if isinstance(value, AltitudeWindow):
        return f"{value.point} {altitudes_allowed(value.low_ft, value.high_ft, LEVELS_EVERYWHERE_FT)}"
    return value


def changes_in_words(changes: Iterable[FieldChange]) -> str:
    """What would stand beside the text, with the name of each value: "departure runway 27"; both ends: "XVAL–XVOR"."""
    changes = list(changes)
    if [one.field for one in changes] == ["departure", "destination"]:
        return "–".join(value_in_words(one.new) for one in changes)
    return ", ".join(
        f"{FIELD_NAMES[one.field]} {value_in_words(one.new)}" if one.new else f"no {FIELD_NAMES[one.field]}"
        for one in changes
    )


def with_values(route_input: RouteInput, changes: Iterable[FieldChange]) -> RouteInput:
    """The route input with the values beside its text changed; a window that is not there (any more) stays away."""
    for one in changes:
        if isinstance(one.new, AltitudeWindow):
            windows = tuple(one.new if window == one.old else window for window in route_input.windows)
            route_input = replace(route_input, windows=windows)
        else:
            unread = tuple((name, text) for name, text in route_input.typed if name != one.field)
            changed: dict[str, Any] = {one.field: one.new, "typed": unread}
            route_input = replace(route_input, **changed)
    return route_input


def with_words(route_input: RouteInput, span: Span, new: str) -> RouteInput:
    """The route input with other words in place of some. What the plan states of a point goes with the point's name."""
    text = route_input.route
    old, name = text[span.start : span.end].strip().upper(), new.strip().upper()
    claims = route_input.claims
    if old and name.isalnum():
        claims = tuple([replace(claim, to=name) if claim.to == old else claim for claim in claims])
    return replace(route_input, route=text[: span.start] + new + text[span.end :], claims=claims)


def with_proposal(route_input: RouteInput, proposal: Proposal) -> RouteInput:
    """The route input with the proposal made in it."""
    made = with_values(route_input, proposal.beside)
    return made if proposal.span is None else with_words(made, proposal.span, proposal.new)
