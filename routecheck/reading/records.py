"""Lines of a table to records of cells. An unclosed quotation mark costs its own line and no other. No meaning here."""

from __future__ import annotations

import csv
import re
from collections import deque
from dataclasses import dataclass
from typing import TYPE_CHECKING

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


def read_records(lines: Iterator[str], delimiter: str) -> Iterator[Record]:
    """Cut lines into records. Cells in quotation marks may hold the delimiter and line breaks."""
    csv.field_size_limit(_LARGEST_CELL)
    source = _Source(lines)
    while (line := source.take()) is not None:
        yield _read_record(line, source, delimiter)


class _Source:
    """Lines with their number. Some can be given back and come again."""

    def __init__(self, lines: Iterator[str]) -> None:
        self._lines = lines
        self._back: deque[str] = deque()
        self.number = 0

    def take(self) -> str | None:
        """The next line without NUL characters; None at the end."""
        line = self._back.popleft() if self._back else next(self._lines, None)
        self.number += line is not None
        return None if line is None else line.replace("\0", "")

    def give_back(self, lines: list[str]) -> None:
        """These lines come again."""
        self._back.extendleft(reversed(lines))
        self.number -= len(lines)


def _read_record(line: str, source: _Source, delimiter: str) -> Record:
    number = source.number
    try:
        cells = _cut_cells(line, delimiter) or _read_over_lines(line, source, delimiter)
    except csv.Error:  # something behind a closing quotation mark
        cells = line.split(delimiter)
    if cells is None:
        return Record(number, (), "a quotation mark opens a cell and none closes it")
    return Record(number, tuple(cell.strip() for cell in cells))


def _read_over_lines(line: str, source: _Source, delimiter: str) -> list[str] | None:
    """The cells of a record that goes on in the next lines; None, and those lines given back, if it never ends."""
    more_lines: list[str] = []
    while len(more_lines) < _MOST_LINES and (more := source.take()) is not None:
        more_lines.append(more)
        # Only a quotation mark can close the cell: other lines need no try.
        if '"' in more and (cells := _try_to_cut(line + "".join(more_lines), delimiter)) is not None:
            return cells
    source.give_back(more_lines)
    return None


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
