"""Check zigzag."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, Measured, check, exceeds
from routecheck.checks.route_queries import chosen_points, distance_nm, sharpest_turn_deg, spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import nm
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

DETOUR = Limit("detour_nm", 5.0, "NM", OWN_CHOICE, why="each of the two points adds at least this much")
TURN = Limit("turn_deg", 60.0, "°", OWN_CHOICE, highest=180.0, why="the route turns at least this much at each of them")
SAVED = Limit("saved_nm", 15.0, "NM", OWN_CHOICE, why="exchanging the two points saves at least this much")


@check(
    "zigzag",
    Weight.DOUBTFUL,
    family=Family.SHAPE,
    sentence="Two points in a row send the route to and fro, and exchanging them removes both turns.",
    explanation="Usually two points were typed in the wrong order.",
    false_alarms="deliberate zigzags to lose time or to follow a coast.",
    measured=Measured(doubtful=0.09),
    limits=[DETOUR, TURN, SAVED],
    flagged=["31S000E «31S004E» «31S002E» 31S006E", "LENDU DCT «UVAGI» DCT «PIKAR» DCT SARNO"],
    quiet=["31S000E 31S002E 31S004E 31S006E", "31S000E 30S002E 32S004E 31S006E", "LENDU DCT PIKAR DCT UVAGI DCT SARNO"],
)
def zigzag(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    if not exceeds(sharpest_turn_deg(route), limit[TURN]):
        return
    for index, first in chosen_points(route):
        second = route.points[index + 1]
        if second.route_point is None or index + 1 == len(route.points) - 1 or not _both_bend(route, index, limit):
            continue
        saved = _saved_nm(route, index)
        if exceeds(saved, limit[SAVED]):
            message = f"{first.text} and {second.text} may be in the wrong order: exchanged they save {nm(saved)}."
            facts = (Fact("shorter when exchanged", round(saved, 1), "NM"),)
            spans = spans_of_point(first) + spans_of_point(second)
            yield Finding(spans, message, Weight.DOUBTFUL, facts, points=(index, index + 1))


def _both_bend(route: Route, index: int, limit: Limits) -> bool:
    turns = (route.turns[index], route.turns[index + 1])
    return all(
        turn is not None and exceeds(turn.detour_nm, limit[DETOUR]) and exceeds(abs(turn.turn_deg), limit[TURN])
        for turn in turns
    )


def _saved_nm(route: Route, index: int) -> float:
    """What is saved when the two points are exchanged; the legs beside them count as direct."""
    a, b, c, d = (point.place for point in route.points[index - 1 : index + 3])
    if a is None or b is None or c is None or d is None:
        return 0.0
    as_typed = sum(route.legs[i].distance_nm or 0.0 for i in range(index - 1, index + 2))
    return as_typed - (distance_nm(a, c) + distance_nm(c, b) + distance_nm(b, d))
