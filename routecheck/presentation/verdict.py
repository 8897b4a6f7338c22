"""The verdict on a route: what the findings come to, and the sentence that stands above everything else."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from routecheck.corrections.candidate import changes_in_words
from routecheck.formatting import count, listing
from routecheck.model import Outcome, Weight
from routecheck.presentation.acceptance import valid_acceptances

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.model import Assessment, Finding, Proposal

WEIGHT_NAMES = {Weight.WRONG: "Wrong", Weight.DOUBTFUL: "Doubtful", Weight.NOTE: "Note"}
_WEIGHTS_IN_PLURAL = {Weight.NOTE: "Notes"}
WEIGHT_MARKS = {Weight.WRONG: "■", Weight.DOUBTFUL: "◆", Weight.NOTE: "○"}


_COMPARED_BY = {"claimed-level": ("level", "levels"), "claimed-fuel": ("fuel_kg", "fuel of legs")}
"""Checks of claims, with the name in Claim of what each compares, and what that is called."""
_NAME_THEIR_CURE = frozenset({"best-edit", "ends-exchanged", "ends-differ"})
"""Checks whose sentence is about the correction itself."""
_MOST_CURES = 2


class Verdict(StrEnum):
    """What the findings of a route come to: the weight of the heaviest, or why there is none."""

    FAILED = "our program failed"
    NOT_READ = "not read"
    WRONG = "wrong"
    DOUBTFUL = "doubtful"
    NOTE = "note"
    NOTHING_FOUND = "nothing found"
    NOTHING_FOUND_IN_PART = "nothing found in what was checked"


def count_by_weight(counts: Mapping[Weight, int]) -> str:
    """How many findings there are of each weight: "2 Wrong, 1 Doubtful, 3 Notes"; "" where there is none."""
    named = ((counts[w], name, _WEIGHTS_IN_PLURAL.get(w, name)) for w, name in WEIGHT_NAMES.items() if counts.get(w))
    return ", ".join(count(*one) for one in named)


def is_nothing_given(assessment: Assessment) -> bool:
    """Whether there is neither a word of a route nor an end of it: the window before anything is typed."""
    given = assessment.route.route_input
    return not (assessment.route.resolved.roles or given.departure or given.destination)


def find_verdict(assessment: Assessment) -> Verdict:
    """The verdict on a route."""
    if assessment.failure:
        return Verdict.FAILED
    if assessment.route.route_input.unread:
        return Verdict.NOT_READ
    if heaviest := assessment.heaviest():
        return Verdict(heaviest.value)
    return Verdict.NOTHING_FOUND if _is_whole(assessment) else Verdict.NOTHING_FOUND_IN_PART


def is_fully_checked(assessment: Assessment) -> bool:
    """Whether all that can be checked was, and every check could run: else a route is never shown as in order."""
    route = assessment.route
    lost = route.route_input.unread or route.totals.lost or route.totals.unread or uncompared_claims(assessment)
    return not (lost or assessment.could_not_run or route.own_mistakes)


def uncompared_claims(assessment: Assessment) -> str:
    """That the plan states levels or fuel of which nothing is compared; "" where there are none, or some is."""
    given, outcomes = assessment.route.route_input.claims, dict(assessment.outcomes)
    open_ones = [
        what
        for check, (name, what) in _COMPARED_BY.items()
        if outcomes.get(check) is Outcome.NOT_CHECKED and any(getattr(one, name) for one in given)
    ]
    return f"Not checked: {listing(open_ones)} of the plan." if open_ones else ""


def _say_unread(assessment: Assessment) -> str:
    given = assessment.route.route_input
    return given.unread if given.is_routeless else "this could not be read"


def verdict_sentence(assessment: Assessment) -> str:
    """The heaviest finding with its cure, or that nothing was found, in one line."""
    if assessment.failure:
        return f"Checked nothing: {assessment.failure}."
    if assessment.route.route_input.unread:
        return f"Checked nothing: {_say_unread(assessment)}."
    accepted = valid_acceptances(assessment)
    heavy = {i: finding for i, finding in enumerate(assessment.findings) if finding.weight is not Weight.NOTE}
    left = [finding for i, finding in heavy.items() if i not in accepted]
    if left:
        return _describe_finding(assessment, min(left, key=lambda finding: list(Weight).index(finding.weight)))
    if heavy:
        return "All that is Wrong or Doubtful was accepted with reason."
    return _describe_nothing_heavy(assessment)


def _describe_nothing_heavy(assessment: Assessment) -> str:
    totals = assessment.route.totals
    if is_nothing_given(assessment):
        return "No route is given."
    if totals.lost and not totals.checked_nm:
        return "Nothing could be checked."
    what = "Nothing Wrong or Doubtful" if assessment.findings else "Nothing found"
    return f"{what} in {'all that can be checked' if _is_whole(assessment) else 'what was checked'}."


def is_in_order(assessment: Assessment) -> bool:
    """Whether a route may be shown as in order: nothing heavy was found in all that can be checked."""
    heavy = any(finding.weight is not Weight.NOTE for finding in assessment.findings)
    return not (heavy or assessment.failure) and _is_whole(assessment)


def _is_whole(assessment: Assessment) -> bool:
    """Whether all that can be checked was, and all that was given was used."""
    return is_fully_checked(assessment) and not assessment.not_used


def _describe_finding(assessment: Assessment, finding: Finding) -> str:
    sentence = f"{WEIGHT_NAMES[finding.weight]}: {finding.message}"
    return f"{sentence} {cure_sentence(assessment, finding)}".rstrip()


def cure_sentence(assessment: Assessment, finding: Finding) -> str:
    """What would clear a finding, "KEBUL fits."; "" where nothing is proposed, or its own sentence says so."""
    if finding.check in _NAME_THEIR_CURE or not finding.likely_intended:
        return ""
    route = assessment.route.route_input.route
    cures = list(dict.fromkeys(_cure(route, proposal) for proposal in finding.likely_intended))
    if finding.message.endswith(f"write {cures[0]}."):
        return ""
    fits = " or ".join(cures[:_MOST_CURES])
    return f"{fits[:1].upper()}{fits[1:]} fits."


def _cure(route: str, proposal: Proposal) -> str:
    """What would stand in the route or beside it, in a reader's words: "PIKAR", "departure runway 27"."""
    beside, span = changes_in_words(proposal.beside), proposal.span
    if span is None:
        return beside
    was = route[span.start : span.end].upper().split()
    new = f"{proposal.new} alone" if proposal.new.upper() in was else proposal.new
    return ", ".join(filter(None, (new, beside)))
