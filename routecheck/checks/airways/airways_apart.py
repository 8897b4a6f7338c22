"""Check airways-apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import UNREAD, Limits, check
from routecheck.checks.route_queries import links_in_trouble, points_of_stops, spans_of_link, spans_of_words
from routecheck.formatting import listing, nm
from routecheck.model import ConnectionFault, Fact, Finding, NotChecked, Via, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Connection, Route, RoutePoint


@check(
    "airways-apart",
    Weight.WRONG,
    citations=["field-15", "nat-errors"],
    explained_by=(*UNREAD, "unknown-airway", "off-airway", "airway-broken"),
    applies_to=preconditions.links_noted,
    flagged=["LENDU «UM12» «UN21» MUVEK", "KORAM UN21 «UN46» CIVUK", "«UN21» MUVEK DCT SARNO"],
    quiet=["LENDU UM12 J61 SARNO", "UVAGI UN34 UN21 MUVEK", "UM12 PIKAR DCT SARNO", "LENDU UM12 M12 SEBRO"],
)
def airways_apart(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    """Two airways in a row that have no point in common, or several; or an open-ended airway far from the aerodrome.

    With exactly one crossing, or one stretch flown by both, the joint is clear and nothing is said. With several
    separate crossings the one that makes the route shortest is taken, and somebody must look. An airway that starts or
    ends the route without a point is clear when it comes within 25 NM of the aerodrome.
    Known false alarms: a lower and an upper airway over the same ground that share no coded point.
    Source: ICAO Doc 4444 Appendix 2 Item 15; NAT Doc 007 names two routes without a point between among common errors.
    """
    for index, connection, _, after in links_in_trouble(
        route, ConnectionFault.APART, ConnectionFault.SEVERAL, ConnectionFault.OPEN_END
    ):
        if connection.trouble is ConnectionFault.APART and after.joins and after.place is None:
            yield _apart(route, after, index)
        elif connection.trouble is ConnectionFault.SEVERAL:
            yield _several(route, after, index + 1)
        elif connection.trouble is ConnectionFault.OPEN_END:
            yield _open(route, connection)


def _apart(route: Route, joint: RoutePoint, index: int) -> Finding | NotChecked:
    before, after = route.resolved.connections[index], route.resolved.connections[index + 1]
    spans = tuple(sorted(spans_of_link(route, before) + spans_of_link(route, after)))
    first, second = joint.joins or ("", "")
    if Via.RADIAL in (before.via, after.via):
        return NotChecked(spans, f"where {first} and {second} meet cannot be computed")
    if ConnectionFault.UNKNOWN_AIRWAY in (before.trouble, after.trouble):
        return NotChecked(spans, f"{first} or {second} is not in the loaded data")
    return Finding(
        spans, f"{first} and {second} have no point in common: a point between them is missing.", Weight.WRONG
    )


def _several(route: Route, joint: RoutePoint, index: int) -> Finding:
    first, second = joint.joins or ("", "")
    crossings = ["–".join(dict.fromkeys((g[0], g[-1]))) for g in joint.groups]
    message = f"{first} and {second} meet at {listing(crossings)}. Taken: {joint.text}, which makes the route shortest."
    facts = (Fact("separate crossings", len(crossings)),)
    points = points_of_stops(route, index)
    return Finding(spans_of_words(route, joint.word), message, Weight.DOUBTFUL, facts, points=points)


def _open(route: Route, connection: Connection) -> Finding:
    aerodrome, nearest, distance = (connection.detail.get(k) for k in ("aerodrome", "nearest", "nearest_nm"))
    message = f"Where do you join or leave {connection.airway}?"
    facts: tuple[Fact, ...] = ()
    if isinstance(distance, float):
        message += f" Its nearest point to {aerodrome} is {nearest}, {nm(distance)} away."
        facts = (Fact("nearest point", str(nearest)), Fact("distance to it", round(distance, 1), "NM"))
    return Finding(spans_of_link(route, connection), message, Weight.DOUBTFUL, facts)
