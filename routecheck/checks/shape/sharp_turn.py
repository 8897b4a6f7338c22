"""Check sharp-turn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Limit, Limits, case, check, exceeds
from routecheck.checks.route_queries import chosen, sharpest_deg, spans_of_point
from routecheck.formatting import turn
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

DOUBTFUL = Limit("doubtful_deg", 140.0, "°", lowest=30.0, highest=180.0)
NOTE = Limit("note_deg", 90.0, "°", lowest=30.0, highest=180.0)
SHORTEST = Limit("shortest_nm", 3.0, "NM", why="courses of shorter legs mean little")
# Of 4,493 real published routes in order this share turns more somewhere away from the airports, both legs over 3 NM:
# 90° 4.8 %, 120° 1.0 %, 130° 0.9 %, 140° 0.4 %, 150° 0.04 %. With legs of any length 120° is passed by 2.5 %.


@check(
    "sharp-turn",
    Weight.DOUBTFUL,
    limits=[DOUBTFUL, NOTE, SHORTEST],
    citations=["turn-area", "ff-ice-example"],
    flagged=["31S000E «31S002E» «31S001E» 31S004E"],
    quiet=["31S000E 31S002E 30S004E 31S006E", case("57S010W 57S000E 57S010E 57S020E", departure="", destination="")],
)
def sharp_turn(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    """The course turns by more than 140° (or, as a Note, 90°) between two legs away from the airports.

    Known false alarms: short stretches between a navaid and a point beside it; published routes that double back near
    terminals. At the first and last point sharp turns are daily practice and are left alone: a published example turns
    157.5° there (FF-ICE/R1 manual).
    """
    if not exceeds(sharpest_deg(route), limit[NOTE]):
        return
    for index, point in chosen(route):
        joint = route.turns[index]
        if joint is None or joint.next_to_airport or not exceeds(abs(joint.turn_deg), limit[NOTE]):
            continue
        if min(route.legs[index - 1].distance_nm or 0.0, route.legs[index].distance_nm or 0.0) < limit[SHORTEST]:
            continue
        weight = Weight.DOUBTFUL if exceeds(abs(joint.turn_deg), limit[DOUBTFUL]) else Weight.NOTE
        message = f"The route turns {turn(joint.turn_deg)} at {point.text}."
        facts = (Fact("turn", round(joint.turn_deg, 1), "°"), Fact("limit", limit[DOUBTFUL], "°"))
        yield Finding(spans_of_point(point), message, weight, facts, points=(index,))
