"""Where things are in a route: the spans and points that findings are pinned to. No judging lives here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.model import Role

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Link, Point, Route, Span, Stop

_TEXT_IS = {Role.FILED: "as filed", Role.CLEARED: "as cleared", Role.ENTERED: "as entered"}


def spans_of_words(route: Route, *words: int | None) -> tuple[Span, ...]:
    """The spans of the words with these indices, in order, the missing ones left out."""
    return tuple(sorted({route.parsed.words[w].span for w in words if w is not None}))


def spans_of_stop(route: Route, stop: Stop) -> tuple[Span, ...]:
    """The span of the word a stop comes from; none for an airport given beside the text."""
    return spans_of_words(route, stop.word)


def spans_of_link(route: Route, link: Link) -> tuple[Span, ...]:
    """The spans of the words that join two stops."""
    return spans_of_words(route, *link.words)


def points_of_stops(route: Route, *stops: int) -> tuple[int, ...]:
    """The indices among Route.points of the stops with these indices."""
    return tuple(sorted({_point_of_stop(route.points, stop) for stop in stops}))


def _point_of_stop(points: Sequence[Point], stop: int) -> int:
    """Found by halving: stops stand among the points in order, and the first point is a stop."""
    low, high = 0, len(points)
    while low < high:
        here = (low + high) // 2
        while (found := points[here].stop) is None:
            here -= 1
        if found == stop:
            return here
        low, high = ((low + high) // 2 + 1, high) if found < stop else (low, here)
    raise IndexError(f"no stop {stop}")


def links_with_ends(route: Route) -> Iterator[tuple[Link, Stop, Stop]]:
    """Every link with the stop before and the stop after it."""
    stops = route.resolved.stops
    yield from zip(route.resolved.links, stops, stops[1:], strict=False)


def chosen(route: Route) -> Iterator[tuple[int, Point]]:
    """The points (index, point) that the user chose, aerodromes and the inside of airways left out."""
    last = len(route.points) - 1
    for index, point in enumerate(route.points):
        if 0 < index < last and point.stop is not None:
            yield index, point


def spans_of_point(point: Point) -> tuple[Span, ...]:
    """The span of a point as a tuple, empty for an airport beside the text."""
    return (point.span,) if point.span else ()
