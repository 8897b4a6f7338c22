"""Describes a check in words from the values in its own file: for the terminal and for the table in the README."""

from __future__ import annotations

from textwrap import TextWrapper
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import PUBLISHED_ROUTES
from routecheck.checks.causes import EXPLAINED_BY
from routecheck.citations import cite
from routecheck.formatting import listing
from routecheck.model import Weight
from routecheck.presentation.headline import WEIGHT_NAMES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.checks.catalogue import Case, Check, Limit, Measured

_WRAPPER = TextWrapper(100, break_on_hyphens=False)


def explain_check(check: Check) -> str:
    """Everything a check says about itself."""
    parts = [
        f"{check.name}, {check.family}, at most {WEIGHT_NAMES[check.weight]}",
        _WRAPPER.fill(check.sentence),
        _WRAPPER.fill(check.explanation),
        _WRAPPER.fill(f"Known false alarms: {check.false_alarms}"),
        _WRAPPER.fill(_describe_measured(check.measured)) if check.measured else "",
        _write_section("Limits", [_describe_limit(limit) for limit in check.limits]),
        _write_section("Rests on", [str(cite(key)) for key in check.citations]),
        _write_section("Steps aside for", _WRAPPER.wrap(", ".join(EXPLAINED_BY.get(check.name, ())))),
        _write_section("Speaks up (« » = the words flagged)", [_describe_case(case) for case in check.flagged]),
        _write_section("Stays quiet", [_describe_case(case) for case in check.quiet]),
    ]
    return "\n\n".join(filter(None, parts)) + "\n"


def tabulate_checks(checks: Sequence[Check]) -> str:
    """The catalogue as a Markdown table, as the README has it."""
    rows = ["| family | check | at most | speaks up when |", "| --- | --- | --- | --- |"]
    rows += [f"| {c.family} | `{c.name}` | {WEIGHT_NAMES[c.weight]} | {c.sentence.rstrip('.')} |" for c in checks]
    return "\n".join(rows) + "\n"


def _write_section(title: str, lines: list[str]) -> str:
    return f"{title}:\n" + "\n".join(f"  {line}" for line in lines) if lines else ""


def _describe_measured(measured: Measured) -> str:
    shares = {Weight.WRONG: measured.wrong, Weight.DOUBTFUL: measured.doubtful, Weight.NOTE: measured.note}
    found = [f"{WEIGHT_NAMES[weight]} on {percent:g} %" for weight, percent in shares.items() if percent]
    return f"Measured by itself, with these limits: {listing(found) or 'found on none'} of {PUBLISHED_ROUTES}."


def _describe_limit(limit: Limit) -> str:
    unit = "" if limit.unit in ("", "°") else " "
    why = f"; {limit.why}" if limit.why else ""
    return f"{limit.name} = {limit.default:g}{unit}{limit.unit} ({cite(limit.citation)}{why})"


def _describe_case(case: Case) -> str:
    given = case.given
    ends = f"{given.departure or '?'} to {given.destination or '?'}"
    beside = [ends, f"on {given.date}" if given.date else "", given.unread]
    return f"{given.route or '(no text)'}   [{', '.join(filter(None, beside))}]"
