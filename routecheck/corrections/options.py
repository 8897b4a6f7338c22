"""What proposals beside the text are made of: the question asked, one possible change. No trying, no choosing."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from routecheck.corrections.route_inputs import with_values

if TYPE_CHECKING:
    from routecheck.model import Assessment, FieldChange, Finding, Route, RouteInput, Span
    from routecheck.navdata.database import NavDatabase


@dataclass(frozen=True, slots=True)
class Asked:
    """A finding that has no proposal yet, in the assessment it stands in."""

    assessment: Assessment
    finding: Finding
    database: NavDatabase

    @property
    def route(self) -> Route:
        """The route it is about."""
        return self.assessment.route

    @property
    def route_input(self) -> RouteInput:
        """The route as handed in."""
        return self.assessment.route.route_input


@dataclass(frozen=True, slots=True)
class Option:
    """One change: `new` in place of `span`, values beside the text, or both; `why` it is likely, `cost` how unlikely.

    Costs are of our own scale: 1 apart is clearly apart, nearer than `beside.ABOUT_EQUAL` about equal.
    """

    why: str
    cost: float
    span: Span | None = None
    new: str = ""
    beside: tuple[FieldChange, ...] = ()

    def made_in(self, route_input: RouteInput) -> RouteInput:
        """The entry with it."""
        text = route_input.route
        if self.span is not None:
            text = text[: self.span.start] + self.new + text[self.span.end :]
        return replace(with_values(route_input, self.beside), route=text)
