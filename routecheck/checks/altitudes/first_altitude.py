"""Check first-altitude."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import allowed_altitudes, filed_stretches
from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.preconditions import why_unread
from routecheck.formatting import altitude, level
from routecheck.model import AltitudeWindow, Fact, Finding, NotChecked, Weight
from routecheck.vertical.levels import level_ft
from routecheck.vertical.transition import levels_from_ft

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


def _lacking_altitude(route: Route) -> str:
    if level_ft(route.route_input.first_altitude) is not None:
        return ""
    return why_unread(route, "first_altitude") or "no altitude that is cleared first is stated"


@check(
    "first-altitude",
    Weight.DOUBTFUL,
    family=Family.ALTITUDES,
    sentence="The altitude cleared first does not fit the field, the windows of the departure or the planned level.",
    explanation=(
        "Doubtful: no higher than the departure aerodrome, above the planned level, or below the least altitude that a "
        "window of the departure asks for. Note: below the published minimum of a leg of the departure, for a climb is "
        "often stopped there under radar. Windows and minima that are not known are not checked."
    ),
    false_alarms="a stop in the climb that ends before the point with the window.",
    citations=["departure-altitudes"],
    requires=(_lacking_altitude,),
    flagged=[
        case("LENDU", first_altitude="F370", level="F350", whole=True),
        case("«LENDU»", first_altitude="A050", level="F350", windows=(AltitudeWindow("LENDU", 9_000.0, None),)),
    ],
    quiet=[
        case("LENDU", first_altitude="A100", level="F350", windows=(AltitudeWindow("LENDU", 9_000.0, None),)),
        case("LENDU", first_altitude="F350", level="F350"),
        case("LENDU", first_altitude="A080"),
        "LENDU",
    ],
)
def first_altitude(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    stated = route.route_input.first_altitude
    feet = level_ft(stated) or 0.0
    yield from _check_field(route, stated, feet)
    yield from _check_level(route, stated, feet)
    yield from _check_windows(route, stated, feet)
    yield from _check_minima(route, stated, feet)


def _check_field(route: Route, stated: str, feet: float) -> Iterator[Finding | NotChecked]:
    place = route.points[0].place
    if place is None or place.elevation_ft is None:
        yield NotChecked((), f"no elevation of {route.points[0].text or 'the departure'} is known")
    elif not exceeds(feet, place.elevation_ft):
        message = f"{level(stated)} is cleared first; {route.points[0].text} lies at {place.elevation_ft:,.0f} ft."
        yield Finding((), message, Weight.DOUBTFUL, (Fact("cleared first", round(feet), "ft"),))


def _check_level(route: Route, stated: str, feet: float) -> Iterator[Finding | NotChecked]:
    planned = filed_stretches(route)[0] if filed_stretches(route) else None
    if planned is None or planned.level_ft is None:
        yield NotChecked((), "no planned level is known that it could be compared with")
    elif exceeds(feet, planned.level_ft):
        message = f"{level(stated)} is cleared first; the planned level is {level(planned.level)}."
        facts = Fact("cleared first", round(feet), "ft"), Fact("planned", round(planned.level_ft), "ft")
        yield Finding((), message, Weight.DOUBTFUL, facts)


def _departure_end(route: Route) -> int:
    """The last point of the departure: of its SID, else the first point behind the aerodrome."""
    of_sid = [
        index + 1
        for index, leg in enumerate(route.legs)
        if route.resolved.connections[leg.connection].procedure_kind == "SID"
    ]
    return max(of_sid, default=min(1, len(route.points) - 1))


def _check_windows(route: Route, stated: str, feet: float) -> Iterator[Finding]:
    """The first window of the departure that asks for more."""
    for index, (low, _) in enumerate(allowed_altitudes(route)[: _departure_end(route) + 1]):
        point = route.points[index]
        if index and low is not None and exceeds(low, feet):
            least = altitude(low, levels_from_ft(route, index))
            message = f"{level(stated)} is cleared first; {point.text} asks for at least {least}."
            facts = Fact("cleared first", round(feet), "ft"), Fact("window", round(low), "ft")
            spans = (point.span,) if point.span else ()
            yield Finding(spans, message, Weight.DOUBTFUL, facts, points=(index,))
            return


def _check_minima(route: Route, stated: str, feet: float) -> Iterator[Finding | NotChecked]:
    legs = route.minima[: _departure_end(route)]
    known = [(index, one.minimum_ft or one.mora_ft) for index, one in enumerate(legs)]
    low = [(index, least) for index, least in known if least is not None and exceeds(least, feet)]
    if low:
        index, least = max(low, key=lambda pair: pair[1])
        ends = f"{route.points[index].text}–{route.points[index + 1].text}"
        message = f"{level(stated)} is cleared first; the published minimum along {ends} is {least:,.0f} ft."
        facts = Fact("cleared first", round(feet), "ft"), Fact("minimum", round(least), "ft")
        yield Finding((), message, Weight.NOTE, facts)
    elif not known or any(least is None for _, least in known):
        yield NotChecked((), "no published minimum is known for all of the departure")
