"""The fenced runner: every check on one route, each with exactly one outcome. One that raises brings nobody down."""

from __future__ import annotations

import logging
from bisect import bisect_left
from dataclasses import dataclass
from operator import itemgetter
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Check, Limits
from routecheck.checks.plan import plan_for
from routecheck.model import Assessment, Finding, NotChecked, Outcome, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from routecheck.checks.plan import Asked
    from routecheck.model import Route, Span

_LOG = logging.getLogger(__name__)
_HEAVINESS = {weight: rank for rank, weight in enumerate(Weight)}
_PLACE = itemgetter(0)


@dataclass(slots=True)
class _Ran:
    """What one check said about one route; `place` is that of the check in the catalogue."""

    place: int
    check: Check
    findings: list[Finding]
    not_checked: list[NotChecked]
    raised: str = ""


def run(route: Route, checks: Sequence[Check], changed: Mapping[str, Mapping[str, float]]) -> Assessment:
    """All checks on one route, with what yields to a stronger finding taken out and said."""
    plan = plan_for(route, tuple(checks))
    ran = _yielded(list(_said(plan.asked, route, changed)))
    outcomes = list(plan.outcomes)
    for r in ran:
        outcomes[r.place] = r.check.name, _outcome(r)
    told = [(r.place, n) for r in ran for n in r.not_checked]
    return Assessment(
        route=route,
        findings=tuple(sorted([f for r in ran for f in r.findings], key=_in_route_order)),
        not_checked=tuple([n for _, n in sorted([*plan.not_checked, *told], key=_PLACE)]),
        could_not_run=tuple([(r.check.name, r.raised) for r in ran if r.raised]),
        outcomes=tuple(outcomes),
    )


def _said(asked: Sequence[Asked], route: Route, changed: Mapping[str, Mapping[str, float]]) -> Iterator[_Ran]:
    """What the checks say of the route, each within its fence; most look and find nothing."""
    for place, check, function in asked:
        limits = Limits(check.limits, changed[check.name]) if check.name in changed else check.defaults
        try:
            said = list(function(route, limits))
        except Exception as error:
            _LOG.exception("check %s could not run", check.name)
            yield _Ran(place, check, [], [], f"{type(error).__name__}: {error}")
        else:
            if said:
                yield _sorted(place, check, said)


def _sorted(place: int, check: Check, said: Sequence[Finding | NotChecked]) -> _Ran:
    """What a check said, with its name to it and its citations."""
    ran = _Ran(place, check, [], [])
    for one in said:
        if isinstance(one, Finding):
            cited = one.citations or check.citations
            ran.findings.append(Finding(one.spans, one.message, one.weight, one.facts, cited, one.points, check.name))
        else:
            ran.not_checked.append(NotChecked(one.spans, one.because, check.name))
    return ran


def _yielded(ran: list[_Ran]) -> list[_Ran]:
    """Drop findings that a stronger one at the same words explains. One cause, one finding."""
    standing = {r.check.name: r.findings for r in ran if r.findings}
    if len(standing) < 2:
        return ran
    causes: dict[int, Finding] = {}
    for r in (r for r in ran if r.findings and r.check.explained_by):
        stronger = _Stronger([f for name in r.check.explained_by for f in standing.get(name, ())])
        causes |= {id(finding): cause for finding in r.findings if (cause := stronger.at(finding))}
    return [_without_explained(r, causes) for r in ran] if causes else ran


def _without_explained(ran: _Ran, causes: Mapping[int, Finding]) -> _Ran:
    kept = [finding for finding in ran.findings if id(finding) not in causes]
    told = [
        NotChecked(finding.spans, f"explained by {_root(finding, causes).check}", ran.check.name)
        for finding in ran.findings
        if id(finding) in causes
    ]
    return _Ran(ran.place, ran.check, kept, [*ran.not_checked, *told], ran.raised)


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


def _outcome(ran: _Ran) -> Outcome:
    if ran.raised:
        return Outcome.COULD_NOT_RUN
    if ran.findings:
        return Outcome.FINDINGS
    return Outcome.NOT_CHECKED if ran.not_checked else Outcome.NOTHING_FOUND


def _in_route_order(finding: Finding) -> tuple[int, int]:
    """By the first word flagged; what belongs to the whole route comes last."""
    start = finding.spans[0].start if finding.spans else 1 << 60
    return start, _HEAVINESS[finding.weight]
