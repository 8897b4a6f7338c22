"""Describes the checks in words from the values in their own files: for `resources/checks.json` and the README."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from routecheck.checks.catalogue import PUBLISHED_ROUTES
from routecheck.checks.causes import EXPLAINED_BY
from routecheck.citations import cite
from routecheck.formatting import listing
from routecheck.model import Weight
from routecheck.presentation.verdict import WEIGHT_NAMES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.checks.catalogue import Case, Check, Limit, Measured


def describe_check(check: Check) -> dict[str, Any]:
    """Everything a check says about itself, as plain texts and figures."""
    return {
        "name": check.name,
        "family": check.family,
        "at_most": WEIGHT_NAMES[check.weight],
        "sentence": check.sentence,
        "explanation": check.explanation,
        "false_alarms": check.false_alarms,
        "measured": _describe_measured(check.measured) if check.measured else "",
        "limits": [_describe_limit(limit) for limit in check.limits],
        "rests_on": [str(cite(key)) for key in check.citations],
        "explained_by": list(EXPLAINED_BY.get(check.name, ())),
        "flagged": [_describe_case(case) for case in check.flagged],
        "quiet": [_describe_case(case) for case in check.quiet],
    }


def tabulate_checks(checks: Sequence[Check]) -> str:
    """The catalogue as a Markdown table, as the README has it."""
    rows = ["| family | check | at most | speaks up when |", "| --- | --- | --- | --- |"]
    rows += [f"| {c.family} | `{c.name}` | {WEIGHT_NAMES[c.weight]} | {c.sentence.rstrip('.')} |" for c in checks]
    return "\n".join(rows) + "\n"


def _describe_measured(measured: Measured) -> str:
    shares = {Weight.WRONG: measured.wrong, Weight.DOUBTFUL: measured.doubtful, Weight.NOTE: measured.note}
    found = [f"{WEIGHT_NAMES[weight]} on {percent:g} %" for weight, percent in shares.items() if percent]
    return f"Measured by itself, with these limits: {listing(found) or 'found on none'} of {PUBLISHED_ROUTES}."


def _describe_limit(limit: Limit) -> dict[str, Any]:
    return {
        "name": limit.name,
        "default": limit.default,
        "unit": limit.unit,
        "citation": str(cite(limit.citation)),
        "why": limit.why,
    }


def _describe_case(case: Case) -> dict[str, str]:
    given = case.given
    ends = f"{given.departure or '?'} to {given.destination or '?'}"
    beside = [ends, f"on {given.date}" if given.date else "", given.unread]
    return {"route": given.route or "(no text)", "beside": ", ".join(filter(None, beside))}
