"""What belongs together: a word, its findings, its points and its legs, so that picking one shows all. No Qt."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.checks.per_route_cache import cached_per_route

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.model import Assessment, Finding, Route, Span


@dataclass(frozen=True, slots=True)
class Pick:
    """What is picked: spans of the text, indices of findings (as numbered, from 0), of points and of legs."""

    spans: tuple[Span, ...] = ()
    findings: tuple[int, ...] = ()
    points: tuple[int, ...] = ()
    legs: tuple[int, ...] = ()


def pick_span(assessment: Assessment, span: Span) -> Pick | None:
    """Everything about the words that a span touches; None where it touches none."""
    route = assessment.route
    words = tuple(word.span for word in route.parsed.words if word.span.overlaps(span))
    if not words:
        return None
    points = tuple(i for i, p in enumerate(route.points) if p.span and _touch((p.span,), words))
    legs = tuple(i for i, _ in enumerate(route.legs) if _touch(_words_of_leg(route, i), words))
    return Pick(words, _findings(assessment, words, ()), points, legs)


def pick_finding(assessment: Assessment, index: int) -> Pick:
    """A finding with its words, the points it marks and the legs it is about."""
    finding = assessment.findings[index]
    points = marked_points(assessment.route, finding)
    return Pick(finding.spans, (index,), points, legs_about(assessment.route, finding))


def pick_point(assessment: Assessment, index: int) -> Pick:
    """A point of the path with its word and what is said about it."""
    span = assessment.route.points[index].span
    spans = (span,) if span else ()
    return Pick(spans, _findings(assessment, spans, (index,)), (index,), ())


def pick_leg(assessment: Assessment, index: int) -> Pick:
    """A leg with the words that say how it is flown, or else those of its ends."""
    spans = _words_of_leg(assessment.route, index) or _ends_of_leg(assessment.route, index)
    both = tuple(i for i, f in enumerate(assessment.findings) if index in legs_about(assessment.route, f))
    return Pick(spans, both or _findings(assessment, spans, ()), (index, index + 1), (index,))


def marked_points(route: Route, finding: Finding) -> tuple[int, ...]:
    """The points a finding is about: those it names, else those whose word it flags."""
    if finding.points:
        return finding.points
    points = _points_of_words(route)
    return tuple(sorted({i for span in finding.spans for i in points.get(span, ())}))


def legs_about(route: Route, finding: Finding) -> tuple[int, ...]:
    """The legs a finding is about: those between its neighbouring points, else those on both sides of its point.

    A finding about an airway or DCT alone is about the legs of that word.
    """
    points = sorted(set(marked_points(route, finding)))
    between = tuple(a for a, b in pairwise(points) if b == a + 1)
    if points:
        return between or tuple(leg for p in points for leg in (p - 1, p) if 0 <= leg < len(route.legs))
    legs = _legs_of_words(route)
    return tuple(sorted({i for span in finding.spans for i in legs.get(span, ())}))


@cached_per_route
def _points_of_words(route: Route) -> dict[Span, list[int]]:
    """The points that each word of the text stands for."""
    points: dict[Span, list[int]] = defaultdict(list)
    for i, point in enumerate(route.points):
        if point.route_point is not None and point.span:
            points[point.span].append(i)
    return points


@cached_per_route
def _legs_of_words(route: Route) -> dict[Span, list[int]]:
    """The legs that each word of the text says how to fly."""
    legs: dict[Span, list[int]] = defaultdict(list)
    for i in range(len(route.legs)):
        for span in _words_of_leg(route, i):
            legs[span].append(i)
    return legs


def _findings(assessment: Assessment, spans: tuple[Span, ...], points: tuple[int, ...]) -> tuple[int, ...]:
    return tuple(
        i
        for i, finding in enumerate(assessment.findings)
        if _touch(finding.spans, spans) or set(points) & set(finding.points)
    )


def _touch(some: Iterable[Span], others: tuple[Span, ...]) -> bool:
    return any(one.overlaps(other) for one in some for other in others)


def _words_of_leg(route: Route, leg: int) -> tuple[Span, ...]:
    words = route.parsed.words
    return tuple(words[i].span for i in route.resolved.connections[route.legs[leg].connection].words)


def _ends_of_leg(route: Route, leg: int) -> tuple[Span, ...]:
    return tuple(p.span for p in route.points[leg : leg + 2] if p.span)
