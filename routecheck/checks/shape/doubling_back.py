"""Check doubling-back."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.checks.catalogue import Family, Limit, Limits, Measured, check, exceeds
from routecheck.checks.route_queries import chosen_points, sharpest_turn_deg, spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import nm
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
        turn = route.turns[index]
        turns_back = turn is not None and not turn.next_to_airport and exceeds(abs(turn.turn_deg), limit[TURN])
        if turn and turns_back and not turned_before:
            beside_nm = _beside_itself_nm(route, index, turn)
            if exceeds(beside_nm, limit[BESIDE]):
                yield _finding(point, index, turn, beside_nm)
        turned_before = turns_back


def _beside_itself_nm(route: Route, index: int, turn: Turn) -> float:
    """How far the next leg runs back beside the one before, NM."""
    before, after = route.legs[index - 1].distance_nm or 0.0, route.legs[index].distance_nm or 0.0
    return min(before, -after * math.cos(math.radians(turn.turn_deg)))


def _finding(point: PathPoint, index: int, turn: Turn, beside_nm: float) -> Finding:
    back = f"runs back beside itself for {nm(beside_nm)}"
    message = f"The route turns {formatting.turn(turn.turn_deg)} at {point.text} and {back}."
    facts = (Fact("turn", round(turn.turn_deg, 1), "°", is_turn=True), Fact("beside itself", round(beside_nm, 1), "NM"))
    return Finding(spans_of_point(point), message, Weight.DOUBTFUL, facts, points=(index,))
