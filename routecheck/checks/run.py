"""The fenced runner: every check on one route, each with exactly one outcome. One that raises brings nobody down."""

from __future__ import annotations

import logging
from bisect import bisect_left
from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Check, Limits
from routecheck.model import Assessment, Finding, NotChecked, Outcome, Weight

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from routecheck.model import Route, Span

UNREAD_ROW = "unread-row"
"""The one check of what could not be read at all: there is nothing there for the others."""
_NOTHING_READ = "nothing of it could be read"
_LOG = logging.getLogger(__name__)
_HEAVINESS = {weight: rank for rank, weight in enumerate(Weight)}


@dataclass(slots=True)
class _Answer:
    """What one check said about one route."""

    check: Check
    findings: Sequence[Finding] = ()
    not_checked: Sequence[NotChecked] = ()
    raised: str = ""


def run(route: Route, checks: Iterable[Check], changed: Mapping[str, Mapping[str, float]]) -> Assessment:
    """All checks on one route; what a stronger finding explains is taken out of the list, and that is said."""
    answers = _without_explained([_ask_within_fence(check, route, changed) for check in checks])
    return Assessment(
        route=route,
        findings=tuple(sorted([f for a in answers for f in a.findings], key=_in_route_order)),
        not_checked=tuple([n for a in answers for n in a.not_checked]),
        could_not_run=tuple([(a.check.name, a.raised) for a in answers if a.raised]),
        outcomes=tuple([(a.check.name, _outcome(a)) for a in answers]),
    )


def _ask_within_fence(check: Check, route: Route, changed: Mapping[str, Mapping[str, float]]) -> _Answer:
    try:
        said = _ask(check, route, changed)
    except Exception as error:
        _LOG.exception("check %s could not run", check.name)
        return _Answer(check, raised=f"{type(error).__name__}: {error}")
    return _sort(check, said) if said else _Answer(check)


def _ask(check: Check, route: Route, changed: Mapping[str, Mapping[str, float]]) -> Sequence[Finding | NotChecked]:
    """What a check says of a route: nothing where it has nothing to look at, not checked where it lacks something."""
    if route.route_input.unread and check.name != UNREAD_ROW:
        return [NotChecked((), _NOTHING_READ)]
    if check.applies_to and not check.applies_to(route):
        return ()
    for requirement in check.requires:
        if lacking := requirement(route):
            return [NotChecked((), lacking)]
    limits = Limits(check.limits, changed[check.name]) if check.name in changed else check.defaults
    return list(check.function(route, limits))


def _sort(check: Check, said: Sequence[Finding | NotChecked]) -> _Answer:
    """What a check said, findings apart from the rest, each with the check's name and citations."""
    findings: list[Finding] = []
    not_checked: list[NotChecked] = []
    for one in said:
        if isinstance(one, Finding):
            cited = one.citations or check.citations
            findings.append(Finding(one.spans, one.message, one.weight, one.facts, cited, one.points, check.name))
        else:
            not_checked.append(NotChecked(one.spans, one.because, check.name))
    return _Answer(check, findings, not_checked)


def _without_explained(answers: list[_Answer]) -> list[_Answer]:
    """Drop findings that a stronger one at the same words explains. One cause, one finding."""
    standing = {answer.check.name: answer.findings for answer in answers if answer.findings}
    if len(standing) < 2:
        return answers
    causes: dict[int, Finding] = {}
    for answer in (a for a in answers if a.findings and a.check.explained_by):
        stronger = _Stronger([f for name in answer.check.explained_by for f in standing.get(name, ())])
        causes |= {id(finding): cause for finding in answer.findings if (cause := stronger.at(finding))}
    return [_left_of(answer, causes) for answer in answers] if causes else answers


def _left_of(answer: _Answer, causes: Mapping[int, Finding]) -> _Answer:
    kept = [finding for finding in answer.findings if id(finding) not in causes]
    told = [
        NotChecked(finding.spans, f"explained by {_root(finding, causes).check}", answer.check.name)
        for finding in answer.findings
        if id(finding) in causes
    ]
    return _Answer(answer.check, kept, [*answer.not_checked, *told], answer.raised)


def _root(finding: Finding, causes: Mapping[int, Finding]) -> Finding:
    """What explains a finding and is itself explained by nothing, so that the reader finds it on the list."""
    while id(finding) in causes:
        finding = causes[id(finding)]
    return finding


class _Stronger:
    """Findings asked by words: sorted once, so that thousands on one route cost no more each than a few do."""

    def __init__(self, findings: Sequence[Finding]) -> None:
        firsts: dict[Span, int] = {}
        for rank, finding in enumerate(findings):
            for span in finding.spans:
                firsts.setdefault(span, rank)
        self._findings = findings
        self._spans = sorted(firsts)
        self._ranks = [firsts[span] for span in self._spans]

    def at(self, finding: Finding) -> Finding | None:
        """The first of them that shares a word with this one. Spans are those of words: alike, or apart."""
        places = [(span, bisect_left(self._spans, span.end, key=_start) - 1) for span in finding.spans]
        ranks = [self._ranks[i] for span, i in places if i >= 0 and self._spans[i].overlaps(span)]
        return self._findings[min(ranks)] if ranks else None


def _start(span: Span) -> int:
    return span.start


def _outcome(answer: _Answer) -> Outcome:
    if answer.raised:
        return Outcome.COULD_NOT_RUN
    if answer.findings:
        return Outcome.FINDINGS
    return Outcome.NOT_CHECKED if answer.not_checked else Outcome.NOTHING_FOUND


def _in_route_order(finding: Finding) -> tuple[int, int]:
    """By the first word flagged; what belongs to the whole route comes last."""
    start = finding.spans[0].start if finding.spans else 1 << 60
    return start, _HEAVINESS[finding.weight]
