"""Candidates tried: the route is assessed with each of them. The one place that says what a correction clears.

A correction is proposed only if it clears its finding and raises nothing as heavy.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from routecheck.checks.claim_queries import count_fitting_claims
from routecheck.corrections.finding_key import finding_key, words_at
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Weight

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from routecheck.corrections.candidate import Candidate
    from routecheck.corrections.finding_key import FindingKey, Words
    from routecheck.model import Assessment, Finding, NotChecked, Route, RouteInput

AssessAgain = Callable[[Sequence["RouteInput"]], Sequence["Assessment"]]
"""Assesses corrected routes by the checks alone, without looking for corrections again."""
BEST_EDIT = "best-edit"
"""The check of best edits: it finds nothing on a route that is assessed again, where none is looked for."""
MOST_POINTS = 6_000
"""So many points are assessed again for the corrections of one route (our choice): a long route gets fewer tries."""
_RANK = {Weight.WRONG: 3, Weight.DOUBTFUL: 2, Weight.NOTE: 1}


def most_tries(route: Route) -> int:
    """How many corrections of a route are tried."""
    return MOST_POINTS // len(route.points)


def is_heavy(finding: Finding) -> bool:
    """Whether a finding asks for a correction: Notes do not."""
    return finding.weight is not Weight.NOTE


@dataclass(frozen=True, slots=True)
class Verified:
    """A candidate that clears these findings; `raised` counts what it brings to light, all of it lighter."""

    candidate: Candidate
    cleared: frozenset[FindingKey]
    raised: int
    distance_nm: float
    fitting_claims: int = 0
    """How many more legs have the length that the plan states for them."""


class Verifier:
    """Holds an assessment against those of the same route corrected; `not_tried` counts what was too much."""

    def __init__(self, assessment: Assessment, assess_again: AssessAgain) -> None:
        self._route_input = assessment.route.route_input
        self._fitting_claims = count_fitting_claims(assessment.route)
        self._left = most_tries(assessment.route)
        self.not_tried = 0
        self._assess_again = assess_again
        self._before = {finding_key(assessment, finding): finding for finding in assessment.findings}
        self._unsure = _checks_and_words(assessment, assessment.not_checked)
        hidden = [one for one in assessment.not_checked if one.explained_by]
        self._hidden = _checks_and_words(assessment, hidden)

    def verify(self, candidates: Sequence[Candidate], *, reveal: bool) -> list[Verified]:
        """Assess the route with each candidate, as many as may be tried; those that hold, in the same order.

        `reveal` = they may bring to light what another finding explained so far: it was there before.
        """
        self.not_tried += max(len(candidates) - self._left, 0)
        candidates = candidates[: self._left]
        self._left -= len(candidates)
        answers = self._assess_again([candidate.applied_to(self._route_input) for candidate in candidates])
        tried = [self._judge(*one, reveal=reveal) for one in zip(candidates, answers, strict=True)]
        return [one for one in tried if one is not None]

    def _judge(self, candidate: Candidate, after: Assessment, *, reveal: bool) -> Verified | None:
        now = {finding_key(after, finding): finding for finding in after.findings}
        cleared = [
            key for key in self._findings_gone(now, after) if key.check != BEST_EDIT or key in candidate.best_edit
        ]
        raised = [
            one
            for key, one in now.items()
            if self._is_new(key, one) and not (reveal and key.check_and_words in self._hidden)
        ]
        heaviest = max((_RANK[self._before[key].weight] for key in cleared), default=0)
        if not cleared or any(_RANK[one.weight] >= heaviest + candidate.beyond_doubt for one in raised):
            return None
        fitting = count_fitting_claims(after.route) - self._fitting_claims
        return Verified(candidate, frozenset(cleared), len(raised), after.route.totals.distance_nm, fitting)

    def _findings_gone(self, now: dict[FindingKey, Finding], after: Assessment) -> Iterator[FindingKey]:
        """The heavy findings that do not stand any more, and are not only out of sight for they cannot be judged."""
        out_of_sight = _checks_and_words(after, after.not_checked) - self._unsure
        for key, finding in self._before.items():
            stands = key in now and is_heavy(now[key])
            if is_heavy(finding) and not stands and key.check_and_words not in out_of_sight:
                yield key

    def _is_new(self, key: FindingKey, finding: Finding) -> bool:
        before = self._before.get(key)
        return before is None or (is_heavy(finding) and not is_heavy(before))


def _checks_and_words(assessment: Assessment, not_checked: Iterable[NotChecked]) -> set[tuple[str, Words]]:
    """The checks that could not judge, each with its words."""
    text = assessment.route.route_input.route
    return {(one.check, words_at(text, one.spans)) for one in not_checked}
