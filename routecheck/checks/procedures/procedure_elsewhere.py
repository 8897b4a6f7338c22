"""Check procedure-elsewhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.route_queries import connections_with_fault, spans_of_connection
from routecheck.formatting import list_first
from routecheck.model import Finding, NotChecked, ProcedureElsewhere, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "procedure-elsewhere",
    Weight.WRONG,
    family=Family.PROCEDURES,
    sentence="A SID or STAR belongs to another airport than the departure or the destination.",
    explanation=(
        "Usually it is the wrong airport, the ends of the route were exchanged, or the procedure is one of the "
        "neighbouring field. Where no procedures of the airport are loaded, it is only said of a procedure that the "
        "route joins at one of its points, 100 NM and more from its airports: elsewhere in the world another may "
        "have that name, and fields beside each other share procedures."
    ),
    false_alarms="procedures shared by several airports of which only some are coded.",
    citations=["arinc-424"],
    applies_to=preconditions.has_faults_or_radials,
    flagged=["«RULPO1» LENDU DCT SARNO", "LENDU DCT SARNO «VELOR1»"],
    quiet=["LENDU1 LENDU DCT SARNO SARNO2", case("RULPO1 RULPO DCT SARNO SARNO2", departure="XVMA")],
)
def procedure_elsewhere(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for _, connection, fault, _, _ in connections_with_fault(route, ProcedureElsewhere):
        spans = spans_of_connection(route, connection)
        if not fault.airports or not (fault.any_loaded or fault.is_far):
            yield NotChecked(spans, f"{connection.name} cannot be looked up: no procedures of that airport are loaded")
            continue
        owners = list_first(fault.owners, 4)
        message = f"{connection.name} belongs to {owners}, not to {' or '.join(fault.airports)}."
        yield Finding(spans, message, Weight.WRONG)
