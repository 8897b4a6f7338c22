"""Findings that one correction clears: only those most to the point stay. And best edits whose corrections fail."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.corrections.verify import BEST_EDIT, is_heavy
from routecheck.model import Finding, NotChecked, Outcome, Weight, explained

if TYPE_CHECKING:
    from routecheck.model import Assessment, BestEdit, Correction, FieldChange, Span

_Cure = tuple[str, tuple["FieldChange", ...]]


def proven(assessment: Assessment) -> tuple[BestEdit, ...]:
    """The best edits without those whose own finding stands but whose corrections did not hold when they were tried."""
    unproven = [f for f in assessment.findings if f.check == BEST_EDIT and not f.likely_intended]
    spans = {span for finding in unproven for span in finding.spans}
    at_no_word = any(not finding.spans for finding in unproven)
    return tuple(b for b in assessment.route.best_edits if not _at(b.corrections[0], spans, at_no_word=at_no_word))


def _at(correction: Correction, spans: set[Span], *, at_no_word: bool) -> bool:
    """Whether a correction is of these words; that of the aerodromes beside the text is of none."""
    if correction.span is None:
        return at_no_word
    return any(span.overlaps(correction.span) for span in spans)


def one_cause(assessment: Assessment) -> Assessment:
    """One cause, one finding: of the findings that the same correction clears, only those most to the point stay.

    Of a correction in the text a finding that names a word to change goes before the best edit, and the best edit
    before one about others or the whole route; where only the aerodromes are corrected it goes before all that name
    words.
    """
    causes: dict[_Cure, tuple[int, str]] = {}
    for finding in assessment.findings:
        if finding.likely_intended and is_heavy(finding):
            rank = (_to_the_point(finding), finding.check)
            cure = _cure(finding)
            causes[cure] = min(causes.get(cure, rank), rank)
    kept: list[Finding] = []
    dropped: list[NotChecked] = []
    for finding in assessment.findings:
        best, check = causes[_cure(finding)] if finding.likely_intended else (0, "")
        if check and _to_the_point(finding) > best:
            dropped.append(explained(finding, check))
        else:
            kept.append(finding)
    return _without(assessment, kept, dropped) if dropped else assessment


def _cure(finding: Finding) -> _Cure:
    """What is proposed first: the text and what stands beside it."""
    first = finding.likely_intended[0]
    return first.route, first.beside


def _to_the_point(finding: Finding) -> int:
    """0 = speaks of what would be corrected, 1 = the best edit, 2 = of what follows; contradictions always stay."""
    if finding.check == BEST_EDIT:
        return 1
    changed = [proposal.span for proposal in finding.likely_intended if proposal.span is not None]
    named = any(span.overlaps(new) for span in finding.spans for new in changed) if changed else not finding.spans
    return 0 if named or finding.weight is Weight.WRONG else 2


def _without(assessment: Assessment, kept: list[Finding], dropped: list[NotChecked]) -> Assessment:
    left = {finding.check for finding in kept}
    gone = {one.check for one in dropped} - left
    outcomes = tuple((n, Outcome.NOT_CHECKED if n in gone else outcome) for n, outcome in assessment.outcomes)
    # What the dropped one explained is explained by what stands in its place.
    instead = {one.check: one.explained_by for one in dropped if one.check in gone}
    told = (explained(n, instead[n.explained_by]) if n.explained_by in instead else n for n in assessment.not_checked)
    not_checked = (*told, *dropped)
    return replace(assessment, findings=tuple(kept), not_checked=not_checked, outcomes=outcomes)
