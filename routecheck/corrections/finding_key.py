"""What tells one finding from another, so that it is known again when the route is assessed with a correction."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from routecheck.model import Assessment, Finding, Span

Words = tuple[str, ...]
CHECKS_BY_POINT = frozenset(
    {"window-error", "window-upside-down", "windows-conflict", "climb-in-arrival", "descent-in-departure"}
)
"""Checks with findings at the points of a procedure, of which the text has one word."""


class FindingKey(NamedTuple):
    """The check, the words that it flags, and the points where words do not tell its findings apart.

    Positions in the text are no part of it: a correction moves them.
    """

    check: str
    words: Words
    points: Words

    @property
    def check_and_words(self) -> tuple[str, Words]:
        """What tells it from what is not checked, which names no points."""
        return self.check, self.words


def finding_key(assessment: Assessment, finding: Finding) -> FindingKey:
    """The key of a finding in its assessment."""
    words = words_at(assessment.route.route_input.route, finding.spans)
    if words and finding.check not in CHECKS_BY_POINT:
        return FindingKey(finding.check, words, ())
    last = len(assessment.route.points) - 1
    ends = {0: "departure", last: "destination"}
    points = tuple(ends.get(i, assessment.route.points[i].text) for i in finding.points)
    return FindingKey(finding.check, words, points)


def words_at(text: str, spans: tuple[Span, ...]) -> Words:
    """The words of a text at these places, upper case."""
    return tuple(text[span.start : span.end].upper() for span in spans)
