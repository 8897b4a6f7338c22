"""What is asked of a route: one case for each stretch with a best edit, one for each finding that an edit leaves."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from routecheck.checks.causes import FIRST_OF_ALL
from routecheck.corrections.aerodrome_changes import aerodrome_changes, agreed_ends, owning_aerodromes
from routecheck.corrections.altitude_changes import other_windows
from routecheck.corrections.best_edits import FAR_BEHIND, explains_as_well
from routecheck.corrections.candidate import Candidate, Question
from routecheck.corrections.field_mending import mended_values
from routecheck.corrections.filed_changes import other_forms, other_levels, other_speeds, rewritten_words
from routecheck.corrections.finding_key import finding_key
from routecheck.corrections.known_words import words_of_known_routes
from routecheck.corrections.procedure_changes import agreed_runways, other_approaches, other_runways, other_transitions
from routecheck.corrections.proposals import MOST_PROPOSALS, Case, Scale
from routecheck.corrections.verify import BEST_EDIT, is_heavy
from routecheck.formatting import nm
from routecheck.model import Span

if TYPE_CHECKING:
    from routecheck.corrections.finding_key import FindingKey
    from routecheck.model import Assessment, BestEdit, Correction, Finding, RouteInput
    from routecheck.navdata.database import NavDatabase

JOIN_GAP = "join-gap"
MOST_ASKED = 6
"""So many findings of a route are asked about (our choice)."""
BEYOND_DOUBT = 5.0
"""A correction that wins this much may bring to light another finding as heavy as the one it clears."""

EDITS = Scale(about_equal=0.0, far_behind=FAR_BEHIND)
CHANGES = Scale(about_equal=0.5, far_behind=2.0, raised=0.3, reveal=True)
LEVELS = Scale(about_equal=0.5, far_behind=2.0, raised=0.3, reveal=True, most=1)
"""Of speeds and levels only one can be clearly right: none is named beside the best."""

Generator = Callable[[Question], Iterator[Candidate]]
GENERATORS: dict[str, tuple[Generator, Scale]] = {
    "ends-differ": (agreed_ends, CHANGES),
    "runway-not-served": (other_runways, CHANGES),
    "runway-unknown": (other_runways, CHANGES),
    "runways-differ": (agreed_runways, CHANGES),
    "unknown-procedure": (other_approaches, CHANGES),
    JOIN_GAP: (other_transitions, CHANGES),
    "procedure-elsewhere": (owning_aerodromes, CHANGES),
    "window-error": (other_windows, CHANGES),
    "window-upside-down": (other_windows, CHANGES),
    "windows-conflict": (other_windows, CHANGES),
    "climb-in-arrival": (other_windows, CHANGES),
    "descent-in-departure": (other_windows, CHANGES),
    "level-never-reached": (other_levels, LEVELS),
    "above-ceiling": (other_levels, LEVELS),
    "level-unknown": (other_levels, LEVELS),
    "level-size": (other_levels, LEVELS),
    "speed-size": (other_speeds, LEVELS),
    "speed-or-level-form": (other_forms, LEVELS),
    "field-unread": (mended_values, LEVELS),
    "unread-word": (rewritten_words, CHANGES),
    "short-code-trap": (rewritten_words, CHANGES),
    "unlike-known": (words_of_known_routes, CHANGES),
}
"""For each check what makes candidates for its findings, and on which scale."""


def edit_cases(assessment: Assessment, worth_saying: float) -> Iterator[Case]:
    """A case for each stretch with a best edit, if any finding there asks for a correction."""
    heavy = [finding for finding in assessment.findings if is_heavy(finding)]
    text_has_ends = any(finding.check == FIRST_OF_ALL for finding in heavy)
    for best in assessment.route.best_edits:
        aims = frozenset(finding_key(assessment, one) for one in heavy if _concerns(assessment, one, best))
        own = frozenset(key for key in aims if key.check == BEST_EDIT)
        candidates = [
            _candidate(best, correction, assessment.route.route_input, own)
            for correction in best.corrections
            if correction.gain > worth_saying and not (text_has_ends and _changes_ends(correction))
        ]
        if aims and candidates:
            yield Case(aims=aims, candidates=candidates, scale=EDITS)


def finding_cases(assessment: Assessment, database: NavDatabase) -> Iterator[Case]:
    """A case for each finding that no best edit explains, as far as anything makes candidates for it."""
    asked = [f for f in assessment.findings if f.check in GENERATORS and is_heavy(f) and _may_have_more(f)]
    for finding in asked[:MOST_ASKED]:
        generator, scale = GENERATORS[finding.check]
        question = Question(assessment, finding, database)
        yield Case(aims=frozenset({finding_key(assessment, finding)}), candidates=generator(question), scale=scale)


def _changes_ends(correction: Correction) -> bool:
    """Whether it changes an aerodrome beside the text; those that the text itself has are asked for by themselves."""
    return bool(correction.departure or correction.destination)


def _may_have_more(finding: Finding) -> bool:
    """Whether no edit explains it, or one that explains a gap at a procedure: another transition stands beside that."""
    return not finding.likely_intended or (finding.check == JOIN_GAP and len(finding.likely_intended) < MOST_PROPOSALS)


def _candidate(
    best: BestEdit, correction: Correction, route_input: RouteInput, own: frozenset[FindingKey]
) -> Candidate:
    evidence = [correction.entry_error]
    if correction.shorter_nm >= 1.0:
        evidence.append(f"{nm(correction.shorter_nm)} shorter")
    if correction.straighter_deg >= 10.0:
        evidence.append(f"{correction.straighter_deg:.0f}° less turning")
    if correction.evidence:
        evidence.append(correction.evidence.clause)
    return Candidate(
        ", ".join(evidence),
        -correction.gain,
        correction.span,
        correction.new if correction.span is not None else "",
        entry_error=correction.entry_error,
        beside=aerodrome_changes(route_input, correction.departure, correction.destination),
        beyond_doubt=correction.gain > BEYOND_DOUBT,
        best_edit=own if explains_as_well(best.corrections[0], correction) else frozenset(),
    )


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
    words = [route_point.word for route_point in route_points if route_point.word is not None]
    words += [word for connection in resolved.connections[best.first : best.last] for word in connection.words]
    spans = [resolved.parsed.words[word].span for word in words]
    return Span(min((span.start for span in spans), default=0), max((span.end for span in spans), default=0))
