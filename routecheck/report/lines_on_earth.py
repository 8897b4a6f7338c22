"""The path of a route as latitudes and longitudes, for files that other programs draw. A gap is no line."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.earth import geo

if TYPE_CHECKING:
    from routecheck.model import Leg, PathPoint, Route

_STEP_NM = 60.0
"""Whoever draws straight lines between points this close is off a geodesic by less than half a mile below 70°."""
Spot = tuple[float, float]


def unbroken_lines(route: Route) -> list[list[Spot]]:
    """The stretches without a gap, each as (latitude, longitude), degrees; arcs and geodesics as points along them."""
    lines: list[list[Spot]] = []
    is_open = False
    for leg, (start, end) in zip(route.legs, pairwise(route.points), strict=True):
        spots = _spots(leg, start, end)
        if not spots:
            is_open = False
        elif is_open:
            lines[-1] += spots[1:]
        else:
            lines.append(spots)
            is_open = True
    return lines


def _spots(leg: Leg, start: PathPoint, end: PathPoint) -> list[Spot]:
    if leg.distance_nm is None or start.place is None or end.place is None:
        return []
    if leg.shape:
        return list(leg.shape)
    return geo.points_along(start.place.lat, start.place.lon, end.place.lat, end.place.lon, _STEP_NM)


def cut_at_date_line(line: list[Spot]) -> list[list[Spot]]:
    """A line in parts that do not cross the 180th meridian: each ends and begins on it (RFC 7946, 3.1.9)."""
    parts = [[line[0]]]
    for (lat, lon), (next_lat, next_lon) in pairwise(line):
        if abs(next_lon - lon) > 180.0:
            edge = 180.0 if lon > 0 else -180.0
            beyond = next_lon + 2 * edge
            share = (edge - lon) / (beyond - lon) if beyond != lon else 0.0
            crossing = lat + share * (next_lat - lat)
            parts[-1].append((crossing, edge))
            parts.append([(crossing, -edge)])
        parts[-1].append((next_lat, next_lon))
    return [part for part in parts if len(part) > 1]
