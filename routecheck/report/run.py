"""A run over many routes: what is written of each answer, and what the run comes to. Parts of a run can be merged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, Protocol, Self

from routecheck.pipeline import failed_assessment
from routecheck.report.output_options import badness

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.model import Assessment, RouteInput
    from routecheck.report.output_options import OutputOptions
    from routecheck.report.run_summary import RunSummary


class Report(Protocol):
    """What a run is written as. It can be copied into another process as long as nothing was added."""

    looks_ahead: int
    """How many inputs it has to see before it can begin."""

    def __init__(self, options: OutputOptions) -> None: ...

    def begin(self, first: Sequence[RouteInput], /) -> str:
        """Say what stands before the answers. `first` are as many inputs as it looks ahead, fewer where there are."""

    def add(self, assessment: Assessment) -> str:
        """Say what stands there of one answer; "" where it is only counted in."""

    def merge(self, later: Self, /) -> None:
        """Count in what another process added of the routes that come next."""

    def end(self, summary: RunSummary, /) -> Iterator[str]:
        """Say what stands after the answers."""


class WrittenAnswer(NamedTuple):
    """An answer as it is written, and the key that sorts answers worst first."""

    badness: tuple[int, int, int]
    text: str


@dataclass(slots=True)
class Run:
    """A run, or the part of it that one process does."""

    report: Report
    summary: RunSummary

    def add(self, assessments: Iterable[Assessment]) -> Iterator[WrittenAnswer]:
        """Write each answer and count it."""
        for assessment in self.summary.count(assessments):
            yield WrittenAnswer(badness(assessment), self._write(assessment))

    def merge(self, later: Run) -> None:
        """Count in the part of the run that comes next."""
        self.summary.merge(later.summary)
        self.report.merge(later.report)

    def write(self, answers: Iterable[WrittenAnswer], *, worst_first: bool) -> Iterator[str]:
        """Write the answers as they come, or the worst first, and what stands after them."""
        in_order = sorted(answers, key=lambda one: one.badness) if worst_first else answers
        for answer in in_order:
            yield answer.text
        self.summary.is_finished = True
        yield from self.report.end(self.summary)

    def _write(self, assessment: Assessment) -> str:
        """Write one answer; where that fails, write that our program failed on its route, and count it."""
        try:
            return self.report.add(assessment)
        except Exception as error:
            self.summary.failed += 1
            route = assessment.route
            return self.report.add(failed_assessment(route.route_input, error, route.resolved.sources, route.date))
