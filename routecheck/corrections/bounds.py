"""What corrections of a sketched route can win at most, so that few need be scored. No candidate is made here."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.corrections import sphere
from routecheck.corrections.pieces import coded
from routecheck.corrections.plausibility import length_won, most_of_link, turning_cost
from routecheck.earth.geo import EARTH_RADIUS_NM
from routecheck.model import PlaceKind, Via
from routecheck.resolution import airways

if TYPE_CHECKING:
    from collections.abc import Container, Sequence

    from routecheck.corrections.plausibility import CandidateConnection
    from routecheck.corrections.sketch import Sketch
    from routecheck.corrections.sphere import Vector
    from routecheck.model import Place
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase

FAR_NM = 30.0
"""A correction that makes its stretch longer than as typed by more than this is not tried."""
LEAST_SAVED_NM = 2.0
"""Where nothing contradicts the data, a correction must shorten its stretch by this to be tried."""
UNPLACED_FAR_NM = 1000.0
"""Where the stop could not be placed, a correction may make the stretch this much longer."""


class Bounds:
    """Of one sketched route what its stretches are as typed and can win. What is asked again is kept."""

    def __init__(self, drawn: Sketch, least_gain: float) -> None:
        self.drawn, self.least_gain = drawn, least_gain
        ways, line = drawn.ways, drawn.line
        self._curable = frozenset([i for i in drawn.flawed if ways[i].pieces or ways[i].branches is not None])
        self._at, self._along, self._points = line.at, line.along, line.points
        self._links: dict[int, float] = {}

    def may_cure(self, way: int, place: Place) -> bool:
        """Whether a link contradicts the data as typed and may not with that place, or one of its name, at an end."""
        if way not in self._curable:
            return False
        found = self.drawn.ways[way]
        if found.branches is not None:
            return found.branches.joined_at(place)
        return airways.on_any(found.pieces, read_on(found, place, self.drawn.database) or place)

    def shared_nm(self, index: int, step: int) -> float:
        """What the way saved by a move of a stop towards the stop at `step` of it is a share of, NM; inf = of nothing.

        It counts only where all is sound, the link behind the stop beyond in order too, and that stop no airport.
        """
        beyond, flawed = self.drawn.nodes[index - step], self.drawn.flawed
        behind = index + 1 if step < 0 else index - 2
        if beyond is None or beyond.kind is PlaceKind.AIRPORT or behind in flawed:
            return math.inf
        start, end = self._at[index - 1], self._at[index + 1]
        if start is None or end is None or not self._is_sound(index):
            return math.inf
        return sphere.apart_nm(self._points[start], self._points[end])

    def straightened(self, first: int, last: int) -> float:
        """What a stretch can win at most by losing its turns, those at both its ends counted."""
        start, end = self._at[first] or 0, self._at[last] or 0
        return turning_cost(self.drawn.line.turns[start : end + 1])

    def link_won(self, way: int) -> float:
        """The most that a link in order as typed can win with another place at an end of it."""
        known = self._links.get(way)
        if known is None:
            start, end = self.drawn.nodes[way : way + 2]
            if start is None or end is None:
                return math.inf
            known = self._links[way] = most_of_link(self.drawn.ways[way], start, end, self.drawn.database)
        return known

    def holding(self, index: int) -> tuple[Container[PlaceKey], ...]:
        """For the links beside a stop that are in order: the points of the airway or procedure, where there is one."""
        beside = (self._held(index - 1), self._held(index))
        return tuple([points for points in beside if points is not None])

    def fits(self, way: int, place: Place) -> bool:
        """Whether a place is on the airway or procedure of a link that is in order as typed; else any place may do."""
        points = None if place.kind is PlaceKind.TYPED else self._held(way)
        return points is None or place.key in points

    def _held(self, way: int) -> Container[PlaceKey] | None:
        found = self.drawn.ways[way]
        if way in self.drawn.flawed:
            return None
        if found.branches is not None:
            return found.branches.points
        return coded(found.pieces, self.drawn.database) if found.via is Via.AIRWAY else None

    def reach(self, index: int, cost: float) -> Reach:
        """Where what was meant at a stop may lie. `cost` is the least that a correction costs there."""
        start, here, end = self._at[index - 1 : index + 2]
        ends = [self._points[at] for at in (start, end) if at is not None]
        if here is None:
            return Reach(ends, (sphere.apart_nm(*ends) if len(ends) == 2 else 0.0) + UNPLACED_FAR_NM)
        if start is None or end is None or not self._is_sound(index):
            return Reach(ends, sum(sphere.apart_nm(one, self._points[here]) for one in ends) + FAR_NM)
        flown = self._along[end] - self._along[start]
        won = self.straightened(index - 1, index + 1) + self.link_won(index - 1) + self.link_won(index)
        return Reach(ends, flown - LEAST_SAVED_NM, flown, cost + self.least_gain - won)

    def _is_sound(self, index: int) -> bool:
        """Whether a stop is placed and no other place for it can cure a link beside it."""
        return self._at[index] is not None and index - 1 not in self._curable and index not in self._curable


class Reach:
    """The places that lie within so many NM of the ones beside a stop, the distances added up.

    And of those the ones that shorten a stretch flown so far by enough to win what is needed.
    """

    def __init__(
        self, ends: Sequence[Vector], most_nm: float, flown_nm: float = 0.0, needed: float = -math.inf
    ) -> None:
        self._ends, self._most, self._flown, self._needed = ends, most_nm, flown_nm, needed
        self._least = math.cos(min(math.pi, max(0.0, most_nm) / EARTH_RADIUS_NM)) - 1e-9
        straight = sphere.apart_nm(*ends) if len(ends) == 2 else 0.0
        self.empty = straight > most_nm or length_won(flown_nm - straight) < needed

    def holds(self, place: Vector) -> bool:
        """Whether a place is near enough; most are too far from one end already."""
        x, y, z = place
        for a, b, c in self._ends:
            if x * a + y * b + z * c < self._least:
                return False
        flown = sum([sphere.apart_nm(end, place) for end in self._ends])
        return flown <= self._most and length_won(self._flown - flown) >= self._needed


def read_on(way: CandidateConnection, place: Place | None, database: NavDatabase) -> Place | None:
    """The place of that name that is on an airway, where the place itself is not; itself where none is."""
    if place is None or place.kind is PlaceKind.TYPED or airways.on_any(way.pieces, place):
        return place
    others = database.places(place.ident)
    return next((other for other in others if airways.on_any(way.pieces, other)), place)
