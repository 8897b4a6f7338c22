"""The second reader of lengths: another method than that of earth/geo.py, so that a mistake of either shows.

Source: T. Vincenty, Direct and inverse solutions of geodesics on the ellipsoid with application of nested equations,
Survey Review XXIII (176), 1975, from memory. Within a millimetre; where it does not settle, geographiclib answers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from routecheck.earth import geo

if TYPE_CHECKING:
    from routecheck.arrays import Flags, Floats


_A, _F = 6378137.0, 1 / 298.257223563  # WGS 84: metres, flattening
_B = _A * (1 - _F)
_STEPS = 8
_SETTLED = 1e-12  # radians of longitude on the auxiliary sphere: 6 micrometres
_FAR = 3.0  # radians: beyond 172 degrees it may settle at a wrong length


def distances_nm(lat1: Floats, lon1: Floats, lat2: Floats, lon2: Floats) -> Floats:
    """Lengths of geodesics between arrays of points (shape (n,), degrees), NM. Raises ImpossiblePositionError."""
    geo.refuse_any_impossible(lat1, lon1)
    geo.refuse_any_impossible(lat2, lon2)
    u1, u2 = (np.arctan((1 - _F) * np.tan(np.radians(lat))) for lat in (lat1, lat2))
    metres, sure = _vincenty(u1, u2, np.radians((lon2 - lon1 + 180.0) % 360.0 - 180.0))
    found = metres / geo.METRES_PER_NM
    for i in np.flatnonzero(~sure).tolist():
        found[i] = geo.second_distance_nm(lat1[i], lon1[i], lat2[i], lon2[i])
    return found


def _vincenty(u1: Floats, u2: Floats, longitudes: Floats) -> tuple[Floats, Flags]:
    """Metres for reduced latitudes and differences of longitude (radians), and which of them can be relied on."""
    sin_both, cos_both = np.sin(u1) * np.sin(u2), np.cos(u1) * np.cos(u2)
    cos_u2, cross_1, cross_2 = np.cos(u2), np.cos(u1) * np.sin(u2), np.sin(u1) * np.cos(u2)
    around, step = longitudes, np.zeros_like(longitudes)
    for _ in range(_STEPS):
        sin_around, cos_around = np.sin(around), np.cos(around)
        sin_arc = np.hypot(cos_u2 * sin_around, cross_1 - cross_2 * cos_around)
        cos_arc = sin_both + cos_both * cos_around
        arc = np.arctan2(sin_arc, cos_arc)
        sin_azimuth = _quotient(cos_both * sin_around, sin_arc)
        square = 1 - sin_azimuth**2
        middle = cos_arc - 2 * _quotient(sin_both, square)
        c = _F / 16 * square * (4 + _F * (4 - 3 * square))
        bent = arc + c * sin_arc * (middle + c * cos_arc * (2 * middle**2 - 1))
        before, around = around, longitudes + (1 - c) * _F * sin_azimuth * bent
        step = np.abs(around - before)
        if np.all(step < _SETTLED):
            break
    k = square * (_A**2 - _B**2) / _B**2
    scale = 1 + k / 16384 * (4096 + k * (-768 + k * (320 - 175 * k)))
    b = k / 1024 * (256 + k * (-128 + k * (74 - 47 * k)))
    third = b / 6 * middle * (4 * sin_arc**2 - 3) * (4 * middle**2 - 3)
    less = b * sin_arc * (middle + b / 4 * (cos_arc * (2 * middle**2 - 1) - third))
    return _B * scale * (arc - less), (step < _SETTLED) & (arc < _FAR)


def _quotient(top: Floats, bottom: Floats) -> Floats:
    """The quotient; 0 where the divisor is 0: two points on one spot, legs along the equator."""
    return np.divide(top, bottom, out=np.zeros_like(top), where=bottom > 0)
