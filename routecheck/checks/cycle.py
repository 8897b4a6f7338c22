"""What is made of a contradiction with data that is not for the day of the route. One rule for every check."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.model import Weight

if TYPE_CHECKING:
    from routecheck.model import Finding, Route

_NOT_FOR_THE_DAY = "The loaded data is not for this day: it may have changed."


def judge_by_cycle(route: Route, finding: Finding) -> Finding:
    """The finding; a Note where every data source that says when it holds holds for other days."""
    if not is_out_of_cycle(route):
        return finding
    return replace(finding, weight=Weight.NOTE, message=f"{finding.message} {_NOT_FOR_THE_DAY}")


def is_out_of_cycle(route: Route) -> bool:
    """Whether no data source is in force on the day of the route, though some say when they are."""
    dated = [(one.effective, one.until) for one in route.resolved.sources if one.effective and one.until]
    return bool(dated) and not any(first <= route.date < end for first, end in dated)
