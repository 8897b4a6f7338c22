"""Proposals: candidates verified, the likeliest chosen, each put under the findings that it clears.

Every question goes the same way: its candidates are made, each is verified, and those that hold are ranked on the scale
of what made them.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from routecheck.corrections.verify import Verifier, finding_key, is_heavy
from routecheck.formatting import listing
from routecheck.model import Fact, Proposal

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from routecheck.corrections.candidate import Candidate
    from routecheck.corrections.verify import AssessAgain, Key, Verified
    from routecheck.model import Assessment, Finding, RouteInput, Span

MOST = 3
"""A finding carries no more proposals."""
MOST_TRIED = 9
MOST_LISTED = 4
MOST_WORDS = 3
"""A finding names no more words than a reader can look at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """What costs mean to a kind of candidates. Nearer to each other than `about_equal` none can be told from another.

    The best is named with those not `far_behind`, or none, if more are about equal to it than `most`. What a
    candidate raises costs `raised` each. `reveal` = it may bring to light what another finding explained so far.
    """

    about_equal: float
    far_behind: float
    most: int = MOST
    raised: float = 0.0
    reveal: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Candidates on one scale, and the findings of which each must clear one. Candidates are made when asked for."""

    aims: frozenset[Key]
    candidates: Iterable[Candidate]
    scale: Scale


def propose(assessment: Assessment, cases: Iterable[Case], assess_again: AssessAgain) -> Assessment:
    """The same assessment with what holds of these cases, each proposal under all findings that it clears.

    A case whose findings have their proposals by then is not tried.
    """
    cases = list(cases)
    if not cases:
        return assessment
    verifier = Verifier(assessment, assess_again)
    proposals: dict[Key, list[Proposal]] = defaultdict(list)
    silent: dict[Key, str] = {}
    for case in cases:
        if case.aims <= proposals.keys():
            continue
        candidates = _likeliest(case.candidates, assessment.route.route_input)
        verified = [one for one in verifier.verify(candidates, reveal=case.scale.reveal) if one.cleared & case.aims]
        chosen = choose_best(verified, case.scale)
        if verified and not chosen:
            silent |= dict.fromkeys(case.aims, f"none named: {_listed(verified)} are about equally likely")
        for one in chosen:
            for key in one.cleared:
                proposals[key].append(_proposal(assessment.route.route_input, one))
    if not proposals and not silent:
        return assessment
    findings = [_carrying(assessment, finding, proposals, silent) for finding in assessment.findings]
    return replace(assessment, findings=tuple(findings))


def _likeliest(candidates: Iterable[Candidate], route_input: RouteInput) -> list[Candidate]:
    """The likeliest candidates, each only once, none that changes nothing."""
    seen: dict[tuple[object, ...], Candidate] = {}
    for candidate in sorted(candidates, key=lambda one: one.cost):
        seen.setdefault((candidate.span, candidate.new, candidate.beside), candidate)
    return [one for one in seen.values() if one.applied_to(route_input) != route_input][:MOST_TRIED]


def choose_best(verified: Iterable[Verified], scale: Scale) -> list[Verified]:
    """The best with those not far behind; nothing where more are about equal than are named."""

    def cost(one: Verified) -> float:
        return one.candidate.cost + scale.raised * one.raised

    ranked = sorted(verified, key=cost)
    near = [one for one in ranked if cost(one) < cost(ranked[0]) + scale.far_behind]
    equal = [one for one in near if cost(one) < cost(ranked[0]) + scale.about_equal]
    return [] if len(equal) > scale.most else near[: scale.most]


def _listed(verified: Sequence[Verified]) -> str:
    labels = sorted({one.candidate.label for one in verified})
    return listing(labels) if len(labels) <= MOST_LISTED else f"{len(labels)} others"


def _proposal(route_input: RouteInput, verified: Verified) -> Proposal:
    candidate = verified.candidate
    checks = tuple(sorted({check for check, *_ in verified.cleared}))
    return Proposal(
        candidate.span,
        candidate.new if candidate.span is not None else candidate.label,
        candidate.applied_to(route_input).route,
        why=f"{candidate.label}: {candidate.why}; clears {listing(checks)}",
        clears=checks,
        distance_nm=verified.distance_nm,
        beside=candidate.beside,
    )


def _carrying(
    assessment: Assessment, finding: Finding, proposals: dict[Key, list[Proposal]], silent: dict[Key, str]
) -> Finding:
    """The finding with its proposals, its words joined by those the first one changes; or with why there are none.

    Beside those it has already stands only the likeliest, where it is another one.
    """
    key, own = finding_key(assessment, finding), finding.likely_intended
    if not is_heavy(finding) or (own and key not in proposals) or key not in proposals.keys() | silent.keys():
        return finding
    if key not in proposals:
        return (
            replace(finding, facts=(*finding.facts, Fact("likely intended", silent[key]))) if key in silent else finding
        )
    there = {(proposal.route, proposal.beside) for proposal in own}
    more = [one for one in proposals[key] if (one.route, one.beside) not in there][: 1 if own else MOST]
    changed = more[0].span if more and not own else None
    return replace(finding, spans=_joined(assessment, finding.spans, changed), likely_intended=(*own, *more))


def _joined(assessment: Assessment, spans: tuple[Span, ...], changed: Span | None) -> tuple[Span, ...]:
    if changed is None or not spans:
        return spans
    words = [word.span for word in assessment.route.parsed.words if word.span.overlaps(changed)]
    ends = (words[0], words[-1]) if words else ()
    union = tuple(sorted({*spans, *ends}))
    return union if len(union) <= MOST_WORDS else spans
