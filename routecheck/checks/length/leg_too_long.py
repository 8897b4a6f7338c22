"""Check leg-too-long."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from routecheck.checks.catalogue import Family, Limit, Limits, Measured, check, exceeds
from routecheck.checks.route_queries import leg_length_range, spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.earth import geo
from routecheck.formatting import nm
from routecheck.model import Fact, Finding, NotChecked, PlaceKind, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

TIMES = Limit("times_median", 4.0, "× the median leg", OWN_CHOICE, lowest=1.0)
LONGER = Limit("longer_than_nm", 300.0, "NM", OWN_CHOICE)
OCEAN = Limit("ocean_deg", 10.0, "°", "nat-errors", highest=30.0, why="so far apart are positions over the ocean")
SYMPTOM = Limit("symptom_nm", 15.0, "NM", OWN_CHOICE, why="detour × turn / 90° at one of its ends")


@check(
    "leg-too-long",
    Weight.DOUBTFUL,
    family=Family.LENGTH,
    sentence="A leg off airways is far longer than the others, and something else is odd at one of its ends.",
    explanation=(
        "The other oddity is a detour with a turn (detour × turn / 90° over the limit, in full even next to an "
        "airport). A long direct leg alone is daily practice and is left alone, and so are ocean legs: between typed "
        "positions up to ten degrees apart."
    ),
    false_alarms="ocean entries after closely spaced points, with a bend there.",
    measured=Measured(doubtful=0.31),
    limits=[TIMES, LONGER, SYMPTOM, OCEAN],
    flagged=["31S002W «31S001W» «31S011E» 31S010E 3030S01100E 30S012E"],
    quiet=[
        "31S000E 31S001E 31S002E 31S012E 31S013E",
        "31S002W 31S001W 31S009E 31S008E 3030S00900E 30S010E",
        "31S000E 31S001E 31S002E 31S013E PIKUR",
        "LENDU DCT PIKAR UM12 TOVIK DCT SARNO",
    ],
)
def leg_too_long(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    if not exceeds(leg_length_range(route)[1], limit[LONGER]):
        return
    connections = route.resolved.connections
    # The short coded legs of a SID or STAR say nothing of how far apart the points of this route are usually chosen,
    # nor does a point that stands twice.
    chosen_legs = [leg for leg in route.legs if not connections[leg.connection].procedure]
    lengths = [leg.distance_nm for leg in chosen_legs if leg.distance_nm]
    if len(lengths) < 3:
        return
    median_nm = float(np.median(lengths))
    for index, leg in enumerate(route.legs):
        if leg.via != "DCT" or leg.distance_nm is None or not exceeds(leg.distance_nm, limit[LONGER]):
            continue
        if _is_ocean_leg(route, index, limit[OCEAN]):
            continue
        if exceeds(leg.distance_nm, limit[TIMES] * median_nm) and _has_symptom(route, index, limit[SYMPTOM]):
            yield _finding(route, index, leg.distance_nm, median_nm)


def _has_symptom(route: Route, index: int, limit: float) -> bool:
    turns = [turn for turn in (route.turns[index], route.turns[index + 1]) if turn]
    return any(exceeds(turn.detour_nm * abs(turn.turn_deg) / 90.0, limit) for turn in turns)


def _is_ocean_leg(route: Route, index: int, limit: float) -> bool:
    """Whether a leg joins two typed positions no further apart than ocean positions are usually given."""
    start, end = route.points[index].place, route.points[index + 1].place
    if start is None or end is None or {start.kind, end.kind} != {PlaceKind.TYPED}:
        return False
    apart = max(abs(start.lat - end.lat), abs(geo.wrap180(start.lon - end.lon)))
    return not exceeds(apart, limit)


def _finding(route: Route, index: int, length: float, median_nm: float) -> Finding:
    start, end = route.points[index], route.points[index + 1]
    message = (
        f"{start.text}–{end.text} is {nm(length)}, {length / median_nm:,.0f} times the usual leg of this route, "
        f"and the route is odd at one of its ends."
    )
    facts = (Fact("leg", round(length, 1), "NM"), Fact("median leg", round(median_nm, 1), "NM"))
    spans = spans_of_point(start) + spans_of_point(end)
    return Finding(spans, message, Weight.DOUBTFUL, facts, points=(index, index + 1))
