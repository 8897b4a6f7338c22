"""What differs beside the points: aerodromes, runways, procedures, levels and windows. Points: see `points`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import LEVELS_EVERYWHERE_FT, altitudes_allowed
from routecheck.model import LOAD_NAMES, Difference, DifferenceKind, Via, WordKind, WordRole
from routecheck.performance.speeds import filed_by_leg

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, Span

_PROCEDURES = frozenset({WordRole.SID, WordRole.STAR, WordRole.PROCEDURE_ELSEWHERE, WordRole.UNKNOWN_PROCEDURE})
_UNREAD_WAYS = frozenset({Via.UNKNOWN, Via.RADIAL})


def differences_at_ends(first: Route, second: Route) -> Iterator[Difference]:
    """Other aerodromes, runways, approaches."""
    for which, end in ((0, "departure"), (-1, "destination")):
        yield from _value_differences(
            DifferenceKind.AERODROME, end, first.points[which].text, second.points[which].text
        )
        ours, theirs = first.resolved.runways[which], second.resolved.runways[which]
        yield from _value_differences(DifferenceKind.RUNWAY, f"{end} runway", ours, theirs)
    one, other = first.route_input, second.route_input
    yield from _value_differences(DifferenceKind.APPROACH, "approach", one.approach, other.approach)
    yield from _value_differences(
        DifferenceKind.ALTERNATE, "alternate", " ".join(one.alternate), " ".join(other.alternate)
    )


def _value_differences(kind: DifferenceKind, subject: str, ours: str, theirs: str) -> Iterator[Difference]:
    ours, theirs = ours.strip().upper(), theirs.strip().upper()
    if ours != theirs:
        yield Difference(kind, subject, (ours,) if ours else (), (theirs,) if theirs else ())


def differing_words(first: Route, second: Route) -> Iterator[Difference]:
    """Other procedures, and other words that are no points."""
    ours, theirs = _procedure_words(first), _procedure_words(second)
    if [text for text, _ in ours] != [text for text, _ in theirs]:
        yield _of_words(DifferenceKind.PROCEDURE, ours, theirs)
    ours, theirs = _words_besides(first), _words_besides(second)
    if [text for text, _ in ours] != [text for text, _ in theirs]:
        yield _of_words(DifferenceKind.WORDS, ours, theirs)


def differing_texts(first: Route, second: Route) -> Iterator[Difference]:
    """All words of both where their legs differ: for two routes in which nothing else was found to differ."""
    if [leg.distance_nm for leg in first.legs] != [leg.distance_nm for leg in second.legs]:
        ours, theirs = ([(word.text, word.span) for word in route.parsed.words] for route in (first, second))
        if ours != theirs:
            yield _of_words(DifferenceKind.WORDS, ours, theirs)


def _of_words(kind: DifferenceKind, ours: list[tuple[str, Span]], theirs: list[tuple[str, Span]]) -> Difference:
    in_ours, in_theirs = {text for text, _ in ours}, {text for text, _ in theirs}
    if in_ours != in_theirs:  # else they stand in another order, or another number of times
        ours = [(text, span) for text, span in ours if text not in in_theirs]
        theirs = [(text, span) for text, span in theirs if text not in in_ours]
    return Difference(
        kind,
        "",
        tuple(text for text, _ in ours),
        tuple(text for text, _ in theirs),
        spans=tuple(span for _, span in ours),
        other_spans=tuple(span for _, span in theirs),
    )


def _procedure_words(route: Route) -> list[tuple[str, Span]]:
    words = zip(route.parsed.words, route.resolved.roles, strict=True)
    return [(word.text, word.span) for word, role in words if role in _PROCEDURES]


def _words_besides(route: Route) -> list[tuple[str, Span]]:
    """The words that neither are points nor say how these are joined: each is compared as it is written."""
    resolved = route.resolved
    points = {point.word for point in resolved.route_points}
    compared: set[int | None] = set(points)
    for connection in resolved.connections:
        if connection.via not in _UNREAD_WAYS:
            compared |= set(connection.words)
    found: list[tuple[str, Span]] = []
    after = ""
    for index, (word, role) in enumerate(zip(route.parsed.words, resolved.roles, strict=True)):
        if index in compared:
            after = f" after {word.text}" if index in points else after
        elif role not in _PROCEDURES and (word.kind is not WordKind.CHANGE or word.bad):
            found.append((f"{word.text}{after}", word.span))
    return found


def differing_levels(first: Route, second: Route) -> Iterator[Difference]:
    """Other speeds and levels, where they begin to hold."""
    ours, theirs = _filed_from(first), _filed_from(second)
    for point in dict.fromkeys((*ours, *theirs)):
        one, other = ours.get(point, ()), theirs.get(point, ())
        if one != other:
            both = {*one} & {*other}
            here, there = (tuple(text for text in texts if text not in both) for texts in (one, other))
            yield Difference(DifferenceKind.SPEED_OR_LEVEL, point, here, there)


def _filed_from(route: Route) -> dict[str, tuple[str, ...]]:
    """Speed and level by the name of the point from which they hold; "" = from the departure."""
    found: dict[str, tuple[str, ...]] = {}
    before: tuple[str, ...] = ()
    for index, filed in enumerate(filed_by_leg(route)):
        now = tuple(filter(None, filed))
        if now != before:
            found["" if index == 0 else route.points[index].text] = now
        before = now
    return found


def differing_loads(first: Route, second: Route) -> Iterator[Difference]:
    """Weights and fuel that both versions state, and differently; another unit is a difference of its own."""
    one, other = first.route_input.load, second.route_input.load
    if one is None or other is None:
        return
    yield from _value_differences(DifferenceKind.LOAD, "unit", one.unit, other.unit)
    for name, label in LOAD_NAMES.items():
        ours, theirs = one.get(name), other.get(name)
        if ours is not None and theirs is not None:
            yield from _value_differences(DifferenceKind.LOAD, label, f"{ours:,g}", f"{theirs:,g}")


def differing_windows(first: Route, second: Route) -> Iterator[Difference]:
    """Other altitude windows stated beside the route."""
    ours, theirs = _stated_windows(first), _stated_windows(second)
    for point in dict.fromkeys((*ours, *theirs)):
        one, other = ours.get(point, ()), theirs.get(point, ())
        if one != other:
            yield Difference(DifferenceKind.WINDOW, point, one, other)


def _stated_windows(route: Route) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for window in route.route_input.windows:
        words = altitudes_allowed(window.low_ft, window.high_ft, LEVELS_EVERYWHERE_FT)
        found[window.point] = (*found.get(window.point, ()), words)
    return found
