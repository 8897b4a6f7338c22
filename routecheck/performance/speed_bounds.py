"""Which true airspeeds are flown at a level: by no aircraft, by any, by that of a sheet. Nothing is found here."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.earth import air
from routecheck.frozen_dataclass import dataclass
from routecheck.performance.speeds import mach_of, tas_kt
from routecheck.vertical.levels import level_ft
from routecheck.vertical.profile import plausible_altitude_ft

if TYPE_CHECKING:
    from routecheck.model import AircraftSheet

MOST_MACH, MOST_CAS_KT = 1.0, 500.0
"""No aircraft that files a route goes faster: none has been supersonic since 2003 (our choice)."""
SOUND_AT_SEA_LEVEL_KT = 661.5
HIGHEST_LEVEL_FT = 51_000.0
"""The highest ceiling of business jets: only few aircraft fly higher."""
_HIGH_FT, _MIDDLE_FT = 31_000.0, 18_000.0
_LEAST_CAS_KT = ((25_000.0, 90.0), (18_000.0, 60.0))
"""Above each altitude nothing that flies there flies slower (our choice)."""


@dataclass(frozen=True, slots=True)
class AirSpeed:
    """A speed at an altitude: true airspeed, Mach number, calibrated airspeed."""

    feet: float
    tas_kt: float
    mach: float
    cas_kt: float


def air_speed(speed: str, level: str) -> AirSpeed | None:
    """A speed of Item 15 at its level; None where one of them is not known, or is no altitude at which air is known."""
    feet, tas = plausible_altitude_ft(level_ft(level)), tas_kt(speed, level)
    if feet is None or tas is None:
        return None
    mach = tas / air.speed_of_sound_kt(feet)
    # The formula of calibrated airspeed holds below the speed of sound; no speed above it is flown anyhow.
    return AirSpeed(feet, tas, mach, air.mach_to_cas_kt(mach, feet) if mach < 1.0 else math.inf)


def is_flown_by_none(speed: str, level: str) -> bool:
    """Whether no aircraft flies a speed at its level, or anywhere where no level is known. No time rests on such."""
    flown = air_speed(speed, level)
    if flown is None:
        mach, tas = mach_of(speed), tas_kt(speed, "")
        return (mach or 0.0) > MOST_MACH or (tas or 0.0) > SOUND_AT_SEA_LEVEL_KT
    least = next((kt for above, kt in _LEAST_CAS_KT if flown.feet > above), 0.0)
    return flown.mach > MOST_MACH or not least <= flown.cas_kt <= MOST_CAS_KT


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualSpeeds:
    """Between what the speeds of aircraft lie; `sheet_share` is how far off its own cruise that of a sheet may be."""

    sheet_share: float = 0.15
    most_mach: float = 0.91
    most_cas_kt: float = 370.0
    least_mach_high: float = 0.48
    """Above FL310."""
    least_cas_middle_kt: float = 115.0
    """Above FL180."""
    least_cas_low_kt: float = 50.0

    def hold(self, flown: AirSpeed, sheet: AircraftSheet | None) -> bool:
        """Whether a speed lies between them: by the sheet where it knows its cruise, else for any aircraft.

        Below half its ceiling a sheet says nothing against a slow flight.
        """
        cruise_kt = sheet_cruise_kt(sheet, flown.feet) if sheet else None
        if sheet is None or cruise_kt is None:
            return self._hold_for_any(flown)
        high = sheet.ceiling_ft is None or flown.feet >= sheet.ceiling_ft / 2.0
        slower_kt = (1.0 - self.sheet_share) * cruise_kt if high else 0.0
        return slower_kt <= flown.tas_kt <= (1.0 + self.sheet_share) * cruise_kt

    def _hold_for_any(self, flown: AirSpeed) -> bool:
        if flown.mach > self.most_mach or flown.cas_kt > self.most_cas_kt:
            return False
        if flown.feet > _HIGH_FT:
            return flown.mach >= self.least_mach_high
        return flown.cas_kt >= (self.least_cas_middle_kt if flown.feet > _MIDDLE_FT else self.least_cas_low_kt)


USUAL = UsualSpeeds()
"""As shipped (our choice)."""


def is_usual(speed: str, level: str, sheet: AircraftSheet | None) -> bool:
    """Whether a speed is one that the sheet's aircraft, else any, flies at a level that aircraft fly at."""
    flown = air_speed(speed, level)
    return flown is not None and flown.feet <= HIGHEST_LEVEL_FT and USUAL.hold(flown, sheet)


def sheet_cruise_kt(sheet: AircraftSheet, feet: float) -> float | None:
    """The true airspeed at which the aircraft of a sheet cruises at an altitude; None where the sheet does not say.

    It is the slowest of the cruising speeds and the faster airspeed of climb and descent, which holds it back low down.
    """
    indicated = [kt for kt in (sheet.climb_cas_kt, sheet.descent_cas_kt) if kt is not None]
    own = [sheet.cruise_tas_kt] if sheet.cruise_tas_kt is not None else []
    if sheet.cruise_mach is not None:
        own.append(air.mach_to_tas_kt(sheet.cruise_mach, feet))
    if not own:
        return None
    held_back = [air.cas_to_tas_kt(max(indicated), feet)] if indicated else []
    return min(*own, *held_back) if len(own) + len(held_back) > 1 else own[0]
