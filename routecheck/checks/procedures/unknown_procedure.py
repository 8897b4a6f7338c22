"""Check unknown-procedure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import UNREAD, Limits, case, check
from routecheck.checks.sight import links_with_ends, spans_of_link
from routecheck.model import Finding, NotChecked, Trouble, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "unknown-procedure",
    Weight.WRONG,
    citations=["designators", "arinc-424"],
    yields_to=UNREAD,
    fires=["«LENDU7» LENDU DCT PIKAR", "LENDU DCT SARNO «MEKOT2»"],
    clean=["LENDU1 LENDU DCT SARNO SARNO2", case("LIMRI4A LIMRI", departure="EGLL", destination="EIDW")],
)
def unknown_procedure(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    """A SID or STAR that the loaded data does not have at that airport.

    Doubtful where a procedure of the same name with another number is there: numbers change with every revision. Not
    checked where no procedures of the airport are loaded.
    Known false alarms: a procedure revised after the data was made.
    Source: ICAO Annex 11 Appendix 3 (name, validity number, route letter).
    """
    for link, _, _ in links_with_ends(route):
        if link.trouble is not Trouble.UNKNOWN_PROCEDURE:
            continue
        spans = spans_of_link(route, link)
        others = link.detail.get("others")
        if not link.detail.get("loaded"):
            yield NotChecked(spans, f"{link.airway} cannot be looked up: no procedures of that airport are loaded")
        elif others:
            message = f"{link.airway} is not in the loaded data, which has {others}: has the number changed?"
            yield Finding(spans, message, Weight.DOUBTFUL)
        else:
            message = f"{link.airway} is no procedure of {link.detail.get('airports')} in the loaded data."
            yield Finding(spans, message, Weight.WRONG)
