"""Geodesics on WGS 84: the only place that knows geographiclib. Degrees and nautical miles throughout.

Impossible input is refused before the libraries see it: they would answer NaN, and no comparison with NaN ever holds.
Source of the method: C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from pyproj import Geod

from routecheck.earth import sphere
from routecheck.earth.sphere import EARTH_RADIUS_NM

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.arrays import Floats
    from routecheck.earth.sphere import Vector

    _Line = tuple[float, float, float]  # lat, lon and true course it starts with, degrees

METRES_PER_NM = 1852.0
_WGS84 = Geod(ellps="WGS84")
_IMPOSSIBLE = "latitude beyond 90 or longitude beyond 180 degrees, or no number"
_ROUGH_AT_MOST_SHORT = 1.006
_SPHERE_IS_OFF = 0.05  # radians: a crossing so far behind on the sphere may still lie ahead on the ellipsoid


class ImpossiblePositionError(ValueError):
    """A latitude beyond ±90, a longitude beyond ±180, or a value that is no number."""


def refuse_impossible(lat: float, lon: float) -> None:
    """Raise ImpossiblePositionError unless latitude and longitude (degrees) are of this earth."""
    if not (abs(lat) <= 90.0 and abs(lon) <= 180.0):  # NaN is refused too
        raise ImpossiblePositionError(_IMPOSSIBLE)


def inverse_many(lat1: Floats, lon1: Floats, lat2: Floats, lon2: Floats) -> tuple[Floats, Floats, Floats]:
    """Geodesics between arrays of points (shape (n,), degrees).

    Gives (course_deg, end_course_deg, distance_nm), each of shape (n,), courses true in [0, 360). Raises
    ImpossiblePositionError. Coincident points give distance 0 and a course without meaning.
    """
    lat1, lon1, lat2, lon2 = (np.ascontiguousarray(a, dtype=np.float64) for a in (lat1, lon1, lat2, lon2))
    refuse_any_impossible(lat1, lon1)
    refuse_any_impossible(lat2, lon2)
    if lat1.size == 0:
        return lat1.copy(), lat1.copy(), lat1.copy()
    azimuth, back_azimuth, metres = _WGS84.inv(lon1, lat1, lon2, lat2)
    return _compass(azimuth), _compass(np.asarray(back_azimuth) + 180.0), np.asarray(metres) / METRES_PER_NM


def inverse(lat1: float, lon1: float, lat2: float, lon2: float) -> tuple[float, float, float]:
    """One geodesic: (course_deg, end_course_deg, distance_nm). Raises ImpossiblePositionError."""
    refuse_impossible(lat1, lon1)
    refuse_impossible(lat2, lon2)
    azimuth, back_azimuth, metres = _WGS84.inv(lon1, lat1, lon2, lat2)
    return float(_compass(azimuth)), float(_compass(back_azimuth + 180.0)), float(metres) / METRES_PER_NM


def direct(lat: float, lon: float, course_deg: float, distance_nm: float) -> tuple[float, float]:
    """The point at a true course and distance: (lat, lon). Raises ImpossiblePositionError."""
    refuse_impossible(lat, lon)
    _refuse_no_number(course_deg, distance_nm)
    lon2, lat2, _ = _WGS84.fwd(lon, lat, course_deg, distance_nm * METRES_PER_NM)
    return float(lat2), float(lon2)


def points_along(lat1: float, lon1: float, lat2: float, lon2: float, step_nm: float) -> list[tuple[float, float]]:
    """Points (lat, lon) along the geodesic no further than `step_nm` apart, both ends included.

    At most 2,002 of them: half the globe is then cut into steps of 5.4 NM. Raises ImpossiblePositionError.
    """
    longest = rough_nm(lat1, lon1, lat2, lon2) * _ROUGH_AT_MOST_SHORT
    inner = min(int(longest / step_nm), 2000)
    between = _WGS84.npts(lon1, lat1, lon2, lat2, inner) if inner else []
    return [(lat1, lon1), *((lat, lon) for lon, lat in between), (lat2, lon2)]


def second_distance_nm(lat1: float, lon1: float, lat2: float, lon2: float) -> float:
    """The length of a geodesic by the other library, geographiclib."""
    refuse_impossible(lat1, lon1)
    refuse_impossible(lat2, lon2)
    from geographiclib.geodesic import Geodesic  # asked hardly ever, and every start would wait for it

    metres: float = Geodesic.WGS84.Inverse(lat1, lon1, lat2, lon2, Geodesic.DISTANCE)["s12"]
    return metres / METRES_PER_NM


def wrap180(degrees: float) -> float:
    """An angle brought into (-180, 180]. Raises ImpossiblePositionError for what is no number."""
    if -180.0 < degrees <= 180.0:
        return degrees
    _refuse_no_number(degrees)
    wrapped = math.fmod(degrees, 360.0)
    if wrapped > 180.0:
        return wrapped - 360.0
    return wrapped + 360.0 if wrapped <= -180.0 else wrapped


def rough_nm(lat1: float, lon1: float, lat2: float, lon2: float) -> float:
    """Distance on a sphere, within 0.6 % of the geodesic. It serves to choose between places and is never shown.

    Raises ImpossiblePositionError.
    """
    if not (abs(lat1) <= 90.0 >= abs(lat2) and abs(lon1) <= 180.0 >= abs(lon2)):  # plain, for this is called very often
        refuse_impossible(lat1, lon1)
        refuse_impossible(lat2, lon2)
    return sphere.distance_nm(sphere.unit_vector(lat1, lon1), sphere.unit_vector(lat2, lon2))


def roughly_within(lat1: float, lon1: float, lat2: float, lon2: float, limit_nm: float) -> bool:
    """Whether `rough_nm` is at most the limit. The latitudes, 60.04 NM a degree, rule most places out at once."""
    return abs(lat1 - lat2) * 60.0 <= limit_nm and rough_nm(lat1, lon1, lat2, lon2) <= limit_nm


def cross_track(lat1: float, lon1: float, lat2: float, lon2: float, lat: float, lon: float) -> tuple[float, float]:
    """How far a point lies off the geodesic 1-2: (cross_nm, right positive; along_nm from point 1).

    Steps along the geodesic to the foot of the perpendicular until a step is shorter than 1e-9 NM; for points up to a
    quarter of the globe away.
    """
    course, _, _ = inverse(lat1, lon1, lat2, lon2)
    along_nm = 0.0
    cross_nm = 0.0
    for _ in range(20):
        foot_lat, foot_lon = direct(lat1, lon1, course, along_nm)
        ahead = _course_at(lat1, lon1, course, along_nm)
        bearing, _, distance = inverse(foot_lat, foot_lon, lat, lon)
        angle = math.radians(wrap180(bearing - ahead))
        cross_nm = distance if angle >= 0 else -distance
        step = EARTH_RADIUS_NM * math.atan(math.tan(distance / EARTH_RADIUS_NM) * math.cos(angle))
        along_nm += step
        if abs(step) < 1e-9:
            break
    return cross_nm, along_nm


def crossing(
    lat1: float, lon1: float, course1_deg: float, lat2: float, lon2: float, course2_deg: float
) -> tuple[float, float] | None:
    """Where two geodesics, each from a point on a true course, meet ahead of both within half the globe: (lat, lon).

    None where they do not meet, or lie on each other. Starts from the crossings on the sphere and moves along both
    lines until their points are 1e-6 NM apart. Raises ImpossiblePositionError.
    """
    refuse_impossible(lat1, lon1)
    refuse_impossible(lat2, lon2)
    _refuse_no_number(course1_deg, course2_deg)
    line1, line2 = (lat1, lon1, course1_deg), (lat2, lon2, course2_deg)
    starts = _sphere_crossings_nm(line1, line2)
    return next(filter(None, (_slide_together(line1, line2, *start) for start in starts)), None)


def line_normal(lat: float, lon: float, course_deg: float) -> Vector:
    """The unit vector square to a great circle through a point on a true course: for `side_of_line`."""
    return _cross(sphere.unit_vector(lat, lon), _heading(lat, lon, course_deg))


def side_of_line(normal: Vector, lat: float, lon: float) -> float:
    """On which side of a great circle a point lies: sine of its angular distance from it, left positive (sphere)."""
    phi, lam = math.radians(lat), math.radians(lon)
    across = math.cos(phi)
    return normal[0] * across * math.cos(lam) + normal[1] * across * math.sin(lam) + normal[2] * math.sin(phi)


def refuse_any_impossible(lat: Floats, lon: Floats) -> None:
    """Raise ImpossiblePositionError unless all latitudes and longitudes (degrees) are of this earth."""
    if not np.all((np.abs(lat) <= 90.0) & (np.abs(lon) <= 180.0)):
        raise ImpossiblePositionError(_IMPOSSIBLE)


def _refuse_no_number(*values: float) -> None:
    if not all(map(math.isfinite, values)):
        raise ImpossiblePositionError("course, angle or distance is no number")


def _compass(azimuth: Floats | float) -> Any:
    return azimuth % 360.0 % 360.0  # twice: the first turns -1e-15 into 360.0 itself


def _course_at(lat: float, lon: float, course_deg: float, ahead_nm: float) -> float:
    _, _, back = _WGS84.fwd(lon, lat, course_deg, ahead_nm * METRES_PER_NM)
    return float(back) + 180.0


def _heading(lat: float, lon: float, course_deg: float) -> Vector:
    phi, lam, course = math.radians(lat), math.radians(lon), math.radians(course_deg)
    north, east = math.cos(course), math.sin(course)
    return (
        -north * math.sin(phi) * math.cos(lam) - east * math.sin(lam),
        -north * math.sin(phi) * math.sin(lam) + east * math.cos(lam),
        north * math.cos(phi),
    )


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _sphere_crossings_nm(line1: _Line, line2: _Line) -> list[tuple[float, float]]:
    """The crossings of two great circles as distances ahead on each, nearest first; some lie a little behind."""
    here1, ahead1, here2, ahead2 = (
        sphere.unit_vector(*line1[:2]),
        _heading(*line1),
        sphere.unit_vector(*line2[:2]),
        _heading(*line2),
    )
    across = _cross(_cross(here1, ahead1), _cross(here2, ahead2))
    if math.hypot(*across) < 1e-9:
        return []
    one, two = ((_dot(across, ahead), _dot(across, here)) for here, ahead in ((here1, ahead1), (here2, ahead2)))
    far = [(math.atan2(s * one[0], s * one[1]), math.atan2(s * two[0], s * two[1])) for s in (1.0, -1.0)]
    return sorted(((a * EARTH_RADIUS_NM, b * EARTH_RADIUS_NM) for a, b in far if min(a, b) > -_SPHERE_IS_OFF), key=max)


def _slide_together(line1: _Line, line2: _Line, ahead1: float, ahead2: float) -> tuple[float, float] | None:
    for _ in range(20):
        a, b = direct(*line1, ahead1), direct(*line2, ahead2)
        bearing, end_bearing, apart = inverse(*a, *b)
        if apart < 1e-6:
            on_the_way = -1e-6 < min(ahead1, ahead2) <= max(ahead1, ahead2) < EARTH_RADIUS_NM * math.pi
            return a if on_the_way else None
        heading1 = math.radians(_course_at(*line1, ahead1) - bearing)
        heading2 = math.radians(_course_at(*line2, ahead2) - end_bearing)
        across = math.sin(heading2 - heading1)
        if abs(across) < 1e-6:
            return None
        ahead1 += apart * math.sin(heading2) / across
        ahead2 += apart * math.sin(heading1) / across
    return None


def lat_lon_columns(points: Sequence[tuple[float, float]]) -> tuple[Floats, Floats]:
    """A list of (lat, lon) as two arrays of shape (n,)."""
    table = np.array(points, dtype=np.float64).reshape(-1, 2)
    return table[:, 0].copy(), table[:, 1].copy()
