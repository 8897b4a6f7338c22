"""Lines of a table to records of cells. An unclosed quotation mark costs its own line and no other. No meaning here."""

from __future__ import annotations

import csv
import re
from collections import deque
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from collections.abc import Iterator

_LARGEST_CELL = 2**31 - 1
_MOST_LINES = 100
"""The most lines that one quoted cell may fill: beyond, its quotation mark was never meant to open one (our choice)."""
# Blanks between a closing quotation mark and the next cell; the reader of the standard library takes offence.
_BLANKS_BEHIND = re.compile(r'"[ ]+(?=[,;\t\r\n]|$)')


@dataclass(frozen=True, slots=True)
class Record:
    """One row: the number of its first line, its cells without blanks around them, and what is wrong with it."""

    line: int
    cells: tuple[str, ...]
    fault: str = ""


class RecordReader:
    """Cuts lines into records. Cells in quotation marks may hold the delimiter, and some of them line breaks."""

    def __init__(self, lines: Iterator[str], delimiter: str) -> None:
        csv.field_size_limit(_LARGEST_CELL)
        self._source = _Source(lines, delimiter)

    def __iter__(self) -> Iterator[Record]:
        """Every record in order."""
        while (line := self._source.take()) is not None:
            yield _read_record(line, self._source)

    def allow_line_breaks(self, column: int, width: int) -> None:
        """Say of a table so many columns wide that only cells of one column run over lines.

        Elsewhere, and where such a line holds as many delimiters as a row has, two stray quotation marks would swallow
        the rows between them.
        """
        self._source.long_column, self._source.width = column, width


class _Source:
    """Lines with their number. Some can be given back and come again."""

    def __init__(self, lines: Iterator[str], delimiter: str) -> None:
        self._lines = lines
        self.delimiter = delimiter
        self.long_column, self.width = -1, 0
        self._back: deque[str] = deque()
        self.number = 0

    def take(self) -> str | None:
        """The next line, NUL characters as replacement marks; None at the end."""
        line = self._back.popleft() if self._back else next(self._lines, None)
        self.number += line is not None
        return None if line is None else line.replace("\0", "\ufffd")

    def give_back(self, lines: list[str]) -> None:
        """These lines come again."""
        self._back.extendleft(reversed(lines))
        self.number -= len(lines)


def _read_record(line: str, source: _Source) -> Record:
    number = source.number
    try:
        cells = _cut_cells(line, source.delimiter) or _read_over_lines(line, source)
    except csv.Error:  # something behind a closing quotation mark
        cells = line.split(source.delimiter)
    if cells is None:
        return Record(number, (), "a quotation mark opens a cell and none in the same row closes it")
    return Record(number, tuple(cell.strip() for cell in cells))


def _read_over_lines(line: str, source: _Source) -> list[str] | None:
    """The cells of a record that goes on in the next lines; None, and those lines given back, if it cannot be one."""
    more_lines: list[str] = []
    while len(more_lines) < _MOST_LINES and (more := source.take()) is not None:
        more_lines.append(more)
        # Only a quotation mark can close the cell: other lines need no try.
        if '"' in more and (cells := _try_to_cut(line + "".join(more_lines), source.delimiter)) is not None:
            if _may_run_over(cells, source):
                return cells
            break
    source.give_back(more_lines)
    return None


def _may_run_over(cells: list[str], source: _Source) -> bool:
    """Whether only the one cell that may runs over lines, and none of these lines looks like a row."""
    for column, cell in enumerate(cells):
        lines = cell.splitlines()
        if len(lines) > 1 and column != source.long_column:
            return False
        if len(lines) > 1 and any(line.count(source.delimiter) >= source.width - 1 for line in lines):
            return False
    return True


def _try_to_cut(text: str, delimiter: str) -> list[str] | None:
    try:
        return _cut_cells(text, delimiter)
    except csv.Error:
        return None


def _cut_cells(text: str, delimiter: str) -> list[str] | None:
    """The cells of one record; None while a quoted cell is open. Raises csv.Error on text behind a closing mark."""
    is_open = False

    def lines() -> Iterator[str]:
        nonlocal is_open
        yield _BLANKS_BEHIND.sub('"', text)
        is_open = True  # the reader asks for another line only within a quoted cell

    try:
        return next(csv.reader(lines(), delimiter=delimiter, skipinitialspace=True, strict=True), []) or [""]
    except csv.Error:
        if is_open:
            return None
        raise
