"""Check unknown-airway."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.cycle import judge_by_cycle
from routecheck.checks.route_queries import connections_with_fault, spans_of_connection
from routecheck.formatting import listing
from routecheck.model import AirwayNotCovered, Finding, NotChecked, UnknownAirway, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, RoutePoint


@check(
    "unknown-airway",
    Weight.WRONG,
    family=Family.AIRWAYS,
    sentence="The loaded data has no airway of that designator.",
    explanation=(
        "A Note where the data is not current on the day of the route: the airway may be new or withdrawn. Not checked "
        "where the data does not cover the whole stretch: points of an area of which it has many segments lie all "
        "round, within 150 NM. The stretch stays open and has no length."
    ),
    false_alarms="airways of a neighbouring country, closed or opened since.",
    citations=["designators", "arinc-424"],
    applies_to=preconditions.has_faults_or_radials,
    flagged=["LENDU «UM13» TOVIK"],
    quiet=["LENDU UM12 TOVIK", case("52N020W UL9 52N030W", departure="EGLL", destination="EIDW")],
)
def unknown_airway(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for _, connection, _, _, _ in connections_with_fault(route, AirwayNotCovered):
        spans = spans_of_connection(route, connection)
        yield NotChecked(spans, f"{connection.name} cannot be followed: the loaded data does not cover this stretch")
    for _, connection, _, start, end in connections_with_fault(route, UnknownAirway):
        spans = spans_of_connection(route, connection)
        known = _names_in_data(start, end)
        if not known:
            yield NotChecked(spans, f"{connection.name} cannot be looked up: neither of its ends is in the loaded data")
            continue
        though = f"though {listing(known)} {'are' if known[1:] else 'is'}"
        message = f"Airway {connection.name} is not in the loaded data, {though}."
        yield judge_by_cycle(route, Finding(spans, message, Weight.WRONG))


def _names_in_data(*route_points: RoutePoint) -> list[str]:
    """The names of those route points that the loaded data has."""
    placed = [(point.text, point.place) for point in route_points if point.place]
    return list(dict.fromkeys(text for text, place in placed if place.source not in ("", "airportsdata")))
