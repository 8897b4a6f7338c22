"""Candidate corrections of a sketched route: what each would make of its stretch, and what that wins. No choosing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.intended import sphere
from routecheck.intended.plausibility import difference, gain
from routecheck.model import PlaceKind, Via
from routecheck.reckon import airways

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.intended.plausibility import Features, Looks, Way
    from routecheck.intended.sketch import Sketch
    from routecheck.intended.sphere import Vector
    from routecheck.model import Place, Span
    from routecheck.slips.costs import Slip

FAR_NM = 30.0
"""A correction that makes its stretch longer than as typed by more than this is not tried."""
LEAST_SAVED_NM = 2.0
"""Where nothing contradicts the data, a correction must shorten its stretch by this to be tried."""
UNPLACED_FAR_NM = 1000.0
"""Where the stop could not be placed, a correction may make the stretch this much longer."""


@dataclass(frozen=True, slots=True)
class Edit:
    """One correction: what would be typed instead, and what it wins. `first` and `last` are the stops around it.

    `span` None = it is not in the route text (an airport given beside it). `shorter_nm` and `straighter_deg` are
    what the stretch loses in length and in turning, `defects` how many contradictions to the data it clears.
    """

    slip: Slip
    span: Span | None
    old: str
    new: str
    gain: float
    first: int
    last: int
    shorter_nm: float
    straighter_deg: float
    defects: int
    changed: Features
    departure: str = ""
    destination: str = ""


class Scorer:
    """Scores corrections of one sketched route, each against the stretch as typed, which is looked at only once."""

    def __init__(self, drawn: Sketch) -> None:
        self.drawn = drawn
        self._as_typed: dict[tuple[int, int], Looks] = {}
        self._reach: dict[int, tuple[tuple[Vector, ...], float]] = {}

    def as_typed(self, first: int, last: int) -> Looks:
        """How the stretch between two stops looks as typed."""
        known = self._as_typed.get((first, last))
        if known is None:
            known = self._as_typed[first, last] = self.drawn.looks(first, last)
        return known

    def broken(self, index: int) -> bool:
        """Whether anything beside a stop contradicts the data as typed, or a procedure is not joined there."""
        first, last = max(index - 1, 0), min(index + 1, len(self.drawn.nodes) - 1)
        seen = self.as_typed(first, last).features
        return seen.defects + seen.loose > 0

    def reach(self, index: int) -> tuple[tuple[Vector, ...], float]:
        """The places beside a stop, and how many NM they may lie from what was meant there, both distances added up."""
        known = self._reach.get(index)
        if known is None:
            beside = (self.drawn.nodes[index - 1], self.drawn.nodes[index + 1])
            ends = tuple(sphere.unit(p.lat, p.lon) for p in beside if p is not None)
            known = self._reach[index] = (ends, self._most(index, ends))
        return known

    def _most(self, index: int, ends: tuple[Vector, ...]) -> float:
        old = self.drawn.nodes[index]
        if old is None:
            return (sphere.apart_nm(*ends) if len(ends) == 2 else 0.0) + UNPLACED_FAR_NM
        typed = sphere.unit(old.lat, old.lon)
        room = FAR_NM if self.broken(index) else -LEAST_SAVED_NM
        return sum(sphere.apart_nm(end, typed) for end in ends) + room

    def node(self, index: int, place: Place, cost: float) -> tuple[float, Looks, Looks]:
        """(gain, before, after) of another place for one stop."""
        first, last = max(index - 1, 0), min(index + 1, len(self.drawn.nodes) - 1)
        nodes = list(self.drawn.nodes[first : last + 1])
        nodes[index - first] = place
        return self.stretch(first, last, nodes, self.drawn.ways[first:last], cost)

    def stretch(
        self, first: int, last: int, nodes: Sequence[Place | None], ways: Sequence[Way], cost: float
    ) -> tuple[float, Looks, Looks]:
        """(gain, before, after) of other nodes and ways between two stops."""
        before = self.as_typed(first, last)
        after = self.drawn.looks_with(first, last, nodes, ways)
        if after.features.defects:
            again = self._read_anew(nodes, ways)
            after = self.drawn.looks_with(first, last, again, ways) if again != list(nodes) else after
        return gain(before, after, cost), before, after

    def _read_anew(self, nodes: Sequence[Place | None], ways: Sequence[Way]) -> list[Place | None]:
        """The nodes with names that are there twice read as the airways beside them now say."""
        found = list(nodes)
        for at, way in enumerate(ways):
            for end in (at, at + 1) if way.via is Via.AIRWAY else ():
                found[end] = self._on_airway(way, found[end])
        return found

    def _on_airway(self, way: Way, place: Place | None) -> Place | None:
        if place is None or place.kind is PlaceKind.TYPED or airways.on_any(way.pieces, place):
            return place
        others = self.drawn.library.places(place.ident)
        return next((other for other in others if airways.on_any(way.pieces, other)), place)


def edit(
    scored: tuple[float, Looks, Looks], slip: Slip, span: Span | None, old: str, new: str, first: int, last: int
) -> Edit:
    """A scored correction as a value."""
    won, before, after = scored
    return Edit(
        slip=slip,
        span=span,
        old=old,
        new=new,
        gain=won,
        first=first,
        last=last,
        shorter_nm=before.length_nm - after.length_nm,
        straighter_deg=before.turning_deg - after.turning_deg,
        defects=round(before.features.defects - after.features.defects),
        changed=difference(before, after),
    )
