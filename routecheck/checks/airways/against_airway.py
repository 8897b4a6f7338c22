"""Check against-airway."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import UNKNOWN, Limits, check
from routecheck.checks.route_queries import links_with_ends, spans_of_link
from routecheck.model import Connection, Finding, NotChecked, Via, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, RoutePoint


@check(
    "against-airway",
    Weight.WRONG,
    citations=["arinc-424"],
    yields_to=UNKNOWN,
    where=preconditions.airways,
    fires=["KAMBE «T16» SOR", "DISEM «T16» BOLKI"],
    clean=["SOR T16 KAMBE", "TOVIK UM12 LENDU", "LENDU UM12 TOVIK"],
)
def against_airway(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    """A one-way airway is flown against its direction.

    Not checked where the loaded data gives no directions at all, as the U.S. file does.
    Known false alarms: directions that hold only at certain hours, which the records do not say.
    """
    flown = [link for link in route.resolved.links if link.segments and link.via is Via.AIRWAY]
    if not any(source.has_directions for source in route.resolved.sources):
        if flown:
            spans = tuple([span for link in flown for span in spans_of_link(route, link)])
            yield NotChecked(spans, "the loaded data gives no airway directions")
        return
    for link, start, end in links_with_ends(route):
        if link.segments and link.via is Via.AIRWAY and _against(link):
            yield _finding(route, link, start, end)


def _against(link: Connection) -> bool:
    flown = "F" if link.forward else "B"
    return any(segment.one_way not in ("", flown) for segment in link.segments)


def _finding(route: Route, link: Connection, start: RoutePoint, end: RoutePoint) -> Finding:
    message = f"{link.airway} is one-way, from {end.text} to {start.text}; the route flies it the other way."
    return Finding(spans_of_link(route, link), message, Weight.WRONG)
