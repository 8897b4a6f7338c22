"""Check level-never-reached."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import (
    FiledStretch,
    allowed_altitudes,
    allowed_in_words,
    departure_and_arrival,
    filed_stretches,
    highest_stretch,
    missing_sheet,
    spans_of_stretch,
)
from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.route_queries import spans_of_point
from routecheck.formatting import altitude, level, nm
from routecheck.model import AltitudeWindow, Fact, Finding, NotChecked, Weight
from routecheck.vertical.room import UNBOUNDED, Bounds, Gradients, highest_altitude_ft
from routecheck.vertical.transition import levels_from_ft
from routecheck.vertical.windows import field_elevation_ft, greatest_gradients, unbroken_lengths_nm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "level-never-reached",
    Weight.DOUBTFUL,
    family=Family.ALTITUDES,
    sentence=(
        "The route is too short to climb to the filed level and come down again, or an arrival window lies above it."
    ),
    explanation=(
        "Judged from field to field at the greatest gradients of the Aircraft sheet: Doubtful. An arrival that must be "
        "begun above the filed level is a Note. Where the route has stretches without a length, whether it is too "
        "short is not checked."
    ),
    false_alarms="a climb begun in a long turn over the field.",
    requires=(preconditions.lacking_level,),
    flagged=[
        case("«N0450F390» DCT", departure="XVAL", destination="XVAL", aircraft_sheet="Medium jet"),
        case(
            "N0450F190 LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT «RIPAS»",
            windows=(AltitudeWindow("RIPAS", 20_000, None),),
        ),
    ],
    quiet=[
        case("N0450F390 LENDU DCT PIKAR UM12 TOVIK DCT SARNO", aircraft_sheet="Medium jet"),
        case(
            "N0450F200 LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS",
            windows=(AltitudeWindow("RIPAS", 20_000, None),),
        ),
        case("N0450F390 LENDU DCT PIKAR"),
        case("LENDU DCT PIKAR", aircraft_sheet="Medium jet"),
    ],
)
def level_never_reached(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    filed, greatest = highest_stretch(route), greatest_gradients(route)
    why = _why_not_judged(route, greatest)
    if filed and greatest and not why:
        yield from _too_short(route, filed, greatest)
    else:
        yield NotChecked((), why)
    yield from _arrival_above(route)


def _why_not_judged(route: Route, greatest: Gradients | None) -> str:
    if greatest is None:
        return missing_sheet(route) or "the Aircraft sheet gives no greatest gradients"
    if route.totals.gaps:
        return "part of the route has no known length"
    unknown = [point.text for point in (route.points[0], route.points[-1]) if field_elevation_ft(point) is None]
    return f"no elevation is known for {unknown[0] or 'an end of the route'}" if unknown else ""


def _too_short(route: Route, filed: FiledStretch, greatest: Gradients) -> Iterator[Finding]:
    allowed: list[Bounds] = [UNBOUNDED] * len(route.points)
    for end in (0, -1):
        feet = field_elevation_ft(route.points[end])
        allowed[end] = (feet, feet)
    top, wanted = highest_altitude_ft(unbroken_lengths_nm(route), allowed, greatest), filed.level_ft or 0.0
    if exceeds(wanted, top):
        reached = _reachable_altitude_in_words(top, wanted, levels_from_ft(route, filed.legs[0]))
        message = (
            f"{level(filed.level)} is never reached: up at {greatest.climb_ft_nm:.0f} and down at "
            f"{greatest.descent_ft_nm:.0f} ft/NM, {reached} is the highest in {nm(route.totals.distance_nm)}."
        )
        facts = Fact("level", round(wanted), "ft"), Fact("highest possible", round(top), "ft")
        yield Finding(spans_of_stretch(route, filed), message, Weight.DOUBTFUL, facts)


def _reachable_altitude_in_words(top_ft: float, wanted_ft: float, levels_from: float) -> str:
    """The highest altitude that can be reached, in feet where it would look like the one that cannot."""
    top, wanted = altitude(top_ft, levels_from), altitude(wanted_ft, levels_from)
    return top if top != wanted else f"{top_ft:,.0f} ft"


def _arrival_above(route: Route) -> Iterator[Finding]:
    ends = departure_and_arrival(route)
    last = filed_stretches(route)[-1]
    if ends is None or last.level_ft is None:
        return
    windows = allowed_altitudes(route)
    for index in range(ends[1], len(route.points) - 1):
        low = windows[index][0]
        if low is not None and index > last.legs[0] and exceeds(low, last.level_ft):
            point = route.points[index]
            message = f"{allowed_in_words(route, index, (low, None))}, but {level(last.level)} is filed."
            facts = Fact("lowest", round(low), "ft"), Fact("level", round(last.level_ft), "ft")
            yield Finding(spans_of_point(point), message, Weight.NOTE, facts, points=(index,))
            return
