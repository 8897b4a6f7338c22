"""Check same-name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, check, exceeds
from routecheck.checks.route_queries import distance_nm, path_points, spans_of_route_point
from routecheck.citations import OWN_CHOICE
from routecheck.earth import geo
from routecheck.formatting import course, listing, nm, position
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import LostChoice, Place, Route

PLAUSIBLE_NM = Limit(
    "plausible_nm", 150.0, "NM", OWN_CHOICE, why="a second place that lengthens the route by less is plausible"
)
PLAUSIBLE_SHARE = Limit(
    "plausible_share", 0.3, "of the route", OWN_CHOICE, why="or one that lengthens it by a smaller share"
)
APART_NM = Limit("apart_nm", 5.0, "NM", OWN_CHOICE, why="places nearer than this to the chosen one make no difference")

_SAME_LENGTH_NM = 0.05
"""Geodesics that differ by less are shown as equal."""


def _has_others(route: Route) -> bool:
    """Whether any route point might have been another place of its name."""
    return any(route_point.lost_choices for route_point in route.resolved.route_points)


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
    room_nm = max(limit[PLAUSIBLE_NM], limit[PLAUSIBLE_SHARE] * route.totals.distance_nm)
    for index, route_point in enumerate(route.resolved.route_points):
        taken = route_point.place
        if taken is None or not route_point.lost_choices:
            continue
        rivals = [rival for rival in route_point.lost_choices if _rough_nm(rival.place, taken) > limit[APART_NM]]
        before, after = _placed_before(route, index), _placed_after(route, index)
        if any(_is_plausible(rival, taken, before, room_nm) for rival in rivals):
            not_taken = [_not_taken(rival, taken, before, after) for rival in rivals]
            yield _finding(route, index, taken, before, not_taken)


def _is_plausible(rival: LostChoice, taken: Place, before: Place | None, room_nm: float) -> bool:
    """Whether a place not taken lengthens the route by little, or is nearer to the point before than the one taken."""
    if rival.longer_nm is None:
        return False
    is_nearer = before is not None and _rough_nm(before, rival.place) < _rough_nm(before, taken)
    return is_nearer or not exceeds(rival.longer_nm, room_nm)


@dataclass(frozen=True, slots=True)
class _PlaceNotTaken:
    """A place not taken; `longer_nm` None where it cannot be flown to at all, and `reason` says why."""

    place: Place
    reason: str
    longer_nm: float | None


def _rough_nm(a: Place, b: Place) -> float:
    return geo.rough_nm(a.lat, a.lon, b.lat, b.lon)


def _finding(route: Route, index: int, taken: Place, before: Place | None, rivals: Sequence[_PlaceNotTaken]) -> Finding:
    route_point = route.resolved.route_points[index]
    count = {1: "Two", 2: "Three", 3: "Four"}.get(len(rivals), f"{len(rivals) + 1}")
    here = f", {_direction_words(before, taken)}" if before else ""
    others = listing([_rival_words(rival, before) for rival in rivals[:3]])
    message = f"{count} places are called {route_point.text}. Taken: the {taken.kind}{here}. Not taken: {others}."
    facts = tuple(
        Fact(
            f"longer by the {one.place.kind} at {position(one.place.lat, one.place.lon)}", round(one.longer_nm, 1), "NM"
        )
        for one in rivals
        if one.longer_nm is not None
    )
    spans = spans_of_route_point(route, route_point)
    return Finding(spans, message, Weight.DOUBTFUL, facts, points=path_points(route, index))


def _rival_words(rival: _PlaceNotTaken, before: Place | None) -> str:
    where = f" {_direction_words(before, rival.place)}" if before else ""
    effect = rival.reason
    if rival.longer_nm is not None:
        effect = f"{nm(rival.longer_nm)} longer" if rival.longer_nm >= _SAME_LENGTH_NM else "just as long"
    return f"the {rival.place.kind}{where} ({effect})"


def _direction_words(before: Place, place: Place) -> str:
    bearing, _, distance = geo.inverse(before.lat, before.lon, place.lat, place.lon)
    return f"{nm(distance)} on {course(bearing, 'T')} from {before.ident}"


def _placed_before(route: Route, index: int) -> Place | None:
    earlier = reversed(route.resolved.route_points[:index])
    return next((point.place for point in earlier if point.place), None)


def _placed_after(route: Route, index: int) -> Place | None:
    later = route.resolved.route_points[index + 1 :]
    return next((point.place for point in later if point.place), None)


def _not_taken(rival: LostChoice, taken: Place, before: Place | None, after: Place | None) -> _PlaceNotTaken:
    """A rival with what it makes the route longer, all else as taken. By geodesics, because the finding shows it."""
    if rival.longer_nm is None:
        return _PlaceNotTaken(rival.place, rival.reason, None)
    around = [place for place in (before, after) if place]
    longer = sum(distance_nm(place, rival.place) - distance_nm(place, taken) for place in around)
    return _PlaceNotTaken(rival.place, rival.reason, longer)
