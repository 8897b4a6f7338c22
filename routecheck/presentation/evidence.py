"""What stands under a finding when it is opened: its facts, what it rests on, when it is known to be a false alarm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import collect
from routecheck.citations import cite
from routecheck.presentation.rows import fact_value

if TYPE_CHECKING:
    from routecheck.model import Finding


def evidence(finding: Finding) -> tuple[tuple[str, str], ...]:
    """The lines under a finding as (name, text), facts first."""
    rows = [(fact.name, fact_value(fact)) for fact in finding.facts]
    if finding.citations:
        rows.append(("rests on", "; ".join(str(cite(key)) for key in finding.citations)))
    if alarms := false_alarms(finding.check):
        rows.append(("known false alarms", alarms))
    rows.append(("check", finding.check))
    return tuple(row for row in rows if row[1])


def false_alarms(check: str) -> str:
    """Where a check is known to speak up without need; "" where there is no such check."""
    return next((one.false_alarms for one in collect() if one.name == check), "")
