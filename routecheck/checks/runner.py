"""The fenced runner: every check on one route, each with exactly one outcome. One that raises brings nobody down."""

from __future__ import annotations

import logging
from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Check, Limits
from routecheck.checks.causes import EXPLAINED_BY, FIRST_OF_ALL, Causes
from routecheck.model import Assessment, Finding, NotChecked, Outcome, Weight

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from routecheck.checks.causes import Table
    from routecheck.model import Route

UNREAD_ROW = "unread-row"
"""The one check of what could not be read at all: there is nothing there for the others."""
_NOTHING_READ = "nothing of it could be read"
_LOG = logging.getLogger(__name__)
_HEAVINESS = {weight: rank for rank, weight in enumerate(Weight)}


@dataclass(slots=True)
class _Answer:
    """The answer of one check about one route."""

    check: Check
    findings: Sequence[Finding] = ()
    not_checked: Sequence[NotChecked] = ()
    raised: str = ""


def run_checks(
    route: Route, checks: Iterable[Check], changed: Mapping[str, Mapping[str, float]], table: Table = EXPLAINED_BY
) -> Assessment:
    """Put one route to all checks; take off the list what a stronger finding explains, and say so."""
    answers = [_ask_within_fence(check, route, changed) for check in checks]
    causes = Causes({answer.check.name: answer.findings for answer in answers if answer.findings}, table)
    for answer in answers:
        if answer.findings:
            answer.not_checked = [*answer.not_checked, *causes.explained_findings(answer.findings)]
            answer.findings = causes.unexplained_findings(answer.findings)
    return Assessment(
        route=route,
        findings=tuple(sorted([f for a in answers for f in a.findings], key=_in_route_order)),
        not_checked=tuple([n for a in answers for n in a.not_checked]),
        could_not_run=tuple([(a.check.name, a.raised) for a in answers if a.raised]),
        outcomes=tuple([(a.check.name, _outcome(a)) for a in answers]),
        not_used=route.route_input.not_used,
    )


def _ask_within_fence(check: Check, route: Route, changed: Mapping[str, Mapping[str, float]]) -> _Answer:
    try:
        answer = _ask(check, route, changed)
    except Exception as error:
        _LOG.exception("check %s could not run", check.name)
        return _Answer(check, raised=f"{type(error).__name__}: {error}")
    return _sort(check, answer) if answer else _Answer(check)


def _ask(check: Check, route: Route, changed: Mapping[str, Mapping[str, float]]) -> Sequence[Finding | NotChecked]:
    """Put a route to a check: nothing is found where it does not apply, not checked where the route lacks something."""
    if route.route_input.unread and check.name != UNREAD_ROW:
        return [NotChecked((), _NOTHING_READ)]
    if check.applies_to and not check.applies_to(route):
        return ()
    for requirement in check.requires:
        if lacking := requirement(route):
            return [NotChecked((), lacking)]
    limits = Limits(check.limits, changed[check.name]) if check.name in changed else check.defaults
    return list(check.function(route, limits))


def _sort(check: Check, answer: Sequence[Finding | NotChecked]) -> _Answer:
    """The findings apart from the rest, each with the check's name and citations."""
    findings: list[Finding] = []
    not_checked: list[NotChecked] = []
    for one in answer:
        if isinstance(one, Finding):
            cited = one.citations or check.citations
            findings.append(
                Finding(
                    one.spans, one.message, one.weight, one.facts, citations=cited, points=one.points, check=check.name
                )
            )
        else:
            not_checked.append(NotChecked(one.spans, one.because, check.name))
    return _Answer(check, findings, not_checked)


def _outcome(answer: _Answer) -> Outcome:
    if answer.raised:
        return Outcome.COULD_NOT_RUN
    if answer.findings:
        return Outcome.FINDINGS
    return Outcome.NOT_CHECKED if answer.not_checked else Outcome.NOTHING_FOUND


def _in_route_order(finding: Finding) -> tuple[int, int]:
    """By the first word flagged; what belongs to the whole route comes last, and one check before all others."""
    start = finding.spans[0].start if finding.spans else 1 << 60
    if finding.check == FIRST_OF_ALL:
        start = -1
    return start, _HEAVINESS[finding.weight]
