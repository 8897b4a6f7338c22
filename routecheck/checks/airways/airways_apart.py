"""Check airways-apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, check
from routecheck.checks.route_queries import faulty_connections, path_points, spans_of_connection, spans_of_words
from routecheck.formatting import listing, nm
from routecheck.model import (
    AirwaysApart,
    Fact,
    Finding,
    NotChecked,
    OpenEnd,
    SeveralCrossings,
    UnknownAirway,
    Via,
    Weight,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Connection, Route, RoutePoint


@check(
    "airways-apart",
    Weight.WRONG,
    family=Family.AIRWAYS,
    sentence=(
        "Two airways in a row have no point in common, or several; or an open-ended airway is far from the aerodrome."
    ),
    explanation=(
        "With exactly one crossing, or one stretch flown by both, the junction is clear and nothing is found. With "
        "several separate crossings the one that makes the route shortest is taken, and somebody must look. An airway "
        "that starts or ends the route without a point is clear when it comes within 25 NM of the aerodrome. Two "
        "routes without a point between them are among the common errors that NAT Doc 007 lists."
    ),
    false_alarms="a lower and an upper airway over the same ground that share no coded point.",
    citations=["field-15", "nat-errors"],
    applies_to=preconditions.has_faults_or_radials,
    flagged=["LENDU «UM12» «UN21» MUVEK", "KORAM UN21 «UN46» CIVUK", "«UN21» MUVEK DCT SARNO"],
    quiet=["LENDU UM12 J61 SARNO", "UVAGI UN34 UN21 MUVEK", "UM12 PIKAR DCT SARNO", "LENDU UM12 M12 SEBRO"],
)
def airways_apart(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for index, connection, fault, _, end in faulty_connections(route):
        match fault:
            case AirwaysApart() if end.joined_lines and end.place is None:
                yield _no_common_point(route, end, index)
            case SeveralCrossings():
                yield _several_crossings(route, end, index + 1)
            case OpenEnd():
                yield _open_end(route, connection, fault)


def _no_common_point(route: Route, junction: RoutePoint, index: int) -> Finding | NotChecked:
    before, after = route.resolved.connections[index], route.resolved.connections[index + 1]
    spans = tuple(sorted(spans_of_connection(route, before) + spans_of_connection(route, after)))
    first, second = junction.joined_lines or ("", "")
    if Via.RADIAL in (before.via, after.via):
        return NotChecked(spans, f"where {first} and {second} meet cannot be computed")
    if isinstance(before.fault, UnknownAirway) or isinstance(after.fault, UnknownAirway):
        return NotChecked(spans, f"{first} or {second} is not in the loaded data")
    return Finding(
        spans, f"{first} and {second} have no point in common: a point between them is missing.", Weight.WRONG
    )


def _several_crossings(route: Route, junction: RoutePoint, index: int) -> Finding:
    first, second = junction.joined_lines or ("", "")
    crossings = ["–".join(dict.fromkeys((group[0], group[-1]))) for group in junction.crossings]
    message = (
        f"{first} and {second} meet at {listing(crossings)}. Taken: {junction.text}, which makes the route shortest."
    )
    facts = (Fact("separate crossings", len(crossings)),)
    points = path_points(route, index)
    return Finding(spans_of_words(route, junction.word), message, Weight.DOUBTFUL, facts, points=points)


def _open_end(route: Route, connection: Connection, fault: OpenEnd) -> Finding:
    message = (
        f"Where do you join or leave {connection.name}? "
        f"Its nearest point to {fault.aerodrome} is {fault.nearest}, {nm(fault.nearest_nm)} away."
    )
    facts = (Fact("nearest point", fault.nearest), Fact("distance to it", round(fault.nearest_nm, 1), "NM"))
    return Finding(spans_of_connection(route, connection), message, Weight.DOUBTFUL, facts)
