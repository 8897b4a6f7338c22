"""Where things are in a route: the spans and points that findings are pinned to. No judging lives here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeVar

from routecheck.checks.per_route_cache import once_a_route
from routecheck.model import Role

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Connection, PathPoint, Route, RoutePoint, Span, WordKind

F = TypeVar("F")
_TEXT_IS = {Role.FILED: "as filed", Role.CLEARED: "as cleared", Role.ENTERED: "as entered"}


def spans_of_words(route: Route, *words: int | None) -> tuple[Span, ...]:
    """The spans of the words with these indices, in order, the missing ones left out."""
    if len(words) == 1:
        return () if words[0] is None else (route.parsed.words[words[0]].span,)
    return tuple(sorted({route.parsed.words[w].span for w in words if w is not None}))


@once_a_route
def kinds_of_words(route: Route) -> frozenset[WordKind]:
    """The kinds of words that the text has."""
    return frozenset([word.kind for word in route.parsed.words])


def spans_of_stop(route: Route, route_point: RoutePoint) -> tuple[Span, ...]:
    """The span of the word a stop comes from; none for an airport given beside the text."""
    return spans_of_words(route, route_point.word)


def spans_of_link(route: Route, connection: Connection) -> tuple[Span, ...]:
    """The spans of the words that join two stops."""
    return spans_of_words(route, *connection.words)


def points_of_stops(route: Route, *route_points: int) -> tuple[int, ...]:
    """The indices among Route.points of the stops with these indices."""
    return tuple(sorted({_point_of_stop(route.points, route_point) for route_point in route_points}))


def _point_of_stop(points: Sequence[PathPoint], route_point: int) -> int:
    """Found by halving: stops stand among the points in order, and the first point is a stop."""
    low, high = 0, len(points)
    while low < high:
        here = (low + high) // 2
        while (found := points[here].route_point) is None:
            here -= 1
        if found == route_point:
            return here
        low, high = ((low + high) // 2 + 1, high) if found < route_point else (low, here)
    raise IndexError(f"no stop {route_point}")


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


@once_a_route
def faulty_connections(route: Route) -> tuple[FaultyConnection[Any], ...]:
    """Every connection with a fault, in order. Most routes have none at all, and a dozen checks ask."""
    route_points = route.resolved.route_points
    return tuple(
        FaultyConnection(index, connection, connection.fault, route_points[index], route_points[index + 1])
        for index, connection in enumerate(route.resolved.connections)
        if connection.fault is not None
    )


def links_with_ends(route: Route) -> Iterator[tuple[Connection, RoutePoint, RoutePoint]]:
    """Every link with the stop before and the stop after it."""
    route_points = route.resolved.route_points
    yield from zip(route.resolved.connections, route_points, route_points[1:], strict=False)


@once_a_route
def chosen(route: Route) -> tuple[tuple[int, PathPoint], ...]:
    """The points (index, point) that the user chose, aerodromes and the inside of airways left out."""
    inside = enumerate(route.points[1:-1], start=1)
    return tuple((index, point) for index, point in inside if point.route_point is not None)


@once_a_route
def sharpest_deg(route: Route) -> float:
    """The greatest turn at any point, either way; 0 where there is none."""
    return max([abs(joint.turn_deg) for joint in route.turns if joint], default=0.0)


@once_a_route
def lengths_between(route: Route) -> tuple[float, float]:
    """The least and the greatest length of a leg, NM; (inf, 0) where none is known."""
    known = [length for leg in route.legs if (length := leg.distance_nm) is not None]
    return (min(known), max(known)) if known else (float("inf"), 0.0)


def spans_of_point(point: PathPoint) -> tuple[Span, ...]:
    """The span of a point as a tuple, empty for an airport beside the text."""
    return (point.span,) if point.span else ()
