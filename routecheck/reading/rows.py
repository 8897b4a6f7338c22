"""CSV rows, each to a RouteInput; one bad row never stops the rest. The words of the route are read elsewhere."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING

from routecheck.formatting import count, listing
from routecheck.model import InputKind, NotUsed, Origin, RouteInput
from routecheck.reading.decoding import NO_TEXT, decode_lines, find_encoding
from routecheck.reading.input_fields import INPUT_FIELDS, read_texts
from routecheck.reading.input_format import NO_CHOICES, InputFormat, ReadingChoices
from routecheck.reading.records import Record, RecordReader

if TYPE_CHECKING:
    from collections.abc import Iterator

NEEDED = ("departure", "destination", "route")
_FIELDS = tuple(field for field in INPUT_FIELDS if field.column)
_COLUMNS = ("name", *(field.name for field in _FIELDS))
_DELIMITERS = ",;\t"
_ALIKE = 0.75
"""From here on two names are alike (difflib's measure; our choice: "levle" and "level" have 0.8)."""


@dataclass(frozen=True, slots=True)
class _Header:
    """Where each column stands, and how many there are."""

    columns: dict[str, int]
    width: int
    file: str
    others: tuple[tuple[int, str], ...]
    """The columns that nothing reads: the place of each, and its title, which no other of them has."""
    meant: tuple[tuple[str, str], ...]
    """Of these, the titles that look like a column that is read, with its name."""


def read_rows(data: bytes, name: str, _choices: ReadingChoices = NO_CHOICES) -> Iterator[RouteInput]:
    """Give a RouteInput for each row that is not empty. `unread` says why a row, or the whole table, cannot be read."""
    if not (encoding := find_encoding(data)):
        yield RouteInput("", name=name, unread=NO_TEXT)
        return
    reader = RecordReader(decode_lines(data, encoding), _find_delimiter(data, encoding))
    rows = _skip_empty(iter(reader))
    first = next(rows, None)
    if fault := _find_header_fault(first):
        yield RouteInput("", name=name, unread=fault)
    elif first:
        header = _read_header(first.cells, name)
        reader.allow_line_breaks(header.columns["route"], header.width)
        yield from (_read_row(record, header) for record in rows)


def _names_columns(head: str) -> bool:
    """Whether the first line looks like the header of a table of routes."""
    line = head.lstrip().partition("\n")[0]
    names = {_name_column(cell) for cell in line.replace(";", ",").replace("\t", ",").split(",")}
    return "route" in names and len(names & {*_COLUMNS}) > 1


def _find_delimiter(data: bytes, encoding: str) -> str:
    """Comma, semicolon or tab: the one most used in the first line that is not empty."""
    first = next((line for line in decode_lines(data, encoding) if line.strip()), "")
    return max(_DELIMITERS, key=first.count)


def _skip_empty(found: Iterator[Record]) -> Iterator[Record]:
    return (record for record in found if record.fault or any(record.cells))


def _name_column(cell: str) -> str:
    return "_".join(cell.strip().strip("\"'\ufeff").lower().replace("-", " ").split())


def _read_header(cells: tuple[str, ...], file: str) -> _Header:
    columns = {name: place for place, cell in enumerate(cells) if (name := _name_column(cell)) in _COLUMNS}
    others: dict[str, int] = {}
    for place, cell in enumerate(cells):
        if place not in columns.values():
            title = cell or f"column {place + 1}"
            others[f"{title} ({place + 1})" if title in others else title] = place
    absent = [name for name in _COLUMNS if name not in columns]
    meant = ((title, get_close_matches(_name_column(title), absent, 1, _ALIKE)) for title in others)
    return _Header(
        columns=columns,
        width=len(cells),
        file=file,
        others=tuple((place, title) for title, place in others.items()),
        meant=tuple((title, names[0]) for title, names in meant if names),
    )


def _find_header_fault(first: Record | None) -> str:
    """Why the first row is no header; empty if it is one."""
    if first is None:
        return "the table is empty"
    names = [_name_column(cell) for cell in first.cells]
    if missing := [column for column in NEEDED if column not in names]:
        return (
            f"line {first.line}: the first line names the columns; needed are {listing(NEEDED)}, "
            f"missing here: {listing(missing)}"
        )
    twice = [column for column in _COLUMNS if names.count(column) > 1]
    return f"line {first.line}: the column {listing(twice)} stands twice in the header" if twice else ""


def _read_row(record: Record, header: _Header) -> RouteInput:
    cells = [(field, _get_cell(record, header, field.name)) for field in _FIELDS]
    name = _get_cell(record, header, "name") or f"{header.file}, line {record.line}"
    origin = _describe_origin(record, header)
    not_used = _name_misspelt_columns(origin, header)
    if fault := record.fault or _find_row_fault(record, header):
        departure, destination = (_get_cell(record, header, end) for end in ("departure", "destination"))
        unread = f"line {record.line}: {fault}"
        return RouteInput("", departure, destination, name=name, unread=unread, not_used=not_used, origin=origin)
    read = read_texts(cells)
    typed = tuple((field.name, text) for field, text in cells if field.name in read.faults)
    return RouteInput(**read.values, name=name, typed=typed, not_used=not_used, origin=origin)


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
