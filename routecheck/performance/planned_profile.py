"""The planned profile of a route as its altitude windows let it be flown. No times, no drawing here."""

from __future__ import annotations

from bisect import bisect_right
from itertools import accumulate
from typing import TYPE_CHECKING

from routecheck.performance.speeds import filed_by_leg
from routecheck.vertical.levels import level_ft
from routecheck.vertical.phases import split_phases
from routecheck.vertical.profile import Plan, Profile, plan_profile
from routecheck.vertical.room import Gradients
from routecheck.vertical.windowed_profile import Limits, hold_in_room
from routecheck.vertical.windows import altitude_bounds, ceiling_ft, greatest_gradients, unbroken_lengths_nm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import AircraftSheet, Route
    from routecheck.vertical.room import Bounds
    from routecheck.vertical.windowed_profile import Piece

_SAME_NM = 1e-9


def reckoned_lengths_nm(route: Route) -> list[float]:
    """The lengths on which the profile is reckoned: a gap counts its least length, one of no known length nothing."""
    return [(leg.least_nm if leg.distance_nm is None else leg.distance_nm) or 0.0 for leg in route.legs]


def plan_route(route: Route) -> Plan:
    """The profile without regard to windows, and what it rests on."""
    levels_ft = [level_ft(level) for _, level in filed_by_leg(route)]
    lengths = reckoned_lengths_nm(route)
    return plan_profile(lengths, levels_ft, route.route_input.sheet, route.points[0], route.points[-1])


def flown_lines(route: Route, profile: Profile, usual: AircraftSheet | None = None) -> list[tuple[int, Piece]]:
    """The profile as the windows let it be flown: lines in NM as reckoned, each with the leg on which it begins.

    `usual` stands in for a sheet that is not chosen, or has no usual gradients. There is no line where the windows
    leave no room. Where nothing carries over, at a gap and behind a holding, the line leads straight to what follows.
    """
    along = list(accumulate(reckoned_lengths_nm(route), initial=0.0))
    lengths, windows = unbroken_lengths_nm(route), altitude_bounds(route)
    sheet = usual or route.route_input.sheet
    if sheet is None:
        return []
    pieces = hold_in_room(profile, along, lengths, _limits(route, along, windows, sheet))
    found = [(bisect_right(along, piece[0][0] + _SAME_NM) - 1, piece) for piece in pieces if len(piece) > 1]
    begins_at, ends_at = ({_round_nm(nm): feet for nm, feet in spots} for spots in _spots_at_ends(pieces))
    for leg, length in enumerate(lengths):
        if length is None and along[leg + 1] > along[leg]:
            start, end = (_hold_at(profile.altitude_at(along[i]), windows[i]) for i in (leg, leg + 1))
            start = ends_at.get(_round_nm(along[leg]), start)
            end = begins_at.get(_round_nm(along[leg + 1]), end)
            found.append((leg, ((along[leg], start), (along[leg + 1], end))))
    return sorted(found)


def _spots_at_ends(pieces: Sequence[Piece]) -> tuple[Piece, Piece]:
    """Where the pieces begin, and where they end."""
    return tuple(piece[0] for piece in pieces), tuple(piece[-1] for piece in pieces)


def _round_nm(nm: float) -> float:
    return round(nm, 6)


def fly_windows(route: Route, profile: Profile) -> Profile:
    """The profile as one line: as the windows let it be flown, straight on where they leave no room."""
    breaks = [spot for _, line in flown_lines(route, profile) for spot in line]
    return Profile(tuple(dict.fromkeys(breaks))) if breaks else profile


def planned_altitudes(route: Route) -> list[float | None]:
    """The planned altitude at every point as the windows let it be flown, feet; None where there is no plan."""
    profile = plan_route(route).profile
    lines = [Profile(line) for _, line in flown_lines(route, profile)] if profile else []
    return [_altitude_there(lines, nm) for nm in accumulate(reckoned_lengths_nm(route), initial=0.0)]


def _altitude_there(lines: Sequence[Profile], nm: float) -> float | None:
    there = (line for line in lines if line.breaks[0][0] - _SAME_NM <= nm <= line.breaks[-1][0] + _SAME_NM)
    line = next(there, None)
    return line.altitude_at(nm) if line else None


def _limits(route: Route, along: Sequence[float], windows: Sequence[Bounds], sheet: AircraftSheet) -> Limits:
    levels = [feet for _, level in filed_by_leg(route) if (feet := level_ft(level)) is not None]
    departed, arriving = split_phases(route, max(levels, default=None)) or (0, len(along) - 1)
    return Limits(
        windows,
        usual=Gradients(sheet.usual_climb_ft_nm or 0.0, sheet.usual_descent_ft_nm or 0.0),
        greatest=greatest_gradients(route),
        ceiling_ft=ceiling_ft(route),
        departure_ends=along[departed],
        arrival_begins=along[arriving],
    )


def _hold_at(feet: float, window: Bounds) -> float:
    low, high = window
    feet = feet if high is None else min(feet, high)
    return feet if low is None else max(feet, low)
