"""The values of a comparison: what differs between two versions of a route, and what does not."""

from __future__ import annotations

from dataclasses import KW_ONLY
from enum import StrEnum
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from routecheck.model import Route, Span


class DifferenceKind(StrEnum):
    """In what two versions can differ."""

    AERODROME = "aerodrome"
    ALTERNATE = "alternate"
    RUNWAY = "runway"
    APPROACH = "approach"
    PROCEDURE = "procedure"
    MISSING = "missing point"
    EXTRA = "extra point"
    MOVED = "other point"
    REORDERED = "re-ordered"
    WAY = "way between points"
    SPEED_OR_LEVEL = "speed or level"
    WINDOW = "altitude window"
    LOAD = "weights and fuel"
    WORDS = "words"


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference. `subject` says of what ("departure runway", "LENDU–TOVIK"), "" where the points say it.

    `first` and `second` are what the versions have there, () = nothing; the spans are of the words, the points index
    Route.points, each in its own version.
    """

    kind: DifferenceKind
    subject: str
    first: tuple[str, ...]
    second: tuple[str, ...]
    _: KW_ONLY
    distance_nm: float | None = None
    """How far the place in the second version lies from that in the first; None = not of places, or not known."""
    spans: tuple[Span, ...] = ()
    other_spans: tuple[Span, ...] = ()
    points: tuple[int, ...] = ()
    other_points: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two routes side by side: every difference in route order, and the points that are the same in both.

    `same_points` are pairs of indices into Route.points. `unplaced` are names that stand in both and are at no known
    place: only their letters were compared.
    """

    first: Route
    second: Route
    _: KW_ONLY
    differences: tuple[Difference, ...]
    same_points: tuple[tuple[int, int], ...]
    unplaced: tuple[str, ...] = ()

    def is_same_stretch(self, first: int, last: int) -> bool:
        """Whether the stretch from one point of the first route to another is the same in the second."""
        partners = dict(self.same_points)
        there = [partners.get(index) for index in range(first, last + 1)]
        start = there[0]
        return start is not None and there == list(range(start, start + len(there)))
