"""What belongs together: a word, its findings, points and legs. Selecting one of them selects all. No Qt."""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.checks.per_route_cache import cached_per_route
from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.model import Assessment, Finding, Route, Span


@dataclass(frozen=True, slots=True)
class Selection:
    """What is selected: spans of the text, and the indices of findings, points and legs."""

    spans: tuple[Span, ...] = ()
    findings: tuple[int, ...] = ()
    points: tuple[int, ...] = ()
    legs: tuple[int, ...] = ()


def select_words(assessment: Assessment, span: Span) -> Selection | None:
    """Everything about the words that a span touches; None where it touches none."""
    route = assessment.route
    words = tuple(word.span for word in route.parsed.words if word.span.overlaps(span))
    if not words:
        return None
    points = tuple(i for i, p in enumerate(route.points) if p.span and _any_overlap((p.span,), words))
    legs = tuple(i for i, _ in enumerate(route.legs) if _any_overlap(_words_of_leg(route, i), words))
    return Selection(words, _findings_about(assessment, words, ()), points, legs)


def select_finding(assessment: Assessment, index: int) -> Selection:
    """A finding with its words, the points it marks and the legs it is about."""
    finding = assessment.findings[index]
    points = points_of_finding(assessment.route, finding)
    return Selection(finding.spans, (index,), points, legs_of_finding(assessment.route, finding))


def select_point(assessment: Assessment, index: int) -> Selection:
    """A point of the path with its word and what is said about it."""
    span = assessment.route.points[index].span
    spans = (span,) if span else ()
    return Selection(spans, _findings_about(assessment, spans, (index,)), (index,), ())


def select_leg(assessment: Assessment, index: int) -> Selection:
    """A leg with the words that say how it is flown, or else those of its ends."""
    spans = _words_of_leg(assessment.route, index) or _ends_of_leg(assessment.route, index)
    both = tuple(i for i, f in enumerate(assessment.findings) if index in legs_of_finding(assessment.route, f))
    return Selection(spans, both or _findings_about(assessment, spans, ()), (index, index + 1), (index,))


def points_of_finding(route: Route, finding: Finding) -> tuple[int, ...]:
    """The points a finding is about: those it names, else those whose word it flags."""
    if finding.points:
        return finding.points
    points = _points_of_words(route)
    return tuple(sorted({i for span in finding.spans for i in points.get(span, ())}))


def legs_of_finding(route: Route, finding: Finding) -> tuple[int, ...]:
    """The legs a finding is about: those between its neighbouring points, else those on both sides of its point.

    A finding about an airway or DCT alone is about the legs of that word.
    """
    points = sorted(set(points_of_finding(route, finding)))
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


def _findings_about(assessment: Assessment, spans: tuple[Span, ...], points: tuple[int, ...]) -> tuple[int, ...]:
    return tuple(
        i
        for i, finding in enumerate(assessment.findings)
        if _any_overlap(finding.spans, spans) or set(points) & set(finding.points)
    )


def _any_overlap(some: Iterable[Span], others: tuple[Span, ...]) -> bool:
    return any(one.overlaps(other) for one in some for other in others)


def _words_of_leg(route: Route, leg: int) -> tuple[Span, ...]:
    words = route.parsed.words
    return tuple(words[i].span for i in route.resolved.connections[route.legs[leg].connection].words)


def _ends_of_leg(route: Route, leg: int) -> tuple[Span, ...]:
    return tuple(p.span for p in route.points[leg : leg + 2] if p.span)
