"""The planned profile: climb, level flight and descent along a route at a sheet's usual gradients. No times here."""

from __future__ import annotations

import math
from bisect import bisect_right
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import AircraftSheet, PathPoint

_LOWEST_FT, _HIGHEST_FT = -1_500.0, 60_000.0
"""Between the lowest shore and where the atmosphere of `earth.air` still holds."""
_SLICE_FT, _SLICE_NM = 2_000.0, 100.0
"""Speeds change with altitude and courses along the way: legs are cut so fine."""
LIMITED_BELOW_FT = 10_000.0
"""Below it indicated speeds are limited, 14 CFR 91.117: legs are cut there."""
_Break = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Slice:
    """A part of one leg, from share to share of its length, at its middle altitude (None = not known).

    `direction` is 1 climbing, 0 level, -1 descending.
    """

    begins: float
    ends: float
    distance_nm: float
    altitude_ft: float | None
    direction: int


@dataclass(frozen=True, slots=True)
class Profile:
    """Altitudes in feet along the way: straight lines between `breaks`, each (NM from the start, feet), in order."""

    breaks: tuple[_Break, ...]

    def altitude_at(self, distance_nm: float) -> float:
        """The planned altitude at a distance from the start; beyond the ends that of the end."""
        index = bisect_right(self.breaks, distance_nm, key=lambda b: b[0])
        if index in (0, len(self.breaks)):
            return self.breaks[min(index, len(self.breaks) - 1)][1]
        (d0, h0), (d1, h1) = self.breaks[index - 1 : index + 1]
        return h0 + (h1 - h0) * (distance_nm - d0) / (d1 - d0)

    @property
    def _low_crossings_nm(self) -> Iterator[float]:
        """Where the profile passes the altitude below which speeds are limited."""
        for (d0, h0), (d1, h1) in pairwise(self.breaks):
            if min(h0, h1) < LIMITED_BELOW_FT < max(h0, h1):
                yield d0 + (d1 - d0) * (LIMITED_BELOW_FT - h0) / (h1 - h0)

    def slice_legs(self, lengths_nm: Sequence[float]) -> list[list[Slice]]:
        """Cut every leg into parts in order: fine enough for one altitude, one course and one speed each."""
        ends = list(accumulate(lengths_nm))
        return [list(self._slice_leg(end - length, end)) for length, end in zip(lengths_nm, ends, strict=True)]

    def _slice_leg(self, start: float, end: float) -> Iterator[Slice]:
        crossings = (d for d in self._low_crossings_nm if start < d < end)
        cuts = sorted({start, end, *(d for d, _ in self.breaks if start < d < end), *crossings})
        for a, b in pairwise(cuts):
            change = self.altitude_at(b) - self.altitude_at(a)
            for d0, d1 in _cut_evenly(a, b, abs(change)):
                begins, ends = (d0 - start) / (end - start), (d1 - start) / (end - start)
                yield Slice(begins, ends, d1 - d0, self.altitude_at((d0 + d1) / 2.0), _direction(change))


def _cut_evenly(start: float, end: float, change_ft: float) -> Iterator[tuple[float, float]]:
    count = max(1, math.ceil(change_ft / _SLICE_FT), math.ceil((end - start) / _SLICE_NM))
    return pairwise(start + (end - start) * i / count for i in range(count + 1))


def _direction(change_ft: float) -> int:
    if abs(change_ft) < 1.0:
        return 0
    return 1 if change_ft > 0 else -1


def plausible_altitude_ft(altitude_ft: float | None) -> float | None:
    """The altitude if speeds may be computed for it; None for what no field and no flight has."""
    if altitude_ft is None or not _LOWEST_FT <= altitude_ft <= _HIGHEST_FT:
        return None
    return altitude_ft


def slice_level_legs(lengths_nm: Sequence[float], levels_ft: Sequence[float | None]) -> list[list[Slice]]:
    """Cut every leg at its own level: what is left without a profile."""
    return [
        [Slice(d0 / length, d1 / length, d1 - d0, feet, 0) for d0, d1 in _cut_evenly(0.0, length, 0.0)]
        if length > 0
        else []
        for length, feet in zip(lengths_nm, levels_ft, strict=True)
    ]


@dataclass(frozen=True, slots=True)
class Plan:
    """The planned profile, None where there is no ground for one, and what it rests on in words."""

    profile: Profile | None = None
    rests_on: str = ""
    """The gradients taken; without a profile what is missing for one."""
    lacks_gradients: bool = False
    """Whether there is a sheet and it is its usual gradients that are missing."""
    unknown_elevations: tuple[str, ...] = ()
    """Sentences about the ends of the route that are taken to lie at sea level."""

    @property
    def notes(self) -> tuple[str, ...]:
        """All that has to be said of it."""
        return (self.rests_on, *self.unknown_elevations)


def plan_profile(
    lengths_nm: Sequence[float],
    levels_ft: Sequence[float | None],
    sheet: AircraftSheet | None,
    start: PathPoint,
    end: PathPoint,
) -> Plan:
    """Plan the climb, level flight and descent from field to field.

    A change of level begins at the point where it is filed; the last descent is laid so that it ends at the end. A leg
    without a level that is flown keeps that of the leg before, the first ones that of the first that has one.
    """
    if sheet is None:
        return Plan(rests_on="no Aircraft sheet: climb and descent are not counted")
    climb, descent = sheet.usual_climb_ft_nm, sheet.usual_descent_ft_nm
    if climb is None or descent is None:
        missing = f"the sheet “{sheet.name}” has no usual gradients: climb and descent are not counted"
        return Plan(rests_on=missing, lacks_gradients=True)
    levels = _fill_levels([plausible_altitude_ft(ft) for ft in levels_ft])
    if not levels or not lengths_nm:
        filed = any(ft is not None for ft in levels_ft)
        why = "no civil aircraft flies at the filed level" if filed else "no level to climb to is known"
        return Plan(rests_on=f"{why}: climb and descent are not counted")
    kind = ", typical figures" if sheet.typical else ""
    start_ft, end_ft = _elevation_ft(start), _elevation_ft(end)
    outward = _climb_out(lengths_nm, levels, start_ft or 0.0, climb, descent)
    return Plan(
        Profile(tuple(_descend_to_end(outward, end_ft or 0.0, descent))),
        f"climb {climb:.0f} and descent {descent:.0f} ft/NM by the sheet “{sheet.name}”{kind}",
        unknown_elevations=tuple(
            f"no elevation of {point.text or 'the end'} is known: counted from sea level"
            for point, feet in ((start, start_ft), (end, end_ft))
            if feet is None
        ),
    )


def _fill_levels(levels: Sequence[float | None]) -> list[float]:
    """Fill in the levels that are not known; [] where none is."""
    known = next((ft for ft in levels if ft is not None), None)
    if known is None:
        return []
    found = []
    for ft in levels:
        known = known if ft is None else ft
        found.append(known)
    return found


def _elevation_ft(point: PathPoint) -> float | None:
    return plausible_altitude_ft(point.place.elevation_ft) if point.place else None


def _climb_out(
    lengths: Sequence[float], levels: Sequence[float], start_ft: float, climb: float, descent: float
) -> list[_Break]:
    """Climb from the start: on every leg toward its level, and level once there."""
    distance, altitude = 0.0, start_ft
    breaks = [(distance, altitude)]
    for length, level in zip(lengths, levels, strict=True):
        rate = climb if level > altitude else -descent
        needed = (level - altitude) / rate
        if needed < length:
            breaks.append((distance + needed, level))
        altitude = level if needed < length else altitude + rate * length
        distance += length
        breaks.append((distance, altitude))
    return breaks


def _descend_to_end(breaks: Sequence[_Break], end_ft: float, descent: float) -> Iterator[_Break]:
    """Keep the profile under the last descent, which ends at the end."""
    whole = breaks[-1][0]

    def above(b: _Break) -> float:
        return b[1] - (end_ft + descent * (whole - b[0]))

    yield breaks[0][0], breaks[0][1] - max(above(breaks[0]), 0.0)
    for a, b in pairwise(breaks):
        over_a, over_b = above(a), above(b)
        if over_a * over_b < 0:
            share = over_a / (over_a - over_b)
            yield a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
        if b[0] > a[0]:
            yield b[0], b[1] - max(over_b, 0.0)
