"""Check level-size."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import (
    FiledStretch,
    level_ten_times,
    spans_of_stretch,
    stretches_with_speed_or_level,
)
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import level as level_in_words
from routecheck.model import Fact, Finding, NotChecked, Weight
from routecheck.performance.speed_bounds import HIGHEST_LEVEL_FT
from routecheck.vertical.levels import level_ft
from routecheck.vertical.windows import field_elevation_ft

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import PathPoint, Route

LOWEST = Limit("lowest_ft", 1_000.0, "ft", OWN_CHOICE, highest=5_000.0, why="the lowest flight level of any table")
HIGHEST = Limit(
    "highest_ft", 60_000.0, "ft", OWN_CHOICE, lowest=40_000.0, why="civil aircraft do not cruise higher, from memory"
)
RARE = Limit(
    "rare_ft",
    HIGHEST_LEVEL_FT,
    "ft",
    OWN_CHOICE,
    lowest=40_000.0,
    why="the highest ceiling of business jets, from memory",
)
_TWO_LEVELS = re.compile(r"([FASM])(\d{3,4})([FASM])(\d{3,4})")


@check(
    "level-size",
    Weight.WRONG,
    family=Family.ALTITUDES,
    sentence="A filed level is below a field or FL010, higher than civil aircraft fly, or has a digit too few.",
    explanation=(
        "Wrong below the higher aerodrome (where levels change, below the one that is near), below FL010 and above "
        "FL600, and where a cruise climb does not go up. Doubtful above FL510 where no sheet says the ceiling, and "
        "where ten times the level is what the filed speed fits. Levels and altitudes are compared as if the pressure "
        "at sea level were 1013 hPa."
    ),
    false_alarms="research flights; an aerodrome that is left or reached below its own elevation, which none is.",
    limits=[LOWEST, HIGHEST, RARE],
    flagged=[
        "«N0450F005» LENDU DCT PIKAR",
        "«N0450F990» LENDU DCT PIKAR",
        "«N0830S9990» LENDU DCT PIKAR",
        "«N0450F035» LENDU DCT PIKAR",
        "N0450F350 LENDU/«N0450F530» DCT PIKAR",
        "N0450F350 LENDU DCT C/PIKAR/«M082F350F290» SARNO",
        "N0450F350 LENDU DCT C/PIKAR/«M082F290A350» SARNO",
        case("LENDU DCT PIKAR", speed="N0120", level="F000", whole=True),
    ],
    quiet=[
        "N0450F410 LENDU/N0120A035 DCT PIKAR/N0480F510",
        "N0120F010 LENDU DCT PIKAR",
        "N0450F350 LENDU DCT C/PIKAR/M082F290F350 SARNO",
        "N0450F350 LENDU DCT C/PIKAR/M082F290PLUS SARNO",
        "N0430VFR LENDU DCT PIKAR",
    ],
)
def level_size(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for filed in stretches_with_speed_or_level(route):
        if filed.level_ft is not None:
            finding = _find_impossible_level(route, filed, filed.level_ft, limit) or _find_unusual_level(
                route, filed, filed.level_ft, limit
            )
            if finding:
                yield finding


def _find_impossible_level(route: Route, filed: FiledStretch, feet: float, limit: Limits) -> Finding | None:
    """The finding where physics, the field or the other level of a cruise climb forbids a level."""
    name = level_in_words(filed.level)
    if against := _no_climb(filed.level):
        return _finding(route, filed, feet, against)
    if exceeds(feet, limit[HIGHEST]):
        return _finding(route, filed, feet, f"{name} is higher than civil aircraft fly.")
    if filed.level[0] in "FS" and exceeds(limit[LOWEST], feet):
        return _finding(route, filed, feet, f"{name} is below the lowest flight level, FL{limit[LOWEST] / 100:03.0f}.")
    for point in _fields_beside(route, filed):
        elevation = field_elevation_ft(point)
        if elevation is not None and exceeds(elevation, feet):
            return _finding(route, filed, feet, f"{name} is below {point.text}, which lies at {elevation:,.0f} ft.")
    return None


def _find_unusual_level(route: Route, filed: FiledStretch, feet: float, limit: Limits) -> Finding | None:
    name = level_in_words(filed.level)
    sheet = route.route_input.sheet
    if exceeds(feet, limit[RARE]) and (sheet is None or sheet.ceiling_ft is None):
        message = f"{name} is higher than all but a few aircraft fly."
        return _finding(route, filed, feet, message, Weight.DOUBTFUL)
    if meant := level_ten_times(route, filed):
        message = f"{filed.speed} is not flown at {name}, but at {level_in_words(meant)}: a digit may be missing."
        return _finding(route, filed, feet, message, Weight.DOUBTFUL)
    return None


def _no_climb(level: str) -> str:
    """Why two levels are no cruise climb; "" where they are one, or there is only one level."""
    two = _TWO_LEVELS.fullmatch(level)
    if not two:
        return ""
    below, above = two[1] + two[2], two[3] + two[4]
    low_ft, high_ft = level_ft(below) or 0.0, level_ft(above) or 0.0
    if two[1] != two[3]:
        return f"A cruise climb is filed from {below} to {above}: both levels have the same letter."
    if low_ft >= high_ft:
        return f"A cruise climb is filed from {below} to {above}: it must go up."
    return ""


def _fields_beside(route: Route, filed: FiledStretch) -> Iterator[PathPoint]:
    """The aerodromes at the ends of a stretch: levels between two changes may lie below either."""
    if filed.legs[0] == 0:
        yield route.points[0]
    if filed.legs[-1] == len(route.legs) - 1:
        yield route.points[-1]


def _finding(route: Route, filed: FiledStretch, feet: float, message: str, weight: Weight = Weight.WRONG) -> Finding:
    facts = (Fact("level", round(feet), "ft"),)
    return Finding(spans_of_stretch(route, filed), message, weight, facts, points=(filed.legs[0],))
