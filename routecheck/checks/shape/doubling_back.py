"""Check doubling-back."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, Measured, check, exceeds
from routecheck.checks.route_queries import chosen_points, sharpest_turn_deg, spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import nm, turn
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import PathPoint, Route, Turn

TURN = Limit("turn_deg", 135.0, "°", OWN_CHOICE, lowest=90.0, highest=180.0)
BESIDE = Limit("beside_nm", 8.0, "NM", OWN_CHOICE, why="how far the next leg runs back beside the one before")


@check(
    "doubling-back",
    Weight.DOUBTFUL,
    family=Family.SHAPE,
    sentence="The route turns back at a point and runs beside the way it came.",
    explanation=(
        "Of two such turns in a row only the first is named: the second takes up the old course again. The first and "
        "last point are left alone: a published example reverses by 157.5° at its first point and is right."
    ),
    false_alarms="training flights; a stretch to a navaid and back to an airway.",
    measured=Measured(doubtful=0.2),
    limits=[TURN, BESIDE],
    citations=["ff-ice-example"],
    flagged=["31S000E 31S002E «31S004E» 3105S00200E 31S006E 31S007E"],
    quiet=[
        "31S000E 31S002E 31S004E 2900S00330E 29S005E",
        "31S000E 31S002E 3104S00157E 31S004E",
        "FINAR DCT LENDU DCT PIKAR",
    ],
)
def doubling_back(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    if not exceeds(sharpest_turn_deg(route), limit[TURN]):
        return
    turned_before = False
    for index, point in chosen_points(route):
        joint = route.turns[index]
        turns = joint is not None and not joint.next_to_airport and exceeds(abs(joint.turn_deg), limit[TURN])
        if joint and turns and not turned_before:
            beside = _beside(route, index, joint)
            if exceeds(beside, limit[BESIDE]):
                yield _finding(point, index, joint, beside)
        turned_before = turns


def _beside(route: Route, index: int, joint: Turn) -> float:
    """How far the next leg runs back beside the one before, NM."""
    before, after = route.legs[index - 1].distance_nm or 0.0, route.legs[index].distance_nm or 0.0
    return min(before, -after * math.cos(math.radians(joint.turn_deg)))


def _finding(point: PathPoint, index: int, joint: Turn, beside: float) -> Finding:
    message = f"The route turns {turn(joint.turn_deg)} at {point.text} and runs back beside itself for {nm(beside)}."
    facts = (Fact("turn", round(joint.turn_deg, 1), "°"), Fact("beside itself", round(beside, 1), "NM"))
    return Finding(spans_of_point(point), message, Weight.DOUBTFUL, facts, points=(index,))
