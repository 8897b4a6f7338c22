"""Assessments as plain text for a terminal: the whole answer for one route, a few lines each for many."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Self

from routecheck.formatting import count, listing, short
from routecheck.model import CAUTION_IN_FULL, NOT_LOOKED_AT, Role
from routecheck.presentation import headline as head
from routecheck.presentation.alternate_view import alternate_views
from routecheck.presentation.changes import pending_changes_line
from routecheck.presentation.comparison import comparison_sentences
from routecheck.presentation.finding_rows import finding_rows, not_checked_rows
from routecheck.presentation.known_routes import nearest_sentence
from routecheck.presentation.leg_table import leg_table
from routecheck.presentation.load_view import load_lines
from routecheck.report.batch_text import BatchReport
from routecheck.report.output_options import EVERYTHING
from routecheck.report.route_names import name_route

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Assessment, RouteInput
    from routecheck.presentation.leg_table import Column
    from routecheck.report.output_options import OutputOptions
    from routecheck.report.run_summary import RunSummary

_MOST_COLUMNS = 12
_MOST_TEXT = 4_000
"""Characters of the route text that are shown; what is longer ends in an ellipsis."""


class Text:
    """Everything about a single route; of many what there is to say about all of them; then the summary."""

    looks_ahead = 2

    def __init__(self, options: OutputOptions) -> None:
        self._options = options
        self._describe = describe_route
        self._batch: BatchReport | None = None

    def begin(self, first: Sequence[RouteInput], /) -> str:
        """Nothing. Two inputs are many."""
        if len(first) > 1:
            self._describe = describe_briefly
            self._batch = None if self._options.every_route else BatchReport(self._options, first[0].origin.file)
        return ""

    def add(self, assessment: Assessment) -> str:
        """The answer in full, or in a few lines; "" where there is something to say only about all of them."""
        if self._batch is None:
            return self._describe(assessment, self._options)
        self._batch.add(assessment)
        return ""

    def merge(self, later: Self, /) -> None:
        """Count in what was found on later routes."""
        if self._batch and later._batch:
            self._batch.merge(later._batch)

    def end(self, summary: RunSummary, /) -> Iterator[str]:
        """What there is to say about all routes, then counts, the data they rest on and the cautions."""
        if self._batch:
            yield from self._batch.write()
        yield ("\n" if summary.routes else "") + _describe_run(summary, self._options.width)


def describe_route(assessment: Assessment, options: OutputOptions = EVERYTHING) -> str:
    """Everything about one route."""
    parts = [
        _describe_input(assessment, options.width),
        _describe_findings(assessment, options),
        _tabulate_legs(assessment, options.width),
        "\n".join(_hang(line, options.width) for line in load_lines(assessment.route)),
        _describe_unchecked(assessment, options.width),
    ]
    return "\n\n".join(filter(None, parts)) + "\n"


def describe_briefly(assessment: Assessment, options: OutputOptions = EVERYTHING) -> str:
    """One of many routes: its name, how much was checked, its findings."""
    lines = [f"{name_route(assessment)}: {_describe_verdict(assessment)}"]
    lines += [f"  {line}" for line in [pending_changes_line(assessment.route.route_input.changed)] if line]
    for row, finding in zip(finding_rows(assessment), assessment.findings, strict=True):
        if options.shows(finding):
            lines.append(f"  {row.mark} {row.weight}: {row.message} [{row.check}]")
            lines += [f"      likely intended: {why}" for why in row.intended[:1]]
    said = (*head.input_remarks(assessment), *comparison_sentences(assessment, with_differences=False))
    lines += [f"  {remark}" for remark in said]
    if hidden := options.count_hidden(assessment):
        lines.append(f"  {count(hidden, 'finding')} not shown.")
    return "\n".join(textwrap.fill(line, options.width, subsequent_indent="      ") for line in lines) + "\n"


def _describe_verdict(assessment: Assessment) -> str:
    """The headline in one line. Where findings are listed under it, their counts stand for the heaviest."""
    over, counts = head.headline(assessment), head.findings_line(assessment)
    if assessment.findings and over.how_much:
        return f"{counts}. {over.how_much}"
    return " ".join(filter(None, (over.sentence, counts)))


def _describe_run(summary: RunSummary, width: int) -> str:
    """The last lines of a run: counts, the data it rests on and the cautions."""
    counts = summary.sentence if summary.rows or summary.routes + summary.messages != 1 else ""
    lines = (
        counts, _name_other_columns(summary), summary.data_line, CAUTION_IN_FULL, f"Not looked at: {NOT_LOOKED_AT}."
    )  # fmt: skip
    return "".join(f"{_wrap(line, width)}\n" for line in lines if line)


def _name_other_columns(summary: RunSummary) -> str:
    """Which columns nothing reads, the first of them by title."""
    titles = [short(title) for title in summary.other_columns]
    if more := len(titles) - len(titles[:_MOST_COLUMNS]):
        titles[_MOST_COLUMNS:] = [f"{more:,} more"]
    return f"Columns that nothing reads: {listing(titles)}." if titles else ""


def _describe_input(assessment: Assessment, width: int) -> str:
    route_input = assessment.route.route_input
    is_unsaid = route_input.role is Role.NOT_SAID
    role = "not said whether filed, cleared or entered" if is_unsaid else f"as {route_input.role.value}"
    lines = [f"{name_route(assessment)} ({role})"]
    lines += filter(None, [_wrap(pending_changes_line(route_input.changed), width)])
    text = " ".join(route_input.route.split())
    lines += textwrap.wrap(short(text, _MOST_TEXT), width, initial_indent="  ", subsequent_indent="  ")
    over = head.headline(assessment)
    lines += ["", *(_wrap(line, width) for line in (over.verdict_line, over.how_much) if line)]
    lines += [*filter(None, (head.findings_line(assessment),)), head.recognised_line(assessment)]
    lines += [_wrap(line, width) for line in [nearest_sentence(assessment.route.usage)] if line]
    said = (*head.input_remarks(assessment), *comparison_sentences(assessment), *assessment.route.own_mistakes)
    lines += [_wrap(remark, width) for remark in said]
    return "\n".join(lines)


def _describe_findings(assessment: Assessment, options: OutputOptions) -> str:
    lines = []
    for row, finding in zip(finding_rows(assessment), assessment.findings, strict=True):
        if not options.shows(finding):
            continue
        text = f"{row.mark} {row.number} {row.weight}: {row.message} [{row.check}]"
        lines.append(_hang(text, options.width))
        if row.accepted:
            lines.append(textwrap.fill(f"      {row.accepted}", options.width, subsequent_indent="      "))
        lines += [f"      likely intended: {why}" for why in row.intended]
        lines += [f"      {name}: {value}" for name, value in row.facts]
    if hidden := options.count_hidden(assessment):
        lines.append(f"{count(hidden, 'finding')} not shown.")
    return "\n".join(lines)


def _tabulate_legs(assessment: Assessment, width: int) -> str:
    if assessment.route.route_input.unread:
        return ""
    table = leg_table(assessment)
    if not table.columns:
        return head.totals_line(assessment)
    rows = [tuple(column.head for column in table.columns), *(row.cells for row in table.rows)]
    widths = [max(map(len, cells)) for cells in zip(*rows, strict=True)]
    lines = [_align_row(row, widths, table.columns) for row in rows]
    lines += [head.totals_line(assessment), *([_wrap(table.basis, width)] if table.basis else [])]
    lines += [_wrap(one.sentence, width) for one in alternate_views(assessment.route)]
    return "\n".join(lines)


def _align_row(row: Sequence[str], widths: Sequence[int], columns: Sequence[Column]) -> str:
    cells = (
        cell.rjust(width) if column.figures else cell.ljust(width)
        for cell, width, column in zip(row, widths, columns, strict=True)
    )
    return "  ".join(cells).rstrip()


def _describe_unchecked(assessment: Assessment, width: int) -> str:
    lines = [head.outcomes_line(assessment)]
    reasons: dict[str, list[str]] = {}
    for check, why in not_checked_rows(assessment):
        reasons.setdefault(why, []).append(check)
    lines += [_hang(f"  not checked, {listing(checks)}: {why}", width) for why, checks in reasons.items()]
    return "\n".join(lines)


def _hang(text: str, width: int) -> str:
    return textwrap.fill(text, width, subsequent_indent="    ", break_on_hyphens=False)


def _wrap(text: str, width: int) -> str:
    return textwrap.fill(text, width, break_on_hyphens=False)
