"""Time and fuel along a list of legs: speeds as filed, climb and descent by the Aircraft sheet, wind as given.

Nothing is compared here. Where no wind is given, ground speed is true airspeed and `Times.wind` says so.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import KW_ONLY, replace
from enum import Enum, auto
from typing import TYPE_CHECKING

from routecheck.earth import air
from routecheck.earth.geo import wrap180
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Wind
from routecheck.performance.planned_profile import fly_windows, plan_route
from routecheck.performance.speed_bounds import is_flown_by_none
from routecheck.performance.speeds import filed_by_leg, tas_kt
from routecheck.vertical.levels import level_ft
from routecheck.vertical.profile import (
    LIMITED_BELOW_FT,
    Profile,
    Slice,
    plan_profile,
    plausible_altitude_ft,
    slice_level_legs,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import AircraftSheet, Leg, PathPoint, Route
    from routecheck.vertical.profile import Plan

_MOST_LOW_KT = 250.0
"""Climb and descent are flown no faster than this, indicated, below 10,000 ft: 14 CFR 91.117. Taken everywhere."""
NO_WIND = "no wind given: ground speed is true airspeed"


class WindGiven(Enum):
    """On which legs of a route a wind is given."""

    EVERYWHERE = auto()
    IN_PART = auto()
    NOWHERE = auto()


@dataclass(frozen=True, slots=True)
class FlownLeg:
    """A leg as it is to be flown. `distance_nm` None = a gap, `least_nm` then what it measures at least, if known.

    True courses at both ends in degrees, None where there is none; `speed` and `level` as filed, "" = not known.
    """

    _: KW_ONLY
    distance_nm: float | None
    course_deg: float | None
    end_course_deg: float | None
    speed: str = ""
    level: str = ""
    least_nm: float | None = None


@dataclass(frozen=True, slots=True)
class Winds:
    """The winds of a route: one for all levels, by level (feet, ascending), or by leg, which goes first."""

    by_level: tuple[tuple[float, Wind], ...] = ()
    by_leg: tuple[Wind | None, ...] = ()
    unused: tuple[str, ...] = ()
    """What of the winds as stated belongs to no leg, in words."""

    @classmethod
    def from_stated(cls, winds: Sequence[Wind], ends: Sequence[str] = ()) -> Winds:
        """Sort winds as stated: for all levels, one a level, or one a leg. One without a readable level is left out.

        `ends` names the point at the end of each leg.
        """
        levels = [(level_ft(w.level) if w.level else 0.0, w) for w in winds if not w.to]
        of_legs = {w.to: w for w in winds if w.to}
        by_leg = tuple(of_legs.get(end.upper()) for end in ends) if of_legs else ()
        astray = [f"the wind to {to} is not used: no leg ends there" for to, w in of_legs.items() if w not in by_leg]
        by_level = sorted(((ft, w) for ft, w in levels if ft is not None), key=lambda pair: pair[0])
        return cls(tuple(by_level), by_leg, tuple(astray))

    def given_on(self, legs: int) -> WindGiven:
        """On how many of so many legs there is a wind."""
        if self.by_level or (legs <= len(self.by_leg) and None not in self.by_leg[:legs] and legs > 0):
            return WindGiven.EVERYWHERE
        return WindGiven.IN_PART if any(self.by_leg) else WindGiven.NOWHERE

    def notes(self, legs: int) -> tuple[str, ...]:
        """What has to be said of the winds on so many legs."""
        given = self.given_on(legs)
        if given is WindGiven.EVERYWHERE:
            return self.unused
        if given is WindGiven.NOWHERE:
            return (*self.unused, NO_WIND)
        there = sum(wind is not None for wind in self.by_leg)
        return (*self.unused, f"wind given on {there} of {legs} legs: elsewhere ground speed is true airspeed")

    def wind_at(self, leg: int, altitude_ft: float | None) -> Wind | None:
        """The wind on a leg at an altitude: between two levels in proportion, beyond them that of the nearest."""
        if leg < len(self.by_leg) and self.by_leg[leg] is not None:
            return self.by_leg[leg]
        if not self.by_level:
            return None
        if altitude_ft is None or len(self.by_level) == 1:
            return self.by_level[-1][1]
        upper = bisect_left(self.by_level, altitude_ft, key=lambda pair: pair[0])
        if upper in (0, len(self.by_level)):
            return self.by_level[min(upper, len(self.by_level) - 1)][1]
        (low_ft, low), (high_ft, high) = self.by_level[upper - 1 : upper + 1]
        return _interpolate_wind(low, high, (altitude_ft - low_ft) / (high_ft - low_ft))


def _interpolate_wind(one: Wind, other: Wind, share: float) -> Wind:
    """A wind part of the way from one to the other, by components."""
    parts = [(w.speed_kt * math.sin(a), w.speed_kt * math.cos(a)) for w in (one, other) for a in [_from_radians(w)]]
    east, north = (a + (b - a) * share for a, b in zip(*parts, strict=True))
    return Wind(math.degrees(math.atan2(east, north)) % 360.0, math.hypot(east, north))


def _from_radians(wind: Wind) -> float:
    return math.radians(wind.from_deg_true)


@dataclass(frozen=True, slots=True)
class LegTime:
    """One leg flown: time, mean airspeed (true) and ground speed (None = no length), fuel (None = not said).

    `wind` is that used in the middle of the leg; None = none is given there.
    """

    minutes: float
    tas_kt: float | None
    ground_speed_kt: float | None
    fuel_kg: float | None
    wind: Wind | None = None


@dataclass(frozen=True, slots=True)
class Times:
    """Time and fuel of a route. `legs[i]` None = not known; sums are over the others and `gaps` counts these.

    `begins` and `ends` say between what the total runs; `notes` what it rests on, in words. All fuel is "about".
    """

    legs: tuple[LegTime | None, ...]
    _: KW_ONLY
    minutes: float | None
    fuel_kg: float | None
    gaps: int
    begins: str
    ends: str
    wind: WindGiven
    notes: tuple[str, ...]
    profile: Profile | None = None

    @property
    def may_be_compared(self) -> bool:
        """Whether the total may be held against a stated one: a wind is given and every leg has its time."""
        return self.wind is WindGiven.EVERYWHERE and self.gaps == 0 and self.minutes is not None


def route_times(route: Route) -> Times:
    """Times of a whole route with its Aircraft sheet, and the winds and temperature stated with it."""
    filed = filed_by_leg(route)
    legs = [_flown_leg(leg, *said) for leg, said in zip(route.legs, filed, strict=True)]
    route_input, points = route.route_input, route.points
    winds = Winds.from_stated(route_input.wind, [point.text for point in points[1:]])
    plan = plan_route(route)
    if plan.profile and any(route.windows):
        within = f"{plan.rests_on}, within the altitude windows"
        plan = replace(plan, profile=fly_windows(route, plan.profile), rests_on=within)
    return time_plan(legs, plan, route_input.sheet, winds, route_input.isa_deviation_c or 0.0, (points[0], points[-1]))


def _flown_leg(leg: Leg, speed: str, level: str) -> FlownLeg:
    return FlownLeg(
        distance_nm=leg.distance_nm,
        course_deg=leg.course_true_deg,
        end_course_deg=leg.end_course_true_deg,
        speed=speed,
        level=level,
        least_nm=leg.least_nm,
    )


def compute_times(
    legs: Sequence[FlownLeg],
    sheet: AircraftSheet | None,
    winds: Winds,
    deviation_k: float,
    start: PathPoint,
    end: PathPoint,
) -> Times:
    """Time and fuel, leg by leg. Temperature `deviation_k` off the standard; `start` and `end` give the elevations.

    With a sheet's usual gradients the climb begins at the start's elevation and the descent ends at the end's; without,
    every leg is flown at its filed level and `notes` says so.
    """
    plan = plan_profile(_lengths_nm(legs), [level_ft(leg.level) for leg in legs], sheet, start, end)
    return time_plan(legs, plan, sheet, winds, deviation_k, (start, end))


def _lengths_nm(legs: Sequence[FlownLeg]) -> list[float]:
    return [leg.least_nm or 0.0 if leg.distance_nm is None else leg.distance_nm for leg in legs]


def time_plan(
    legs: Sequence[FlownLeg],
    plan: Plan,
    sheet: AircraftSheet | None,
    winds: Winds,
    deviation_k: float,
    ends: tuple[PathPoint, PathPoint],
) -> Times:
    """Time and fuel along a profile that is planned already, else at the filed levels."""
    start, end = ends
    lengths, profile = _lengths_nm(legs), plan.profile
    levels = [plausible_altitude_ft(level_ft(leg.level)) for leg in legs]
    timer = _LegTimer(sheet, winds, deviation_k)
    slices = profile.slice_legs(lengths) if profile else slice_level_legs(lengths, levels)
    flown = tuple(
        None if leg.distance_nm is None else timer.leg(number, leg, parts)
        for number, (leg, parts) in enumerate(zip(legs, slices, strict=True))
    )
    known = [leg for leg in flown if leg is not None]
    fuels = [leg.fuel_kg for leg in known]
    fuel = sum(f for f in fuels if f is not None) if known and None not in fuels else None
    return Times(
        flown,
        minutes=sum(leg.minutes for leg in known) if known else None,
        fuel_kg=fuel,
        gaps=len(flown) - len(known),
        begins=f"take-off at {start.text}" if profile else f"overhead {start.text} at level",
        ends=f"landing at {end.text}" if profile else f"overhead {end.text} at level",
        wind=winds.given_on(len(legs)),
        notes=(*plan.notes, *_air_notes(deviation_k), *winds.notes(len(legs)), *timer.notes),
        profile=profile,
    )


def _air_notes(deviation_k: float) -> tuple[str, ...]:
    warmth = "colder" if deviation_k < 0 else "warmer"
    return (f"air {abs(deviation_k):g} °C {warmth} than standard",) if deviation_k else ()


class _LegTimer:
    """Computes time and fuel of a leg from speeds, winds and fuel flows. `notes` gathers what has to be said of it."""

    def __init__(self, sheet: AircraftSheet | None, winds: Winds, deviation_k: float) -> None:
        self._sheet, self._winds, self._deviation_k = sheet, winds, deviation_k
        self._notes: dict[str, None] = {}

    @property
    def notes(self) -> tuple[str, ...]:
        return tuple(self._notes)

    def leg(self, number: int, leg: FlownLeg, parts: Sequence[Slice]) -> LegTime | None:
        """One leg, slice by slice; None where a speed is not known, or flown by none, or no way is made."""
        if is_flown_by_none(leg.speed, leg.level):
            self._notes[f"no civil aircraft flies {leg.speed} at its level: no time is computed from it"] = None
            return None
        hours = airspeed_hours = fuel = 0.0
        for part in parts:
            tas = self._tas(leg, part)
            ground = None if tas is None else self._ground_speed(number, leg, part, tas)
            if tas is None or ground is None:
                return None
            took = part.distance_nm / ground
            flow = self._flow(part.direction)
            hours, airspeed_hours = hours + took, airspeed_hours + tas * took
            fuel = math.nan if flow is None else fuel + flow * took
        if hours == 0.0:
            return LegTime(0.0, None, None, 0.0)
        length = sum(part.distance_nm for part in parts)
        wind = self._winds.wind_at(number, parts[len(parts) // 2].altitude_ft)
        fuel_kg = None if math.isnan(fuel) else fuel
        return LegTime(hours * 60.0, airspeed_hours / hours, length / hours, fuel_kg, wind)

    def _tas(self, leg: FlownLeg, part: Slice) -> float | None:
        cruise = self._cruise_tas(leg, part.altitude_ft)
        if part.direction == 0 or part.altitude_ft is None or self._sheet is None:
            return cruise
        sheet = self._sheet
        cas, mach = (
            (sheet.climb_cas_kt, sheet.climb_mach) if part.direction > 0 else (sheet.descent_cas_kt, sheet.descent_mach)
        )
        if cas is not None and part.altitude_ft < LIMITED_BELOW_FT:
            cas = min(cas, _MOST_LOW_KT)
        return _slowest_known(cruise, self._of_cas(cas, part.altitude_ft), self._of_mach(mach, part.altitude_ft))

    def _cruise_tas(self, leg: FlownLeg, altitude_ft: float | None) -> float | None:
        filed = tas_kt(leg.speed, leg.level, self._deviation_k)
        if filed is not None:
            return filed or None
        if self._sheet is None:
            self._notes["no speed is known"] = None
            return None
        self._notes[f"no speed is known: that of the sheet “{self._sheet.name}” is taken"] = None
        return _slowest_known(self._sheet.cruise_tas_kt, self._of_mach(self._sheet.cruise_mach, altitude_ft))

    def _of_cas(self, cas_kt: float | None, altitude_ft: float) -> float | None:
        return None if cas_kt is None else air.cas_to_tas_kt(cas_kt, altitude_ft, self._deviation_k)

    def _of_mach(self, mach: float | None, altitude_ft: float | None) -> float | None:
        if mach is None or altitude_ft is None:
            return None
        return air.mach_to_tas_kt(mach, altitude_ft, self._deviation_k)

    def _ground_speed(self, number: int, leg: FlownLeg, part: Slice, tas: float) -> float | None:
        wind = self._winds.wind_at(number, part.altitude_ft)
        if wind is None or leg.course_deg is None or leg.end_course_deg is None:
            return tas
        middle = (part.begins + part.ends) / 2.0
        course = leg.course_deg + wrap180(leg.end_course_deg - leg.course_deg) * middle
        triangle = air.wind_triangle(course, tas, wind)
        if triangle is None:
            self._notes["the wind given lets no way be made on some leg"] = None
            return None
        return triangle.ground_speed_kt

    def _flow(self, way: int) -> float | None:
        if self._sheet is None:
            return None
        return (self._sheet.cruise_fuel_kg_h, self._sheet.climb_fuel_kg_h, self._sheet.descent_fuel_kg_h)[way]


def _slowest_known(*speeds: float | None) -> float | None:
    return min((speed for speed in speeds if speed is not None), default=None)
