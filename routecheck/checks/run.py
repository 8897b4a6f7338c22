"""The fenced runner: every check on one route, each with exactly one outcome. One that raises brings nobody down."""

from __future__ import annotations

import logging
from bisect import bisect_left
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Check, Limits
from routecheck.model import Assessment, Finding, NotChecked, Outcome, Weight

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from routecheck.model import Route, Span

UNREAD_ROW = "unread-row"
"""The one check of what could not be read at all: there is nothing there for the others."""
_LOG = logging.getLogger(__name__)
_NOTHING_FOUND = Outcome.NOTHING_FOUND
_HEAVINESS = {weight: rank for rank, weight in enumerate(Weight)}


@dataclass(slots=True)
class _Ran:
    """What one check said about one route."""

    check: Check
    findings: list[Finding]
    not_checked: list[NotChecked]
    raised: str = ""


def run(route: Route, checks: Sequence[Check], changed: Mapping[str, Mapping[str, float]]) -> Assessment:
    """All checks on one route, with what yields to a stronger finding taken out and said."""
    run_one = _unread if route.entry.unread else _run_one
    ran = _yielded([r for check in checks if (r := run_one(check, route, changed))])
    findings = [f for r in ran for f in r.findings]
    outcome = {r.check.name: _outcome(r) for r in ran}
    return Assessment(
        route=route,
        findings=tuple(sorted(findings, key=_in_route_order)),
        not_checked=tuple([n for r in ran for n in r.not_checked]),
        could_not_run=tuple([(r.check.name, r.raised) for r in ran if r.raised]),
        outcomes=tuple([(c.name, outcome.get(c.name, _NOTHING_FOUND)) for c in checks]),
    )


def _run_one(check: Check, route: Route, changed: Mapping[str, Mapping[str, float]]) -> _Ran | None:
    """What the check says of the route; None where it looked and found nothing, as most checks of most routes."""
    limits = Limits(check.limits, changed[check.name]) if check.name in changed else check.defaults
    try:
        said = list(check.function(route, limits))
        return _sorted(check, said) if said else None
    except Exception as error:
        _LOG.exception("check %s could not run", check.name)
        return _Ran(check, [], [], f"{type(error).__name__}: {error}")


def _unread(check: Check, route: Route, changed: Mapping[str, Mapping[str, float]]) -> _Ran | None:
    """The same for a row of which nothing could be read: one check says so, and the others have nothing to look at."""
    if check.name == UNREAD_ROW:
        return _run_one(check, route, changed)
    return _Ran(check, [], [_of_whole_route("nothing of it could be read", check.name)])


def _sorted(check: Check, said: Sequence[Finding | NotChecked]) -> _Ran:
    """What a check said, with its name to it and its citations."""
    ran = _Ran(check, [], [])
    for one in said:
        if isinstance(one, Finding):
            cited = one.citations or check.citations
            ran.findings.append(Finding(one.spans, one.message, one.weight, one.facts, cited, one.points, check.name))
        elif one.spans:
            ran.not_checked.append(NotChecked(one.spans, one.because, check.name))
        else:
            ran.not_checked.append(_of_whole_route(one.because, check.name))
    return ran


@lru_cache(maxsize=4096)
def _of_whole_route(because: str, check: str) -> NotChecked:
    """The same reason stands for route after route: one value serves for all of them."""
    return NotChecked((), because, check)


def _yielded(ran: list[_Ran]) -> list[_Ran]:
    """Drop findings that a stronger one at the same words explains. One cause, one finding."""
    standing = {r.check.name: r.findings for r in ran if r.findings}
    if len(standing) < 2:
        return ran
    causes: dict[int, Finding] = {}
    for r in (r for r in ran if r.findings and r.check.yields_to):
        stronger = _Stronger([f for name in r.check.yields_to for f in standing.get(name, ())])
        causes |= {id(finding): cause for finding in r.findings if (cause := stronger.at(finding))}
    return [_without_explained(r, causes) for r in ran] if causes else ran


def _without_explained(ran: _Ran, causes: Mapping[int, Finding]) -> _Ran:
    kept = [finding for finding in ran.findings if id(finding) not in causes]
    told = [
        NotChecked(finding.spans, f"explained by {_root(finding, causes).check}", ran.check.name)
        for finding in ran.findings
        if id(finding) in causes
    ]
    return _Ran(ran.check, kept, [*ran.not_checked, *told], ran.raised)


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
