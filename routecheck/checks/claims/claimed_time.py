"""Check claimed-time."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.claim_queries import (
    claims_some,
    length_between,
    match_claims,
    name_astray,
    name_leg,
    spans_of_leg,
    stated_time,
)
from routecheck.checks.route_times import airspeeds, planned_times
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import count, nm
from routecheck.model import Claim, Fact, Finding, NotChecked, Weight, Wind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.checks.claim_queries import ClaimedLeg
    from routecheck.model import Route

WIND = Limit("wind_kt", 250.0, "kt", OWN_CHOICE, why="no stronger wind is looked for where none is given")
FASTEST = Limit("fastest_kt", 1_300.0, "kt", OWN_CHOICE, why="what is said of a leg without any airspeed")
MARGIN = Limit("airspeed_margin", 0.1, "of the airspeed", OWN_CHOICE, highest=1.0)
SHARE = Limit("share", 0.15, "of the ground speed", OWN_CHOICE, highest=1.0)


class _Flown(NamedTuple):
    """A leg with the time stated for it: the ground speed that this asks for, and the least and most by rounding."""

    leg: ClaimedLeg
    start: int
    length_nm: float
    minutes: float
    least_kt: float
    most_kt: float

    @property
    def ground_speed_kt(self) -> float:
        return self.length_nm / max(self.minutes, 1e-3) * 60.0


@check(
    "claimed-time",
    Weight.WRONG,
    family=Family.CLAIMS,
    sentence="The plan's time for a leg asks for a ground speed that cannot be, or that is not the planned one.",
    explanation=(
        "Wrong where no wind that there is could carry the aircraft so fast. With wind given everywhere also Doubtful "
        "where the ground speed is more than 15 % off the one computed. Without wind no more than the impossible is "
        "looked for: none given is not calm. Rounding of the time is allowed for, and climb and descent by the sheet."
    ),
    false_alarms="times that hold a delay; climb and descent where no Aircraft sheet is chosen.",
    limits=[WIND, FASTEST, MARGIN, SHARE],
    requires=(claims_some("time_min", "time_so_far_min", "time_left_min"),),
    flagged=[
        case("N0430F350 31S001E «31S005E»", claims=(Claim("31S005E", time_min=10.0),)),
        case("31S001E «31S005E»", claims=(Claim("31S005E", time_min=5.0),)),
        case(
            "N0430F350 31S001E «31S005E»",
            claims=(Claim("31S005E", time_min=40.0),),
            wind=(Wind(280.0, 45.0),),
            level="F350",
        ),
    ],
    quiet=[
        case("N0430F350 31S001E 31S005E", claims=(Claim("31S005E", time_min=29.0),)),
        case("N0430F350 31S001E 31S005E", claims=(Claim("31S005E", time_min=45.0),)),
        case("N0430F350 31S001E 31S005E", claims=(Claim("31S005E", time_min=27.0),), wind=(Wind(280.0, 45.0),)),
        "N0430F350 31S001E 31S005E",
    ],
)
def claimed_time(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    flown: list[_Flown] = []
    for leg in match_claims(route).legs:
        stated = stated_time(leg)
        if stated is None:
            continue
        found = _measure(route, leg, stated.figure, stated.half)
        if found:
            flown.append(found)
        else:
            name = name_leg(route, leg.starts[0], leg.end)
            yield NotChecked(spans_of_leg(route, leg.end), f"{name} has no known length")
    yield from _judge(route, flown, limit)
    for because in name_astray(route):
        yield NotChecked((), because)


def _measure(route: Route, leg: ClaimedLeg, minutes: float, half: float) -> _Flown | None:
    start = leg.starts[0]
    length = length_between(route, start, leg.end)
    if length is None:
        return None
    least, most = (length / max(time, 1e-3) * 60.0 for time in (minutes + half, minutes - half))
    return _Flown(leg, start, length, minutes, least, most)


def _judge(route: Route, flown: list[_Flown], limit: Limits) -> Iterator[Finding | NotChecked]:
    impossible = [one for one in flown if exceeds(one.least_kt, _fastest_kt(route, one, limit))]
    if impossible:
        most = _fastest_kt(route, impossible[0], limit)
        yield _make_finding(route, impossible, Weight.WRONG, f"at most {most:,.0f} kt")
    times = planned_times(route)
    if times is None or not times.may_be_compared:
        if flown:
            yield NotChecked((), "the planned ground speed, for which wind and speed are needed everywhere")
        return
    unlike = [one for one in flown if one not in impossible and _is_unlike(route, one, limit)]
    if unlike:
        planned = _planned_kt(route, unlike[0])
        yield _make_finding(route, unlike, Weight.DOUBTFUL, f"{planned:,.0f} kt by the speed filed and the wind given")


def _fastest_kt(route: Route, one: _Flown, limit: Limits) -> float:
    known = [speed for speed in airspeeds(route)[one.start : one.leg.end] if speed]
    return max(known) * (1.0 + limit[MARGIN]) + limit[WIND] if known else limit[FASTEST]


def _planned_kt(route: Route, one: _Flown) -> float:
    times = planned_times(route)
    legs = times.legs[one.start : one.leg.end] if times else ()
    minutes = sum(leg.minutes for leg in legs if leg)
    return one.length_nm / minutes * 60.0 if minutes else 0.0


def _is_unlike(route: Route, one: _Flown, limit: Limits) -> bool:
    planned = _planned_kt(route, one)
    too_fast = exceeds(one.least_kt, planned * (1.0 + limit[SHARE]))
    return bool(planned) and (too_fast or exceeds(planned * (1.0 - limit[SHARE]), one.most_kt))


def _make_finding(route: Route, flown: list[_Flown], weight: Weight, against: str) -> Finding:
    first = flown[0]
    name = name_leg(route, first.start, first.leg.end)
    message = (
        f"The plan flies {name} ({nm(first.length_nm)}) in {first.minutes:g} min, at {first.ground_speed_kt:,.0f} kt "
        f"over the ground; it is {against}."
    )
    if more := len(flown) - 1:
        message += f" It is the first; {count(more, 'leg')} behind it {'is' if more == 1 else 'are'} such too."
    facts = (
        Fact("ground speed asked for", round(first.ground_speed_kt, 1), "kt"),
        Fact("at least, by rounding", round(first.least_kt, 1), "kt"),
        Fact("stated", first.minutes, "min"),
    )
    return Finding(spans_of_leg(route, first.leg.end), message, weight, facts, points=(first.start, first.leg.end))
