"""Accept with reason: which findings somebody answers for, and how that is said. Nothing is counted away in here."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.formatting import date
from routecheck.model import Accepted

if TYPE_CHECKING:
    from routecheck.model import Assessment, Finding, Route, RouteInput


def standing(assessment: Assessment) -> dict[int, Accepted]:
    """The acceptance of each finding, by its index, that still says what it said when it was accepted."""
    return {i: found for i, finding in enumerate(assessment.findings) if (found := _of(assessment.route, finding))}


def lapsed(assessment: Assessment) -> dict[int, Accepted]:
    """Acceptances of the same check at the same words whose finding says something else by now, by its index."""
    found = {}
    for i, finding in enumerate(assessment.findings):
        if _of(assessment.route, finding) is None and (old := _alike(assessment.route, finding)):
            found[i] = old[-1]
    return found


def accept(assessment: Assessment, index: int, reason: str, by: str, at: dt.datetime) -> RouteInput:
    """The entry with one finding accepted, in place of what was accepted there before. `at` must have a time zone."""
    finding, route_input = assessment.findings[index], assessment.route.route_input
    utc = f"{at.astimezone(dt.UTC):%Y-%m-%dT%H:%M:%SZ}"
    said = Accepted(
        finding.check, words_of(route_input, finding), reason.strip(), by.strip(), at=utc, finding=finding.message
    )
    return replace(route_input, accepted=(*_without(assessment, index), said))


def take_back(assessment: Assessment, index: int) -> RouteInput:
    """The entry with one finding no longer accepted."""
    return replace(assessment.route.route_input, accepted=_without(assessment, index))


def words_of(route_input: RouteInput, finding: Finding) -> str:
    """The words that a finding flags, as typed; "" where it is about the whole route."""
    return " ".join(route_input.route[span.start : span.end] for span in finding.spans)


def said_of(assessment: Assessment) -> dict[int, str]:
    """What is said of the acceptance of each finding, by its index; findings that nobody accepted are not in it."""
    said = {i: told(accepted) for i, accepted in standing(assessment).items()}
    return said | {i: told_lapsed(accepted) for i, accepted in lapsed(assessment).items()}


def told(accepted: Accepted) -> str:
    """Who accepted what, when and why: "Accepted by AB, 03 DEC 2026 14:30 UTC: reason"."""
    return f"Accepted by {accepted.by}{_when(accepted)}: {accepted.reason}"


def told_lapsed(accepted: Accepted) -> str:
    """That an acceptance no longer holds, because the finding says something else now."""
    return (
        f"Not accepted as it reads now. {accepted.by}{_when(accepted)} accepted “{accepted.finding}”: {accepted.reason}"
    )


def _when(accepted: Accepted) -> str:
    if not accepted.at:
        return ""
    at = dt.datetime.fromisoformat(accepted.at).astimezone(dt.UTC)
    return f", {date(at.date())} {at:%H:%M} UTC"


def _of(route: Route, finding: Finding) -> Accepted | None:
    return next((a for a in _alike(route, finding) if a.finding in ("", finding.message)), None)


def _alike(route: Route, finding: Finding) -> list[Accepted]:
    if not route.route_input.accepted:
        return []
    words = words_of(route.route_input, finding)
    return [a for a in route.route_input.accepted if (a.check, a.words) == (finding.check, words)]


def _without(assessment: Assessment, index: int) -> tuple[Accepted, ...]:
    gone = _alike(assessment.route, assessment.findings[index])
    return tuple(a for a in assessment.route.route_input.accepted if a not in gone)
