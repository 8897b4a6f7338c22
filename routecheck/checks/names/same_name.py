"""Check same-name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, check, exceeds
from routecheck.checks.route_queries import path_points, spans_of_route_point
from routecheck.citations import OWN_CHOICE
from routecheck.earth import geo
from routecheck.formatting import course, listing, nm, position
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import LostChoice, Place, Route, RoutePoint

PLAUSIBLE_NM = Limit(
    "plausible_nm", 150.0, "NM", OWN_CHOICE, why="a second place that lengthens the route by less is plausible"
)
PLAUSIBLE_SHARE = Limit(
    "plausible_share", 0.3, "of the route", OWN_CHOICE, why="or one that lengthens it by a smaller share"
)
APART_NM = Limit("apart_nm", 5.0, "NM", OWN_CHOICE, why="places nearer than this to the chosen one make no difference")


def _has_others(route: Route) -> bool:
    """Whether any stop might have been another place of its name."""
    return any(route_point.others for route_point in route.resolved.route_points)


@check(
    "same-name",
    Weight.DOUBTFUL,
    family=Family.NAMES,
    sentence=(
        "Several places carry the name, and another one than the one taken is plausible, or nearer to the point before."
    ),
    explanation=(
        "The place taken is the one that makes the whole route shortest. Where an airway fixes the choice, or where "
        "the others lie far off, nothing is found; the others are shown on request. Names are meant to be unique, and "
        "are not."
    ),
    false_alarms="a navaid and a fix of one name near each other, both meant for the same turn.",
    limits=[PLAUSIBLE_NM, PLAUSIBLE_SHARE, APART_NM],
    citations=["designators", "same-name-reports"],
    applies_to=_has_others,
    flagged=["LENDU DCT UVAGI DCT «TOVIK» DCT SARNO"],
    quiet=["LENDU DCT PIKAR UM12 TOVIK", "LENDU DCT UVAGI DCT SARNO"],
)
def same_name(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    length = route.totals.distance_nm
    route_points = route.resolved.route_points
    for index, route_point in enumerate(route_points):
        if route_point.place is None or not route_point.others:
            continue
        rivals = [o for o in route_point.others if _apart(o.place, route_point.place) > limit[APART_NM]]
        before, after = (next((s.place for s in side if s.place), None) for side in _sides(route_points, index))
        room = max(limit[PLAUSIBLE_NM], limit[PLAUSIBLE_SHARE] * length)
        plausible = [o for o in rivals if o.longer_nm is not None and not exceeds(o.longer_nm, room)]
        nearer = [
            o for o in rivals if o.longer_nm is not None and before and _nearer(before, o.place, route_point.place)
        ]
        if plausible or nearer:
            lost = [_Lost(o.place, o.reason, _longer(before, after, o, route_point.place)) for o in rivals]
            yield _finding(route, index, route_point, route_point.place, before, lost)


@dataclass(frozen=True, slots=True)
class _Lost:
    """A place not taken; `longer_nm` None where it cannot be flown to at all, and `reason` says why."""

    place: Place
    reason: str
    longer_nm: float | None


def _apart(a: Place, b: Place) -> float:
    return geo.rough_nm(a.lat, a.lon, b.lat, b.lon)


def _nearer(before: Place, other: Place, taken: Place) -> bool:
    return _apart(before, other) < _apart(before, taken)


def _finding(
    route: Route, index: int, route_point: RoutePoint, taken: Place, before: Place | None, rivals: list[_Lost]
) -> Finding:
    count = {1: "Two", 2: "Three", 3: "Four"}.get(len(rivals), f"{len(rivals) + 1}")
    here = f", {_from(before, taken)}" if before else ""
    others = listing([_told(o, before) for o in rivals[:3]])
    message = f"{count} places are called {route_point.text}. Taken: the {taken.kind}{here}. Not taken: {others}."
    facts = [
        Fact(f"longer by the {o.place.kind} at {position(o.place.lat, o.place.lon)}", round(o.longer_nm, 1), "NM")
        for o in rivals
        if o.longer_nm is not None
    ]
    return Finding(
        spans_of_route_point(route, route_point),
        message,
        Weight.DOUBTFUL,
        tuple(facts),
        points=path_points(route, index),
    )


def _told(other: _Lost, before: Place | None) -> str:
    where = _from(before, other.place) if before else ""
    effect = other.reason
    if other.longer_nm is not None:
        effect = f"{nm(other.longer_nm)} longer" if other.longer_nm >= 0.05 else "no longer"  # as the spheroid has it
    return f"the {other.place.kind} {where} ({effect})".replace("  ", " ")


def _from(before: Place, place: Place) -> str:
    bearing, _, distance = geo.inverse(before.lat, before.lon, place.lat, place.lon)
    return f"{nm(distance)} on {course(bearing, 'T')} from {before.ident}"


def _sides(route_points: Sequence[RoutePoint], index: int) -> tuple[Iterator[RoutePoint], Iterator[RoutePoint]]:
    """The stops before one, nearest first, and those after it."""
    return (route_points[i] for i in range(index - 1, -1, -1)), (
        route_points[i] for i in range(index + 1, len(route_points))
    )


def _longer(before: Place | None, after: Place | None, other: LostChoice, taken: Place) -> float | None:
    """How much longer the route is with the other place and all else as taken; for showing, so by geodesics."""
    if other.longer_nm is None:
        return None
    beside = [p for p in (before, after) if p]
    return sum(_exact(p, other.place) - _exact(p, taken) for p in beside)


def _exact(a: Place, b: Place) -> float:
    return geo.inverse(a.lat, a.lon, b.lat, b.lon)[2]
