"""The rows of a worklist, collected in any process: what a list of thousands keeps of each route."""

from __future__ import annotations

from typing import TYPE_CHECKING, Self

from routecheck.frozen_dataclass import dataclass
from routecheck.model import Weight
from routecheck.presentation.data_sources import describe_sources
from routecheck.presentation.verdict import is_fully_checked
from routecheck.report.checked_parts import is_nothing_checked
from routecheck.report.output_options import OutputOptions
from routecheck.report.route_row import make_row

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Assessment, RouteInput
    from routecheck.report.route_row import RouteRow
    from routecheck.report.run_summary import RunSummary


@dataclass(frozen=True, slots=True, kw_only=True)
class WorklistRow:
    """One route of a worklist; its findings are those that are Wrong or Doubtful."""

    route: RouteRow
    key: str
    """By which an acceptance knows the route: its ends and its words."""
    data: str
    """The navigation data that it rests on."""
    is_lost: bool
    """Whether nothing of it could be checked, or our program failed on it."""
    is_fully_checked: bool


class WorklistRows:
    """Collects rows. Of a part that another process did they are appended."""

    looks_ahead = 0

    def __init__(self, options: OutputOptions = OutputOptions(least=Weight.DOUBTFUL)) -> None:  # noqa: B008 - frozen
        self._options = options
        self.rows: list[WorklistRow] = []

    def begin(self, _first: Sequence[RouteInput], /) -> str:
        """Nothing is written."""
        return ""

    def add(self, assessment: Assessment) -> str:
        """Collect the row of an answer."""
        route_input = assessment.route.route_input
        self.rows.append(
            WorklistRow(
                route=make_row(assessment, self._options),
                key=route_key(route_input),
                data=describe_sources(assessment.route.resolved.sources),
                is_lost=is_nothing_checked(assessment) or bool(assessment.failure or route_input.unread),
                is_fully_checked=is_fully_checked(assessment),
            )
        )
        return ""

    def merge(self, later: Self, /) -> None:
        """Append the rows of later routes."""
        self.rows += later.rows

    def end(self, _summary: RunSummary, /) -> Iterator[str]:
        """Nothing is written."""
        return iter(())


def route_key(route_input: RouteInput) -> str:
    """What makes a route the same tomorrow: its ends and its words, whatever blanks stand between them."""
    ends = route_input.departure.strip(), route_input.destination.strip()
    return f"{'-'.join(ends)} {' '.join(route_input.route.split())}".upper()
