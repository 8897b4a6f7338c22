"""Check elapsed-order."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.claim_queries import length_between, stated_whole_time
from routecheck.checks.route_queries import spans_of_point
from routecheck.checks.route_times import airspeeds
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import duration, nm, short
from routecheck.model import ElapsedTime, Fact, Finding, NotChecked, PlanTotals, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

WIND = Limit("wind_kt", 250.0, "kt", OWN_CHOICE, why="no stronger wind is looked for")
FASTEST = Limit("fastest_kt", 1_300.0, "kt", OWN_CHOICE, why="where no airspeed is known")
_MERIDIAN = re.compile(r"(\d{3})([EW])")
_HALF_MINUTE = 0.5


def _lacking_times(route: Route) -> str:
    given = route.route_input
    some = given.elapsed or given.delays or (given.stated_totals and given.stated_totals.endurance_min is not None)
    return "" if some else "the plan states no times to boundaries or points, no delays and no endurance"


@check(
    "elapsed-order",
    Weight.WRONG,
    family=Family.CLAIMS,
    sentence="Elapsed times fall, exceed the total or ask for an impossible speed; or the total exceeds the endurance.",
    explanation=(
        "EET/ of Item 18 counts from take-off, so that it never falls and ends before the total of Item 16. Between "
        "two of its places that the route has, or whose meridian it has a point on, no more than the airspeed and the "
        "strongest wind are possible. A point with a delay (DLE/) must be on the route, else Doubtful. Boundaries are "
        "not looked up."
    ),
    false_alarms="times over several days; a total that was stated for another route.",
    limits=[WIND, FASTEST],
    citations=["field-18"],
    requires=(_lacking_times,),
    flagged=[
        case("LENDU DCT PIKAR", elapsed=(ElapsedTime("XVFR", 40.0), ElapsedTime("XVGR", 20.0)), whole=True),
        case(
            "LENDU DCT PIKAR", elapsed=(ElapsedTime("XV", 80.0),), stated_totals=PlanTotals(time_min=70.0), whole=True
        ),
        case("N0430F350 31S001E «31S009E»", elapsed=(ElapsedTime("31S001E", 10.0), ElapsedTime("009E", 20.0))),
        case("LENDU DCT PIKAR", delays=(ElapsedTime("SARNO", 10.0),), whole=True),
        case("LENDU DCT PIKAR", stated_totals=PlanTotals(time_min=70.0, endurance_min=60.0), whole=True),
    ],
    quiet=[
        case(
            "N0430F350 31S001E 31S009E",
            elapsed=(ElapsedTime("31S001E", 10.0), ElapsedTime("XVFR", 10.0), ElapsedTime("009E", 68.0)),
            stated_totals=PlanTotals(time_min=70.0, endurance_min=190.0),
        ),
        case("LENDU DCT PIKAR", delays=(ElapsedTime("PIKAR", 10.0),)),
        "LENDU DCT PIKAR",
    ],
)
def elapsed_order(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    yield from _look_for_falls(route)
    yield from _compare_with_total(route)
    yield from _look_for_speeds(route, limit)
    yield from _look_for_delays(route)


def _look_for_falls(route: Route) -> Iterator[Finding]:
    for before, after in pairwise(route.route_input.elapsed):
        if exceeds(before.time_min, after.time_min):
            message = (
                f"Elapsed times fall: {short(before.at)} at {duration(before.time_min)}, then {short(after.at)} at "
                f"{duration(after.time_min)}."
            )
            yield _make_finding(route, after, message)


def _compare_with_total(route: Route) -> Iterator[Finding]:
    given, total = route.route_input, stated_whole_time(route)
    if total is None:
        return
    beyond = [one for one in given.elapsed if exceeds(one.time_min, total.figure, total.half)]
    if beyond:
        message = (
            f"{short(beyond[0].at)} is stated at {duration(beyond[0].time_min)}, behind the end of a flight of "
            f"{duration(total.figure)}."
        )
        yield _make_finding(route, beyond[0], message)
    endurance = given.stated_totals.endurance_min if given.stated_totals else None
    if endurance is not None and exceeds(total.figure, endurance, total.half):
        message = f"The endurance of {duration(endurance)} does not reach the total time of {duration(total.figure)}."
        facts = Fact("endurance", endurance, "min"), Fact("total", total.figure, "min")
        yield Finding((), message, Weight.WRONG, facts)


def _look_for_speeds(route: Route, limit: Limits) -> Iterator[Finding]:
    """Between places of which the route tells how far they are apart."""
    known = [(at, one) for one in route.route_input.elapsed if (at := _find_place(route, one.at)) is not None]
    for (start, before), (end, after) in pairwise(known):
        length = length_between(route, start, end) if start < end else None
        if length is None or exceeds(before.time_min, after.time_min):
            continue
        speeds = [speed for speed in airspeeds(route)[start:end] if speed]
        fastest = max(speeds) + limit[WIND] if speeds else limit[FASTEST]
        least_kt = length / (after.time_min - before.time_min + 2.0 * _HALF_MINUTE) * 60.0
        if exceeds(least_kt, fastest):
            message = (
                f"From {short(before.at)} to {short(after.at)} ({nm(length)}) the elapsed times leave "
                f"{after.time_min - before.time_min:g} min, {least_kt:,.0f} kt at least."
            )
            yield _make_finding(route, after, message)


def _find_place(route: Route, name: str) -> int | None:
    """The point of that name, or the first on that meridian; None where the route has neither."""
    meridian = _MERIDIAN.fullmatch(name)
    east = 1.0 if meridian and meridian[2] == "E" else -1.0
    lon = east * float(meridian[1]) if meridian else None
    for index, point in enumerate(route.points):
        if point.text == name or (lon is not None and point.place is not None and point.place.lon == lon):
            return index
    return None


def _look_for_delays(route: Route) -> Iterator[Finding]:
    there = {point.text for point in route.points}
    for delay in route.route_input.delays:
        if delay.at not in there:
            message = (
                f"A delay of {duration(delay.time_min)} is stated at {short(delay.at)}, which is not on the route."
            )
            yield Finding((), message, Weight.DOUBTFUL, (Fact("delay", delay.time_min, "min"),))


def _make_finding(route: Route, at: ElapsedTime, message: str) -> Finding:
    index = _find_place(route, at.at)
    spans = () if index is None else spans_of_point(route.points[index])
    points = () if index is None else (index,)
    return Finding(spans, message, Weight.WRONG, (Fact("elapsed", at.time_min, "min"),), points=points)
