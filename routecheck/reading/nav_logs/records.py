"""The lines of a nav log sorted: heads, repeated heads, rows of one to three lines, the total, what is no table."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import zip_longest
from typing import TYPE_CHECKING

from routecheck.model import Span
from routecheck.reading.nav_logs.columns import FIX_CELL, count_heads
from routecheck.reading.nav_logs.lines import Cell

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.reading.nav_logs.lines import Line

_LEAST_CELLS = 3
_MOST_LINES = 3
"""Of one row."""
MOST_ROWS = 3_000
"""Lines of one table (our choice: no plan comes near it, a wrong file pasted in does)."""
_HEADED = 0.5
_CLEARLY = 0.7
_TOTALS = ("TOTAL", "TOTALS", "TTL", "SUM")


@dataclass(slots=True, kw_only=True)
class SortedLines:
    """A table: `heads` are the cells over its columns, `rows` its rows, each with all cells of its lines."""

    heads: list[str] = field(default_factory=list)
    rows: list[tuple[Cell, ...]] = field(default_factory=list)
    total: tuple[Cell, ...] = ()
    head_lines: list[Line] = field(default_factory=list)
    repeated: list[Line] = field(default_factory=list)
    around: list[Line] = field(default_factory=list)
    left_out: list[Line] = field(default_factory=list)
    """Rows beyond the most that are read."""


def sort_lines(lines: Sequence[Line]) -> SortedLines:
    """Sort the lines of a pasted text. Without rows it holds no table."""
    found = SortedLines()
    data: list[Line] = []
    known_heads: set[tuple[str, ...]] = set()
    for line in lines:
        texts = tuple(cell.text.upper() for cell in line.cells)
        if _is_head(texts):
            _take_head(found, line, texts, known_heads, begun=bool(data))
        elif any(text.rstrip(":") in _TOTALS for text in texts[:2]):
            found.total = line.cells
        elif _is_row(line, least=2 if found.head_lines[1:] else _LEAST_CELLS) or (
            found.head_lines and not data and _is_aerodrome_alone(texts)
        ):
            data.append(line)
        else:
            found.around.append(line)
    found.left_out = data[MOST_ROWS:]
    _join_rows(found, data[:MOST_ROWS])
    return found


def _is_row(line: Line, least: int) -> bool:
    """Whether a line is one of the table: cells enough, figures among them, and no sentence."""
    texts = [cell.text for cell in line.cells if cell.text]
    with_digits = sum(any(char.isdigit() for char in text) for text in texts)
    in_small_letters = sum(text[1:].isalpha() and text[1:].islower() for text in texts)
    return len(texts) >= least and with_digits > 0 and in_small_letters <= with_digits


def _is_aerodrome_alone(texts: Sequence[str]) -> bool:
    """Whether a line holds an aerodrome and nothing else, as the row of the departure does, which no leg leads to."""
    filled = [text for text in texts if text]
    return len(filled) == 1 and len(filled[0]) == len("XVAL") and filled[0].isalpha()


def _is_head(texts: Sequence[str]) -> bool:
    filled = [text for text in texts if text]
    return len(filled) > 1 and count_heads(filled) >= max(2, _HEADED * len(filled))


def _take_head(
    found: SortedLines, line: Line, texts: tuple[str, ...], known: set[tuple[str, ...]], *, begun: bool
) -> None:
    if begun or texts in known:
        found.repeated.append(line)
        return
    known.add(texts)
    found.head_lines.append(line)


def _join_rows(found: SortedLines, data: list[Line]) -> None:
    period = _find_period(data, len(found.head_lines))
    widths = [max((len(line.cells) for line in data[i::period]), default=0) for i in range(period)]
    heads = [tuple(cell.text for cell in line.cells) for line in found.head_lines]
    if len(heads) > 1 and period == 1:  # one head written on several lines
        heads = [tuple(" ".join(filter(None, column)) for column in zip_longest(*heads, fillvalue=""))]
    if len(heads) == period:
        widths = [max(width, len(head)) for width, head in zip(widths, heads, strict=True)]
        for head, width in zip(heads, widths, strict=True):
            found.heads += [*head, *[""] * (width - len(head))]
    else:
        found.around += found.head_lines
    for start in range(0, len(data) - period + 1, period):
        found.rows.append(_join_lines(data[start : start + period], widths))
    found.around += data[len(data) - len(data) % period :]


def _join_lines(lines: Sequence[Line], widths: Sequence[int]) -> tuple[Cell, ...]:
    """One row of its lines, each as wide as the widest of its place."""
    cells: list[Cell] = []
    for line, width in zip(lines, widths, strict=True):
        empty = Cell("", Span(line.span.start, line.span.start))
        cells += [*line.cells, *[empty] * (width - len(line.cells))]
    return tuple(cells)


def _find_period(data: Sequence[Line], heads: int) -> int:
    """How many lines make a row: as many as the head has, or the period in which a fix stands in the same column.

    A head of several lines over rows that each begin with a fix is one head.
    """
    if 1 < heads <= _MOST_LINES and not all(_has_fixes(data[i::heads]) for i in range(heads)):
        return heads
    for period in range(1, _MOST_LINES + 1):
        if _has_fixes(data[::period]) and (period == 1 or not _has_fixes(data[1::period])):
            return period
    return 1


def _has_fixes(lines: Sequence[Line]) -> bool:
    """Whether one column holds something like a fix in most lines."""
    width = max((len(line.cells) for line in lines), default=0)
    for column in range(width):
        cells = [line.cells[column].text.upper() for line in lines if column < len(line.cells)]
        if sum(bool(FIX_CELL.fullmatch(cell)) for cell in cells) >= _CLEARLY * len(lines):
            return True
    return False
