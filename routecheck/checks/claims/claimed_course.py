"""Check claimed-course."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.claim_queries import (
    claims_some,
    match_claims,
    name_astray,
    name_leg,
    position_uncertainty_nm,
    spans_of_leg,
)
from routecheck.citations import OWN_CHOICE
from routecheck.earth import geo
from routecheck.formatting import count, course
from routecheck.geometry.charted_courses import charted_courses
from routecheck.model import Claim, Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.checks.claim_queries import ClaimedLeg
    from routecheck.model import Place, Route

TRUE = Limit("true_deg", 2.0, "°", "nat-tolerance", highest=90.0)
MAGNETIC = Limit("magnetic_deg", 3.0, "°", OWN_CHOICE, highest=90.0, why="common practice where variations differ")
WRONG = Limit("wrong_deg", 10.0, "°", OWN_CHOICE, highest=180.0)
WRONG_FROM = Limit("wrong_from_nm", 50.0, "NM", OWN_CHOICE, why="on shorter legs a course is Doubtful at most")
POLAR = Limit("polar_deg", 70.0, "° of latitude", OWN_CHOICE, highest=90.0, why="beyond it Doubtful at most")


class _Possible(NamedTuple):
    """The courses that a leg from a point may be stated with, degrees: true, and magnetic by each variation."""

    start: int
    true_deg: float
    magnetic_deg: tuple[float, ...]
    length_nm: float


class _Departure(NamedTuple):
    """A leg of which the plan says another course than any that is possible."""

    leg: ClaimedLeg
    possible: _Possible
    claimed_deg: float
    is_magnetic: bool
    apart_deg: float
    uncertainty_deg: float


@check(
    "claimed-course",
    Weight.WRONG,
    family=Family.CLAIMS,
    sentence="The plan gives a leg another course than the route has there; the first such leg is named.",
    explanation=(
        "True courses by 2°. Magnetic ones by 3° beyond each of: the variation at either end, the alignment of the "
        "stations there, which is seldom set anew, and the charted course of the airway. A course true in place of "
        "magnetic, or the other way round, and a reciprocal are recognised. Wrong from 10° on over 50 NM, below 70° of "
        "latitude."
    ),
    false_alarms="courses of a procedure that the data does not have; rhumb lines on long east-west legs.",
    limits=[TRUE, MAGNETIC, WRONG, WRONG_FROM, POLAR],
    citations=["nat-tolerance"],
    requires=(claims_some("course_true_deg", "course_magnetic_deg"),),
    flagged=[
        case("31S001E «31S006E»", claims=(Claim("31S006E", course_true_deg=88.0),)),
        case("31S001E «31S003E»", claims=(Claim("31S003E", course_true_deg=270.5),)),
        case("31S001E «31S003E»", claims=(Claim("31S003E", course_true_deg=113.0),)),
        case("31S001E «31S003E»", claims=(Claim("31S003E", course_magnetic_deg=91.0),)),
    ],
    quiet=[
        case("57S000E 57S010E", claims=(Claim("57S010E", course_true_deg=94.0),)),
        case("31S001E 31S003E", claims=(Claim("31S003E", course_true_deg=92.0),)),
        case("31S001E 31S003E", claims=(Claim("31S003E", course_magnetic_deg=113.0),)),
        case("SOLPA V14 KEL V14 GORIT", claims=(Claim("KEL", course_magnetic_deg=91.0),)),
        "31S001E 31S003E",
    ],
)
def claimed_course(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    departures: list[_Departure] = []
    for leg, claimed, is_magnetic in _stated_courses(route):
        possible = [one for start in leg.starts if (one := _find_courses(route, start, leg.end))]
        compared = [
            _compare(route, leg, one, claimed, is_magnetic=is_magnetic)
            for one in possible
            if one.magnetic_deg or not is_magnetic
        ]
        if not compared:
            because = f"{name_leg(route, leg.starts[0], leg.end)} has no known course"
            yield NotChecked(spans_of_leg(route, leg.end), because)
            continue
        nearest = min(compared, key=_degrees_apart)
        if exceeds(nearest.apart_deg, limit[MAGNETIC if is_magnetic else TRUE], nearest.uncertainty_deg):
            departures.append(nearest)
    if departures:
        yield _make_finding(route, departures, limit)
    for because in name_astray(route):
        yield NotChecked((), because)


def _stated_courses(route: Route) -> Iterator[tuple[ClaimedLeg, float, bool]]:
    """Every course stated, with its leg and whether it is magnetic."""
    for leg in match_claims(route).legs:
        for is_magnetic, stated in ((False, leg.claim.course_true_deg), (True, leg.claim.course_magnetic_deg)):
            if stated is not None:
                yield leg, stated, is_magnetic


def _degrees_apart(departure: _Departure) -> float:
    return departure.apart_deg


def _find_courses(route: Route, start: int, end: int) -> _Possible | None:
    """The courses at the start of the path between two points, and straight between them; None where there are none."""
    leg, places = route.legs[start], (route.points[start].place, route.points[end].place)
    if end == start + 1 and leg.course_true_deg is None:
        return None
    if not places[0] or not places[1]:
        return None
    straight, _, length = geo.inverse(places[0].lat, places[0].lon, places[1].lat, places[1].lon)
    if not length:
        return None
    true = straight if leg.course_true_deg is None or end > start + 1 else leg.course_true_deg
    return _Possible(start, true, tuple(_magnetic_courses(route, start, end, true, places)), length)


def _magnetic_courses(
    route: Route, start: int, end: int, true_deg: float, places: tuple[Place | None, Place | None]
) -> Iterator[float]:
    """By the variation at either end, by the alignment of a station at either end, and as charted."""
    first, last = route.legs[start], route.legs[end - 1]
    for true, magnetic in (
        (first.course_true_deg, first.course_magnetic_deg),
        (last.end_course_true_deg, last.end_course_magnetic_deg),
    ):
        if true is not None and magnetic is not None:
            yield (true_deg - geo.wrap180(true - magnetic)) % 360.0
    for place in places:
        for variation in (place.declination_deg, place.variation_deg) if place else ():
            if variation is not None:
                yield (true_deg - variation) % 360.0
    charted = charted_courses(route)[start]
    if charted:
        yield charted.course_deg


def _compare(route: Route, leg: ClaimedLeg, possible: _Possible, claimed: float, *, is_magnetic: bool) -> _Departure:
    courses = possible.magnetic_deg if is_magnetic else (possible.true_deg,)
    apart = min(abs(geo.wrap180(claimed - one)) for one in courses)
    sideways = position_uncertainty_nm(route, possible.start) + position_uncertainty_nm(route, leg.end)
    half = leg.claim.half("course_magnetic_deg" if is_magnetic else "course_true_deg")
    uncertainty = half + math.degrees(math.atan2(sideways, possible.length_nm))
    return _Departure(leg, possible, claimed, is_magnetic, apart, uncertainty)


def _find_cause(one: _Departure, limit: Limits) -> str:
    """What the stated course is in place of the right one; "" where nothing fits."""
    kinds = {"true": (one.possible.true_deg,), "magnetic": one.possible.magnetic_deg}
    stated, other = ("magnetic", "true") if one.is_magnetic else ("true", "magnetic")

    def fits(kind: str, turned_deg: float = 0.0) -> bool:
        return any(
            abs(geo.wrap180(one.claimed_deg + turned_deg - course_deg)) <= limit[TRUE] + one.uncertainty_deg
            for course_deg in kinds[kind]
        )

    if fits(other):
        return f" It is the {other} course."
    if fits(stated, 180.0):
        return " It is the reciprocal: the way back."
    return f" It is the reciprocal of the {other} course." if fits(other, 180.0) else ""


def _make_finding(route: Route, departures: list[_Departure], limit: Limits) -> Finding:
    first = departures[0]
    heavy = any(_is_wrong(route, one, limit) for one in departures)
    courses = first.possible.magnetic_deg if first.is_magnetic else (first.possible.true_deg,)
    nearest = min(courses, key=lambda one: abs(geo.wrap180(first.claimed_deg - one)))
    suffix = "M" if first.is_magnetic else "T"
    message = (
        f"The plan gives {name_leg(route, first.possible.start, first.leg.end)} {course(first.claimed_deg, suffix)}; "
        f"computed it is {course(nearest, suffix)}.{_find_cause(first, limit)}"
    )
    if more := len(departures) - 1:
        message += f" {count(more, 'course')} behind it {'differs' if more == 1 else 'differ'} too."
    facts = (
        Fact("stated", first.claimed_deg, f"°{suffix}"),
        Fact("computed", round(nearest, 2), f"°{suffix}"),
        Fact("rounding explains", round(first.uncertainty_deg, 2), "°"),
        Fact("courses that differ", len(departures)),
    )
    weight = Weight.WRONG if heavy else Weight.DOUBTFUL
    points = (first.possible.start, first.leg.end)
    return Finding(spans_of_leg(route, first.leg.end), message, weight, facts, points=points)


def _is_wrong(route: Route, one: _Departure, limit: Limits) -> bool:
    ends = [place for i in (one.possible.start, one.leg.end) if (place := route.points[i].place)]
    is_polar = any(exceeds(abs(place.lat), limit[POLAR]) for place in ends)
    is_long = exceeds(one.possible.length_nm, limit[WRONG_FROM])
    return is_long and not is_polar and exceeds(one.apart_deg, limit[WRONG], one.uncertainty_deg)
