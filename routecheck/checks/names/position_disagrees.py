"""Check position-disagrees."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.route_queries import path_points, spans_of_route_point
from routecheck.citations import OWN_CHOICE
from routecheck.earth import geo
from routecheck.formatting import nm, position
from routecheck.model import Claim, Fact, Finding, NotChecked, Place, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, RoutePoint

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
        "Only what lies beyond the precision of the stated position counts. A point that the route flies over several "
        "times is compared at each of them. A position stated for a point that the route does not have is not "
        "compared."
    ),
    false_alarms="a plan made with another cycle in which the point was moved.",
    limits=[WRONG, DOUBTFUL],
    citations=["nat-tolerance"],
    applies_to=_has_claims,
    flagged=[case("LENDU DCT «PIKAR» DCT UVAGI", claims=(Claim("PIKAR", lat=-30.0, lon=2.0),))],
    quiet=[
        "LENDU DCT PIKAR DCT UVAGI",
        case("LENDU DCT PIKAR DCT UVAGI", claims=(Claim("PIKAR", distance_nm=60.0),)),
        case("LENDU DCT PIKAR DCT UVAGI", claims=(Claim("LENDO", lat=-30.0, lon=2.0),)),
    ],
)
def position_disagrees(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    stated = {claim.to: claim for claim in route.route_input.claims if claim.lat is not None and claim.lon is not None}
    for index, route_point in enumerate(route.resolved.route_points):
        claim = stated.get(route_point.text)
        if claim is None:
            continue
        if route_point.place is None:
            yield NotChecked(spans_of_route_point(route, route_point), f"{route_point.text} could not be placed")
        else:
            yield from _compare(route, index, route_point, route_point.place, claim, limit)


def _compare(
    route: Route, index: int, route_point: RoutePoint, place: Place, claim: Claim, limit: Limits
) -> Iterator[Finding | NotChecked]:
    if claim.lat is None or claim.lon is None:
        return
    if abs(claim.lat) > 90 or abs(claim.lon) > 180:
        yield NotChecked(
            spans_of_route_point(route, route_point), f"the position stated for {route_point.text} is nowhere on earth"
        )
        return
    _, _, apart = geo.inverse(claim.lat, claim.lon, place.lat, place.lon)
    uncertainty_nm = math.hypot(1.0, math.cos(math.radians(place.lat))) * 60.0 * claim.precision_deg
    if exceeds(apart, limit[DOUBTFUL], uncertainty_nm):
        weight = Weight.WRONG if exceeds(apart, limit[WRONG], uncertainty_nm) else Weight.DOUBTFUL
        message = (
            f"{route_point.text} is stated at {position(claim.lat, claim.lon)}; the data has it at "
            f"{position(place.lat, place.lon)}, {nm(apart)} away."
        )
        facts = (
            Fact("apart", round(apart, 2), "NM"),
            Fact("precision of the statement", round(uncertainty_nm, 2), "NM"),
        )
        yield Finding(
            spans_of_route_point(route, route_point), message, weight, facts, points=path_points(route, index)
        )
