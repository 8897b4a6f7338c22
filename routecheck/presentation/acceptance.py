"""Acceptances: which findings somebody answers for, and the sentences about it. An accepted finding still counts."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.checks.acceptances import acceptances_of, flagged_words
from routecheck.formatting import date
from routecheck.model import Accepted

if TYPE_CHECKING:
    from routecheck.model import Assessment, Finding, Route, RouteInput


def valid_acceptances(assessment: Assessment) -> dict[int, Accepted]:
    """By the index of a finding: its acceptance, if the finding still says what it said when it was accepted."""
    found = {}
    for i, finding in enumerate(assessment.findings):
        if accepted := _valid_acceptance(assessment.route, finding):
            found[i] = accepted
    return found


def lapsed_acceptances(assessment: Assessment) -> dict[int, Accepted]:
    """By the index of a finding: its last acceptance, if the finding says something else by now."""
    found = {}
    for i, finding in enumerate(assessment.findings):
        earlier = acceptances_of(assessment.route.route_input, finding)
        if earlier and _valid_acceptance(assessment.route, finding) is None:
            found[i] = earlier[-1]
    return found


def accept_finding(assessment: Assessment, index: int, reason: str, by: str, at: dt.datetime) -> RouteInput:
    """The input with one finding accepted, which replaces its earlier acceptances. `at` must have a time zone."""
    finding, route_input = assessment.findings[index], assessment.route.route_input
    utc = f"{at.astimezone(dt.UTC):%Y-%m-%dT%H:%M:%SZ}"
    words = flagged_words(route_input, finding)
    accepted = Accepted(finding.check, words, reason.strip(), by.strip(), at=utc, finding=finding.message)
    return replace(route_input, accepted=(*_other_acceptances(assessment, index), accepted))


def withdraw_acceptance(assessment: Assessment, index: int) -> RouteInput:
    """The input with one finding no longer accepted."""
    return replace(assessment.route.route_input, accepted=_other_acceptances(assessment, index))


def acceptance_sentences(assessment: Assessment) -> dict[int, str]:
    """By the index of a finding: the sentence about its acceptance. Findings that nobody accepted are left out."""
    valid = {i: acceptance_sentence(accepted) for i, accepted in valid_acceptances(assessment).items()}
    lapsed = {i: lapsed_sentence(accepted) for i, accepted in lapsed_acceptances(assessment).items()}
    return valid | lapsed


def acceptance_sentence(accepted: Accepted) -> str:
    """Who accepted what, when and why: "Accepted by AB, 03 DEC 2026 14:30 UTC: reason"."""
    return f"Accepted by {accepted.by}{_time_suffix(accepted)}: {accepted.reason}"


def lapsed_sentence(accepted: Accepted) -> str:
    """That an acceptance no longer holds, because the finding says something else now."""
    who = f"{accepted.by}{_time_suffix(accepted)}"
    return f"Not accepted as it reads now. {who} accepted “{accepted.finding}”: {accepted.reason}"


def _time_suffix(accepted: Accepted) -> str:
    if not accepted.at:
        return ""
    at = dt.datetime.fromisoformat(accepted.at).astimezone(dt.UTC)
    return f", {date(at.date())} {at:%H:%M} UTC"


def _valid_acceptance(route: Route, finding: Finding) -> Accepted | None:
    """An acceptance from a route file that names no sentence holds for any."""
    return next((a for a in acceptances_of(route.route_input, finding) if a.finding in ("", finding.message)), None)


def _other_acceptances(assessment: Assessment, index: int) -> tuple[Accepted, ...]:
    dropped = acceptances_of(assessment.route.route_input, assessment.findings[index])
    return tuple(a for a in assessment.route.route_input.accepted if a not in dropped)
