"""What came out of a run over many routes, counted as they pass. Nothing is printed here."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, field, fields
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.model import Weight
from routecheck.presentation.data_sources import describe_sources
from routecheck.presentation.verdict import is_fully_checked
from routecheck.report.checked_parts import is_nothing_checked

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from routecheck.model import Assessment, RouteInput


@dataclass(slots=True)
class RunSummary:
    """How many routes came out how, and the data they rest on."""

    _: KW_ONLY
    rows: int = 0
    """Rows of tables among the inputs that were read."""
    routes: int = 0
    messages: int = 0
    """Messages that carry no route, which are no routes."""
    wrong: int = 0
    doubtful: int = 0
    unchecked: int = 0
    """Routes of which a part, or all, was not checked."""
    nothing_checked: int = 0
    """Routes of which nothing could be checked."""
    unread_files: dict[str, str] = field(default_factory=dict)
    """Files of which something was no row and could not be read, each with the reason."""
    read_files: set[str] = field(default_factory=set)
    """Files of which a route was read."""
    failed: int = 0
    """Routes at which something of ours failed."""
    not_used: int = 0
    """Values of the inputs that were not used, and below in how many routes."""
    with_not_used: int = 0
    other_columns: dict[str, None] = field(default_factory=dict)
    """The titles of columns that nothing reads, in the order in which they were met."""
    data_line: str = ""
    is_finished: bool = False
    """Whether every input was checked and its answer handed on."""

    @property
    def no_inputs(self) -> list[str]:
        """The files that hold no route at all, each with the reason."""
        return [f"{file}: {why}" for file, why in self.unread_files.items() if file not in self.read_files]

    @property
    def sentence(self) -> str:
        """The counts in words."""
        read = f"{formatting.count(self.rows, 'row')} read, " if self.rows else ""
        not_used = (
            f" {formatting.count(self.not_used, 'value')} not used, in {formatting.count(self.with_not_used, 'route')}."
            if self.not_used
            else ""
        )
        messages = f" {formatting.count(self.messages, 'message')} without a route." if self.messages else ""
        return (
            f"{read}{formatting.count(self.routes, 'route')}: {self.wrong:,} with something Wrong, {self.doubtful:,} "
            f"Doubtful without Wrong, {self.unchecked:,} not fully checked.{messages}{not_used}"
        )

    def count_rows(self, route_inputs: Iterable[RouteInput]) -> Iterator[RouteInput]:
        """Count the rows among the inputs as they are read."""
        for route_input in route_inputs:
            self.rows += route_input.origin.line is not None
            yield route_input

    def count(self, assessments: Iterable[Assessment]) -> Iterator[Assessment]:
        """Count each assessment as it passes."""
        for assessment in assessments:
            self._add(assessment)
            yield assessment

    def merge(self, later: RunSummary) -> None:
        """Count in the part of the run that comes next."""
        for name in _COUNTS:
            setattr(self, name, getattr(self, name) + getattr(later, name))
        self.unread_files = later.unread_files | self.unread_files
        self.read_files |= later.read_files
        self.other_columns |= later.other_columns
        self.data_line = later.data_line or self.data_line

    def _add(self, assessment: Assessment) -> None:
        heaviest = assessment.heaviest()
        is_route = not assessment.route.route_input.is_routeless
        self.routes += is_route
        self.messages += not is_route
        self.wrong += heaviest is Weight.WRONG
        self.doubtful += heaviest is Weight.DOUBTFUL
        self.nothing_checked += is_route and is_nothing_checked(assessment)
        self.unchecked += is_route and not is_fully_checked(assessment)
        self.failed += bool(assessment.could_not_run or assessment.route.own_mistakes)
        self.not_used += len(assessment.not_used)
        self.other_columns |= dict.fromkeys(title for title, _ in assessment.route.route_input.origin.columns)
        self.with_not_used += bool(assessment.not_used)
        self.data_line = describe_sources(assessment.route.resolved.sources)
        route_input = assessment.route.route_input
        if route_input.is_no_input:
            self.unread_files.setdefault(route_input.origin.file, route_input.unread)
        else:
            self.read_files.add(route_input.origin.file)


_COUNTS = tuple(one.name for one in fields(RunSummary) if one.type == "int")
