"""Where a route crosses its own line: legs that do not follow each other and meet. On the sphere, then measured."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

import numpy as np

from routecheck.earth import geo
from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.arrays import Flags, Floats
    from routecheck.model import Place, Route

_TURNS_BEFORE_IT_CAN_CROSS = 180.0
_FEW = 40
_NEAR_POLE, _WIDE = 80.0, 120.0
"""Degrees of latitude and of longitude beyond which latitudes and longitudes say little of what crosses what."""
_Box = tuple[float, float, float, float]
"""South, north, west, east; degrees."""


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
    rows = _possible_rows(route, fixed) if len(fixed) <= _FEW else range(len(fixed) - 2)
    if not rows:
        return
    starts, ends = _unit(route, fixed), _unit(route, [i + 1 for i in fixed])
    normals = np.cross(starts, ends)
    for row in rows:
        later = slice(row + 2, None)
        across = _arcs_cross(starts[row], ends[row], normals[row], starts[later], ends[later], normals[later])
        yield from (_crossing(route, along, fixed[row], fixed[row + 2 + int(k)]) for k in np.flatnonzero(across))


def _candidate_legs(route: Route, along: Sequence[float], away_nm: float) -> list[int]:
    """The indices of the legs that may cross another, given the distance along the route of every point."""
    first, last = bisect_left(along, away_nm, 1) - 1, bisect_right(along, along[-1] - away_nm)
    if last - first < 3:
        return []
    legs, connections = enumerate(route.legs[first:last], first), route.resolved.connections
    return [i for i, leg in legs if leg.distance_nm and connections[leg.connection].procedure is None]


def _possible_rows(route: Route, fixed: list[int]) -> Sequence[int]:
    """The legs (indices of `fixed`) that share latitudes and longitudes with a leg after the next: no others cross."""
    places = [place for point in route.points[fixed[0] : fixed[-1] + 2] if (place := point.place)]
    lats, lons = [place.lat for place in places], [place.lon for place in places]
    if len(places) < fixed[-1] + 2 - fixed[0] or max(lons) - min(lons) > _WIDE or max(map(abs, lats)) > _NEAR_POLE:
        return range(len(fixed) - 2)
    if _is_monotonic(lons, 0.0) or _is_monotonic(lats, 2.0 * max([_margin(a, b) for a, b in pairwise(lons)])):
        return ()
    boxes = [_box(places[i - fixed[0]], places[i + 1 - fixed[0]]) for i in fixed]
    rows: list[int] = []
    rest = boxes[-1]
    for k in range(len(boxes) - 3, -1, -1):
        s, n, w, e = boxes[k + 2]
        rest = min(rest[0], s), max(rest[1], n), min(rest[2], w), max(rest[3], e)
        if _overlap(boxes[k], rest) and any(_overlap(boxes[k], other) for other in boxes[k + 2 :]):
            rows.append(k)
    return rows[::-1]


def _is_monotonic(values: list[float], step: float) -> bool:
    """Whether a line goes on in one direction, with every leg but the first and last by more than a step."""
    ordered = sorted(values)
    if values not in (ordered, ordered[::-1]):
        return False
    return step == 0.0 or all(b - a > step for a, b in pairwise(ordered[1:-1]))


def _margin(west: float, east: float) -> float:
    """Twice what a geodesic leaves its band of latitudes by at most; degrees."""
    return 1e-6 + (east - west) ** 2 / 450.0


def _box(a: Place, b: Place) -> _Box:
    south, north = (a.lat, b.lat) if a.lat < b.lat else (b.lat, a.lat)
    west, east = (a.lon, b.lon) if a.lon < b.lon else (b.lon, a.lon)
    margin = _margin(west, east)
    return south - margin, north + margin, west - 1e-6, east + 1e-6


def _overlap(one: _Box, two: _Box) -> bool:
    return one[0] <= two[1] and two[0] <= one[1] and one[2] <= two[3] and two[2] <= one[3]


def _arcs_cross(
    a: Floats,
    b: Floats,
    normal: Floats,
    c: Floats,
    d: Floats,
    normals: Floats,
) -> Flags:
    """Which great-circle arcs c-d (rows) cross the arc a-b, ends not counted: each splits the other's ends."""
    one_side = (c @ normal) * (d @ normal) < -1e-18
    other_side = (normals @ a) * (normals @ b) < -1e-18
    same_half = ((c + d) @ (a + b)) > 0
    return one_side & other_side & same_half


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
