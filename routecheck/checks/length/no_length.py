"""Check no-length."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, Measured, check
from routecheck.checks.route_queries import leg_length_range, spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

SHORTEST = Limit("shortest_nm", 0.1, "NM", OWN_CHOICE, highest=5.0)


@check(
    "no-length",
    Weight.NOTE,
    family=Family.LENGTH,
    sentence="Two points of different names lie on the same spot, so the leg between them has no length.",
    explanation="Common and harmless where a navaid and a fix share a spot; the course of such a leg means nothing.",
    false_alarms="nearly all of them, which is why it is a Note.",
    measured=Measured(note=1.18),
    limits=[SHORTEST],
    flagged=["LENDU DCT «3100S00200E» DCT «31S002E» DCT TOVIK"],
    quiet=["LENDU DCT 3100S00200E DCT 3101S00200E DCT TOVIK", "LENDU DCT PIKAR"],
)
def no_length(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    if leg_length_range(route)[0] >= limit[SHORTEST]:
        return
    for index, leg in enumerate(route.legs):
        start, end = route.points[index], route.points[index + 1]
        if leg.distance_nm is None or start.text == end.text or start.route_point is None or end.route_point is None:
            continue
        if leg.distance_nm < limit[SHORTEST]:
            message = f"{start.text} and {end.text} lie on the same spot."
            facts = (Fact("distance", round(leg.distance_nm, 3), "NM"),)
            spans = spans_of_point(start) + spans_of_point(end)
            yield Finding(spans, message, Weight.NOTE, facts, points=(index, index + 1))
