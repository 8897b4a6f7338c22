"""What corrections of a sketched route can win at most, so that few need be scored. No candidate is made here."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.corrections import sphere
from routecheck.corrections.pieces import coded
from routecheck.corrections.plausibility import TURN_FROM, length_won, most_of_link, share_won, turning_cost
from routecheck.earth.geo import EARTH_RADIUS_NM
from routecheck.entry_errors.costs import WORTH_SAYING
from routecheck.model import PlaceKind, Via
from routecheck.resolution import airways

if TYPE_CHECKING:
    from collections.abc import Container

    from routecheck.corrections.plausibility import CandidateConnection
    from routecheck.corrections.sketch import Sketch
    from routecheck.corrections.sphere import Vector
    from routecheck.model import Place
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase

LEAST_GAIN = WORTH_SAYING - 0.5
"""Nothing is kept of a correction that wins less (best.py keeps what comes within its clear gap)."""
FAR_NM = 30.0
"""A correction that makes its stretch longer than as typed by more than this is not tried."""
LEAST_SAVED_NM = 2.0
"""Where nothing contradicts the data, a correction must shorten its stretch by this to be tried."""
UNPLACED_FAR_NM = 1000.0
"""Where the stop could not be placed, a correction may make the stretch this much longer."""


class Bounds:
    """Of one sketched route what its stretches are as typed and can win. What is asked again is kept."""

    def __init__(self, drawn: Sketch) -> None:
        self.drawn = drawn
        ways, line = drawn.ways, drawn.line
        self._curable = frozenset([i for i in drawn.flawed if ways[i].pieces or ways[i].branches is not None])
        self._at, self._along, self._points = line.at, line.along, line.points
        self._links: dict[int, float] = {}
        self._most_at: dict[int, float] = {}

    def sound(self, first: int, last: int) -> float | None:
        """The length of a stretch as typed, NM; None where a stop is not placed or other places may cure a link."""
        return self.flown(first, last) if self._curable.isdisjoint(range(first, last)) else None

    def flown(self, first: int, last: int) -> float | None:
        """The length of a stretch as typed, NM; None where a stop of it is not placed."""
        at = self._at[first : last + 1]
        start, end = at[0], at[-1]
        return None if start is None or end is None or None in at else self._along[end] - self._along[start]

    def may_cure(self, way: int, place: Place) -> bool:
        """Whether a link contradicts the data as typed and may not with that place, or one of its name, at an end."""
        if way not in self._curable:
            return False
        found = self.drawn.ways[way]
        if found.branches is not None:
            return found.branches.joined_at(place)
        return airways.on_any(found.pieces, read_on(found, place, self.drawn.database) or place)

    def most_at(self, index: int) -> float:
        """What any other place for a stop can win at most before its cost.

        inf where something is not sound, -inf where it is and no place shortens the stretch enough to be tried.
        """
        known = self._most_at.get(index)
        if known is None:
            known = self._most_at[index] = self._bound_at(index)
        return known

    def _bound_at(self, index: int) -> float:
        ends = self._ends_of_sound(index)
        if ends is None:
            return math.inf
        start, end = ends
        shorter = self._along[end] - self._along[start] - sphere.apart_nm(self._points[start], self._points[end])
        if shorter < LEAST_SAVED_NM:
            return -math.inf
        straighter = turning_cost(self.drawn.line.turns[start : end + 1])
        return length_won(shorter) + straighter + self.link_won(index - 1) + self.link_won(index)

    def _ends_of_sound(self, index: int) -> tuple[int, int] | None:
        """Where the stops beside one stand in the line; None where one has no place or another may cure a link."""
        start, here, end = self._at[index - 1 : index + 2]
        if start is None or here is None or end is None or index - 1 in self._curable or index in self._curable:
            return None
        return start, end

    def shared_nm(self, index: int, step: int) -> float:
        """What the way saved by a move of a stop towards the stop at `step` of it is a share of, NM; inf = of nothing.

        It counts only where all is sound, the link behind the stop beyond in order too, and that stop no airport.
        """
        beyond, flawed = self.drawn.nodes[index - step], self.drawn.flawed
        behind = index + 1 if step < 0 else index - 2
        if beyond is None or beyond.kind is PlaceKind.AIRPORT or behind in flawed:
            return math.inf
        ends = self._ends_of_sound(index)
        return math.inf if ends is None else sphere.apart_nm(*(self._points[end] for end in ends))

    def more_between(self, index: int, step: int) -> float:
        """What a move of a stop towards the one at `step` of it can win more at most than any other place for it.

        The share of the way that it saves, less what the turn at that other stop costs: it stays.
        """
        straight, fixed = self.shared_nm(index, step), self._at[index + step]
        turn = 0.0 if fixed is None else self.drawn.line.turns[fixed]
        stays = turning_cost((turn,)) if turn > TURN_FROM else 0.0
        flown = self.flown(index - 1, index + 1) if straight < math.inf else None
        return (0.0 if flown is None else share_won(flown - straight, straight)) - stays

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

    def beside_nm(self, index: int) -> float:
        """How far a placed stop is from the ones beside it, both distances added up; 0 where it has no place."""
        at, here = (self._at[index - 1], self._at[index + 1]), self._at[index]
        if here is None:
            return 0.0
        return sum(sphere.apart_nm(self._points[i], self._points[here]) for i in at if i is not None)

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
        at = (self._at[index - 1], self._at[index + 1])
        ends = tuple([self._points[i] for i in at if i is not None])
        if self._at[index] is None:
            return Reach(ends, (sphere.apart_nm(*ends) if len(ends) == 2 else 0.0) + UNPLACED_FAR_NM)
        typed, flown = self.beside_nm(index), self.sound(index - 1, index + 1)
        if flown is None:
            return Reach(ends, typed + FAR_NM)
        most_of_links = self.link_won(index - 1) + self.link_won(index)
        needed = cost + LEAST_GAIN - self.straightened(index - 1, index + 1) - most_of_links
        return Reach(ends, typed - LEAST_SAVED_NM, flown, needed)


class Reach:
    """The places that lie within so many NM of the ones beside a stop, the distances added up.

    And of those the ones that shorten a stretch flown so far by enough to win what is needed.
    """

    def __init__(
        self, ends: tuple[Vector, ...], most_nm: float, flown_nm: float = 0.0, needed: float = -math.inf
    ) -> None:
        self._ends, self._most, self._flown, self._needed = ends, most_nm, flown_nm, needed
        self._least = math.cos(min(math.pi, max(0.0, most_nm) / EARTH_RADIUS_NM)) - 1e-9
        self.empty = most_nm < 0.0 or (len(ends) == 2 and sphere.apart_nm(*ends) > most_nm)

    def holds(self, place: Vector) -> bool:
        """Whether a place is near enough; most are too far from one end already."""
        x, y, z = place
        for a, b, c in self._ends:
            if x * a + y * b + z * c < self._least:
                return False
        added = sum([sphere.apart_nm(end, place) for end in self._ends])
        return added <= self._most and length_won(self._flown - added) >= self._needed


def read_on(way: CandidateConnection, place: Place | None, database: NavDatabase) -> Place | None:
    """The place of that name that is on an airway, where the place itself is not; itself where none is."""
    if place is None or place.kind is PlaceKind.TYPED or airways.on_any(way.pieces, place):
        return place
    others = database.places(place.ident)
    return next((other for other in others if airways.on_any(way.pieces, other)), place)
