"""Assessments as CSV, a row a route.

No cell can be taken for a formula by a spreadsheet, and none holds a character that commands a terminal.
"""

from __future__ import annotations

import csv
import io
import unicodedata
from typing import TYPE_CHECKING, Self

from routecheck.report.route_row import make_row

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Assessment, RouteInput
    from routecheck.report.output_options import OutputOptions
    from routecheck.report.route_row import RouteRow, RowFinding
    from routecheck.report.run_summary import RunSummary

COLUMNS = (
    "file", "line", "name", "departure", "destination", "verdict", "wrong", "doubtful", "notes", "not_shown", "check",
    "weight", "words", "finding", "likely_intended", "distance_nm", "at_least", "direct_nm", "checked_share", "lost_nm",
    "not_used", "headline",
)  # fmt: skip
"""What every row begins with; then come the columns of the first input that nothing reads, then `other_columns`."""
_FORMULA = "=+-@|%"


class CsvRows:
    """A header, then a row for each route, whatever was found."""

    looks_ahead = 1

    def __init__(self, options: OutputOptions) -> None:
        self._options = options
        self._own: list[str] = []

    def begin(self, first: Sequence[RouteInput], /) -> str:
        """The header, with the columns of the first input that nothing reads."""
        self._own = [name for route_input in first for name, _ in route_input.origin.columns]
        return _write_row((*COLUMNS, *map(guard, self._own), "other_columns"))

    def add(self, assessment: Assessment) -> str:
        """The answer as a row."""
        return _describe(make_row(assessment, self._options), self._own)

    def merge(self, _later: Self, /) -> None:
        """Nothing is kept of an answer."""

    def end(self, _summary: RunSummary, /) -> Iterator[str]:
        """Nothing: the last row is the last answer."""
        return iter(())


def guard(text: str) -> str:
    """Mark a text that a spreadsheet would take for a formula, whatever unseen stands before its first sign."""
    seen = "".join(char for char in text if unicodedata.category(char) != "Cf" and not char.isspace())
    is_formula = unicodedata.normalize("NFKC", seen[:1]).startswith(tuple(_FORMULA))
    return f"'{text}" if is_formula or text.startswith(("\t", "\r")) else text


def _describe(row: RouteRow, own: Sequence[str]) -> str:
    columns = dict(row.columns)
    others = "; ".join(f"{name}={text}" for name, text in columns.items() if name not in own)
    cells = (
        guard(row.file), row.line, guard(row.name), guard(row.departure), guard(row.destination),
        row.verdict.name.lower(), *row.counts, row.not_shown, *_describe_finding(row.first), row.distance_nm,
        "yes" if row.has_gaps else "no", row.direct_nm, row.checked_share, row.lost_nm, guard(row.not_used),
        guard(row.headline),
    )  # fmt: skip
    return _write_row((*cells, *(guard(columns.get(name, "")) for name in own), guard(others)))


def _describe_finding(finding: RowFinding | None) -> Sequence[str]:
    """Check, weight, words, sentence and cure of the finding to look at first."""
    if finding is None:
        return "", "", "", "", ""
    return finding.check, finding.weight, *map(guard, (finding.words, finding.message, finding.likely_intended))


def _write_row(cells: Sequence[object]) -> str:
    """One line; a cell's own line breaks become blanks, so that every line of the file is a route."""
    out = io.StringIO()
    flat = [" ".join(cell.splitlines()) if isinstance(cell, str) else cell for cell in cells]
    csv.writer(out, lineterminator="\n").writerow(flat)
    return out.getvalue()
