"""A pasted table cut into lines and cells by what parts its columns: tabs, bars, semicolons, commas, aligned blanks."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.model import Span

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_SIGNS = "\t|;,"
_LEAST_CELLS = 3
_SHARE = 0.6
"""Of the lines that are not blank, so many have a sign that parts columns: our choice."""
_Extent = tuple[int, int]
_RULE = re.compile(r"[\s|+=_.*-]*")
_GAP = re.compile(r"\s{2,}")
_WORD = re.compile(r"\S+")


@dataclass(frozen=True, slots=True)
class Cell:
    """The text of a cell without the blanks around it, and where it stands."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Line:
    """A line with its cells; one cell where it is no part of a table."""

    span: Span
    cells: tuple[Cell, ...]


def cut_lines(text: str) -> list[Line]:
    """Every line that is neither blank nor a rule of signs, cut into cells."""
    spans = [Span(*match.span()) for match in re.finditer(r"[^\r\n]+", text)]
    spans = [span for span in spans if not _RULE.fullmatch(text, span.start, span.end)]
    sign = _find_sign([text[span.start : span.end] for span in spans])
    if sign:
        return [Line(span, tuple(_cut_at_sign(text, span, sign))) for span in spans]
    bounds = _find_bounds([text[span.start : span.end].expandtabs(8) for span in spans])
    return [Line(span, tuple(_cut_at_blanks(text, span, bounds))) for span in spans]


def _find_sign(lines: Sequence[str]) -> str:
    """The sign that parts columns in most lines, twice or more in each; "" where it is blanks that do."""
    for sign in _SIGNS:
        if lines and sum(line.count(sign) >= _LEAST_CELLS - 1 for line in lines) >= _SHARE * len(lines):
            return sign
    return ""


def _cut_at_sign(text: str, span: Span, sign: str) -> Iterator[Cell]:
    start = span.start
    pieces = text[span.start : span.end].split(sign)
    if sign == "|" and len(pieces) > 2 and not pieces[0].strip() and not pieces[-1].strip():
        start, pieces = start + len(pieces[0]) + 1, pieces[1:-1]  # a frame around the table
    for piece in pieces:
        yield _strip(text, start, start + len(piece))
        start += len(piece) + 1


def _strip(text: str, start: int, end: int) -> Cell:
    piece = text[start:end]
    stripped = piece.strip(" \t\u00a0\"'")
    begin = start + (piece.index(stripped) if stripped else 0)
    return Cell(stripped, Span(begin, begin + len(stripped)))


def _find_bounds(lines: Sequence[str]) -> list[_Extent]:
    """From where to where each column reaches: between places that are blank in all lines with figures.

    None where lines do not line up, or where no cell is empty: they are then cut at each run of blanks.
    """
    table = [line for line in lines if len(_WORD.findall(line)) >= _LEAST_CELLS and any(c.isdigit() for c in line)]
    cells = [_GAP.split(line.strip()) for line in table]
    are_alike = len({len(one) for one in cells}) == 1 and not any(" " in cell for one in cells for cell in one)
    if len(table) < _LEAST_CELLS or are_alike:
        return []
    width = max(map(len, table))
    filled = [any(place < len(line) and line[place] != " " for line in table) for place in range(width)]
    edges = [i for i in range(width + 1) if (i < width and filled[i]) != (i > 0 and filled[i - 1])]
    extents = list(zip(edges[::2], edges[1::2], strict=True))
    most = max(map(len, cells))
    return extents if len(extents) >= most else []


def _cut_at_blanks(text: str, span: Span, bounds: Sequence[_Extent]) -> Iterator[Cell]:
    line = text[span.start : span.end]
    if bounds and "\t" not in line:
        yield from _cut_at_bounds(text, span, bounds)
        return
    start = 0
    for gap in _GAP.finditer(line) if _GAP.search(line.strip()) else re.finditer(r"\s+", line):
        if line[start : gap.start()].strip():
            yield _strip(text, span.start + start, span.start + gap.start())
        start = gap.end()
    if line[start:].strip():
        yield _strip(text, span.start + start, span.end)


def _cut_at_bounds(text: str, span: Span, bounds: Sequence[_Extent]) -> Iterator[Cell]:
    """Cells of a line that lines up: each word belongs to the column that it stands in or over."""
    found: list[list[Span]] = [[] for _ in bounds]
    line, start = text[span.start : span.end], 0
    for end in [*(gap.start() for gap in _GAP.finditer(line)), len(line)]:
        words = [match.span() for match in _WORD.finditer(line, start, end)]
        for (begin, stop), column in zip(words, _place_words(words, bounds), strict=True):
            found[column].append(Span(span.start + begin, span.start + stop))
        start = end
    for words_here in found:
        if words_here:
            begin, stop = words_here[0].start, words_here[-1].end
            yield Cell(text[begin:stop], Span(begin, stop))
        else:
            yield Cell("", Span(span.start, span.start))


def _place_words(words: Sequence[tuple[int, int]], bounds: Sequence[_Extent]) -> list[int]:
    """The column of each word of a phrase. One over no column goes with the next, or the one before, or the nearest."""
    over = [
        next((i for i, (begin, stop) in enumerate(bounds) if first < stop and last > begin), None)
        for first, last in words
    ]
    known = [column for column in over if column is not None]
    if not known:
        nearest = [min(range(len(bounds)), key=lambda i: abs(sum(bounds[i]) - sum(word))) for word in words]
        return nearest[:1] * len(words)
    placed: list[int] = []
    following = known[-1]
    for column in reversed(over):
        following = following if column is None else column
        placed.append(following)
    return placed[::-1]


def _find_column(word: tuple[int, int], bounds: Sequence[_Extent]) -> int | None:
    return next((i for i, (begin, stop) in enumerate(bounds) if word[0] < stop and word[1] > begin), None)
