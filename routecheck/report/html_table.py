"""Assessments as a page that a browser shows: a row a route, then counts, the data they rest on and the cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Self

from routecheck import formatting
from routecheck.model import CAUTION, CAUTION_IN_FULL, NOT_LOOKED_AT
from routecheck.presentation.verdict import WEIGHT_MARKS, WEIGHT_NAMES
from routecheck.report.html_text import make_safe
from routecheck.report.route_row import make_row

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Assessment, RouteInput
    from routecheck.report.output_options import OutputOptions
    from routecheck.report.route_row import RouteRow
    from routecheck.report.run_summary import RunSummary

_HEADS = ("Route", "Verdict", "First finding", "Likely intended", "Checked", "Distance", "Direct", "Time")
_FIGURES_FROM = 4
"""From this column on there are figures."""
_BEGINNING = f"""\
<!doctype html>
<html lang="en">
<meta charset="utf-8">
<title>Routecheck: routes</title>
<style>
:root {{ color-scheme: light dark; }}
body {{ font: 15px/1.4 system-ui, sans-serif; margin: 2em; }}
table {{ border-collapse: collapse; }}
th, td {{ border-bottom: 1px solid #8884; padding: .3em .8em .3em 0; text-align: left; vertical-align: top; }}
.figure {{ text-align: right; white-space: nowrap; }}
</style>
<p><strong>{CAUTION}</strong></p>
<table>
"""


class HtmlTable:
    """A page with a row for each route, whatever was found."""

    looks_ahead = 0

    def __init__(self, options: OutputOptions) -> None:
        self._options = options

    def begin(self, _first: Sequence[RouteInput], /) -> str:
        """The head of the page and of its table."""
        heads = "".join(_tag("th", head, n) for n, head in enumerate(_HEADS))
        return f"{_BEGINNING}<thead><tr>{heads}</tr></thead>\n<tbody>\n"

    def add(self, assessment: Assessment) -> str:
        """The answer as a row of the table."""
        cells = _describe(make_row(assessment, self._options))
        return f"<tr>{''.join(_tag('td', cell, n) for n, cell in enumerate(cells))}</tr>\n"

    def merge(self, _later: Self, /) -> None:
        """Nothing is kept of an answer."""

    def end(self, summary: RunSummary, /) -> Iterator[str]:
        """The end of the table, and what holds for the run."""
        lines = (summary.sentence, summary.data_line, CAUTION_IN_FULL, f"Not looked at: {NOT_LOOKED_AT}.")
        yield "</tbody>\n</table>\n" + "".join(f"<p>{make_safe(line)}</p>\n" for line in lines if line) + "</html>\n"


def _describe(row: RouteRow) -> tuple[str, ...]:
    where = f"{row.file}, line {row.line}" if row.line is not None else row.file
    name = row.name if row.name != where else ""
    first = row.first
    hidden = f" ({formatting.count(row.not_shown, 'finding')} not shown)" if row.not_shown else ""
    least = "at least " if row.has_gaps else ""
    return (
        " · ".join(filter(None, (f"{row.departure or '?'}–{row.destination or '?'}", name, where))),
        f"{WEIGHT_MARKS[first.weight]} {WEIGHT_NAMES[first.weight]}" if first else row.verdict.value,
        f"{first.message if first else row.headline}{hidden} {row.not_used}".strip(),
        first.likely_intended if first else "",
        "" if row.checked_share is None else formatting.percent(row.checked_share),
        "" if row.distance_nm is None else f"{least}{formatting.nm(row.distance_nm)}",
        "" if row.direct_nm is None else formatting.nm(row.direct_nm),
        "" if row.time_min is None else f"{least}{formatting.duration(row.time_min)}",
    )


def _tag(name: str, text: str, column: int) -> str:
    kind = ' class="figure"' if column >= _FIGURES_FROM else ""
    return f"<{name}{kind}>{make_safe(text)}</{name}>"
