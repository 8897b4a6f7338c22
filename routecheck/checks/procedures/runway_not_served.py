"""Check runway-not-served."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.route_queries import spans_of_connection
from routecheck.checks.runways import ARRIVAL, DEPARTURE, spans_of_typed_runway
from routecheck.model import Finding, NotChecked, RunwayNotServed, Weight
from routecheck.procedures.wording import list_runways

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "runway-not-served",
    Weight.WRONG,
    family=Family.PROCEDURES,
    sentence="A SID or STAR has branches for some runways, and the stated one is not among them.",
    explanation=(
        "A branch for all parallels serves each of them, and a procedure without runway branches serves all runways."
    ),
    false_alarms="a runway added after the data was made.",
    citations=["arinc-424"],
    applies_to=preconditions.follows_a_procedure,
    flagged=[
        case("«ULDET1» ULDET DCT SARNO", departure_runway="09"),
        "XVAL/«27» «FINAR2» FINAR DCT SARNO",
        case("LENDU DCT SARNO «SARNO2»", destination_runway="04"),
    ],
    quiet=[
        case("ULDET1 ULDET DCT SARNO", departure_runway="27"),
        case("ULDET1 ULDET DCT SARNO"),
        case("RULPO1 RULPO DCT SARNO", departure="XVMA", departure_runway="12R"),
        case("RENDA2 RENDA DCT CIVUK", departure="XVOR", destination="XVSU", departure_runway="04"),
    ],
)
def runway_not_served(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for connection in route.resolved.connections:
        faults = connection.procedure.faults if connection.procedure else ()
        fault = next((one for one in faults if isinstance(one, RunwayNotServed)), None)
        if fault is None:
            continue
        side = DEPARTURE if connection.procedure_kind == "SID" else ARRIVAL
        spans = tuple(sorted({*spans_of_connection(route, connection), *spans_of_typed_runway(route, side)}))
        message = (
            f"{fault.procedure} is not for runway {fault.runway}: its branches are for {list_runways(fault.served)}."
        )
        yield Finding(spans, message, Weight.WRONG, points=(0 if side == DEPARTURE else len(route.points) - 1,))
