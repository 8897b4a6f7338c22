"""Corrections tried before they are proposed: each clears the finding it stands under and raises nothing heavier."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from routecheck.corrections.best import explains_as_well
from routecheck.corrections.route_inputs import ends_beside, is_heavy, named, words_at
from routecheck.entry_errors.costs import WORTH_SAYING
from routecheck.formatting import listing, nm
from routecheck.model import Finding, NotChecked, Outcome, Proposal, Span, Weight, explained

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.corrections.route_inputs import Again
    from routecheck.model import Assessment, BestEdit, Correction, FieldChange, RouteInput

BEST_EDIT = "best-edit"
BEYOND_DOUBT = 5.0
"""A correction that wins this much may bring to light another finding as heavy as the one it clears."""
ALL_AGAIN = 24
"""Routes of up to this many stops are assessed whole with a correction; of longer ones only the part around it."""
AROUND = 3
MOST = 3
MOST_WORDS = 3
_RANK = {Weight.WRONG: 3, Weight.DOUBTFUL: 2, Weight.NOTE: 1}
Key = tuple[str, tuple[str, ...]]
_Cure = tuple[str, tuple["FieldChange", ...]]


@dataclass(frozen=True, slots=True)
class _Tried:
    """A correction with what came out when the route was assessed with it."""

    best: BestEdit
    correction: Correction
    proposal: Proposal
    cleared: frozenset[Key]


@dataclass(frozen=True, slots=True)
class _Trial:
    """What is assessed again for one stretch: the corrections made in `part` of the entry, which starts at `offset`.

    A part is assessed as typed too, to compare with; the whole entry was already.
    """

    best: BestEdit
    here: dict[Key, Finding]
    part: RouteInput
    offset: int
    corrections: tuple[Correction, ...]
    whole: bool

    @property
    def route_inputs(self) -> list[RouteInput]:
        """What is assessed, in this order: the part as typed unless it is the whole, then with each correction."""
        corrected = [_corrected(self.part, correction, self.offset) for correction in self.corrections]
        return corrected if self.whole else [self.part, *corrected]


def with_proposals(assessment: Assessment, again: Again) -> Assessment:
    """The same assessment with the corrections that hold, under the findings they clear; each is tried."""
    heavy = [f for f in assessment.findings if is_heavy(f)]
    if not heavy or not assessment.route.best_edits:
        return assessment
    tried = _tried(assessment, again)
    findings = tuple(_carrying(assessment, finding, tried) for finding in assessment.findings)
    return _one_cause(replace(assessment, findings=findings))


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


def _tried(assessment: Assessment, again: Again) -> list[_Tried]:
    """Every correction of the stretches that have something to clear that holds; all are tried in one call."""
    heavy = _heavy(assessment)
    trials = list(_trials(assessment, heavy))
    answers = again([route_input for trial in trials for route_input in trial.route_inputs])
    return list(_held(assessment, heavy, trials, iter(answers)))


def _held(
    assessment: Assessment, heavy: dict[Key, Finding], trials: list[_Trial], answers: Iterator[Assessment]
) -> Iterator[_Tried]:
    """The corrections that clear something and raise nothing too heavy, by what came out with them."""
    for trial in trials:
        as_typed = assessment if trial.whole else next(answers)
        before = trial.here if trial.whole else _heavy(as_typed)
        for correction in trial.corrections:
            after = next(answers)
            now = _heavy(after)
            gone = trial.here.keys() - now.keys() - _unsure(after)
            own = explains_as_well(trial.best.corrections[0], correction)
            cleared = {key for key in gone if (own if key[0] == BEST_EDIT else key in before)}
            raised = [now[key] for key in now.keys() - before.keys() - heavy.keys()]
            if cleared and not _too_heavy(raised, [heavy[key] for key in cleared], correction):
                longer = after.route.totals.distance_nm - as_typed.route.totals.distance_nm
                proposal = _proposal(assessment, correction, longer, cleared)
                yield _Tried(trial.best, correction, proposal, frozenset(cleared))


def _trials(assessment: Assessment, heavy: dict[Key, Finding]) -> Iterator[_Trial]:
    for best in assessment.route.best_edits:
        here = {key: f for key, f in heavy.items() if _concerns(assessment, f, best)}
        if here:
            part, offset = _part(assessment, best)
            worth = tuple(c for c in best.corrections if c.gain > WORTH_SAYING)
            yield _Trial(best, here, part, offset, worth, whole=part is assessment.route.route_input)


def _unsure(assessment: Assessment) -> set[Key]:
    """What could not be judged at its words: a finding that a correction only takes out of sight is not cleared."""
    text = assessment.route.route_input.route
    return {(n.check, words_at(text, n.spans)) for n in assessment.not_checked if n.spans}


def _heavy(assessment: Assessment) -> dict[Key, Finding]:
    return {_key(assessment, f): f for f in assessment.findings if is_heavy(f)}


def _part(assessment: Assessment, best: BestEdit) -> tuple[RouteInput, int]:
    """What is assessed again: the whole route, of a long one only the stretch with some stops around it; its start."""
    route, route_input = assessment.route, assessment.route.route_input
    route_points = route.resolved.route_points
    first, last = max(best.first - AROUND, 0), min(best.last + AROUND, len(route_points) - 1)
    if len(route_points) <= ALL_AGAIN or best.corrections[0].span is None:
        return route_input, 0
    words = [
        route_point.word
        for route_point in route_points[max(first, 1) : min(last, len(route_points) - 2) + 1]
        if route_point.word is not None
    ]
    spans = [route.parsed.words[word].span for word in words]
    start = spans[0].start if first > 0 else 0
    end = spans[-1].end if last < len(route_points) - 1 else len(route_input.route)
    part = replace(
        route_input,
        route=route_input.route[start:end],
        departure=route_input.departure if first == 0 else "",
        destination=route_input.destination if last == len(route_points) - 1 else "",
    )
    return part, start


def _corrected(route_input: RouteInput, correction: Correction, offset: int = 0) -> RouteInput:
    span = correction.span
    if span is None:
        departure = correction.departure or route_input.departure
        return replace(route_input, departure=departure, destination=correction.destination or route_input.destination)
    text = route_input.route[: span.start - offset] + correction.new + route_input.route[span.end - offset :]
    return replace(route_input, route=text)


def _key(assessment: Assessment, finding: Finding) -> Key:
    return finding.check, words_at(assessment.route.route_input.route, finding.spans)


def _concerns(assessment: Assessment, finding: Finding, best: BestEdit) -> bool:
    """Whether a finding lies in the stretch of a correction. The best edit's own finding is that of its best one."""
    if finding.check == BEST_EDIT:
        first = best.corrections[0].span
        return not finding.spans if first is None else any(span.overlaps(first) for span in finding.spans)
    within = _extent(assessment, best)
    return not finding.spans or any(span.overlaps(within) for span in finding.spans)


def _extent(assessment: Assessment, best: BestEdit) -> Span:
    """The text from the first to the last word of the stretch."""
    resolved = assessment.route.resolved
    route_points = resolved.route_points[best.first : best.last + 1]
    words = [s.word for s in route_points if s.word is not None]
    words += [w for connection in resolved.connections[best.first : best.last] for w in connection.words]
    spans = [resolved.parsed.words[w].span for w in words]
    return Span(min((s.start for s in spans), default=0), max((s.end for s in spans), default=0))


def _too_heavy(raised: list[Finding], cleared: list[Finding], correction: Correction) -> bool:
    """Whether a correction raises something heavier than it clears; as heavy only where it wins beyond doubt."""
    worst = max((_RANK[f.weight] for f in cleared), default=0) + (correction.gain > BEYOND_DOUBT)
    return any(_RANK[f.weight] >= worst for f in raised)


def _proposal(assessment: Assessment, correction: Correction, longer_nm: float, cleared: set[Key]) -> Proposal:
    told = [correction.slip]
    if correction.shorter_nm >= 1.0:
        told.append(f"{nm(correction.shorter_nm)} shorter")
    if correction.straighter_deg >= 10.0:
        told.append(f"{correction.straighter_deg:.0f}° less turning")
    checks = tuple(sorted({check for check, _ in cleared}))
    beside = ends_beside(assessment.route.route_input, correction.departure, correction.destination)
    new = named(beside) if len(beside) == 1 else " ".join(correction.new.split())
    why = f"{new}: {', '.join(told)}; clears {listing(checks)}"
    route = _corrected(assessment.route.route_input, correction).route
    distance = assessment.route.totals.distance_nm + longer_nm
    return Proposal(correction.span, correction.new, route, why=why, clears=checks, distance_nm=distance, beside=beside)


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
