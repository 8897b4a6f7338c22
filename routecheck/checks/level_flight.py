"""Where a route is flown level at its filed level: what the checks of minima share. No judging lives here."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import replace
from itertools import accumulate, chain, pairwise
from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import filed_stretches
from routecheck.checks.per_route_cache import cached_per_route
from routecheck.frozen_dataclass import dataclass
from routecheck.model import AircraftSheet
from routecheck.performance.planned_profile import flown_lines
from routecheck.vertical.profile import plan_profile

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.checks.altitude_queries import FiledStretch
    from routecheck.model import Route
    from routecheck.vertical.profile import Profile

_USUAL_FT_NM = 1000.0 / 3.0
_USUAL = AircraftSheet("", typical=True, usual_climb_ft_nm=_USUAL_FT_NM, usual_descent_ft_nm=_USUAL_FT_NM)
"""Where no sheet says better: 3 NM for every 1,000 ft, FAA-H-8083-16, rule of thumb."""
_SAME_FT, _SAME_NM, _SAME_SHARE = 1.0, 0.1, 1e-9


@dataclass(frozen=True, slots=True)
class LevelPart:
    """A part of a leg that is flown level at its filed level. `begins` and `ends` are shares of the leg's length."""

    leg: int
    begins: float
    ends: float
    filed: FiledStretch
    feet: float


@cached_per_route
def level_parts(route: Route) -> tuple[LevelPart, ...]:
    """The level parts in route order: the legs without the climb, the changes of level and the descent.

    Climb and descent go by the usual gradients of the Aircraft sheet, else by 3 NM for every 1,000 ft, and keep the
    altitude windows. A gap counts with its least length, so that no part begins too early.
    """
    parts: list[LevelPart] = []
    for part in _level_parts(route):
        if parts and parts[-1].leg == part.leg and part.begins - parts[-1].ends < _SAME_SHARE:
            parts[-1] = replace(parts[-1], ends=part.ends)
        else:
            parts.append(part)
    return tuple(parts)


def _level_parts(route: Route) -> Iterator[LevelPart]:
    filed = [stretch for stretch in filed_stretches(route) for _ in stretch.legs]
    levels = [stretch.level_ft for stretch in filed]
    lengths = [leg.least_nm or 0.0 for leg in route.legs]
    sheet = route.route_input.sheet
    if sheet is None or sheet.usual_climb_ft_nm is None or sheet.usual_descent_ft_nm is None:
        sheet = _USUAL
    profile = plan_profile(lengths, levels, sheet, route.points[0], route.points[-1]).profile
    ends = list(accumulate(lengths, initial=0.0))
    if profile is None:
        return
    for (a, altitude), (b, then) in chain.from_iterable(map(pairwise, _lines(route, profile, sheet))):
        if abs(altitude - then) < _SAME_FT and b > a:  # a profile breaks at the end of every leg: the piece lies on one
            leg = bisect_right(ends, (a + b) / 2.0) - 1
            feet = levels[leg]
            if feet is not None and abs(altitude - feet) < _SAME_FT:
                yield LevelPart(leg, (a - ends[leg]) / lengths[leg], (b - ends[leg]) / lengths[leg], filed[leg], feet)


def _lines(route: Route, profile: Profile, usual: AircraftSheet) -> list[tuple[tuple[float, float], ...]]:
    """The planned profile within the altitude windows; as if there were none where they leave no room somewhere."""
    lines = [line for _, line in flown_lines(route, profile, usual)] if any(route.windows) else []
    planned_nm = sum(line[-1][0] - line[0][0] for line in lines)
    is_whole = profile.breaks[-1][0] - planned_nm < _SAME_NM
    return lines if is_whole else [profile.breaks]
