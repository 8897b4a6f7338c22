"""Assessments as plain text for a terminal: the whole answer for one route, a few lines each for many."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from routecheck.formatting import count, listing, short
from routecheck.model import CAUTION_IN_FULL, NOT_LOOKED_AT, Role
from routecheck.presentation import headline as head
from routecheck.presentation.changes import pending_changes_line
from routecheck.presentation.finding_rows import finding_rows, not_checked_rows
from routecheck.presentation.leg_table import leg_table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.model import Assessment
    from routecheck.presentation.leg_table import Column
    from routecheck.report.run_summary import RunSummary

_WIDTH = 118
_MOST_TEXT = 4_000
"""Characters of the route text that are shown; what is longer ends in an ellipsis."""


def write(assessments: Iterable[Assessment], summary: RunSummary) -> Iterator[str]:
    """Everything about a single route, a few lines for each of many; then the summary."""
    waiting: Assessment | None = None
    for assessment in assessments:
        if waiting:
            yield describe_briefly(waiting)
        waiting = assessment
    if waiting:
        yield describe_route(waiting) if summary.routes == 1 else describe_briefly(waiting)
        yield "\n"
    yield _describe_run(summary)


def describe_route(assessment: Assessment) -> str:
    """Everything about one route."""
    parts = [
        _describe_input(assessment),
        _describe_findings(assessment, evidence=True),
        _tabulate_legs(assessment),
        _describe_unchecked(assessment),
    ]
    return "\n\n".join(filter(None, parts)) + "\n"


def describe_briefly(assessment: Assessment) -> str:
    """One of many routes: its name, how much was checked, its findings."""
    lines = [f"{_name_route(assessment)}: {_describe_verdict(assessment)}"]
    lines += [f"  {line}" for line in [pending_changes_line(assessment.route.route_input.changed)] if line]
    lines += [f"  {row.mark} {row.weight}: {row.message} [{row.check}]" for row in finding_rows(assessment)]
    lines += [f"  {one.sentence}" for one in assessment.not_used]
    return "\n".join(lines) + "\n"


def _describe_verdict(assessment: Assessment) -> str:
    """The headline in one line. Where findings are listed under it, their counts stand for the heaviest."""
    over, counts = head.headline(assessment), head.findings_line(assessment)
    if assessment.findings and over.how_much:
        return f"{counts}. {over.how_much}"
    return " ".join(filter(None, (over.sentence, counts)))


def _describe_run(summary: RunSummary) -> str:
    """The last lines of a run: counts, the data it rests on and the cautions."""
    counts = ""
    if summary.rows or summary.routes != 1:
        read = f"{count(summary.rows, 'row')} read, " if summary.rows else ""
        counts = _wrap(
            f"{read}{count(summary.routes, 'route')}: {summary.wrong:,} with something Wrong, {summary.doubtful:,} "
            f"Doubtful without Wrong, {summary.unchecked:,} not fully checked.{_count_not_used(summary)}"
        )
    cautions = f"{_wrap(CAUTION_IN_FULL)}\n{_wrap(f'Not looked at: {NOT_LOOKED_AT}.')}\n"
    return "\n".join(filter(None, (counts, _wrap(summary.data_line), cautions)))


def _count_not_used(summary: RunSummary) -> str:
    if not summary.not_used:
        return ""
    return f" {count(summary.not_used, 'value')} not used, in {count(summary.with_not_used, 'route')}."


def _name_route(assessment: Assessment) -> str:
    route_input, points = assessment.route.route_input, assessment.route.points
    ends = f"{short(points[0].text) or '?'}–{short(points[-1].text) or '?'}"
    return f"{route_input.name or route_input.title}, {ends}" if route_input.name or route_input.title else ends


def _describe_input(assessment: Assessment) -> str:
    route_input = assessment.route.route_input
    role = "what the text is: not said" if route_input.role is Role.NOT_SAID else f"as {route_input.role.value}"
    lines = [f"{_name_route(assessment)} ({role})", *filter(None, [_wrap(pending_changes_line(route_input.changed))])]
    text = " ".join(route_input.route.split())
    lines += textwrap.wrap(short(text, _MOST_TEXT), _WIDTH, initial_indent="  ", subsequent_indent="  ")
    over = head.headline(assessment)
    lines += ["", *map(_wrap, filter(None, (over.verdict_line, over.how_much)))]
    lines += [*filter(None, (head.findings_line(assessment),)), head.recognised_line(assessment)]
    lines += [_wrap(remark) for remark in (*head.input_remarks(assessment), *assessment.route.own_mistakes)]
    return "\n".join(lines)


def _describe_findings(assessment: Assessment, *, evidence: bool) -> str:
    lines = []
    for row in finding_rows(assessment):
        text = f"{row.mark} {row.number} {row.weight}: {row.message} [{row.check}]"
        lines.append(textwrap.fill(text, _WIDTH, subsequent_indent="    "))
        if row.accepted:
            lines.append(textwrap.fill(f"      {row.accepted}", _WIDTH, subsequent_indent="      "))
        if evidence:
            lines += [f"      likely intended: {why}" for why in row.intended]
            lines += [f"      {name}: {value}" for name, value in row.facts]
    return "\n".join(lines)


def _tabulate_legs(assessment: Assessment) -> str:
    if assessment.route.route_input.unread:
        return ""
    table = leg_table(assessment)
    if not table.columns:
        return head.totals_line(assessment)
    rows = [tuple(column.head for column in table.columns), *(row.cells for row in table.rows)]
    widths = [max(map(len, cells)) for cells in zip(*rows, strict=True)]
    lines = [_align_row(row, widths, table.columns) for row in rows]
    lines += [head.totals_line(assessment), *([_wrap(table.basis)] if table.basis else [])]
    return "\n".join(lines)


def _align_row(row: Sequence[str], widths: Sequence[int], columns: Sequence[Column]) -> str:
    cells = (
        cell.rjust(width) if column.figures else cell.ljust(width)
        for cell, width, column in zip(row, widths, columns, strict=True)
    )
    return "  ".join(cells).rstrip()


def _describe_unchecked(assessment: Assessment) -> str:
    lines = [head.outcomes_line(assessment)]
    reasons: dict[str, list[str]] = {}
    for check, why in not_checked_rows(assessment):
        reasons.setdefault(why, []).append(check)
    lines += [_hang(f"  not checked, {listing(checks)}: {why}") for why, checks in reasons.items()]
    return "\n".join(lines)


def _hang(text: str) -> str:
    return textwrap.fill(text, _WIDTH, subsequent_indent="    ")


def _wrap(text: str) -> str:
    return textwrap.fill(text, _WIDTH)
