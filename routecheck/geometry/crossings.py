"""Where a route crosses its own line: legs that do not follow each other and meet. On the sphere, then measured."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import accumulate
from typing import TYPE_CHECKING

import numpy as np

from routecheck.earth import geo
from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.arrays import Flags, Floats
    from routecheck.model import Route

_TURNS_BEFORE_IT_CAN_CROSS = 180.0
_BLOCK = 64
"""So many legs are held against all later ones at once."""


@dataclass(frozen=True, slots=True)
class Crossing:
    """Legs `first` and `second` (indices, first < second) meet; distances along the route, NM."""

    first: int
    second: int
    from_departure_nm: float
    to_destination_nm: float
    loop_nm: float


def line_crossings(route: Route, away_nm: float = 0.0) -> Iterator[Crossing]:
    """The crossings of legs that have a fixed path, one by one: a senseless route has a square of its points.

    A line that turns less than 180° in all cannot cross itself. The coded path of a procedure is believed, and legs
    that lie wholly nearer an end of the route than `away_nm` are left out.
    """
    along = list(accumulate([leg.distance_nm or 0.0 for leg in route.legs], initial=0.0))
    fixed = _candidate_legs(route, along, away_nm)
    if len(fixed) < 3:
        return
    turning = sum([abs(turn.turn_deg) for turn in route.turns[fixed[0] + 1 : fixed[-1] + 1] if turn])
    if turning < _TURNS_BEFORE_IT_CAN_CROSS and not route.totals.gaps:
        return
    starts, ends = _unit(route, fixed), _unit(route, [i + 1 for i in fixed])
    for row in range(0, len(fixed) - 2, _BLOCK):
        block = slice(row, row + _BLOCK)
        for first, second in np.argwhere(_arcs_cross(starts[block], ends[block], starts[row:], ends[row:])).tolist():
            if second >= first + 2:
                yield _crossing(route, along, fixed[row + first], fixed[row + second])


def _candidate_legs(route: Route, along: Sequence[float], away_nm: float) -> list[int]:
    """The indices of the legs that may cross another, given the distance along the route of every point."""
    first, last = bisect_left(along, away_nm, 1) - 1, bisect_right(along, along[-1] - away_nm)
    if last - first < 3:
        return []
    legs, connections = enumerate(route.legs[first:last], first), route.resolved.connections
    return [i for i, leg in legs if leg.distance_nm and connections[leg.connection].procedure is None]


def _arcs_cross(a: Floats, b: Floats, c: Floats, d: Floats) -> Flags:
    """Which great-circle arcs a-b (rows) and c-d (columns) cross, ends not counted: each splits the other's ends."""
    normals, other_normals = np.cross(a, b), np.cross(c, d)
    one_side = (normals @ c.T) * (normals @ d.T) < -1e-18
    other_side = (a @ other_normals.T) * (b @ other_normals.T) < -1e-18
    same_half = (a + b) @ (c + d).T > 0
    return np.asarray(one_side & other_side & same_half)


def _unit(route: Route, points: list[int]) -> Floats:
    placed = [route.points[i].place for i in points]
    lat = np.radians([p.lat for p in placed if p])
    lon = np.radians([p.lon for p in placed if p])
    return np.stack([np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat)], axis=1)


def _crossing(route: Route, along: Sequence[float], first: int, second: int) -> Crossing:
    meeting = _crossing_point(route, first, second)
    here = along[first] + _distance_from_start_nm(route, first, meeting)
    there = along[second] + _distance_from_start_nm(route, second, meeting)
    return Crossing(first, second, here, along[-1] - there, there - here)


def _crossing_point(route: Route, first: int, second: int) -> tuple[float, float] | None:
    a, b = route.points[first].place, route.points[second].place
    courses = route.legs[first].course_true_deg, route.legs[second].course_true_deg
    if a is None or b is None or courses[0] is None or courses[1] is None:
        return None
    return geo.crossing(a.lat, a.lon, courses[0], b.lat, b.lon, courses[1])


def _distance_from_start_nm(route: Route, leg: int, meeting: tuple[float, float] | None) -> float:
    place = route.points[leg].place
    if meeting is None or place is None:
        return 0.0
    return geo.inverse(place.lat, place.lon, *meeting)[2]
