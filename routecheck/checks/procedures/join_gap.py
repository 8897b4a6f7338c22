"""Check join-gap."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import UNREAD, Limits, check
from routecheck.checks.route_queries import links_with_ends, points_of_stops, spans_of_link, spans_of_stop
from routecheck.model import Finding, NotChecked, ProcedureFault, Weight, WordKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Connection, Route, RoutePoint


@check(
    "join-gap",
    Weight.WRONG,
    citations=["arinc-424"],
    yields_to=(*UNREAD, "unknown-name", "runway-unknown", "runway-not-served"),
    where=preconditions.procedures,
    fires=[
        "«LENDU1» «OPSIN» DCT SARNO SARNO2",
        "LENDU DCT «SARNO» «TIBOK1»",
        "«LENDU1» «DCT» «OPSIN» DCT SARNO SARNO2",
        "«LENDU1» «SEBRO» DCT SARNO SARNO2",
        "LENDU DCT «3006S00645E» «SARNO2»",
    ],
    clean=[
        "LENDU1 LENDU DCT SARNO SARNO2",
        "LENDU1 PIKAR DCT SARNO SARNO2",
        "LENDU1 RESKO DCT SARNO SARNO2",
        "LENDU1 UM12 UVAGI DCT FELTU SARNO2",
        "LENDU DCT 3004S00645E SARNO2",
        "LENDU DCT PIKAR DCT SARNO",
    ],
)
def join_gap(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    """The point of the route next to a SID or STAR is on no branch of it.

    Any point of the procedure joins; so does a position within 1 NM of one. Where the procedure ends (a STAR: begins)
    with a coded manual leg, vectors explain the gap and nothing is said. Wrong; Doubtful where DCT is typed between,
    which leaves open from which of its points. Never closed silently: the stretch stays open.
    Known false alarms: a procedure published for vectors to the route, whose manual leg is not coded.
    Source: the data's procedure records.
    """
    last = len(route.resolved.stops) - 1
    for index, (link, before, after) in enumerate(links_with_ends(route)):
        if link.followed is None or link.kind == "APPROACH":
            continue
        departing = link.kind == "SID"
        stop, number = (after, index + 1) if departing else (before, index)
        if ProcedureFault.NOT_JOINED in link.followed.troubles:
            yield _finding(route, link, stop, points_of_stops(route, number))
        elif stop.place is None or number in (0, last):
            nothing = f"nothing says where {link.airway} is {'left' if departing else 'joined'}"
            yield NotChecked(spans_of_link(route, link), nothing)


def _finding(route: Route, link: Connection, stop: RoutePoint, points: tuple[int, ...]) -> Finding:
    said = link.followed.unused if link.followed else ()
    why = next((one for one in said if "is on no branch of" in one), f"{stop.text} is on no branch of {link.airway}")
    spans = tuple(sorted({*spans_of_link(route, link), *spans_of_stop(route, stop)}))
    if any(route.parsed.words[word].kind is WordKind.DIRECT for word in link.words):
        start = "from which of its points" if link.kind == "SID" else "to which of its points"
        return Finding(spans, f"{why}. DCT stands between: {start}?", Weight.DOUBTFUL, points=points)
    return Finding(spans, f"{why}.", Weight.WRONG, points=points)
