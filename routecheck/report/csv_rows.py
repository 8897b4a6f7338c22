"""Assessments as CSV, a row a route: where it stands, the verdict, counts, the heaviest finding, length and shares.

No cell can be taken for a formula by a spreadsheet, and none holds a character that commands a terminal.
"""

from __future__ import annotations

import csv
import io
import unicodedata
from typing import TYPE_CHECKING, Self

from routecheck.model import Weight
from routecheck.presentation.headline import headline
from routecheck.report.batch_text import flagged_words
from routecheck.report.checked_parts import is_nothing_checked

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Assessment, Finding, RouteInput
    from routecheck.report.output_options import OutputOptions
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
        return _describe(assessment, self._own, self._options)

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


def _describe(assessment: Assessment, own: Sequence[str], options: OutputOptions) -> str:
    route, origin = assessment.route, assessment.route.route_input.origin
    totals, head = route.totals, headline(assessment)
    counts = [sum(finding.weight is weight for finding in assessment.findings) for weight in Weight]
    columns = dict(origin.columns)
    not_used = " ".join(one.sentence for one in assessment.not_used)
    others = "; ".join(f"{name}={text}" for name, text in columns.items() if name not in own)
    cells = (
        guard(origin.file), origin.line, guard(route.route_input.name or route.route_input.title),
        guard(route.points[0].text), guard(route.points[-1].text), head.verdict.name.lower(), *counts,
        options.count_hidden(assessment), *_describe_heaviest(assessment, options), _describe_length(assessment),
        "yes" if totals.gaps else "no", None if totals.direct_nm is None else round(totals.direct_nm, 1),
        _describe_share(assessment), _sum_lost_nm(assessment), guard(not_used), guard(head.sentence),
    )  # fmt: skip
    return _write_row((*cells, *(guard(columns.get(name, "")) for name in own), guard(others)))


def _describe_heaviest(assessment: Assessment, options: OutputOptions) -> Sequence[str]:
    """Check, weight, words, sentence and cure of the heaviest finding shown; of several the first."""
    shown = [finding for finding in assessment.findings if options.shows(finding)]
    finding: Finding | None = min(shown, key=lambda one: list(Weight).index(one.weight), default=None)
    if finding is None:
        return "", "", "", "", ""
    cure = finding.likely_intended[0].why if finding.likely_intended else ""
    texts = flagged_words(assessment, finding), finding.message, cure
    return finding.check, finding.weight.value, *map(guard, texts)


def _describe_length(assessment: Assessment) -> float | None:
    if is_nothing_checked(assessment):
        return None
    return round(assessment.route.totals.distance_nm, 1)


def _describe_share(assessment: Assessment) -> float | None:
    share = assessment.route.totals.checked_share
    if assessment.route.route_input.unread or assessment.failure:
        return 0.0
    return share if share is None or share in (0.0, 1.0) else min(round(share, 3), 0.999)


def _sum_lost_nm(assessment: Assessment) -> float | None:
    known = [stretch.least_nm for stretch in assessment.route.totals.lost]
    return None if None in known else round(sum(nm for nm in known if nm is not None), 1)


def _write_row(cells: Sequence[object]) -> str:
    """One line; a cell's own line breaks become blanks, so that every line of the file is a route."""
    out = io.StringIO()
    flat = [" ".join(cell.splitlines()) if isinstance(cell, str) else cell for cell in cells]
    csv.writer(out, lineterminator="\n").writerow(flat)
    return out.getvalue()
