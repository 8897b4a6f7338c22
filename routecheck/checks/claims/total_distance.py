"""Check total-distance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.claim_queries import follows_unknown_procedure, name_leg, stated_whole_distance
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import nm
from routecheck.model import Claim, Fact, Finding, NotChecked, PlanTotals, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

LEAST = Limit("least_nm", 5.0, "NM", OWN_CHOICE)
SHARE = Limit("share", 0.01, "of the total", OWN_CHOICE, highest=0.2, why="5 NM or this, the greater")


def _lacking_total(route: Route) -> str:
    return "" if stated_whole_distance(route) else "the plan states no total distance"


@check(
    "total-distance",
    Weight.DOUBTFUL,
    family=Family.CLAIMS,
    sentence="The plan's total distance is not that of the route.",
    explanation=(
        "From aerodrome to aerodrome along the route as it is read. A total that agrees proves little: a point missing "
        "near the line can hide in it (52N030W left out of 52N020W 52N030W 50N040W 49N050W shortens it by 2.8 NM). Not "
        "checked where part of the route has no length."
    ),
    false_alarms="totals that count a procedure or an alternate which the route as given does not have.",
    limits=[LEAST, SHARE],
    requires=(_lacking_total,),
    flagged=[
        case("LENDU UM12 PIKAR UM12 UVAGI", stated_totals=PlanTotals(distance_nm=700.0), whole=True),
    ],
    quiet=[
        case("LENDU UM12 PIKAR UM12 UVAGI", stated_totals=PlanTotals(distance_nm=622.0)),
        case("LENDU UM12 PIKAR UM12 UVAGI"),
        case("LENDU UM21 UVAGI", stated_totals=PlanTotals(distance_nm=700.0)),
        case("LENDU UM12 PIKAR", claims=(Claim("PIKAR", distance_nm=64.0),)),
    ],
)
def total_distance(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    stated, totals = stated_whole_distance(route), route.totals
    if stated is None:
        return
    if totals.gaps or follows_unknown_procedure(route, 0, len(route.legs)):
        yield NotChecked((), "part of the route has no length")
        return
    computed = totals.distance_nm
    if exceeds(abs(stated.figure - computed), max(limit[LEAST], limit[SHARE] * computed), stated.half):
        more = stated.figure > computed
        message = (
            f"The plan's total is {nm(stated.figure)}; {name_leg(route, 0, len(route.points) - 1)} along this route is "
            f"{nm(computed)}, {nm(abs(stated.figure - computed))} {'less' if more else 'more'}."
        )
        facts = (
            Fact("stated", stated.figure, "NM"),
            Fact("computed", round(computed, 2), "NM"),
            Fact("begins at", route.points[0].text),
            Fact("ends at", route.points[-1].text),
        )
        yield Finding((), message, Weight.DOUBTFUL, facts)
