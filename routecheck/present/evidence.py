"""What stands under a finding when it is opened: its facts, what it rests on, when it is known to be a false alarm."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import collect
from routecheck.citations import cite

if TYPE_CHECKING:
    from routecheck.model import Fact, Finding

_FALSE_ALARMS = re.compile(r"Known false alarms:\s*(.+?)(?:\n\n|\Z)", re.DOTALL)


def evidence(finding: Finding) -> tuple[tuple[str, str], ...]:
    """The lines under a finding as (name, text), facts first."""
    rows = [(fact.name, fact_text(fact)) for fact in finding.facts]
    if finding.citations:
        rows.append(("rests on", "; ".join(str(cite(key)) for key in finding.citations)))
    if alarms := false_alarms(finding.check):
        rows.append(("known false alarms", alarms))
    rows.append(("check", finding.check))
    return tuple(row for row in rows if row[1])


def fact_text(fact: Fact) -> str:
    """The value of a fact with its unit: "126 NM", "119°", "PIKAR"."""
    value = f"{fact.value:,}" if isinstance(fact.value, (int, float)) else fact.value
    return f"{value}{'' if fact.unit.startswith('°') else ' '}{fact.unit}".strip()


def false_alarms(check: str) -> str:
    """What a check says of its known false alarms, as one line; "" where it says nothing."""
    doc = next((c.doc for c in collect() if c.name == check), "")
    found = _FALSE_ALARMS.search(doc)
    return " ".join(found.group(1).split()) if found else ""
