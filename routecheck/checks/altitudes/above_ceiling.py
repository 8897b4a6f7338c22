"""Check above-ceiling."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import (
    FiledStretch,
    allowed_altitudes,
    filed_stretches,
    missing_sheet,
    spans_of_stretch,
    weight_by_sheet,
)
from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.route_queries import spans_of_point
from routecheck.formatting import altitude, altitudes_allowed, level, short
from routecheck.model import AltitudeWindow, Fact, Finding, NotChecked, Weight
from routecheck.vertical.transition import levels_from_ft

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


def _ceiling_ft(route: Route) -> float:
    """The ceiling to judge by; inf where none is given."""
    sheet = route.route_input.sheet
    return math.inf if sheet is None or sheet.ceiling_ft is None else sheet.ceiling_ft


def _lacking_ceiling(route: Route) -> str:
    if _ceiling_ft(route) < math.inf:
        return ""
    return missing_sheet(route) or "the Aircraft sheet gives no ceiling"


@check(
    "above-ceiling",
    Weight.WRONG,
    family=Family.ALTITUDES,
    sentence="A filed level, or the lowest altitude allowed at a point, is above the ceiling of the Aircraft sheet.",
    explanation=(
        "Often digits are swapped or one is too many, or the sheet is that of another aircraft. Wrong beside the "
        "user's own sheet, Doubtful with a typical one."
    ),
    false_alarms="with a typical sheet, an aircraft that goes higher than others of its class.",
    requires=(_lacking_ceiling,),
    flagged=[
        case("«N0160F250» LENDU DCT PIKAR", aircraft_sheet="Piston single"),
        case("N0115A090 LENDU/«N0115A150» DCT PIKAR/N0115A090", aircraft_sheet="Piston single"),
        case("LENDU DCT PIKAR", level="F430", aircraft_sheet="medium jet", whole=True),
        case("LENDU DCT «PIKAR»", windows=(AltitudeWindow("PIKAR", 50_000.0),), aircraft_sheet="Medium jet"),
    ],
    quiet=[
        case("N0115A140 LENDU DCT PIKAR", aircraft_sheet="Piston single"),
        case("N0450F410 LENDU DCT PIKAR", aircraft_sheet="Medium jet"),
        case("N0450F410 LENDU DCT PIKAR"),
        case("LENDU DCT PIKAR", aircraft_sheet="Medium jet"),
        case("LENDU DCT PIKAR", windows=(AltitudeWindow("PIKAR", 41_000.0),), aircraft_sheet="Medium jet"),
    ],
)
def above_ceiling(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    ceiling_ft = _ceiling_ft(route)
    yield from _windows_above(route, ceiling_ft)
    filed = [stretch for stretch in filed_stretches(route) if stretch.level_ft is not None]
    if not filed and not route.windows:
        yield NotChecked((), preconditions.why_no_level(route))
    for stretch in filed:
        if exceeds(stretch.level_ft or 0.0, ceiling_ft):
            yield _finding(route, stretch, ceiling_ft)


def _finding(route: Route, filed: FiledStretch, ceiling_ft: float) -> Finding:
    name = route.route_input.sheet.name if route.route_input.sheet else ""
    levels_from = 0.0 if filed.level[0] == "F" else levels_from_ft(route, filed.legs[0])
    message = f"{level(filed.level)} is above the ceiling of the sheet “{name}”, {altitude(ceiling_ft, levels_from)}."
    facts = Fact("level", round(filed.level_ft or 0.0), "ft"), Fact("ceiling", round(ceiling_ft), "ft")
    points = (filed.legs[0],)
    return Finding(spans_of_stretch(route, filed), message, weight_by_sheet(route, Weight.WRONG), facts, points=points)


def _windows_above(route: Route, ceiling_ft: float) -> Iterator[Finding]:
    name = route.route_input.sheet.name if route.route_input.sheet else ""
    for index, (low_ft, high_ft) in enumerate(allowed_altitudes(route)):
        if low_ft is None or not exceeds(low_ft, ceiling_ft):
            continue
        point, levels_from = route.points[index], levels_from_ft(route, index)
        allowed = f"{short(point.text)} {altitudes_allowed(low_ft, high_ft, levels_from)}"
        message = f"{allowed} is above the ceiling of the sheet “{name}”, {altitude(ceiling_ft, levels_from)}."
        facts = Fact("lowest", round(low_ft), "ft"), Fact("ceiling", round(ceiling_ft), "ft")
        yield Finding(spans_of_point(point), message, weight_by_sheet(route, Weight.WRONG), facts, points=(index,))
