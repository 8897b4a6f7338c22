"""What a user asks of the output: which findings, which routes, in which order, how wide. Nothing is written here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.model import Weight

if TYPE_CHECKING:
    from routecheck.model import Assessment, Finding

USUAL_WIDTH = 118
_HEAVIEST_FIRST = tuple(Weight)


@dataclass(frozen=True, slots=True, kw_only=True)
class OutputOptions:
    """What is shown. Nothing of it changes what was found, counted or said to the shell.

    `only` () = findings of all checks.
    """

    width: int = USUAL_WIDTH
    least: Weight | None = None
    """The lightest findings shown; None = as the format has it."""
    only: frozenset[str] = frozenset()
    without: frozenset[str] = frozenset()
    every_route: bool = False
    """Whether text describes every route of many by itself, also where nothing was found."""
    worst_first: bool = False

    def shows(self, finding: Finding, usual: Weight = Weight.NOTE) -> bool:
        """Whether a finding is shown where `usual` are the lightest that are shown unasked."""
        if finding.check in self.without or (self.only and finding.check not in self.only):
            return False
        return _HEAVIEST_FIRST.index(finding.weight) <= _HEAVIEST_FIRST.index(self.least or usual)

    @property
    def chooses(self) -> bool:
        """Whether the user said which findings are to be listed."""
        return self.least is not None or bool(self.only)

    def count_hidden(self, assessment: Assessment) -> int:
        """How many findings of a route are not shown."""
        return sum(not self.shows(finding) for finding in assessment.findings)


EVERYTHING = OutputOptions()


def badness(assessment: Assessment) -> tuple[int, int, int]:
    """A key that sorts routes worst first: our own failures and what was not read, then by weights found."""
    if assessment.failure or assessment.route.route_input.unread:
        return 0, 0, 0
    weights = [finding.weight for finding in assessment.findings]
    heaviest = min(map(_HEAVIEST_FIRST.index, weights), default=len(_HEAVIEST_FIRST))
    return 1, heaviest, -sum(weight is not Weight.NOTE for weight in weights)
