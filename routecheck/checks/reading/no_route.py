"""Check no-route."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.model import Finding, NoRouteGiven, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


def _names_no_route(route: Route) -> bool:
    return any(isinstance(connection.fault, NoRouteGiven) for connection in route.resolved.connections)


@check(
    "no-route",
    Weight.WRONG,
    family=Family.READING,
    sentence="The text names neither a point nor DCT between departure and destination.",
    explanation="A cell left empty, a sign put in for nothing, or speed and level alone must not pass for a direct "
    "flight. A direct flight is written DCT. Where no aerodrome is given either, nothing is entered yet.",
    false_alarms="none known.",
    citations=["field-15"],
    applies_to=_names_no_route,
    flagged=[case("", whole=True), case("N0430F350", whole=True), case("XVAL", whole=True), case("VFR", whole=True)],
    quiet=["DCT", "N0430F350 DCT", case("", departure="", destination="")],
)
def no_route(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    given = route.route_input
    if given.unread or not _names_no_route(route):
        return
    if not (given.departure.strip() or given.destination.strip() or given.route.strip()):
        yield NotChecked((), "no route is entered")
        return
    yield Finding((), "No route is given: neither a point nor DCT stands between the aerodromes.", Weight.WRONG)
