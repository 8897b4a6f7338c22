"""The lines of a nav log sorted: heads, repeated heads, rows of one to three lines, the total, what is no table."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from itertools import zip_longest
from typing import TYPE_CHECKING

from routecheck.model import Span
from routecheck.reading.nav_logs.aligned_columns import ColumnCutter
from routecheck.reading.nav_logs.columns import is_fix
from routecheck.reading.nav_logs.line_kinds import LineKind, find_line_kinds, has_name
from routecheck.reading.nav_logs.lines import Cell

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.reading.nav_logs.lines import CutText, Line

_MOST_LINES = 3
"""Of one row."""
MOST_ROWS = 3_000
"""Lines of one table (our choice: no plan comes near it, a wrong file pasted in does)."""
_CLEARLY = 0.7


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


def sort_lines(cut: CutText) -> SortedLines:
    """Sort the lines of a pasted text. Without rows it holds no table."""
    found = SortedLines()
    data: list[Line] = []
    total: Line | None = None
    known_heads: set[tuple[str, ...]] = set()
    kinds = find_line_kinds(cut.lines, are_words=not cut.sign)
    for line, kind in zip(cut.lines, kinds, strict=True):
        texts = tuple(cell.text.upper() for cell in line.cells)
        if kind is LineKind.HEAD:
            (found.repeated if data or texts in known_heads else found.head_lines).append(line)
            known_heads.add(texts)
        elif kind is LineKind.TOTAL and total is None:
            total = line
        else:
            (data if kind is LineKind.DATA else found.around).append(line)
    found.left_out = data[MOST_ROWS:]
    _join_rows(found, cut, _leave_ends(found, data[:MOST_ROWS]), total)
    return found


def _leave_ends(found: SortedLines, data: list[Line]) -> list[Line]:
    """The lines from the first to the last part of a row.

    Figures before the first name are none of the table, nor those behind the last one that other text parts from it.
    """
    named = [number for number, line in enumerate(data) if has_name(line)]
    if not named:
        found.around += data
        return []
    last = data[named[-1]].span.start
    parting = min((line.span.start for line in found.around if line.span.start > last), default=None)
    end = next((i for i, line in enumerate(data) if parting is not None and line.span.start > parting), len(data))
    found.around += [*data[: named[0]], *data[end:]]
    return data[named[0] : end]


def _join_rows(found: SortedLines, cut: CutText, data: list[Line], total: Line | None) -> None:
    rows = _group_lines(data, len(found.head_lines), are_words=not cut.sign)
    period = max((len(row) for row in rows), default=1)
    full = [row for row in rows if len(row) == period]
    cutters = [ColumnCutter(cut.text, [row[at] for row in full]) if not cut.sign else None for at in range(period)]
    widths = [
        cutter.width if cutter else max((len(row[at].cells) for row in full), default=0)
        for at, cutter in enumerate(cutters)
    ]
    _take_heads(found, cutters, widths)
    for row in rows:
        found.rows.append(_join_lines(_spread(row, cutters), cutters, widths))
    if total is not None:
        cutter = cutters[0]
        found.total = cutter.cut(total) if cutter else total.cells


def _take_heads(found: SortedLines, cutters: Sequence[ColumnCutter | None], widths: list[int]) -> None:
    """Put the words of the heads over the columns: a line of heads for each line of a row, or all over the one."""
    cut = [
        cutter.cut_head(line) if (cutter := cutters[min(at, len(cutters) - 1)]) else line.cells
        for at, line in enumerate(found.head_lines)
    ]
    heads = [tuple(cell.text for cell in cells) for cells in cut]
    if len(cutters) == 1 and len(heads) > 1:
        heads = [tuple(" ".join(filter(None, column)) for column in zip_longest(*heads, fillvalue=""))]
    for at, width in enumerate(widths):
        over = heads[at] if at < len(heads) else ()
        widths[at] = max(width, len(over))
        found.heads += [*over, *[""] * (widths[at] - len(over))]
    found.around += found.head_lines[len(cutters) :] if len(cutters) > 1 else []
    del found.head_lines[len(cutters) if len(cutters) > 1 else len(found.head_lines) :]


def _spread(row: Sequence[Line], cutters: Sequence[ColumnCutter | None]) -> list[Line | None]:
    """The lines of a row in their places; of a row with fewer lines each goes where it fits best."""
    if len(row) == len(cutters) or None in cutters:
        return [*row, *[None] * (len(cutters) - len(row))]
    places: list[Line | None] = [row[0], *[None] * (len(cutters) - 1)]
    last = 0
    for line in row[1:]:
        free = range(last + 1, len(cutters))
        if not free:
            break
        last = max(free, key=lambda at: cutters[at].holds(line) if cutters[at] else 0)  # type: ignore[union-attr]
        places[last] = line
    return places


def _join_lines(
    lines: Sequence[Line | None], cutters: Sequence[ColumnCutter | None], widths: Sequence[int]
) -> tuple[Cell, ...]:
    """One row of its lines, each as wide as the widest of its place."""
    cells: list[Cell] = []
    start = next(line.span.start for line in lines if line)
    for line, cutter, width in zip(lines, cutters, widths, strict=True):
        own: tuple[Cell, ...] = ()
        if line:
            start, own = line.span.start, cutter.cut(line) if cutter else line.cells
        cells += [*own, *[Cell("", Span(start, start))] * (width - len(own))]
    return tuple(cells)


# ---- which lines make a row


def _group_lines(data: Sequence[Line], heads: int, *, are_words: bool) -> list[list[Line]]:
    """The lines of each row: as many as the head has, or from one line with a point to the next."""
    if not are_words:
        period = _find_period(data, heads)
        return [list(data[i : i + period]) for i in range(0, len(data), period)]
    anchors = _find_anchors(data)
    rows: list[list[Line]] = []
    for line, begins in zip(data, anchors, strict=True):
        if begins or not rows or len(rows[-1]) >= _MOST_LINES:
            rows.append([])
        rows[-1].append(line)
    return rows


def _find_anchors(data: Sequence[Line]) -> list[bool]:
    """For every line whether a row begins with it: where the column of points has one."""
    names = [_name_places(line) for line in data]
    common = Counter(place[0] for places in names for place in places).most_common(1)
    if not common:
        return [True] * len(data)
    at = common[0][0]
    reach = max(place[1] for places in names for place in places if place[0] == at)
    return [any(first < reach and last > at for first, last in places) for places in names]


def _name_places(line: Line) -> list[tuple[int, int]]:
    """From where to where in a line points stand."""
    begin = line.span.start
    return [(word.span.start - begin, word.span.end - begin) for word in line.cells if is_fix(word.text)]


def _find_period(data: Sequence[Line], heads: int) -> int:
    """How many lines of cells make a row: as many as the head has, or the period in which a column has a fix.

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
        cells = [line.cells[column].text for line in lines if column < len(line.cells)]
        if sum(map(is_fix, cells)) >= _CLEARLY * len(lines):
            return True
    return False
