"""Check procedure-elsewhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import UNREAD, Limits, case, check
from routecheck.checks.route_queries import links_in_trouble, spans_of_link
from routecheck.formatting import listing
from routecheck.model import ConnectionFault, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "procedure-elsewhere",
    Weight.WRONG,
    citations=["arinc-424"],
    explained_by=UNREAD,
    applies_to=preconditions.links_noted,
    flagged=["«RULPO1» LENDU DCT SARNO", "LENDU DCT SARNO «VELOR1»"],
    quiet=["LENDU1 LENDU DCT SARNO SARNO2", case("RULPO1 RULPO DCT SARNO SARNO2", departure="XVMA")],
)
def procedure_elsewhere(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    """A SID or STAR that belongs to another airport than the departure or the destination.

    Usually the wrong airport, the ends of the route exchanged, or a procedure of the neighbouring field. Not checked
    where no procedures of the airport are loaded.
    Known false alarms: procedures shared by several airports of which only some are coded.
    """
    for _, connection, _, _ in links_in_trouble(route, ConnectionFault.PROCEDURE_ELSEWHERE):
        spans = spans_of_link(route, connection)
        if not connection.detail.get("loaded"):
            yield NotChecked(
                spans, f"{connection.airway} cannot be looked up: no procedures of that airport are loaded"
            )
            continue
        others = str(connection.detail.get("others", "")).split()
        owners = listing(others[:4]) + (" and others" if len(others) > 4 else "")
        message = f"{connection.airway} belongs to {owners}, not to {connection.detail.get('airports')}."
        yield Finding(spans, message, Weight.WRONG)
