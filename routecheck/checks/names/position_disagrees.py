"""Check position-disagrees."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.claim_queries import match_claims, name_astray
from routecheck.checks.route_queries import spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.earth import geo
from routecheck.formatting import nm, position
from routecheck.model import Claim, Fact, Finding, NotChecked, Place, PlaceKind, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import PathPoint, Route

WRONG = Limit("wrong_nm", 2.0, "NM", OWN_CHOICE, why="as ocean crews take for the distance between two points")
DOUBTFUL = Limit("doubtful_nm", 0.5, "NM", OWN_CHOICE)


def _has_claims(route: Route) -> bool:
    return bool(route.route_input.claims)


@check(
    "position-disagrees",
    Weight.WRONG,
    family=Family.NAMES,
    sentence="The position stated for a named point is not where the loaded data has that point.",
    explanation=(
        "Only what lies beyond the precision of the stated position counts. Points inside airways and procedures are "
        "compared too, and the aerodromes. A point that the route flies over several times is compared each time, or "
        "one by one where several positions are stated for it."
    ),
    false_alarms="a plan made with another cycle in which the point was moved.",
    limits=[WRONG, DOUBTFUL],
    citations=["nat-tolerance"],
    applies_to=_has_claims,
    flagged=[
        case("LENDU DCT «PIKAR» DCT UVAGI", claims=(Claim("PIKAR", lat=-30.0, lon=2.0),)),
        case("LENDU «UM12» UVAGI", claims=(Claim("PIKAR", lat=-30.0, lon=2.0),)),
    ],
    quiet=[
        "LENDU DCT PIKAR DCT UVAGI",
        case("LENDU DCT PIKAR DCT UVAGI", claims=(Claim("PIKAR", distance_nm=60.0),)),
        case("LENDU DCT PIKAR DCT UVAGI", claims=(Claim("LENDO", lat=-30.0, lon=2.0),)),
    ],
)
def position_disagrees(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for claim, index in _stated_positions(route):
        point = route.points[index]
        if point.place is None:
            yield NotChecked(spans_of_point(point), f"{point.text} could not be placed")
        else:
            yield from _compare(point, index, point.place, claim, limit)
    for because in name_astray(route):
        yield NotChecked((), because)


def _stated_positions(route: Route) -> Iterator[tuple[Claim, int]]:
    """Every position stated, with each point of the path that it is about."""
    match = match_claims(route)
    matched = [(leg.claim, leg.end) for leg in match.legs] + ([(match.at_departure, 0)] if match.at_departure else [])
    times = Counter(claim.to for claim, _ in matched)
    for claim, index in matched:
        if claim.lat is None or claim.lon is None:
            continue
        if times[claim.to] > 1:
            yield claim, index
        else:
            yield from ((claim, i) for i, point in enumerate(route.points) if point.text == claim.to)
    yield from match.other_positions


def _compare(point: PathPoint, index: int, place: Place, claim: Claim, limit: Limits) -> Iterator[Finding | NotChecked]:
    spans = spans_of_point(point)
    if claim.lat is None or claim.lon is None:
        return
    if abs(claim.lat) > 90 or abs(claim.lon) > 180:
        yield NotChecked(spans, f"the position stated for {point.text} is nowhere on earth")
        return
    _, _, apart = geo.inverse(claim.lat, claim.lon, place.lat, place.lon)
    uncertainty_nm = math.hypot(1.0, math.cos(math.radians(place.lat))) * 60.0 * claim.precision_deg
    if exceeds(apart, limit[DOUBTFUL], uncertainty_nm):
        weight = Weight.WRONG if exceeds(apart, limit[WRONG], uncertainty_nm) else Weight.DOUBTFUL
        other = "the plan elsewhere" if place.kind is PlaceKind.TYPED else "the data"
        message = (
            f"{point.text} is stated at {position(claim.lat, claim.lon)}; {other} has it at "
            f"{position(place.lat, place.lon)}, {nm(apart)} away."
        )
        facts = (
            Fact("apart", round(apart, 2), "NM"),
            Fact("precision of the statement", round(uncertainty_nm, 2), "NM"),
        )
        yield Finding(spans, message, weight, facts, points=(index,))
