"""CSV rows, each to a RouteInput; one bad row never stops the rest. The words of the route are read elsewhere."""

from __future__ import annotations

import re
from difflib import get_close_matches
from itertools import chain, pairwise
from typing import TYPE_CHECKING

from routecheck.formatting import count, listing, quote
from routecheck.frozen_dataclass import dataclass
from routecheck.model import InputKind, NotUsed, Origin, RouteInput
from routecheck.reading.decoding import NO_TEXT, decode_lines, find_encoding
from routecheck.reading.input_fields import read_texts
from routecheck.reading.input_format import NO_CHOICES, InputFormat, ReadingChoices
from routecheck.reading.records import Record, RecordReader
from routecheck.reading.row_columns import COLUMNS, FIELDS, NEEDED, find_rivals, name_columns, normalise_title

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.reading.input_fields import InputField

_DELIMITERS = ",;\t"
_LINES_SEEN, _LEAST_LEGS = 40, 3
"""Lines by which a table is recognised, and legs that make a nav log of it (our choice)."""
_ALIKE = 0.78
"""From here on two names are alike (difflib's measure; our choice: "levle" and "level" have 0.8)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Header:
    """Where each column stands, and how many there are."""

    columns: dict[str, int]
    width: int
    file: str
    others: tuple[tuple[int, str], ...]
    """The columns that nothing reads: the place of each, and its title, which no other of them has."""
    meant: tuple[tuple[str, str], ...]
    """Of these, the titles that look like a column that is read, with its name."""
    rivals: tuple[tuple[str, str], ...]
    """Of these, the titles that mean the same as a column that is read, with its name."""


def read_rows(data: bytes, name: str, choices: ReadingChoices = NO_CHOICES) -> Iterator[RouteInput]:
    """Give a RouteInput for each row that is not empty. `unread` says why a row, or the whole table, cannot be read."""
    if not (encoding := find_encoding(data)):
        yield RouteInput("", name=name, unread=NO_TEXT)
        return
    yield from read_row_lines(decode_lines(data, encoding), name, choices)


def read_row_lines(lines: Iterator[str], name: str, choices: ReadingChoices = NO_CHOICES) -> Iterator[RouteInput]:
    """Like `read_rows`, of lines with their ends: a row is given as soon as its lines are there."""
    before = list(_take_up_to_text(lines))
    reader = RecordReader(chain(before, lines), _find_delimiter(before))
    rows = _skip_empty(iter(reader))
    first = next(rows, None)
    names, fault = name_columns(first.cells, choices.columns) if first else ([], "")
    if fault := fault or _find_header_fault(first, names):
        yield RouteInput("", name=name, unread=fault)
    elif first:
        header = _read_header(first.cells, names, name)
        reader.allow_line_breaks(header.columns["route"], header.width)
        yield from (_read_row(record, header) for record in rows)


def _take_up_to_text(lines: Iterator[str]) -> Iterator[str]:
    """The lines up to the first that is not empty."""
    for line in lines:
        yield line
        if line.strip():
            return


def _names_columns(head: str) -> bool:
    """Whether the first line looks like the header of a table of routes, and the rows below are not legs of one."""
    lines = [re.split("[,;\t]", line) for line in head.lstrip().splitlines()[:_LINES_SEEN]]
    names, _ = name_columns(lines[0]) if lines else ([], "")
    return "route" in names and len({*names} - {""}) > 1 and not _are_legs(lines[1:], names)


def _are_legs(lines: Sequence[Sequence[str]], names: Sequence[str]) -> bool:
    """Whether each row begins where the one before ends, by an airway: a nav log with the heads from, to and route."""
    if len(lines) < _LEAST_LEGS or not {*NEEDED} <= {*names}:
        return False
    at = {name: names.index(name) for name in NEEDED}
    cells = [{name: line[place].strip() for name, place in at.items() if place < len(line)} for line in lines]
    cells = [row for row in cells if len(row) == len(at)]
    meet = all(after["departure"] == before["destination"] for before, after in pairwise(cells))
    return len(cells) >= _LEAST_LEGS and meet and all(len(row["route"].split()) <= 1 for row in cells)


def _find_delimiter(before: Sequence[str]) -> str:
    """Comma, semicolon or tab: the one most used in the last of these lines, the first that is not empty."""
    return max(_DELIMITERS, key=(before[-1] if before else "").count)


def _skip_empty(found: Iterator[Record]) -> Iterator[Record]:
    return (record for record in found if record.fault or any(record.cells))


def _read_header(cells: tuple[str, ...], names: Sequence[str], file: str) -> _Header:
    columns = {name: place for place, name in enumerate(names) if name}
    others: dict[str, int] = {}
    for place, cell in enumerate(cells):
        if place not in columns.values():
            title = cell or f"column {place + 1}"
            others[f"{title} ({place + 1})" if title in others else title] = place
    rivals = dict(find_rivals(cells, names))
    absent = [name for name in COLUMNS if name not in columns]
    meant = ((title, get_close_matches(normalise_title(title), absent, 1, _ALIKE)) for title in others)
    return _Header(
        columns=columns,
        width=len(cells),
        file=file,
        others=tuple((place, title) for title, place in others.items()),
        meant=tuple((title, near[0]) for title, near in meant if near),
        rivals=tuple((title, rivals[place]) for title, place in others.items() if place in rivals),
    )


def _find_header_fault(first: Record | None, names: Sequence[str]) -> str:
    """Why the first row is no header; empty if it is one. `names` are our names of its columns."""
    if first is None:
        return "the table is empty"
    if missing := [column for column in NEEDED if column not in names]:
        fault = f"the first line names the columns; needed are {listing(NEEDED)}, missing here: {listing(missing)}"
        return f"line {first.line}: {fault}{_find_meant(first.cells, missing)}"
    twice = [column for column in COLUMNS if names.count(column) > 1]
    return f"line {first.line}: the column {listing(twice)} stands twice in the header" if twice else ""


def _find_meant(titles: Sequence[str], missing: Sequence[str]) -> str:
    """A question after the titles that look like missing columns; "" where none does."""
    small = {normalise_title(title): title for title in titles}
    near = [(small[one], name) for name in missing for one in get_close_matches(name, small, 1, _ALIKE)]
    return f"; is {listing([f'{quote(title)} {name}' for title, name in near])}?" if near else ""


def _read_row(record: Record, header: _Header) -> RouteInput:
    cells = [(field, _get_text(record, header, field)) for field in FIELDS]
    name = _get_cell(record, header, "name") or f"{header.file}, line {record.line}"
    origin = _describe_origin(record, header)
    not_used = (*_name_misspelt_columns(origin, header), *_name_rivals(record, origin, header))
    if fault := record.fault or _find_row_fault(record, header):
        departure, destination = (_get_cell(record, header, end) for end in ("departure", "destination"))
        unread = f"line {record.line}: {fault}"
        return RouteInput("", departure, destination, name=name, unread=unread, not_used=not_used, origin=origin)
    read = read_texts(cells)
    typed = tuple((field.name, text) for field, text in cells if field.name in read.faults)
    remarks = tuple(filter(None, [_say_short(record, header)]))
    return RouteInput(**read.values, name=name, typed=typed, remarks=remarks, not_used=not_used, origin=origin)


def _say_short(record: Record, header: _Header) -> str:
    """That a row ends before the header does, as one that is cut off; "" where it does not."""
    cells = len(record.cells)
    return "" if cells >= header.width else f"Cells are missing at the end: {cells} of {header.width}; taken as empty."


def _describe_origin(record: Record, header: _Header) -> Origin:
    """The line of a row, and what stands in its columns of other names."""
    columns = ((title, _cell_at(record, place)) for place, title in header.others)
    return Origin(line=record.line, columns=tuple(columns))


def _name_misspelt_columns(origin: Origin, header: _Header) -> tuple[NotUsed, ...]:
    """The cells that a column of a misspelt title keeps from being read."""
    texts = dict(origin.columns)
    return tuple(
        NotUsed(InputKind.COLUMN, title, f"line {origin.line}", f"there is no such column; perhaps {name} is meant")
        for title, name in header.meant
        if texts[title]
    )


def _name_rivals(record: Record, origin: Origin, header: _Header) -> Iterator[NotUsed]:
    """The cells that say something else than the column of the same meaning that is read."""
    texts, fields = dict(origin.columns), {field.name: field for field in FIELDS}
    for title, name in header.rivals:
        own = _get_cell(record, header, name)
        if texts[title] and not _say_the_same(fields.get(name), texts[title], own):
            because = f"another column is read as {name.replace('_', ' ')}, in which {quote(own)} stands"
            yield NotUsed(InputKind.COLUMN, title, f"line {origin.line}", because)


def _say_the_same(field: InputField | None, text: str, other: str) -> bool:
    if field is None:
        return text == other
    read = [read_texts([(field, one)]) for one in (text, other)]
    return text == other or (read[0].values == read[1].values and not read[0].faults and not read[1].faults)


def _get_text(record: Record, header: _Header, field: InputField) -> str:
    """The text of a value, behind that of its part where that has a column too."""
    parts = [_get_cell(record, header, name) for name in (field.part, field.name) if name]
    return " ".join(filter(None, parts))


def _get_cell(record: Record, header: _Header, column: str) -> str:
    place = header.columns.get(column)
    return "" if place is None else _cell_at(record, place)


def _cell_at(record: Record, place: int) -> str:
    return record.cells[place] if place < len(record.cells) else ""


def _find_row_fault(record: Record, header: _Header) -> str:
    """Why the cells cannot be matched with the header; empty if they can."""
    beyond = any(record.cells[header.width :])
    if beyond:
        return (
            f"{count(len(record.cells), 'cell')}, but the header has {header.width}. "
            "A route with the column separator in it stands in quotation marks"
        )
    if max(header.columns[column] for column in NEEDED) >= len(record.cells):
        return f"only {count(len(record.cells), 'cell')}, but the header has {header.width}"
    return "" if _get_cell(record, header, "route") else "no route in this row; a direct flight is written DCT"


FORMAT = InputFormat(name="rows", suffixes=(".csv", ".tsv"), looks_like=_names_columns, read=read_rows)
