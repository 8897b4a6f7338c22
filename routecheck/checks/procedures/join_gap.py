"""Check join-gap."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, Measured, check
from routecheck.checks.route_queries import (
    connections_with_ends,
    path_points,
    spans_of_connection,
    spans_of_route_point,
)
from routecheck.model import Finding, NotChecked, NotJoined, Weight, WordKind
from routecheck.procedures.wording import describe_not_joined

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Connection, Route, RoutePoint


@check(
    "join-gap",
    Weight.WRONG,
    family=Family.PROCEDURES,
    sentence="The point of the route next to a SID or STAR is on no branch of it.",
    explanation=(
        "Any point of the procedure joins; so does a position within 1 NM of one. Where the procedure ends (a STAR: "
        "begins) with a coded manual leg, vectors explain the gap and nothing is found. Wrong; Doubtful where DCT is "
        "typed between, which leaves open from which of its points. The stretch stays open: it is never closed "
        "silently."
    ),
    false_alarms="a procedure published for vectors to the route, whose manual leg is not coded.",
    measured=Measured(wrong=0.38),
    citations=["arinc-424"],
    applies_to=preconditions.follows_a_procedure,
    flagged=[
        "«LENDU1» «OPSIN» DCT SARNO SARNO2",
        "LENDU DCT «SARNO» «TIBOK1»",
        "«LENDU1» «DCT» «OPSIN» DCT SARNO SARNO2",
        "«LENDU1» «SEBRO» DCT SARNO SARNO2",
        "LENDU DCT «3006S00645E» «SARNO2»",
    ],
    quiet=[
        "LENDU1 LENDU DCT SARNO SARNO2",
        "LENDU1 PIKAR DCT SARNO SARNO2",
        "LENDU1 RESKO DCT SARNO SARNO2",
        "LENDU1 UM12 UVAGI DCT FELTU SARNO2",
        "LENDU DCT 3004S00645E SARNO2",
        "LENDU DCT PIKAR DCT SARNO",
    ],
)
def join_gap(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    last = len(route.resolved.route_points) - 1
    for index, (connection, before, after) in enumerate(connections_with_ends(route)):
        if connection.procedure is None or connection.procedure_kind == "APPROACH":
            continue
        departing = connection.procedure_kind == "SID"
        route_point, number = (after, index + 1) if departing else (before, index)
        fault = next((one for one in connection.procedure.faults if isinstance(one, NotJoined)), None)
        if fault:
            yield _finding(route, connection, fault, route_point, path_points(route, number))
        elif route_point.place is None or number in (0, last):
            reason = f"nothing says where {connection.name} is {'left' if departing else 'joined'}"
            yield NotChecked(spans_of_connection(route, connection), reason)


def _finding(
    route: Route, connection: Connection, fault: NotJoined, route_point: RoutePoint, points: tuple[int, ...]
) -> Finding:
    why = describe_not_joined(fault)
    spans = tuple(sorted({*spans_of_connection(route, connection), *spans_of_route_point(route, route_point)}))
    if any(route.parsed.words[word].kind is WordKind.DIRECT for word in connection.words):
        start = "from which of its points" if connection.procedure_kind == "SID" else "to which of its points"
        return Finding(spans, f"{why}. DCT stands between: {start}?", Weight.DOUBTFUL, points=points)
    return Finding(spans, f"{why}.", Weight.WRONG, points=points)
