"""The findings of an assessment, and what was not checked, as rows of text. No layout."""

from __future__ import annotations

from dataclasses import KW_ONLY
from typing import TYPE_CHECKING

from routecheck.citations import cite
from routecheck.frozen_dataclass import dataclass
from routecheck.presentation.acceptance import acceptance_sentences
from routecheck.presentation.verdict import WEIGHT_MARKS, WEIGHT_NAMES

if TYPE_CHECKING:
    from routecheck.model import Assessment, Fact


@dataclass(frozen=True, slots=True)
class FindingRow:
    """One finding as a reader sees it. `number` counts in route order and stands at its mark everywhere."""

    number: int
    _: KW_ONLY
    mark: str
    weight: str
    check: str
    message: str
    facts: tuple[tuple[str, str], ...]
    rests_on: tuple[str, ...]
    intended: tuple[str, ...] = ()
    """The likely intended corrections, best first, each as one line of evidence."""
    accepted: str = ""
    """Who accepted it, when and why, or that an acceptance no longer holds; "" where nobody did."""


def finding_rows(assessment: Assessment) -> list[FindingRow]:
    """The findings in route order."""
    accepted = acceptance_sentences(assessment)
    return [
        FindingRow(
            number=number,
            mark=WEIGHT_MARKS[finding.weight],
            weight=WEIGHT_NAMES[finding.weight],
            check=finding.check,
            message=finding.message,
            facts=tuple((fact.name, fact_text(fact)) for fact in finding.facts),
            rests_on=tuple(str(cite(key)) for key in finding.citations),
            intended=tuple(proposal.why for proposal in finding.likely_intended),
            accepted=accepted.get(number - 1, ""),
        )
        for number, finding in enumerate(assessment.findings, start=1)
    ]


def not_checked_rows(assessment: Assessment) -> list[tuple[str, str]]:
    """(check, why) for every check that was not made or could not run; equal lines only once."""
    if assessment.failure:
        return [("every check", f"could not run: {assessment.failure}")]
    rows = [(n.check, n.because) for n in assessment.not_checked]
    rows += [(check, f"could not run: {what}") for check, what in assessment.could_not_run]
    return list(dict.fromkeys(rows))


def fact_text(fact: Fact) -> str:
    """The value of a fact with its unit: "214 NM", "83.1° left"."""
    if fact.is_turn and not isinstance(fact.value, str):
        return f"{abs(fact.value):g}° {'left' if fact.value < 0 else 'right'}"
    is_plain = isinstance(fact.value, float | int) and abs(fact.value) < 1e6
    value = f"{fact.value:,g}" if is_plain else str(fact.value)
    return f"{value}{'' if fact.unit in ('', '°') else ' '}{fact.unit}"
