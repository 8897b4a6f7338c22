"""Lines of coded legs on the earth: arcs about a centre, ends that a course and a distance fix. Plain geometry only.

Degrees, true, and NM. What cannot be is None: whoever asked says why.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from routecheck.earth import geo, sphere

if TYPE_CHECKING:
    from routecheck.model import Place, Shape

OFF_ARC_NM = 0.5
"""The ends of a published arc lie so near to it: 100 % of 2,776 RF and AF legs of cycle 2301."""
_STEP_DEG = 5.0


class Line(NamedTuple):
    """A stretch with a fixed path: true courses leaving and arriving; `shape` () = a geodesic."""

    distance_nm: float
    course_deg: float
    end_course_deg: float
    shape: Shape = ()


def straight_line(start: Place, end: Place) -> Line:
    """The geodesic between two places that are not one."""
    course, end_course, distance = geo.inverse(start.lat, start.lon, end.lat, end.lon)
    return Line(distance, course, end_course)


def arc_about(start: Place, end: Place, centre: Place, turn: str) -> Line | None:
    """The arc about a centre, to the right (turn R) or left (L); None where the ends lie on no one circle about it.

    Ends that lie a little off the circle (up to OFF_ARC_NM apart in radius) are joined by a radius that changes evenly.
    Length: radius of the circle on the sphere times the angle turned, within 1e-5 for the radii that occur.
    """
    azimuth, at_start, radius = geo.inverse(centre.lat, centre.lon, start.lat, start.lon)
    end_azimuth, at_end, end_radius = geo.inverse(centre.lat, centre.lon, end.lat, end.lon)
    if turn not in ("L", "R") or not radius or abs(end_radius - radius) > OFF_ARC_NM:
        return None
    side = 1.0 if turn == "R" else -1.0
    swept = (end_azimuth - azimuth) * side % 360.0
    steps = max(1, math.ceil(swept / _STEP_DEG))
    inner = tuple(
        geo.direct(
            centre.lat,
            centre.lon,
            (azimuth + side * swept * i / steps) % 360.0,
            radius + (end_radius - radius) * i / steps,
        )
        for i in range(1, steps)
    )
    mean = sphere.EARTH_RADIUS_NM * math.sin((radius + end_radius) / 2 / sphere.EARTH_RADIUS_NM)
    return Line(
        mean * math.radians(swept),
        (at_start + 90.0 * side) % 360.0,
        (at_end + 90.0 * side) % 360.0,
        ((start.lat, start.lon), *inner, (end.lat, end.lon)),
    )


def first_point_at_distance(
    start: Place, course_deg: float, station: Place, distance_nm: float
) -> tuple[float, float] | None:
    """Where a geodesic on a course first comes to a distance from a station: (lat, lon); None where it never does.

    Estimated on the plane through the foot of the perpendicular, then corrected along the line to 1e-6 NM.
    """
    ahead = geo.direct(start.lat, start.lon, course_deg, 1.0)
    cross, along = geo.cross_track(start.lat, start.lon, *ahead, station.lat, station.lon)
    if abs(cross) >= distance_nm:
        return None
    half = math.sqrt(distance_nm**2 - cross**2)
    run = along - half if along - half > 0 else along + half
    if run <= 0:
        return None
    slope = (run - along) / distance_nm
    for _ in range(10):
        at = geo.direct(start.lat, start.lon, course_deg, run)
        off = geo.inverse(station.lat, station.lon, *at)[2] - distance_nm
        if abs(off) < 1e-6:
            return at
        run -= off / slope
    return None
