"""Check unknown-name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.cycle import judge_by_cycle
from routecheck.checks.route_queries import path_points, spans_of_route_point
from routecheck.formatting import nm
from routecheck.model import Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, RoutePoint


@check(
    "unknown-name",
    Weight.WRONG,
    family=Family.NAMES,
    sentence="No place of that name is in the loaded data, although the data covers the neighbourhood.",
    explanation=(
        "The data covers a neighbourhood where points of areas of which it has many lie in all four quadrants within "
        "150 NM, along the whole way between the points before and after. Else the name is not checked: it may well "
        "exist, and one of that name on the other side of the world is not taken for it. A Note where the data is not "
        "for the day of the route. Nothing is guessed: the point stays without a place and both its legs without "
        "figures."
    ),
    false_alarms="a name newer than the data, a FIR designator, an airport without navigation data.",
    citations=["arinc-424"],
    applies_to=preconditions.has_unplaced_points,
    flagged=["LENDU DCT «PIKUR» DCT TOVIK", case("LENDU DCT PIKAR", departure="XVQZ", whole=True)],
    quiet=["LENDU DCT PIKAR DCT TOVIK", "52N020W 52N030W", case("LIMRI 52N030W", departure="EGLL", destination="EIDW")],
)
def unknown_name(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    last = len(route.resolved.route_points) - 1
    for index, route_point in enumerate(route.resolved.route_points):
        if route_point.place is not None or not route_point.unknown:
            continue
        spans = spans_of_route_point(route, route_point)
        if not route_point.covered or not route.resolved.sources:
            yield NotChecked(spans, f"{route_point.text} cannot be looked up: {_why_not(route_point)}")
            continue
        points = path_points(route, index)
        if index in (0, last):  # of an aerodrome the reason names the world list as well, which has no cycle
            yield Finding(spans, f"{route_point.why}.", Weight.WRONG, points=points)
            continue
        message = f"{route_point.text} is not in the loaded data, which covers its neighbourhood."
        yield judge_by_cycle(route, Finding(spans, message, Weight.WRONG, points=points))


def _why_not(route_point: RoutePoint) -> str:
    if route_point.namesake_nm is None:
        return "the loaded data does not cover that part of the world"
    return f"another {route_point.text} is loaded, {nm(route_point.namesake_nm)} away"
