"""The magnetic field by WMM2025: declination and its uncertainty. What data says of variation is not known here.

Source: The US/UK World Magnetic Model for 2025-2030 (NOAA NCEI, British Geological Survey), through `pygeomag`.
"""

from __future__ import annotations

import math
from functools import lru_cache
from threading import Lock
from typing import TYPE_CHECKING

from pygeomag import GeoMag, decimal_year_from_date
from pygeomag.wmm.wmm_2025 import WMM_2025

from routecheck.earth.geo import refuse_impossible
from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    import datetime as dt

_MODEL = GeoMag(coefficients_data=WMM_2025)
BLACKOUT_NT = 2000.0
"""Horizontal intensity below which the model says that a compass is of no use: WMM2025 report, blackout zones."""
_ONE_AT_A_TIME = Lock()  # the model writes into tables of its own: two threads would spoil each other's answer


@dataclass(frozen=True, slots=True)
class Declination:
    """The field at one place and date. `declination_deg` is east positive, `horizontal_nt` the horizontal intensity.

    `uncertainty_deg` is one standard deviation by the model's own error formula; it grows without bound where the
    field stands upright. The model asks for caution below 6,000 nT and is unreliable below 2,000 nT.
    """

    declination_deg: float
    horizontal_nt: float
    uncertainty_deg: float

    @property
    def is_unusable(self) -> bool:
        """Whether the field stands too upright for a compass."""
        return self.horizontal_nt < BLACKOUT_NT


def wmm_covers(date: dt.date) -> bool:
    """Whether the model holds on that day: 2025.0 to 2030.0, so 1 JAN 2025 to 31 DEC 2029, both included."""
    return 2025 <= date.year < 2030


def declination(lat: float, lon: float, date: dt.date, altitude_km: float = 0.0) -> Declination | None:
    """The field at a position (degrees), at sea level unless said otherwise; None on a day the model does not cover.

    The model is never used beyond its years. Raises ImpossiblePositionError. Answers are cached per exact place and
    day, so that a point of many routes is computed once.
    """
    refuse_impossible(lat, lon)
    return _declination(lat, lon, date, altitude_km) if wmm_covers(date) else None


def compass_is_unusable(lat: float, lon: float, date: dt.date) -> bool:
    """Whether the field stands too upright there for a compass; False on a day the model does not cover.

    Raises ImpossiblePositionError.
    """
    field = declination(lat, lon, date)
    return field is not None and field.is_unusable


def uncertainty_deg(horizontal_nt: float) -> float:
    """One standard deviation of the declination, degrees: WMM2025 report, error model."""
    return math.hypot(0.26, 5417.0 / horizontal_nt)


@lru_cache(maxsize=65536)
def _declination(lat: float, lon: float, day: dt.date, altitude_km: float) -> Declination:
    return declination_in_year(lat, lon, decimal_year_from_date(day), altitude_km)


def declination_in_year(lat: float, lon: float, year: float, altitude_km: float = 0.0) -> Declination:
    """The field at a moment in decimal years, 2025.0 to 2030.0, not cached. Raises ValueError outside them."""
    with _ONE_AT_A_TIME:
        field = _MODEL.calculate(glat=lat, glon=lon, alt=altitude_km, time=year)
    return Declination(field.d, field.h, uncertainty_deg(field.h))
