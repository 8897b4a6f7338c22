"""Candidate corrections of a sketched route: what each would make of its stretch, and what that wins. No choosing."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.intended import sphere
from routecheck.intended.pieces import coded
from routecheck.intended.plausibility import (
    difference,
    gain,
    length_needed,
    length_won,
    most_of_link,
    turning_cost,
)
from routecheck.model import PlaceKind, Via
from routecheck.model.value import value
from routecheck.reckon import airways
from routecheck.slips.costs import WORTH_SAYING

if TYPE_CHECKING:
    from collections.abc import Container, Sequence

    from routecheck.intended.plausibility import Features, Looks, Way
    from routecheck.intended.sketch import Sketch
    from routecheck.intended.sphere import Vector
    from routecheck.model import Place, Span
    from routecheck.model.data import PlaceKey
    from routecheck.slips.costs import Slip

LEAST_GAIN = WORTH_SAYING - 0.5
"""Nothing is kept of a correction that wins less (best.py keeps what comes within its clear gap)."""
FAR_NM = 30.0
"""A correction that makes its stretch longer than as typed by more than this is not tried."""
LEAST_SAVED_NM = 2.0
"""Where nothing contradicts the data, a correction must shorten its stretch by this to be tried."""
UNPLACED_FAR_NM = 1000.0
"""Where the stop could not be placed, a correction may make the stretch this much longer."""


@value
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
    """Scores corrections of one sketched route, each against the stretch as typed, which is looked at only once.

    What cannot win enough is not scored: `worth_scoring` knows how much a stretch can win at most.
    """

    def __init__(self, drawn: Sketch) -> None:
        self.drawn = drawn
        ways = drawn.ways
        self._curable = frozenset([i for i in drawn.flawed if ways[i].pieces or ways[i].branches is not None])
        self._as_typed: dict[tuple[int, int], Looks] = {}
        self._bends: dict[tuple[int, int], float] = {}
        self._sound: dict[tuple[int, int], float | None] = {}
        self._most_at: dict[int, float] = {}
        self._holding: dict[int, tuple[Container[PlaceKey], ...]] = {}

    def as_typed(self, first: int, last: int) -> Looks:
        """How the stretch between two stops looks as typed."""
        known = self._as_typed.get((first, last))
        if known is None:
            known = self._as_typed[first, last] = self.drawn.looks(first, last)
        return known

    def sound(self, first: int, last: int) -> float | None:
        """The length of a stretch as typed, NM; None where a stop is not placed or other places may cure a link."""
        key = (first, last)
        if key not in self._sound:
            self._sound[key] = self._measured(first, last)
        return self._sound[key]

    def _measured(self, first: int, last: int) -> float | None:
        return self.flown(first, last) if self._curable.isdisjoint(range(first, last)) else None

    def flown(self, first: int, last: int) -> float | None:
        """The length of a stretch as typed, NM; None where a stop of it is not placed."""
        drawn = self.drawn
        at = drawn.line.at[first : last + 1]
        start, end = at[0], at[-1]
        return None if start is None or end is None or None in at else drawn.line.along[end] - drawn.line.along[start]

    def may_cure(self, way: int, place: Place) -> bool:
        """Whether a link contradicts the data as typed and may not with that place, or one of its name, at an end."""
        if way not in self._curable:
            return False
        found = self.drawn.ways[way]
        if found.branches is not None:
            return found.branches.joined_at(place)
        return airways.on_any(found.pieces, self._on_airway(found, place) or place)

    def most(self, first: int, last: int, shorter_nm: float) -> float:
        """The most that a sound stretch can win by becoming so much shorter and straight, what links may win apart."""
        return length_won(shorter_nm) + self.straightened(first, last)

    def most_at(self, index: int) -> float:
        """What any other place for a stop can win at most before its cost; inf where something is not sound."""
        known = self._most_at.get(index)
        if known is None:
            flown, line = self.sound(index - 1, index + 1), self.drawn.line
            start, end = line.at[index - 1], line.at[index + 1]
            if flown is None or start is None or end is None:
                known = math.inf
            else:
                shorter = flown - sphere.apart_nm(line.points[start], line.points[end])
                known = self.most(index - 1, index + 1, shorter) + self.links_won(index)
            self._most_at[index] = known
        return known

    def straightened(self, first: int, last: int) -> float:
        """What a stretch can win at most by losing its turns."""
        known = self._bends.get((first, last))
        if known is None:
            line = self.drawn.line
            start, end = line.at[first] or 0, line.at[last] or 0
            known = self._bends[first, last] = turning_cost(line.turns[start : end + 1])
        return known

    def beside_nm(self, index: int) -> list[float]:
        """How far a placed stop is from the ones beside it."""
        line = self.drawn.line
        here = line.at[index]
        beside = (line.at[index - 1], line.at[index + 1])
        return [
            sphere.apart_nm(line.points[at], line.points[here]) for at in beside if at is not None and here is not None
        ]

    def holding(self, index: int) -> tuple[Container[PlaceKey], ...]:
        """For the links beside a stop that are in order: the points of the airway or procedure, where there is one."""
        known = self._holding.get(index)
        if known is None:
            beside = (self._points(way) for way in (index - 1, index))
            known = self._holding[index] = tuple(points for points in beside if points is not None)
        return known

    def _points(self, way: int) -> Container[PlaceKey] | None:
        found = self.drawn.ways[way]
        if way in self.drawn.flawed:
            return None
        if found.branches is not None:
            return found.branches.points
        return coded(found.pieces, self.drawn.library) if found.via is Via.AIRWAY else None

    def fits(self, way: int, place: Place) -> bool:
        """Whether a place is on the airway or procedure of a link that is in order as typed; else any place may do."""
        points = None if place.kind is PlaceKind.TYPED else self._points(way)
        return points is None or place.key in points

    def links_won(self, index: int) -> float:
        """The most that the links beside a stop can win with another place there."""
        return self.link_won(index - 1) + self.link_won(index)

    def link_won(self, way: int) -> float:
        """The most that a link in order as typed can win with another place at an end of it."""
        start, end = self.drawn.nodes[way : way + 2]
        if start is None or end is None:
            return math.inf
        return most_of_link(self.drawn.ways[way], start, end, self.drawn.library)

    def reach(self, index: int, cost: float) -> tuple[tuple[Vector, ...], float]:
        """The places beside a stop, and how many NM what was meant there may lie from them, both distances added up.

        `cost` is the least that a correction costs there: what cannot win more is out of reach.
        """
        at = (self.drawn.line.at[index - 1], self.drawn.line.at[index + 1])
        ends = tuple(self.drawn.line.points[i] for i in at if i is not None)
        old = self.drawn.line.at[index]
        if old is None:
            return ends, (sphere.apart_nm(*ends) if len(ends) == 2 else 0.0) + UNPLACED_FAR_NM
        typed = sum(self.beside_nm(index))
        flown = self.sound(index - 1, index + 1)
        if flown is None:
            return ends, typed + FAR_NM
        needed = cost + LEAST_GAIN - self.straightened(index - 1, index + 1) - self.links_won(index)
        return ends, min(typed - LEAST_SAVED_NM, flown - length_needed(needed))

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
