"""Corrections tried before they are proposed: each clears the finding it stands under and raises nothing heavier."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from routecheck.model import Finding, NotChecked, Outcome, Proposal, Span, Weight
from routecheck.slips.costs import WORTH_SAYING
from routecheck.wording import listing, nm

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from routecheck.model import Assessment, BestEdit, Correction, Entry

BEST_EDIT = "best-edit"
MOST = 3
MOST_WORDS = 3
_RANK = {Weight.WRONG: 3, Weight.DOUBTFUL: 2, Weight.NOTE: 1}
Key = tuple[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class _Tried:
    """A correction with what came out when the route was assessed with it."""

    best: BestEdit
    correction: Correction
    proposal: Proposal
    cleared: frozenset[Key]


def with_proposals(assessment: Assessment, again: Callable[[Entry], Assessment]) -> Assessment:
    """The same assessment with the corrections that hold, under the findings they clear. `again` assesses an entry."""
    heavy = [f for f in assessment.findings if f.weight is not Weight.NOTE]
    if not heavy or not assessment.route.best_edits:
        return assessment
    tried = list(_tried(assessment, again))
    findings = tuple(_carrying(assessment, finding, tried) for finding in assessment.findings)
    return _one_cause(replace(assessment, findings=findings))


def proven(assessment: Assessment) -> tuple[BestEdit, ...]:
    """The best edits without those whose own finding stands but whose corrections did not hold when they were tried."""
    unproven = [f for f in assessment.findings if f.check == BEST_EDIT and not f.likely_intended]
    spans = {span for finding in unproven for span in finding.spans}
    return tuple(b for b in assessment.route.best_edits if not _at(b.corrections[0], spans))


def _at(correction: Correction, spans: set[Span]) -> bool:
    return correction.span is not None and any(span.overlaps(correction.span) for span in spans)


def _tried(assessment: Assessment, again: Callable[[Entry], Assessment]) -> Iterator[_Tried]:
    """Every correction of the stretches that have something to clear, each assessed once."""
    before = {_key(assessment, f): f for f in assessment.findings if f.weight is not Weight.NOTE}
    for best in assessment.route.best_edits:
        for correction in (c for c in best.corrections if c.gain > WORTH_SAYING):
            entry = _corrected(assessment, correction)
            after = again(entry)
            now = {_key(after, f): f for f in after.findings if f.weight is not Weight.NOTE}
            cleared = {
                key for key, f in before.items() if key not in now and _concerns(assessment, f, best, correction)
            }
            raised = [now[key] for key in now.keys() - before.keys()]
            if cleared and not _heavier(raised, [before[key] for key in cleared]):
                yield _Tried(best, correction, _proposal(correction, entry, after, cleared), frozenset(cleared))


def _corrected(assessment: Assessment, correction: Correction) -> Entry:
    entry, span = assessment.route.entry, correction.span
    if span is None:
        departure = correction.departure or entry.departure
        return replace(entry, departure=departure, destination=correction.destination or entry.destination)
    return replace(entry, route=entry.route[: span.start] + correction.new + entry.route[span.end :])


def _key(assessment: Assessment, finding: Finding) -> Key:
    text = assessment.route.entry.route
    return finding.check, tuple(text[s.start : s.end].upper() for s in finding.spans)


def _concerns(assessment: Assessment, finding: Finding, best: BestEdit, correction: Correction) -> bool:
    """Whether a finding lies in the stretch of the correction. The best edit's own finding: only its own words."""
    if finding.check == BEST_EDIT:
        return any(correction.span and span.overlaps(correction.span) for span in finding.spans)
    within = _extent(assessment, best)
    return not finding.spans or any(span.overlaps(within) for span in finding.spans)


def _extent(assessment: Assessment, best: BestEdit) -> Span:
    """The text from the first to the last word of the stretch."""
    resolved = assessment.route.resolved
    stops = resolved.stops[best.first : best.last + 1]
    words = [s.word for s in stops if s.word is not None]
    words += [w for link in resolved.links[best.first : best.last] for w in link.words]
    spans = [resolved.parsed.words[w].span for w in words]
    return Span(min((s.start for s in spans), default=0), max((s.end for s in spans), default=0))


def _heavier(raised: list[Finding], cleared: list[Finding]) -> bool:
    worst = max((_RANK[f.weight] for f in cleared), default=0)
    return any(_RANK[f.weight] >= worst for f in raised)


def _proposal(correction: Correction, entry: Entry, after: Assessment, cleared: set[Key]) -> Proposal:
    told = [correction.slip]
    if correction.shorter_nm >= 1.0:
        told.append(f"{nm(correction.shorter_nm)} shorter")
    if correction.straighter_deg >= 10.0:
        told.append(f"{correction.straighter_deg:.0f}° less turning")
    checks = tuple(sorted({check for check, _ in cleared}))
    why = f"{correction.new}: {', '.join(told)}; clears {listing(checks)}"
    return Proposal(correction.span, correction.new, entry.route, why, checks, after.route.totals.distance_nm)


def _carrying(assessment: Assessment, finding: Finding, tried: list[_Tried]) -> Finding:
    """The finding with the proposals that clear it, its words joined by those the first one changes."""
    key = _key(assessment, finding)
    mine = [t for t in tried if key in t.cleared][:MOST]
    if not mine:
        return finding
    spans = _joined(assessment, finding.spans, mine[0].correction.span)
    return replace(finding, spans=spans, likely_intended=tuple(t.proposal for t in mine))


def _joined(assessment: Assessment, spans: tuple[Span, ...], changed: Span | None) -> tuple[Span, ...]:
    if changed is None or not spans:
        return spans
    words = [w.span for w in assessment.route.parsed.words if w.span.overlaps(changed)]
    ends = (words[0], words[-1]) if words else ()
    union = tuple(sorted({*spans, *ends}))
    return union if len(union) <= MOST_WORDS else spans


def _one_cause(assessment: Assessment) -> Assessment:
    """Drop a best-edit finding where another stands that the same correction clears: one cause, one finding."""
    explained = {
        f.likely_intended[0].route: f.check
        for f in assessment.findings
        if f.check != BEST_EDIT and f.likely_intended and f.weight is not Weight.NOTE
    }
    kept: list[Finding] = []
    dropped: list[NotChecked] = []
    for finding in assessment.findings:
        first = finding.likely_intended[0].route if finding.likely_intended else None
        if finding.check == BEST_EDIT and first in explained:
            dropped.append(NotChecked(finding.spans, f"explained by {explained[first]}", BEST_EDIT))
        else:
            kept.append(finding)
    return _without(assessment, kept, dropped) if dropped else assessment


def _without(assessment: Assessment, kept: list[Finding], dropped: list[NotChecked]) -> Assessment:
    left = any(finding.check == BEST_EDIT for finding in kept)
    outcomes = tuple(
        (name, Outcome.NOT_CHECKED if name == BEST_EDIT and not left else outcome)
        for name, outcome in assessment.outcomes
    )
    not_checked = (*assessment.not_checked, *dropped)
    return replace(assessment, findings=tuple(kept), not_checked=not_checked, outcomes=outcomes)
