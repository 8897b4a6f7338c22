"""Check total-time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.claim_queries import stated_whole_time
from routecheck.checks.route_times import planned_times
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import duration
from routecheck.model import Fact, Finding, NotChecked, PlanTotals, Weight, Wind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

ONE_WIND = Limit("one_wind_min", 10.0, "min", OWN_CHOICE)
ONE_WIND_SHARE = Limit("one_wind_share", 0.08, "of the total", OWN_CHOICE, highest=0.5)
BY_LEVEL = Limit("by_level_min", 5.0, "min", OWN_CHOICE)
BY_LEVEL_SHARE = Limit("by_level_share", 0.05, "of the total", OWN_CHOICE, highest=0.5)


def _lacking_total(route: Route) -> str:
    if stated_whole_time(route) is None:
        return "the plan states no total time"
    return "" if route.route_input.wind else "no wind is given, and calm is not assumed"


@check(
    "total-time",
    Weight.DOUBTFUL,
    family=Family.CLAIMS,
    sentence="The plan's total time is not that of the route at the speeds filed and the wind given.",
    explanation=(
        "By 10 minutes or 8 % with one wind, by 5 minutes or 5 % with wind by level or by leg, the greater of the two. "
        "Delays stated with the plan (DLE/) are added. Not checked without wind, or where part of the route has no "
        "time."
    ),
    false_alarms="totals from off-block to on-block; delays that the plan does not state.",
    limits=[ONE_WIND, ONE_WIND_SHARE, BY_LEVEL, BY_LEVEL_SHARE],
    requires=(_lacking_total,),
    flagged=[
        case(
            "N0430F350 LENDU UM12 PIKAR",
            wind=(Wind(280.0, 45.0),),
            stated_totals=PlanTotals(time_min=150.0),
            whole=True,
        ),
    ],
    quiet=[
        case("N0430F350 LENDU UM12 PIKAR", wind=(Wind(280.0, 45.0),), stated_totals=PlanTotals(time_min=80.0)),
        case("N0430F350 LENDU UM12 PIKAR", stated_totals=PlanTotals(time_min=150.0)),
        case("LENDU UM12 PIKAR", wind=(Wind(280.0, 45.0),), stated_totals=PlanTotals(time_min=150.0)),
        "N0430F350 LENDU UM12 PIKAR",
    ],
)
def total_time(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    stated, times = stated_whole_time(route), planned_times(route)
    if stated is None:
        return
    if times is None or times.minutes is None or not times.may_be_compared:
        yield NotChecked((), "part of the route has no time that could be compared")
        return
    delays = sum(delay.time_min for delay in route.route_input.delays)
    computed = times.minutes + delays
    least, share = (BY_LEVEL, BY_LEVEL_SHARE) if len(route.route_input.wind) > 1 else (ONE_WIND, ONE_WIND_SHARE)
    if exceeds(abs(stated.figure - computed), max(limit[least], limit[share] * computed), stated.half):
        with_delays = f", {duration(delays)} of delays counted" if delays else ""
        message = (
            f"The plan's total time is {duration(stated.figure)}; {times.begins} to {times.ends} takes "
            f"{duration(computed)}{with_delays}."
        )
        facts = Fact("stated", stated.figure, "min"), Fact("computed", round(computed, 1), "min")
        yield Finding((), message, Weight.DOUBTFUL, facts)
