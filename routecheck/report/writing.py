"""What the writers share: each answer is written by itself, so that one which cannot be written costs itself alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.pipeline import failed_assessment

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from routecheck.model import Assessment
    from routecheck.report.run_summary import RunSummary


def write_each(
    assessments: Iterable[Assessment], write_one: Callable[[Assessment], str], summary: RunSummary
) -> Iterator[str]:
    """Write each answer; where that fails, write that our program failed on its route, and count it."""
    for assessment in assessments:
        yield write_fenced(assessment, write_one, summary)


def write_fenced(assessment: Assessment, write_one: Callable[[Assessment], str], summary: RunSummary) -> str:
    """Write one answer; where that fails, write that our program failed on its route, and count it."""
    try:
        return write_one(assessment)
    except Exception as error:
        summary.failed += 1
        route = assessment.route
        return write_one(failed_assessment(route.route_input, error, route.resolved.sources, route.date))
