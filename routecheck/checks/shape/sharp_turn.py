"""Check sharp-turn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.checks.catalogue import Family, Limit, Limits, Measured, case, check, exceeds
from routecheck.checks.route_queries import chosen_points, sharpest_turn_deg, spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

DOUBTFUL = Limit(
    "doubtful_deg",
    140.0,
    "°",
    OWN_CHOICE,
    lowest=30.0,
    highest=180.0,
    why="of the same routes 120° would be passed by 1.2 %, 130° by 1.1 %, 150° by 0.1 %",
)
NOTE = Limit("note_deg", 90.0, "°", OWN_CHOICE, lowest=30.0, highest=180.0)
SHORTEST = Limit("shortest_nm", 3.0, "NM", OWN_CHOICE, why="courses of shorter legs mean little")


@check(
    "sharp-turn",
    Weight.DOUBTFUL,
    family=Family.SHAPE,
    sentence="The course turns by more than 140° (or, as a Note, 90°) between two legs away from the airports.",
    explanation=(
        "The first and last point are left alone, where sharp turns are daily practice: a published example turns "
        "157.5° there and is right."
    ),
    false_alarms=(
        "short stretches between a navaid and a point beside it; published routes that double back near terminals."
    ),
    measured=Measured(doubtful=0.56, note=4.69),
    limits=[DOUBTFUL, NOTE, SHORTEST],
    citations=["ff-ice-example"],
    flagged=["31S000E «31S002E» «31S001E» 31S004E"],
    quiet=["31S000E 31S002E 30S004E 31S006E", case("57S010W 57S000E 57S010E 57S020E", departure="", destination="")],
)
def sharp_turn(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    if not exceeds(sharpest_turn_deg(route), limit[NOTE]):
        return
    for index, point in chosen_points(route):
        turn = route.turns[index]
        if turn is None or turn.next_to_airport or not exceeds(abs(turn.turn_deg), limit[NOTE]):
            continue
        if min(route.legs[index - 1].distance_nm or 0.0, route.legs[index].distance_nm or 0.0) < limit[SHORTEST]:
            continue
        doubtful = exceeds(abs(turn.turn_deg), limit[DOUBTFUL])
        message = f"The route turns {formatting.turn(turn.turn_deg)} at {point.text}."
        facts = (
            Fact("turn", round(turn.turn_deg, 1), "°", is_turn=True),
            Fact("limit", limit[DOUBTFUL if doubtful else NOTE], "°"),
        )
        weight = Weight.DOUBTFUL if doubtful else Weight.NOTE
        yield Finding(spans_of_point(point), message, weight, facts, points=(index,))
