"""Check sharp-turn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import UNKNOWN, Limit, Limits, case, check, exceeds
from routecheck.checks.sight import chosen, spans_of_point
from routecheck.model import Fact, Finding, NotChecked, Weight
from routecheck.wording import turn

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

DOUBTFUL = Limit("doubtful_deg", 120.0, "°", lowest=30.0, highest=180.0, why="0.1 % of joints of real routes turn more")
NOTE = Limit("note_deg", 90.0, "°", lowest=30.0, highest=180.0, why="1 % of joints of real routes turn more")


@check(
    "sharp-turn",
    Weight.DOUBTFUL,
    limits=[DOUBTFUL, NOTE],
    citations=["turn-area", "ff-ice-example"],
    yields_to=(*UNKNOWN, "position-disagrees", "repeated-point", "dogleg"),
    fires=["31S000E «31S002E» «31S001E» 31S004E"],
    clean=["31S000E 31S002E 30S004E 31S006E", case("57S010W 57S000E 57S010E 57S020E", departure="", destination="")],
)
def sharp_turn(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    """The course turns by more than 120° (or, as a Note, 90°) between two legs away from the airports.

    Known false alarms: short stretches between a navaid and a point beside it; published routes that double back near
    terminals. At the first and last point sharp turns are daily practice and are left alone: a published example turns
    157.5° there (FF-ICE/R1 manual).
    """
    for index, point in chosen(route):
        joint = route.joints[index]
        if joint is None or joint.next_to_airport or not exceeds(abs(joint.turn_deg), limit[NOTE]):
            continue
        weight = Weight.DOUBTFUL if exceeds(abs(joint.turn_deg), limit[DOUBTFUL]) else Weight.NOTE
        message = f"The route turns {turn(joint.turn_deg)} at {point.text}."
        facts = (Fact("turn", round(joint.turn_deg, 1), "°"), Fact("limit", limit[DOUBTFUL], "°"))
        yield Finding(spans_of_point(point), message, weight, facts, points=(index,))
