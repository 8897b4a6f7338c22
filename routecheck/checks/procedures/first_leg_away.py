"""Check first-leg-away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, Measured, case, check, exceeds
from routecheck.checks.route_queries import leg_length_range, spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import nm
from routecheck.model import Fact, Finding, NotChecked, PlaceKind, Via, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

NOTE = Limit(
    "note_nm",
    200.0,
    "NM",
    OWN_CHOICE,
    why="of the same routes, mistaken airports among them, 300 NM would be passed by 1.0 %, 400 NM by 0.9 %",
)
DOUBTFUL = Limit("doubtful_nm", 700.0, "NM", OWN_CHOICE)


@check(
    "first-leg-away",
    Weight.DOUBTFUL,
    family=Family.PROCEDURES,
    sentence="The first or last point lies far from its airport, with no SID or STAR and no point between.",
    explanation=(
        "Doubtful beyond 700 NM, a Note beyond 200. Nothing is said where that point is a typed position, as over the "
        "ocean, or one of an area of which the loaded data has little: what lies between may not be loaded."
    ),
    false_alarms="long-range flights that are filed direct to a distant point.",
    measured=Measured(doubtful=0.45, note=1.03),
    limits=[NOTE, DOUBTFUL],
    flagged=[
        case("«SARNO» DCT KEBUL DCT RIPAS", departure="XVAL"),
        case("LENDO DCT «LENDU»", departure="", destination="XVOR"),
    ],
    quiet=[
        case("35N010W 36N008W", departure="XVAL", destination=""),
        "LENDU DCT PIKAR DCT UVAGI DCT SARNO",
        case("", departure="XVAL"),
        "LENDU1 LENDU DCT SARNO SARNO2",
    ],
)
def first_leg_away(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    last = len(route.legs) - 1
    if last < 1 or not exceeds(leg_length_range(route)[1], limit[NOTE]):
        return
    for index, airport, point in ((0, 0, 1), (last, last + 1, last)):
        leg = route.legs[index]
        direct = route.resolved.connections[leg.connection].via in (Via.DIRECT, Via.IMPLIED)
        if leg.distance_nm is None or not direct or not exceeds(leg.distance_nm, limit[NOTE]):
            continue
        if not _is_judged(route, point):
            continue
        where = "first" if index == 0 else "last"
        name, end = route.points[point].text, route.points[airport].text
        weight = Weight.DOUBTFUL if exceeds(leg.distance_nm, limit[DOUBTFUL]) else Weight.NOTE
        question = ": the wrong airport?" if weight is Weight.DOUBTFUL else "."
        message = f"{name}, the {where} point, is {nm(leg.distance_nm)} from {end} with nothing between{question}"
        facts = (Fact("distance", round(leg.distance_nm, 1), "NM"),)
        yield Finding(spans_of_point(route.points[point]), message, weight, facts, points=(airport, point))


def _is_judged(route: Route, point: int) -> bool:
    """Whether the point is a named one where the data is complete."""
    here = route.points[point]
    number = here.route_point
    is_covered = number is None or route.resolved.route_points[number].covered
    return is_covered and here.place is not None and here.place.kind is not PlaceKind.TYPED
