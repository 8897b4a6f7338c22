"""Proposals: candidates verified, the likeliest chosen, each put under the findings that it clears.

Every case goes the same way: its candidates are made, each is verified, and those that hold are ranked on the scale of
what made them.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.corrections.finding_key import finding_key
from routecheck.corrections.verify import BEST_EDIT, Verifier, is_heavy
from routecheck.formatting import count, listing, say_cleared
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Fact, Finding, NotChecked, Outcome, Proposal, Weight, as_explained

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from routecheck.corrections.candidate import Candidate
    from routecheck.corrections.finding_key import FindingKey
    from routecheck.corrections.verify import AssessAgain, Verified
    from routecheck.model import Assessment, BestEdit, FieldChange, RouteInput, Span

MOST_PROPOSALS = 3
"""A finding carries no more proposals."""
MOST_TRIED = 9
MOST_LISTED = 4
MOST_WORDS = 3
"""A finding names no more words than a reader can look at."""
_FITTING_CLAIM = 3.0
"""What a leg is worth that comes to the length which the plan states (our choice: as much as e³ in likelihood)."""
_TOO_LONG = "not looked for: the route is too long to try every correction"


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """What costs mean to a kind of candidates. Nearer to each other than `about_equal` none can be told from another.

    The best is named with those not `far_behind`, or none, if more are about equal to it than `most`. What a
    candidate raises costs `raised` each. `reveal` = it may bring to light what another finding explained so far.
    """

    about_equal: float
    far_behind: float
    most: int = MOST_PROPOSALS
    raised: float = 0.0
    reveal: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Candidates on one scale, and the findings of which each must clear one. Candidates are made when asked for."""

    aims: frozenset[FindingKey]
    candidates: Iterable[Candidate]
    scale: Scale


def propose(assessment: Assessment, cases: Iterable[Case], assess_again: AssessAgain) -> Assessment:
    """The same assessment with what holds of these cases, each proposal under all findings that it clears."""
    cases = list(cases)
    if not cases:
        return assessment
    proposals: dict[FindingKey, list[Proposal]] = defaultdict(list)
    why_none: dict[FindingKey, str] = {}
    verifier = Verifier(assessment, assess_again)
    for case in cases:
        if case.aims <= proposals.keys():
            continue  # its findings have their proposals by now
        before = verifier.not_tried
        candidates = _likeliest_candidates(case.candidates, assessment.route.route_input)
        verified = [one for one in verifier.verify(candidates, reveal=case.scale.reveal) if one.cleared & case.aims]
        chosen = choose_best(verified, case.scale)
        if verified and not chosen:
            why_none |= dict.fromkeys(case.aims, f"none named: {_labels(verified)} are about equally likely")
        elif not chosen and verifier.not_tried > before:
            why_none |= dict.fromkeys(case.aims, _TOO_LONG)
        for one in chosen:
            for key in one.cleared:
                proposals[key].append(_proposal(assessment.route.route_input, one))
    findings = tuple(_with_answer(finding, assessment, proposals, why_none) for finding in assessment.findings)
    return replace(assessment, findings=findings)


# ---- choosing


def _likeliest_candidates(candidates: Iterable[Candidate], route_input: RouteInput) -> list[Candidate]:
    """The likeliest candidates, each only once, none that changes nothing."""
    seen: dict[tuple[object, ...], Candidate] = {}
    for candidate in sorted(candidates, key=lambda one: one.cost):
        seen.setdefault((candidate.span, candidate.new, candidate.beside), candidate)
    return [one for one in seen.values() if one.applied_to(route_input) != route_input][:MOST_TRIED]


def choose_best(verified: Iterable[Verified], scale: Scale) -> list[Verified]:
    """The best with those not far behind; nothing where more are about equal than are named."""

    def cost(one: Verified) -> float:
        return one.candidate.cost + scale.raised * one.raised - _FITTING_CLAIM * one.fitting_claims

    ranked = sorted(verified, key=cost)
    near = [one for one in ranked if cost(one) < cost(ranked[0]) + scale.far_behind]
    equal = [one for one in near if cost(one) < cost(ranked[0]) + scale.about_equal]
    return [] if len(equal) > scale.most else near[: scale.most]


def _labels(verified: Sequence[Verified]) -> str:
    labels = sorted({one.candidate.label for one in verified})
    return listing(labels) if len(labels) <= MOST_LISTED else f"{len(labels)} others"


# ---- putting proposals under findings


def _proposal(route_input: RouteInput, verified: Verified) -> Proposal:
    candidate = verified.candidate
    checks = tuple(sorted({key.check for key in verified.cleared}))
    return Proposal(
        candidate.span,
        candidate.new if candidate.span is not None else candidate.label,
        candidate.applied_to(route_input).route,
        why=f"{candidate.label}: {candidate.why}{_say_claims(verified)}; {say_cleared(checks)}",
        clears=checks,
        distance_nm=verified.distance_nm,
        beside=candidate.beside,
        entry_error=candidate.entry_error,
    )


def _say_claims(verified: Verified) -> str:
    """That what the plan states speaks for it; "" where it does not."""
    legs = verified.fitting_claims
    has = "has" if legs == 1 else "have"
    return f"; {count(legs, 'leg')} then {has} the length that the plan states" if legs > 0 else ""


def _with_answer(
    finding: Finding,
    assessment: Assessment,
    proposals: Mapping[FindingKey, Sequence[Proposal]],
    why_none: Mapping[FindingKey, str],
) -> Finding:
    """The finding with its proposals, or with the fact that says why there are none."""
    key = finding_key(assessment, finding)
    if not is_heavy(finding):
        return finding
    if key in proposals:
        return _with_proposals(finding, proposals[key], assessment)
    if key in why_none:
        return replace(finding, facts=(*finding.facts, Fact("likely intended", why_none[key])))
    return finding


def _with_proposals(finding: Finding, proposals: Sequence[Proposal], assessment: Assessment) -> Finding:
    """The finding with its proposals, its words joined by those that the first one changes.

    Beside those it has already stands only the likeliest, where it is another one.
    """
    own = finding.likely_intended
    if own:
        there = {(proposal.route, proposal.beside) for proposal in own}
        others = [one for one in proposals if (one.route, one.beside) not in there]
        return replace(finding, likely_intended=(*own, *others[:1])[:MOST_PROPOSALS])
    spans = _with_changed_words(finding.spans, proposals[0].span, assessment)
    return replace(finding, spans=spans, likely_intended=tuple(proposals[:MOST_PROPOSALS]))


def _with_changed_words(spans: tuple[Span, ...], changed: Span | None, assessment: Assessment) -> tuple[Span, ...]:
    if changed is None or not spans:
        return spans
    words = [word.span for word in assessment.route.parsed.words if word.span.overlaps(changed)]
    ends = (words[0], words[-1]) if words else ()
    union = tuple(sorted({*spans, *ends}))
    return union if len(union) <= MOST_WORDS else spans


# ---- what becomes of findings and edits once corrections were tried


def proven_edits(assessment: Assessment) -> tuple[BestEdit, ...]:
    """The best edits without those whose own finding stands with no correction that held when it was tried."""
    failed = [one for one in assessment.findings if one.check == BEST_EDIT and not one.likely_intended]
    failed_spans = {span for finding in failed for span in finding.spans}
    of_aerodromes = any(not finding.spans for finding in failed)

    def is_proven(best: BestEdit) -> bool:
        changed = best.corrections[0].span
        return not (of_aerodromes if changed is None else any(span.overlaps(changed) for span in failed_spans))

    return tuple(best for best in assessment.route.best_edits if is_proven(best))


_Cure = tuple[str, tuple["FieldChange", ...]]
"""What a finding's first proposal would make of the route: the text, and what changes beside it."""


def keep_most_to_the_point(assessment: Assessment, before_proposals: Assessment) -> Assessment:
    """One cause, one finding: of the findings that the same correction clears, only those most to the point stay.

    Of a correction in the text a finding that names a word to change goes before the best edit, and the best edit
    before one about others or the whole route; where only the aerodromes are corrected it goes before all that name
    words. `before_proposals` tells which words a finding named by itself: proposals add the words that they change.
    """
    causes: dict[_Cure, tuple[int, str]] = {}
    distances = [
        _distance_from_point(finding, before.spans)
        for finding, before in zip(assessment.findings, before_proposals.findings, strict=True)
    ]
    for finding, distance in zip(assessment.findings, distances, strict=True):
        if finding.likely_intended:
            rank = (distance, finding.check)
            causes[_cure(finding)] = min(causes.get(_cure(finding), rank), rank)
    kept: list[Finding] = []
    dropped: list[NotChecked] = []
    for finding, distance in zip(assessment.findings, distances, strict=True):
        least, cause = causes[_cure(finding)] if finding.likely_intended else (0, "")
        if cause and distance > least:
            dropped.append(as_explained(finding, cause))
        else:
            kept.append(finding)
    return _without_dropped(assessment, kept, dropped) if dropped else assessment


def _cure(finding: Finding) -> _Cure:
    first = finding.likely_intended[0]
    return first.route, first.beside


def _distance_from_point(finding: Finding, spans: Sequence[Span]) -> int:
    """0 = speaks of what would be corrected, 1 = the best edit, 2 = of what follows; contradictions always stay."""
    if finding.check == BEST_EDIT:
        return 1
    changed = [proposal.span for proposal in finding.likely_intended if proposal.span is not None]
    named = any(span.overlaps(new) for span in spans for new in changed) if changed else not spans
    return 0 if named or finding.weight is Weight.WRONG else 2


def _without_dropped(assessment: Assessment, kept: list[Finding], dropped: list[NotChecked]) -> Assessment:
    gone = {one.check for one in dropped} - {finding.check for finding in kept}
    outcomes = tuple(
        (check, Outcome.NOT_CHECKED if check in gone else outcome) for check, outcome in assessment.outcomes
    )
    # What a dropped finding explained is explained by what stands in its place.
    instead = {one.check: one.explained_by for one in dropped if one.check in gone}
    not_checked = [
        as_explained(one, instead[one.explained_by]) if one.explained_by in instead else one
        for one in assessment.not_checked
    ]
    return replace(assessment, findings=tuple(kept), not_checked=(*not_checked, *dropped), outcomes=outcomes)
