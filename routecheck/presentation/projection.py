"""The map projection of the Picture: azimuthal equidistant on a sphere, NM, north up. For drawing, never for figures.

Every point of the globe but the one opposite the centre has its own place, so the date line and the poles need no care.
Source: J. P. Snyder, Map Projections, a working manual, USGS Professional Paper 1395 (1987), section 25.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

RADIUS_NM = 10800.0 / math.pi
"""The sphere on which a degree of a great circle is 60 NM."""


@dataclass(frozen=True, slots=True)
class Projection:
    """Degrees to NM east and north of a centre, and back."""

    lat: float
    lon: float

    def forward(self, lat: Floats, lon: Floats) -> Floats:
        """Project positions (degrees, shape (n,)) to an array of shape (n, 2) in NM; NaN stays NaN."""
        phi, lam = np.radians(lat), np.radians(np.asarray(lon, dtype=np.float64) - self.lon)
        phi0 = math.radians(self.lat)
        east = np.cos(phi) * np.sin(lam)
        north = math.cos(phi0) * np.sin(phi) - math.sin(phi0) * np.cos(phi) * np.cos(lam)
        towards = math.sin(phi0) * np.sin(phi) + math.cos(phi0) * np.cos(phi) * np.cos(lam)
        across = np.hypot(east, north)
        scale = RADIUS_NM * np.arctan2(across, towards) / np.where(across > 0, across, 1.0)
        return np.column_stack((east * scale, north * scale))

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
        away = np.hypot(*spots.T)
        angle, phi0 = away / RADIUS_NM, math.radians(self.lat)
        share = np.sin(angle) / np.where(away > 0, away, 1.0)
        sine = np.cos(angle) * math.sin(phi0) + spots[:, 1] * share * math.cos(phi0)
        north = math.cos(phi0) * np.cos(angle) - spots[:, 1] * math.sin(phi0) * share
        lon = self.lon + np.degrees(np.arctan2(spots[:, 0] * share, north))
        places = np.column_stack((np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0))), (lon + 180.0) % 360.0 - 180.0))
        places[away > math.pi * RADIUS_NM] = np.nan
        return places


def centred_on(lat: Floats, lon: Floats) -> Projection:
    """A projection centred on positions (degrees, shape (n,)), in whole degrees so that typing seldom moves it."""
    if lat.size == 0:
        return Projection(0.0, 0.0)
    phi, lam = np.radians(lat), np.radians(lon)
    middle = np.array([np.cos(phi) * np.cos(lam), np.cos(phi) * np.sin(lam), np.sin(phi)]).mean(axis=1)
    if float(np.linalg.norm(middle)) < 1e-6:
        return Projection(0.0, float(round(lon[0])) + 90.0)
    north = math.degrees(math.atan2(middle[2], math.hypot(middle[0], middle[1])))
    return Projection(float(round(north)), float(round(math.degrees(math.atan2(middle[1], middle[0])))))
