"""Check against-airway."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, check
from routecheck.checks.route_queries import connections_with_ends, spans_of_connection
from routecheck.model import Connection, Finding, NotChecked, Via, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, RoutePoint


@check(
    "against-airway",
    Weight.WRONG,
    family=Family.AIRWAYS,
    sentence="A one-way airway is flown against its direction.",
    explanation="Not checked where the loaded data gives no directions at all: the U.S. file has none.",
    false_alarms="directions that hold only at certain hours, which the records do not say.",
    citations=["arinc-424"],
    applies_to=preconditions.flies_an_airway,
    flagged=["KAMBE «T16» SOR", "DISEM «T16» BOLKI"],
    quiet=["SOR T16 KAMBE", "TOVIK UM12 LENDU", "LENDU UM12 TOVIK"],
)
def against_airway(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    flown = [
        connection for connection in route.resolved.connections if connection.segments and connection.via is Via.AIRWAY
    ]
    if not any(source.has_directions for source in route.resolved.sources):
        if flown:
            spans = tuple([span for connection in flown for span in spans_of_connection(route, connection)])
            yield NotChecked(spans, "the loaded data gives no airway directions")
        return
    for connection, start, end in connections_with_ends(route):
        if connection.segments and connection.via is Via.AIRWAY and _flies_against(connection):
            yield _finding(route, connection, start, end)


def _flies_against(connection: Connection) -> bool:
    flown = "F" if connection.forward else "B"
    return any(segment.one_way not in ("", flown) for segment in connection.segments)


def _finding(route: Route, connection: Connection, start: RoutePoint, end: RoutePoint) -> Finding:
    message = f"{connection.name} is one-way, from {end.text} to {start.text}; the route flies it the other way."
    return Finding(spans_of_connection(route, connection), message, Weight.WRONG)
