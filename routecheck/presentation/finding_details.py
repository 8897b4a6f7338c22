"""The details under an open finding: its facts, what it rests on, the known false alarms of its check."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import collect
from routecheck.citations import cite
from routecheck.presentation.finding_rows import fact_text

if TYPE_CHECKING:
    from routecheck.model import Finding

RECKONED_IN = "log-odds"
"""The unit of facts that say how a finding was reckoned: a word of ours, which stands apart."""


def finding_details(finding: Finding) -> tuple[tuple[str, str], ...]:
    """The details of a finding as (name, text), facts first, and last how it was reckoned: the words of our own."""
    rows = [(fact.name, fact_text(fact)) for fact in finding.facts if fact.unit != RECKONED_IN]
    scores = [f"{fact.name} {fact_text(fact)}" for fact in finding.facts if fact.unit == RECKONED_IN]
    if finding.citations:
        rows.append(("rests on", "; ".join(str(cite(key)) for key in finding.citations)))
    if alarms := known_false_alarms(finding.check):
        rows.append(("known false alarms", alarms))
    rows.append(("how this was reckoned", "; ".join([f"by the check {finding.check}", *scores])))
    return tuple(row for row in rows if row[1])


def known_false_alarms(check: str) -> str:
    """Where a check is known to speak up without need; "" where there is no such check."""
    return next((one.false_alarms for one in collect() if one.name == check), "")
