"""The International Standard Atmosphere and what speeds are in it. ICAO Doc 7488 constants; pressure altitude in feet.

Only what checks need: temperature, speed of sound, Mach to true airspeed. No wind and no performance lives here.
"""

from __future__ import annotations

import math

_T0_K = 288.15
_LAPSE_K_PER_M = 0.0065
_TROPOPAUSE_M = 11_000.0
_TROPOPAUSE_K = 216.65
_METRES_PER_FOOT = 0.3048
_HIGHEST_FT = 65_617.0
"""20 km: where the next layer begins, which this module does not have."""
_GAMMA_R = 1.4 * 287.05287
_KNOTS_PER_MS = 3600.0 / 1852.0


def temperature_k(pressure_altitude_ft: float, deviation_k: float = 0.0) -> float:
    """Air temperature, kelvin, at a pressure altitude in feet, `deviation_k` off the standard. Up to 20 km.

    Raises ValueError below -2,000 ft and above 20 km, where these layers do not hold.
    """
    if not -2000.0 <= pressure_altitude_ft <= _HIGHEST_FT:
        raise ValueError(f"no atmosphere here for {pressure_altitude_ft} ft")
    metres = pressure_altitude_ft * _METRES_PER_FOOT
    standard = _T0_K - _LAPSE_K_PER_M * metres if metres < _TROPOPAUSE_M else _TROPOPAUSE_K
    return standard + deviation_k


def speed_of_sound_kt(pressure_altitude_ft: float, deviation_k: float = 0.0) -> float:
    """Speed of sound, knots, at a pressure altitude in feet."""
    return math.sqrt(_GAMMA_R * temperature_k(pressure_altitude_ft, deviation_k)) * _KNOTS_PER_MS


def mach_to_tas_kt(mach: float, pressure_altitude_ft: float, deviation_k: float = 0.0) -> float:
    """True airspeed, knots, of a Mach number at a pressure altitude in feet."""
    return mach * speed_of_sound_kt(pressure_altitude_ft, deviation_k)
