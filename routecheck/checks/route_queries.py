"""What checks ask of a route: the words and points to which findings are pinned, faults, extremes. No judging here."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeVar

from routecheck.checks.per_route_cache import cached_per_route
from routecheck.earth import geo

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Connection, PathPoint, Place, Route, RoutePoint, Span, WordKind

F = TypeVar("F")
_US_REGION = re.compile(r"K\d|PA|PH|PO")


def spans_of_words(route: Route, *words: int | None) -> tuple[Span, ...]:
    """The spans of the words with these indices, in order, the missing ones left out."""
    if len(words) == 1:
        return () if words[0] is None else (route.parsed.words[words[0]].span,)
    return tuple(sorted({route.parsed.words[w].span for w in words if w is not None}))


@cached_per_route
def kinds_of_words(route: Route) -> frozenset[WordKind]:
    """The kinds of words that the text has."""
    return frozenset([word.kind for word in route.parsed.words])


def spans_of_route_point(route: Route, route_point: RoutePoint) -> tuple[Span, ...]:
    """The span of the word that names a route point; none for an airport given beside the text."""
    return spans_of_words(route, route_point.word)


def spans_of_connection(route: Route, connection: Connection) -> tuple[Span, ...]:
    """The spans of the words that connect two route points."""
    return spans_of_words(route, *connection.words)


def path_points(route: Route, *numbers: int) -> tuple[int, ...]:
    """The indices in Route.points of the route points that have these indices in ResolvedRoute.route_points."""
    return tuple(sorted({_path_point(route.points, number) for number in numbers}))


def _path_point(points: Sequence[PathPoint], number: int) -> int:
    """Search by halving: route points stand among the points in order, and the first point is one."""
    low, high = 0, len(points)
    while low < high:
        here = (low + high) // 2
        while (found := points[here].route_point) is None:
            here -= 1
        if found == number:
            return here
        low, high = ((low + high) // 2 + 1, high) if found < number else (low, here)
    raise IndexError(f"no route point {number}")


class FaultyConnection(NamedTuple, Generic[F]):
    """A connection that cannot be followed as the route says, with its fault and the route points at its ends.

    `number` indexes ResolvedRoute.connections.
    """

    number: int
    connection: Connection
    fault: F
    start: RoutePoint
    end: RoutePoint


def connections_with_fault(route: Route, kind: type[F]) -> list[FaultyConnection[F]]:
    """Every connection with a fault of one kind, in order."""
    return [one for one in faulty_connections(route) if isinstance(one.fault, kind)]


@cached_per_route
def faulty_connections(route: Route) -> tuple[FaultyConnection[Any], ...]:
    """Every connection with a fault, in order. Most routes have none at all, and a dozen checks ask."""
    route_points = route.resolved.route_points
    return tuple(
        FaultyConnection(index, connection, connection.fault, route_points[index], route_points[index + 1])
        for index, connection in enumerate(route.resolved.connections)
        if connection.fault is not None
    )


def connections_with_ends(route: Route) -> Iterator[tuple[Connection, RoutePoint, RoutePoint]]:
    """Every connection with the route points before and after it."""
    route_points = route.resolved.route_points
    yield from zip(route.resolved.connections, route_points, route_points[1:], strict=False)


@cached_per_route
def chosen_points(route: Route) -> tuple[tuple[int, PathPoint], ...]:
    """The points that the user chose, each with its index in Route.points: no aerodromes, nothing inside an airway."""
    inside = enumerate(route.points[1:-1], start=1)
    return tuple((index, point) for index, point in inside if point.route_point is not None)


@cached_per_route
def sharpest_turn_deg(route: Route) -> float:
    """The greatest turn at any point, either way; 0 where there is none."""
    return max([abs(turn.turn_deg) for turn in route.turns if turn], default=0.0)


@cached_per_route
def leg_length_range(route: Route) -> tuple[float, float]:
    """The least and the greatest length of a leg, NM; (inf, 0) where none is known."""
    known = [length for leg in route.legs if (length := leg.distance_nm) is not None]
    return (min(known), max(known)) if known else (float("inf"), 0.0)


def distance_nm(start: Place, end: Place) -> float:
    """The length of the geodesic between two places, NM."""
    return geo.inverse(start.lat, start.lon, end.lat, end.lon)[2]


def is_us_region(region: str) -> bool:
    """Whether an ICAO region of the data lies in the United States."""
    return bool(_US_REGION.fullmatch(region))


def spans_of_point(point: PathPoint) -> tuple[Span, ...]:
    """The span of a point as a tuple, empty for an airport beside the text."""
    return (point.span,) if point.span else ()


def precision_nm(route: Route, index: int) -> float:
    """By how much a point may be off because of how it was typed, NM; 0 where the data places it."""
    route_point = route.points[index].route_point
    word = None if route_point is None else route.resolved.route_points[route_point].word
    return 0.0 if word is None else route.parsed.words[word].precision_nm
