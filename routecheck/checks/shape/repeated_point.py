"""Check repeated-point."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, Measured, check
from routecheck.checks.route_queries import path_points, spans_of_words
from routecheck.model import Finding, NotChecked, Place, Via, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, RoutePoint
    from routecheck.model.data import PlaceKey


@check(
    "repeated-point",
    Weight.WRONG,
    family=Family.SHAPE,
    sentence="The same point stands twice in a row, the same stretch is flown twice, or a point comes again later.",
    explanation=(
        "Wrong where it stands twice in a row or a stretch is flown twice; Doubtful where the point comes again later. "
        "An airway entered and left at the same point is a matter of one-point-airway. Departure and destination may "
        "well be the same airport; they are not compared with each other."
    ),
    false_alarms="training flights; a point flown over again before going on.",
    measured=Measured(doubtful=0.02),
    flagged=[
        "LENDU DCT «PIKAR» DCT «PIKAR» DCT TOVIK",
        "31S002E «31S004E» «31S004E» 31S006E",
        "«LENDU» «UM12» «UVAGI» «UM12» «LENDU» DCT PIKAR",
        "31S002E «31S004E» 30S005E «31S004E» 31S006E",
    ],
    quiet=["LENDU DCT PIKAR DCT TOVIK", "31S002E 31S003E 31S004E 31S005E"],
)
def repeated_point(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    route_points = route.resolved.route_points
    idents = [route_point.place.ident for route_point in route_points[1:-1] if route_point.place]
    if len(set(idents)) == len(idents):
        return
    named = [
        i
        for i, route_point in enumerate(route_points)
        if 0 < i < len(route_points) - 1 and route_point.place and not route_point.implied
    ]
    flagged: set[int] = set()
    for first, second in pairwise(named):
        on_airway = route.resolved.connections[first].via is Via.AIRWAY
        if not on_airway and _is_same_place(route_points[first], route_points[second]):
            flagged |= {first, second}
            message = f"{route_points[first].text} stands twice in a row."
            yield _finding(route, (first, second), message, Weight.WRONG)
    yield from _stretches_flown_twice(route, named, flagged)
    yield from _points_repeated_later(route, named, flagged)


def _stretches_flown_twice(route: Route, named: list[int], flagged: set[int]) -> Iterator[Finding]:
    route_points, connections = route.resolved.route_points, route.resolved.connections
    for a, b, c in zip(named, named[1:], named[2:], strict=False):
        there, back = connections[a], connections[b]
        flown = b == a + 1 and c == b + 1 and there.via is Via.AIRWAY and there.name == back.name
        if flown and _is_same_place(route_points[a], route_points[c]):
            flagged |= {a, b, c}
            message = f"{there.name} is flown from {route_points[a].text} to {route_points[b].text} and straight back."
            yield _finding(route, (a, b, c), message, Weight.WRONG, (*there.words, *back.words))


def _points_repeated_later(route: Route, named: list[int], flagged: set[int]) -> Iterator[Finding]:
    route_points = route.resolved.route_points
    first_at: dict[PlaceKey, tuple[int, int]] = {}
    for order, index in enumerate(named):
        place = route_points[index].place
        if place is None:
            continue
        key = place.key
        earlier, first = first_at.setdefault(key, (order, index))
        if order - earlier > 1 and not {index, first} <= flagged:
            message = f"{route_points[index].text} is flown over twice, with other points between."
            yield _finding(route, (first, index), message, Weight.DOUBTFUL)


def _finding(
    route: Route, route_points: tuple[int, ...], message: str, weight: Weight, words: tuple[int, ...] = ()
) -> Finding:
    named = [route.resolved.route_points[i].word for i in route_points]
    return Finding(spans_of_words(route, *named, *words), message, weight, points=path_points(route, *route_points))


def _is_same_place(a: RoutePoint, b: RoutePoint) -> bool:
    return _place_key(a.place) == _place_key(b.place)


def _place_key(place: Place | None) -> PlaceKey | None:
    return place.key if place else None
