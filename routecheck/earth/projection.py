"""The map projections of the Picture, on a sphere, in NM. For drawing, never for figures.

North up is azimuthal equidistant about a centre, straightened is two-point equidistant: both ends of a route lie on the
axis of x, and every place is as far from each of them as on the globe. Either way every point of the globe has its own
place but for the point opposite the centre, or the line between the two opposite the ends, so that the date line and
the poles need no care. Source: J. P. Snyder, Map Projections, a working manual, USGS Professional Paper 1395 (1987),
section 25; the two-point one is PROJ's `tpeqd`.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from pyproj import Transformer
from pyproj.enums import TransformDirection

from routecheck.earth import sphere
from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from routecheck.arrays import Floats


RADIUS_NM = 10800.0 / math.pi
"""The sphere on which a degree of a great circle is 60 NM."""
LEAST_APART_NM, _MOST_APART_NM = 5.0, 9500.0
"""Of the ends of a straightened route."""
_RIM_NM = math.pi * RADIUS_NM
"""How far from the centre the point opposite is drawn."""


@dataclass(frozen=True, slots=True)
class Projection:
    """Degrees to NM east and north of a centre, and back."""

    lat: float
    lon: float

    @property
    def is_north_up(self) -> bool:
        """Whether north is up at the centre."""
        return True

    @property
    def rim_nm(self) -> tuple[float, float]:
        """Half the width and half the height of the ellipse in which the whole globe is drawn."""
        return _RIM_NM, _RIM_NM

    @property
    def definition(self) -> str:
        """The projection as PROJ writes it."""
        return f"+proj=aeqd +lat_0={self.lat!r} +lon_0={self.lon!r}"

    def forward(self, lat: Floats, lon: Floats) -> Floats:
        """Project positions (degrees, shape (n,)) to an array of shape (n, 2) in NM; NaN stays NaN.

        The point opposite the centre is the whole rim of the map: it is drawn in the south of it.
        """
        places = np.column_stack(_transformer(self).transform(lon, lat))
        places[np.isinf(places[:, 0])] = 0.0, -_RIM_NM
        return places

    def place(self, lat: float, lon: float) -> tuple[float, float]:
        """Project one position: (x_nm, y_nm)."""
        x, y = self.forward(np.array([lat]), np.array([lon]))[0]
        return float(x), float(y)

    def back(self, x_nm: float, y_nm: float) -> tuple[float, float] | None:
        """The position (lat, lon) drawn at a place of the plane; None beyond the rim of the globe."""
        lat, lon = self.back_many(np.array([(x_nm, y_nm)]))[0].tolist()
        return None if math.isnan(lat) else (lat, lon)

    def back_many(self, spots: Floats) -> Floats:
        """The positions (lat, lon), shape (n, 2), drawn at places of the plane, shape (n, 2); NaN beyond the rim."""
        lon, lat = _transformer(self).transform(spots[:, 0], spots[:, 1], direction=TransformDirection.INVERSE)
        places = np.column_stack((lat, lon))
        places[np.isinf(places[:, 0])] = np.nan
        return places


@dataclass(frozen=True, slots=True)
class StraightenedProjection(Projection):
    """Degrees to NM along the great circle between two places, the first of them left, and across it, and back."""

    start: tuple[float, float]
    end: tuple[float, float]
    apart_nm: float

    @property
    def is_north_up(self) -> bool:
        """North is where the line between the two leaves it."""
        return False

    @property
    def rim_nm(self) -> tuple[float, float]:
        """The two places are the foci: no place is farther from both together than the line opposite of them."""
        half_width = _RIM_NM - self.apart_nm / 2
        return half_width, math.sqrt(half_width**2 - (self.apart_nm / 2) ** 2)

    @property
    def definition(self) -> str:
        """The projection as PROJ writes it. Longitudes that differ by more than 180° lead PROJ 9.5 elsewhere."""
        (lat1, lon1), (lat2, lon2) = self.start, self.end
        lon2 = lon1 + (lon2 - lon1 + 180.0) % 360.0 - 180.0
        return f"+proj=tpeqd +lat_1={lat1!r} +lon_1={lon1!r} +lat_2={lat2!r} +lon_2={lon2!r}"


def straighten(start: tuple[float, float], end: tuple[float, float]) -> StraightenedProjection | None:
    """The projection on which the line between two positions (lat, lon) is straight, the first of them left.

    None where they are of one aerodrome, or so far that little of the globe would be left beside the line.
    """
    one, other = sphere.unit_vector(*start), sphere.unit_vector(*end)
    apart = sphere.distance_nm(one, other) * RADIUS_NM / sphere.EARTH_RADIUS_NM
    if not LEAST_APART_NM < apart < _MOST_APART_NM:
        return None
    x, y, z = (a + b for a, b in zip(one, other, strict=True))
    lat, lon = math.degrees(math.atan2(z, math.hypot(x, y))), math.degrees(math.atan2(y, x))
    return StraightenedProjection(lat, lon, start, end, apart)


def centre_on(lat: Floats, lon: Floats) -> Projection:
    """A projection centred on positions (degrees, shape (n,)), in whole degrees so that typing seldom moves it."""
    if lat.size == 0:
        return Projection(0.0, 0.0)
    phi, lam = np.radians(lat), np.radians(lon)
    middle = np.array([np.cos(phi) * np.cos(lam), np.cos(phi) * np.sin(lam), np.sin(phi)]).mean(axis=1)
    if float(np.linalg.norm(middle)) < 1e-6:
        return Projection(0.0, float(round(lon[0])) + 90.0)
    north = math.degrees(math.atan2(middle[2], math.hypot(middle[0], middle[1])))
    return Projection(float(round(north)), float(round(math.degrees(math.atan2(middle[1], middle[0])))))


@lru_cache(maxsize=64)
def _transformer(projection: Projection) -> Transformer:
    """PROJ's part of it. A Transformer keeps its state per thread, which a Proj does not: two threads draw.

    Threads must be Python's own, or stay one Python thread all their life: what pyproj 3.7 keeps for a thread is freed
    with Python's state of it and used again.
    """
    return Transformer.from_pipeline(
        f"+proj=pipeline +step +proj=unitconvert +xy_in=deg +xy_out=rad +step {projection.definition} +R={RADIUS_NM!r}"
    )
