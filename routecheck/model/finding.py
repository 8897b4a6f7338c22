"""What the tool has to say about a route: findings, what was not checked, the outcome of every check."""

from __future__ import annotations

from dataclasses import KW_ONLY
from enum import StrEnum
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from routecheck.model.accounting import NotUsed
    from routecheck.model.comparison import Comparison
    from routecheck.model.corrections import Proposal
    from routecheck.model.route import Route
    from routecheck.model.text import Span


class Weight(StrEnum):
    """How heavy a finding is, heaviest first."""

    WRONG = "wrong"
    DOUBTFUL = "doubtful"
    NOTE = "note"


class Outcome(StrEnum):
    """The four outcomes of a check. Silence is never a pass: each check of each route has exactly one."""

    FINDINGS = "findings"
    NOTHING_FOUND = "nothing found"
    NOT_CHECKED = "not checked"
    COULD_NOT_RUN = "could not run"


@dataclass(frozen=True, slots=True)
class Fact:
    """One measured or given value that a finding rests on; `unit` "" for words and counts."""

    name: str
    value: float | int | str
    unit: str = ""
    _: KW_ONLY
    is_turn: bool = False
    """Whether it is a change of course: to the left below zero, to the right above."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to say about a route. `check` is filled in by the runner."""

    spans: tuple[Span, ...]
    message: str
    weight: Weight
    facts: tuple[Fact, ...] = ()
    _: KW_ONLY
    citations: tuple[str, ...] = ()
    points: tuple[int, ...] = ()
    """Indices of Route.points where the Picture puts the mark."""
    check: str = ""
    likely_intended: tuple[Proposal, ...] = ()
    """Corrections that clear this finding, best first, at most three."""


@dataclass(frozen=True, slots=True)
class NotChecked:
    """A check, or a part of it, that had no ground to judge on."""

    spans: tuple[Span, ...]
    because: str
    check: str = ""
    explained_by: str = ""
    """The check with a finding at the same words that explains the one which this check had; "" where it had none."""


def as_explained(finding: Finding | NotChecked, by: str) -> NotChecked:
    """What stands in the place of a finding that another check's finding at the same words explains."""
    return NotChecked(finding.spans, f"explained by {by}", finding.check, by)


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """The whole answer about one route. `outcomes` has one entry for every check that exists."""

    route: Route
    _: KW_ONLY
    findings: tuple[Finding, ...]
    not_checked: tuple[NotChecked, ...]
    could_not_run: tuple[tuple[str, str], ...]
    """(check, what happened), in catalogue order."""
    outcomes: tuple[tuple[str, Outcome], ...]
    failure: str = ""
    """What happened where our program failed on the route as a whole, so that no check could run; "" = it did not."""
    comparison: Comparison | None = None
    """What differs from the other version of the route; None = there is none to compare with."""
    other: Assessment | None = None
    """What the checks say of that other version, without corrections."""
    not_used: tuple[NotUsed, ...] = ()
    """What of the input was not used: what its reader could not use, and what fits nothing in the route."""

    def heaviest(self) -> Weight | None:
        """The heaviest weight found, None where nothing was found."""
        present = {f.weight for f in self.findings}
        return next((w for w in Weight if w in present), None)
