"""What came out of a run over many routes, counted as they pass. Nothing is printed here."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass
from typing import TYPE_CHECKING

from routecheck.model import Weight
from routecheck.presentation.headline import data_line, is_fully_checked

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from routecheck.model import Assessment


@dataclass(slots=True)
class RunSummary:
    """How many routes came out how, and the data they rest on."""

    _: KW_ONLY
    routes: int = 0
    wrong: int = 0
    doubtful: int = 0
    unchecked: int = 0
    failed: int = 0
    """Routes at which something of ours failed."""
    data_line: str = ""

    def count(self, assessments: Iterable[Assessment]) -> Iterator[Assessment]:
        """Count each assessment as it passes."""
        for assessment in assessments:
            self._add(assessment)
            yield assessment

    def _add(self, assessment: Assessment) -> None:
        heaviest = assessment.heaviest()
        self.routes += 1
        self.wrong += heaviest is Weight.WRONG
        self.doubtful += heaviest is Weight.DOUBTFUL
        self.unchecked += not is_fully_checked(assessment)
        self.failed += bool(assessment.could_not_run or assessment.route.own_mistakes)
        self.data_line = data_line(assessment)
