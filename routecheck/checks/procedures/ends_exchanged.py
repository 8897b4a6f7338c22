"""Check ends-exchanged."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, Measured, case, check, exceeds
from routecheck.checks.route_queries import chosen_points, connections_with_fault, distance_nm
from routecheck.citations import OWN_CHOICE
from routecheck.earth import geo
from routecheck.formatting import nm
from routecheck.model import Fact, Finding, NotChecked, ProcedureElsewhere, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Place, Route

SAVED = Limit("saved_nm", 15.0, "NM", OWN_CHOICE, why="what exchanging the ends saves at least")
SHARE = Limit("saved_share", 0.2, "of the direct distance", OWN_CHOICE, highest=2.0)
_SPHERE_ERROR = 0.006
"""The share of a length by which the sphere is off at most."""


@check(
    "ends-exchanged",
    Weight.WRONG,
    family=Family.PROCEDURES,
    sentence="The route fits far better when it is flown from the destination to the departure.",
    explanation=(
        "Wrong when a SID or STAR of the route belongs to the other end as well, else Doubtful. With departure and "
        "destination exchanged, it speaks up on 88 % of the same published routes."
    ),
    false_alarms="a route that first flies away from its destination for most of the way.",
    measured=Measured(doubtful=0.0),
    limits=[SAVED, SHARE],
    flagged=[
        case("LENDU DCT PIKAR DCT UVAGI DCT SARNO", departure="XVOR", destination="XVAL", whole=True),
        case("LENDU1 LENDU UM12 UVAGI DCT SARNO SARNO2", departure="XVOR", destination="XVAL", whole=True),
    ],
    quiet=[
        "LENDU DCT PIKAR DCT UVAGI DCT SARNO",
        case("SARNO DCT UVAGI DCT LENDU", departure="XVOR", destination="XVAL"),
        case("LENDU DCT PIKAR DCT LENDU", departure="XVAL", destination="XVAL"),
    ],
)
def ends_exchanged(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    if _is_near_its_ends(route):
        return
    places = [route_point.place for route_point in route.resolved.route_points]
    inside = [place for place in places[1:-1] if place is not None]
    departure, destination = places[0], places[-1]
    if departure is None or destination is None or not inside:
        yield NotChecked((), "an aerodrome or every point of the route is not placed")
        return
    first, last = inside[0], inside[-1]
    near, far = _rough_ends_nm(departure, first, last, destination), _rough_ends_nm(destination, first, last, departure)
    if not exceeds(near * (1.0 + _SPHERE_ERROR), limit[SAVED] + far * (1.0 - _SPHERE_ERROR)):
        return
    as_typed = distance_nm(departure, first) + distance_nm(last, destination)
    exchanged = distance_nm(destination, first) + distance_nm(last, departure)
    direct = distance_nm(departure, destination)
    if exceeds(as_typed - exchanged, max(limit[SAVED], limit[SHARE] * direct)):
        message = (
            f"From {route.points[-1].text} to {route.points[0].text} the route fits far better: "
            f"{nm(as_typed - exchanged)} shorter at its ends. Departure and destination may be exchanged."
        )
        facts = (Fact("shorter with the ends exchanged", round(as_typed - exchanged, 1), "NM"),)
        weight = Weight.WRONG if _have_procedures_other_end(route) else Weight.DOUBTFUL
        yield Finding((), message, weight, facts, points=(0, len(route.points) - 1))


def _is_near_its_ends(route: Route) -> bool:
    """Whether the way to the first point and from the last one is no longer than the direct line from end to end.

    Then exchanging the ends saves nothing: each side of a triangle is shorter than the two others together.
    """
    direct, points = route.totals.direct_nm, chosen_points(route)
    if direct is None or not points:
        return False
    first, last = points[0][0], points[-1][0]
    lengths = [leg.least_nm for leg in (*route.legs[:first], *route.legs[last:])]
    known = [length for length in lengths if length is not None]
    return len(known) == len(lengths) and sum(known) <= direct


def _have_procedures_other_end(route: Route) -> bool:
    """Whether a procedure of the route belongs to the other end."""
    ends = {route.points[0].text, route.points[-1].text}
    faulty = connections_with_fault(route, ProcedureElsewhere)
    return any(not ends.isdisjoint(one.fault.owners) for one in faulty)


def _rough_ends_nm(a: Place, b: Place, c: Place, d: Place) -> float:
    """From a to b and from c to d, on the sphere: nearly all routes need no closer look."""
    return geo.rough_nm(a.lat, a.lon, b.lat, b.lon) + geo.rough_nm(c.lat, c.lon, d.lat, d.lon)
