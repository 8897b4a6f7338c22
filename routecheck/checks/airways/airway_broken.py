"""Check airway-broken."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, check
from routecheck.checks.route_queries import connections_with_fault, spans_of_connection
from routecheck.model import BrokenAirway, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "airway-broken",
    Weight.WRONG,
    family=Family.AIRWAYS,
    sentence="Both points are on the airway, but not on one continuous piece of it.",
    explanation=(
        "An airway may be published in several pieces with nothing between them; it cannot be followed across the "
        "break. Not checked where both pieces end at computer-only fixes: there the airway leaves the loaded data, as "
        "at a border."
    ),
    false_alarms="a break closed after the data was made.",
    citations=["arinc-424"],
    applies_to=preconditions.has_faults_or_radials,
    flagged=["DERUS «V27» KORAM", "BURLO «V27» NIR"],
    quiet=["DERUS V27 HOSTU", "KORAM V27 KAMBE"],
)
def airway_broken(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for _, connection, fault, start, end in connections_with_fault(route, BrokenAirway):
        spans = spans_of_connection(route, connection)
        if fault.leaves_data:
            yield NotChecked(spans, f"{connection.name} leaves the loaded data between {' and '.join(fault.facing)}")
            continue
        message = (
            f"{connection.name} does not lead from {start.text} to {end.text}: it is interrupted. {start.text} is on "
            f"its piece {'–'.join(fault.first_piece)}, {end.text} on {'–'.join(fault.second_piece)}."
        )
        yield Finding(spans, message, Weight.WRONG)
