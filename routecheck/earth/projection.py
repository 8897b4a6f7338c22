"""The map projection of the Picture: azimuthal equidistant on a sphere, NM, north up. For drawing, never for figures.

Every point of the globe but the one opposite the centre has its own place, so the date line and the poles need no care.
Source: J. P. Snyder, Map Projections, a working manual, USGS Professional Paper 1395 (1987), section 25.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from pyproj import Transformer
from pyproj.enums import TransformDirection

if TYPE_CHECKING:
    from routecheck.arrays import Floats


RADIUS_NM = 10800.0 / math.pi
"""The sphere on which a degree of a great circle is 60 NM."""
_RIM_NM = math.pi * RADIUS_NM
"""How far from the centre the point opposite is drawn."""


@dataclass(frozen=True, slots=True)
class Projection:
    """Degrees to NM east and north of a centre, and back."""

    lat: float
    lon: float

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
        "+proj=pipeline +step +proj=unitconvert +xy_in=deg +xy_out=rad "
        f"+step +proj=aeqd +lat_0={projection.lat!r} +lon_0={projection.lon!r} +R={RADIUS_NM!r}"
    )
