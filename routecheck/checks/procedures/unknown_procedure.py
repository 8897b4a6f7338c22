"""Check unknown-procedure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.cycle import judge_by_cycle
from routecheck.checks.route_queries import connections_with_fault, spans_of_connection
from routecheck.formatting import listing, short
from routecheck.model import Finding, NotChecked, UnknownProcedure, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_MOST_LISTED = 6
"""So many approaches are told by name."""


@check(
    "unknown-procedure",
    Weight.WRONG,
    family=Family.PROCEDURES,
    sentence="The loaded data has no such SID, STAR or approach at that airport.",
    explanation=(
        "Doubtful where the airport has a procedure of the same name with another number: numbers change with every "
        "revision. A Note where the data is not for the day of the route. Not checked where no procedures of the "
        "airport are loaded."
    ),
    false_alarms="a procedure revised after the data was made.",
    citations=["designators", "arinc-424"],
    applies_to=lambda route: preconditions.has_faults_or_radials(route) or route.resolved.other_approaches is not None,
    flagged=[
        "«LENDU7» LENDU DCT PIKAR",
        "LENDU DCT SARNO «MEKOT2»",
        case("LENDU DCT SARNO SARNO2", approach="I27", whole=True),
    ],
    quiet=[
        "LENDU1 LENDU DCT SARNO SARNO2",
        case("LENDU DCT SARNO SARNO2", approach="R09"),
        case("LIMRI4A LIMRI", departure="EGLL", destination="EIDW"),
    ],
)
def unknown_procedure(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    if (known := route.resolved.other_approaches) is not None:
        yield _unknown_approach(route, known)
    for _, connection, fault, _, _ in connections_with_fault(route, UnknownProcedure):
        spans = spans_of_connection(route, connection)
        if not fault.any_loaded:
            yield NotChecked(spans, f"{connection.name} cannot be looked up: no procedures of that airport are loaded")
        elif fault.renumbered:
            others = ", ".join(f"{name} at {airport}" for name, airport in fault.renumbered)
            message = f"{connection.name} is not in the loaded data, which has {others}: has the number changed?"
            yield judge_by_cycle(route, Finding(spans, message, Weight.DOUBTFUL))
        else:
            message = f"{connection.name} is no procedure of {' or '.join(fault.airports)} in the loaded data."
            yield judge_by_cycle(route, Finding(spans, message, Weight.WRONG))


def _unknown_approach(route: Route, known: tuple[str, ...]) -> Finding | NotChecked:
    stated, airport = short(route.route_input.approach.strip().upper()), route.points[-1].text
    if not known:
        return NotChecked((), f"approach {stated} cannot be looked up: no approaches of {airport} are loaded")
    listed = f"which has {listing(known)}" if len(known) <= _MOST_LISTED else f"which has {len(known)} others"
    message = f"Approach {stated} is not at {airport} in the loaded data, {listed}."
    return judge_by_cycle(route, Finding((), message, Weight.WRONG))
