"""The International Standard Atmosphere, the speeds in it and the wind triangle.

Constants of ICAO Doc 7488; altitudes are pressure altitudes in feet. No performance of any aircraft lives here.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from routecheck.model import Wind

_T0_K = 288.15
_P0_HPA = 1013.25
_LAPSE_K_PER_M = 0.0065
_TROPOPAUSE_M = 11_000.0
_TROPOPAUSE_K = 216.65
_METRES_PER_FOOT = 0.3048
_HIGHEST_FT = 65_617.0
"""20 km: where the next layer begins, which this module does not have."""
_GAS = 287.05287
_GRAVITY = 9.80665
_GAMMA_R = 1.4 * _GAS
_KNOTS_PER_MS = 3600.0 / 1852.0
_A0_KT = math.sqrt(_GAMMA_R * _T0_K) * _KNOTS_PER_MS
_TROPOPAUSE_RATIO = (_TROPOPAUSE_K / _T0_K) ** (_GRAVITY / (_GAS * _LAPSE_K_PER_M))


def temperature_k(pressure_altitude_ft: float, deviation_k: float = 0.0) -> float:
    """Air temperature, kelvin, at a pressure altitude in feet, `deviation_k` off the standard. Up to 20 km.

    Raises ValueError below -2,000 ft and above 20 km, where these layers do not hold.
    """
    metres = _metres(pressure_altitude_ft)
    standard = _T0_K - _LAPSE_K_PER_M * metres if metres < _TROPOPAUSE_M else _TROPOPAUSE_K
    return standard + deviation_k


def pressure_hpa(pressure_altitude_ft: float) -> float:
    """Air pressure, hPa, at a pressure altitude in feet, whatever the temperature. Raises like `temperature_k`."""
    metres = _metres(pressure_altitude_ft)
    if metres < _TROPOPAUSE_M:
        exponent = _GRAVITY / (_GAS * _LAPSE_K_PER_M)
        return float(_P0_HPA * (1.0 - _LAPSE_K_PER_M * metres / _T0_K) ** exponent)
    above = math.exp(-_GRAVITY * (metres - _TROPOPAUSE_M) / (_GAS * _TROPOPAUSE_K))
    return float(_P0_HPA * _TROPOPAUSE_RATIO * above)


def _metres(pressure_altitude_ft: float) -> float:
    if not -2000.0 <= pressure_altitude_ft <= _HIGHEST_FT:
        raise ValueError(f"no atmosphere here for {pressure_altitude_ft} ft")
    return pressure_altitude_ft * _METRES_PER_FOOT


def speed_of_sound_kt(pressure_altitude_ft: float, deviation_k: float = 0.0) -> float:
    """Speed of sound, knots, at a pressure altitude in feet."""
    return math.sqrt(_GAMMA_R * temperature_k(pressure_altitude_ft, deviation_k)) * _KNOTS_PER_MS


def mach_to_tas_kt(mach: float, pressure_altitude_ft: float, deviation_k: float = 0.0) -> float:
    """True airspeed, knots, of a Mach number at a pressure altitude in feet."""
    return mach * speed_of_sound_kt(pressure_altitude_ft, deviation_k)


def cas_to_mach(cas_kt: float, pressure_altitude_ft: float) -> float:
    """Mach number of a calibrated airspeed, knots, below the speed of sound: compressible, any temperature."""
    impact = _P0_HPA * _impact_ratio(cas_kt / _A0_KT)
    return _mach_of_ratio(impact / pressure_hpa(pressure_altitude_ft))


def mach_to_cas_kt(mach: float, pressure_altitude_ft: float) -> float:
    """Calibrated airspeed, knots, of a Mach number below 1."""
    return _A0_KT * _mach_of_ratio(_impact_ratio(mach) * pressure_hpa(pressure_altitude_ft) / _P0_HPA)


def cas_to_tas_kt(cas_kt: float, pressure_altitude_ft: float, deviation_k: float = 0.0) -> float:
    """True airspeed, knots, of a calibrated airspeed."""
    return mach_to_tas_kt(cas_to_mach(cas_kt, pressure_altitude_ft), pressure_altitude_ft, deviation_k)


def tas_to_cas_kt(tas_kt: float, pressure_altitude_ft: float, deviation_k: float = 0.0) -> float:
    """Calibrated airspeed, knots, of a true airspeed."""
    return mach_to_cas_kt(tas_kt / speed_of_sound_kt(pressure_altitude_ft, deviation_k), pressure_altitude_ft)


def _impact_ratio(mach: float) -> float:
    """Impact pressure over static pressure at a Mach number below 1."""
    return float((1.0 + 0.2 * mach * mach) ** 3.5 - 1.0)


def _mach_of_ratio(impact: float) -> float:
    return math.sqrt(5.0 * ((impact + 1.0) ** (2.0 / 7.0) - 1.0))


@dataclass(frozen=True, slots=True)
class WindTriangle:
    """How a course is held in a wind: heading (degrees true), wind correction (right positive) and ground speed."""

    heading_deg: float
    correction_deg: float
    ground_speed_kt: float


def wind_triangle(course_deg: float, tas_kt: float, wind: Wind) -> WindTriangle | None:
    """Heading and ground speed along a true course; None where the wind is too strong to follow it."""
    off = math.radians(wind.from_deg_true - course_deg)
    across, against = wind.speed_kt * math.sin(off), wind.speed_kt * math.cos(off)
    if abs(across) >= tas_kt:
        return None
    correction = math.asin(across / tas_kt)
    ground = tas_kt * math.cos(correction) - against
    if ground <= 0.0:
        return None
    return WindTriangle((course_deg + math.degrees(correction)) % 360.0, math.degrees(correction), ground)
