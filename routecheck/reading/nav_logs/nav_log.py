"""A pasted nav log to a RouteInput: a route of its points and airways, and a claim for every row."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.formatting import count, listing, quote
from routecheck.model import (
    InputKind,
    NotUsed,
    Pasted,
    PastedColumn,
    RouteInput,
    Span,
    Use,
)
from routecheck.reading import rows
from routecheck.reading.decoding import decode
from routecheck.reading.input_format import InputFormat, ReadingChoices
from routecheck.reading.load_text import enter_load, hide_load
from routecheck.reading.messages.ledger import Ledger, find_not_used, name_unused
from routecheck.reading.nav_logs.column_kinds import ColumnKind, read_choices, write_choices
from routecheck.reading.nav_logs.columns import guess_kinds, kind_of_head
from routecheck.reading.nav_logs.lines import cut_lines
from routecheck.reading.nav_logs.records import MOST_ROWS, SortedLines, sort_lines
from routecheck.reading.nav_logs.row_claims import find_winds, is_total, make_claims, read_totals
from routecheck.reading.nav_logs.row_routes import find_ends, find_way_from_nowhere, say_airways_lead_on, write_route
from routecheck.reading.nav_logs.table import TELLING, USED_KINDS, Table, find_dotted_times, fits, is_blank, unit_factor
from routecheck.reading.tokens import to_capitals

if TYPE_CHECKING:
    from collections.abc import Iterator


_LEAST_ROWS = 3
_ROWS_SHOWN = 5
"""Rows that are shown with what their columns were taken for."""


def read_nav_log(text: str, name: str, choices: ReadingChoices) -> RouteInput:
    """Read a pasted nav log. `unread` says why there is no route in it."""
    chosen, fault = read_choices(choices.columns)
    if fault:
        return RouteInput("", name=name, unread=fault)
    rows_only, load_lines = hide_load(text)
    cut = cut_lines(rows_only)
    lines = sort_lines(cut)
    table = _make_table(text, lines, chosen)
    if table is None:
        how = "--columns fix=1 says which it is" if choices.by_option else "say which it is"
        return RouteInput("", name=name, unread=f"no column of points is recognised: {how}")
    for cells in lines.rows:
        table.read_row(cells)
    _enter_others(table, lines, [*load_lines, *cut.rules])
    if len([row for row in table.rows if row.word]) < 2:
        return RouteInput("", name=name, unread="fewer than two points are in the table")
    return _make_input(table, lines, name, chosen, by_option=choices.by_option)


def _make_table(text: str, lines: SortedLines, chosen: dict[int, ColumnKind]) -> Table | None:
    width = max((len(row) for row in lines.rows), default=0)
    heads = (lines.heads + [""] * width)[:width]
    columns = [[row[number].text if number < len(row) else "" for row in lines.rows] for number in range(width)]
    kinds = dict(chosen)
    for number, head in enumerate(heads):
        kind = kind_of_head(head)
        is_free = kind is ColumnKind.OTHER or kind not in kinds.values()
        if number not in kinds and kind and is_free and fits(kind, columns[number]):
            kinds[number] = kind
    kinds = guess_kinds(columns, kinds)
    if ColumnKind.FIX not in kinds.values():
        return None
    table = Table(text=text, kinds=kinds, heads=heads, ledger=Ledger(text), dotted=find_dotted_times(columns, kinds))
    for number, kind in kinds.items():
        if number < width and (factor := unit_factor(kind, heads[number])):
            table.factors[kind] = factor
    return table


def _enter_others(table: Table, lines: SortedLines, load_lines: list[Span]) -> None:
    for line in lines.head_lines:
        table.ledger.enter(line.span, "head of the table")
    for line in lines.repeated:
        table.ledger.enter(line.span, "repeated head", Use.NOT_USED, "passed over")
    for line in lines.left_out:
        table.ledger.enter(line.span, "row too many", Use.NOT_USED)
    spans = [*(line.span for line in lines.around), *load_lines]
    table.load = enter_load(to_capitals(table.text), table.ledger, spans, "text around the table")
    for number, cell in enumerate(lines.total):
        is_used = not number or is_total(table, table.kinds.get(number), cell.text)
        use, why = (Use.USED, "") if is_used or is_blank(cell.text) else (Use.UNREAD, "it is no total that is compared")
        table.ledger.enter(cell.span, "row of totals", use, why)


def _make_input(
    table: Table, lines: SortedLines, name: str, chosen: dict[int, ColumnKind], *, by_option: bool
) -> RouteInput:
    route, pieces = write_route(table)
    departure, destination = find_ends(table)
    titled = "" if departure else _find_titled_departure(table.text, lines, destination)
    columns = tuple(_describe_columns(table, lines, chosen))
    pasted = Pasted(table.text, tuple(pieces), table.ledger.close(), columns)
    not_used = (
        *find_not_used(table.text, pasted.parts), *_name_left_out(table, lines, by_option=by_option),
        *_name_absent(len(columns), chosen), *_name_way_from_nowhere(table),
    )  # fmt: skip
    return RouteInput(
        route,
        departure or titled,
        destination,
        name=name,
        claims=make_claims(table),
        wind=tuple(find_winds(table.rows)),
        load=table.load.make_load(),
        stated_totals=read_totals(table, lines.total),
        remarks=(
            *_say_columns(table),
            *filter(None, [say_airways_lead_on(table)]),
            *_say_titled(titled),
            *name_unused(pasted.parts),
            *table.load.remarks,
        ),
        not_used=not_used,
        columns=write_choices(chosen),
        pasted=pasted,
    )


def _find_titled_departure(text: str, lines: SortedLines, destination: str) -> str:
    """The aerodrome that stands before the destination of the table in a line around it: XVAL - XVOR, XVAL TO XVOR."""
    pair = re.compile(rf"\b([A-Z]{{4}})\s*(?:-|–|/|->|\bTO\b)\s*{re.escape(destination)}\b")
    titles = (to_capitals(text[slice(*line.span)]) for line in lines.around) if destination else ()
    found = {match[1] for title in titles for match in pair.finditer(title)}
    return found.pop() if len(found) == 1 else ""


def _say_titled(departure: str) -> Iterator[str]:
    if departure:
        yield f"The departure {departure} is taken from a line around the table."


def _describe_columns(table: Table, lines: SortedLines, chosen: dict[int, ColumnKind]) -> Iterator[PastedColumn]:
    """Every column with what it was taken for, for those who may know better."""
    for number, head in enumerate(table.heads):
        cells = tuple(row[number].text if number < len(row) else "" for row in lines.rows[:_ROWS_SHOWN])
        yield PastedColumn(head, table.kinds.get(number, ""), cells, is_chosen=number in chosen)


def _name_absent(width: int, chosen: dict[int, ColumnKind]) -> Iterator[NotUsed]:
    """Columns that the user names and the table does not have."""
    for number, kind in chosen.items():
        if number >= width:
            yield NotUsed(InputKind.COLUMN, f"{kind}={number + 1}", "", f"the table has {count(width, 'column')}")


def _name_way_from_nowhere(table: Table) -> Iterator[NotUsed]:
    if cell := find_way_from_nowhere(table):
        yield NotUsed(InputKind.ITEM, f"the way to the first point, {quote(cell.text)},", "", "no row says from where")


def _say_columns(table: Table) -> Iterator[str]:
    """What each column was taken for, in one sentence."""
    taken = [
        f"{number + 1} {kind.replace('_', ' ')}" for number, kind in sorted(table.kinds.items()) if kind in USED_KINDS
    ]
    yield f"Read as a nav log; columns: {listing(taken)}."
    if table.dotted:
        yield "Its times, such as 0.14, are read as hours and minutes."


def _name_left_out(table: Table, lines: SortedLines, *, by_option: bool) -> Iterator[NotUsed]:
    if lines.left_out:
        because = f"of one table no more than {MOST_ROWS:,} are read"
        yield NotUsed(InputKind.ROW, count(len(lines.left_out), "line"), "", because)
    for number, head in enumerate(table.heads):
        if number not in table.kinds and not all(
            is_blank(cells[number].text) for cells in lines.rows if number < len(cells)
        ):
            how = f"--columns distance={number + 1} says what it is" if by_option else "say what it is"
            yield NotUsed(InputKind.COLUMN, head or str(number + 1), "", f"not recognised; {how}")


def _looks_like_nav_log(head: str) -> bool:
    """Whether a text holds a table with a column of points and another of figures, and no table of routes."""
    if rows.FORMAT.looks_like(head) or len(head.splitlines()) < _LEAST_ROWS:
        return False
    lines = sort_lines(cut_lines(hide_load(head)[0]))
    if len(lines.rows) < _LEAST_ROWS:
        return False
    table = _make_table(head, lines, {})
    kinds = set(table.kinds.values()) if table else set()
    return bool(kinds & TELLING) or (any(lines.heads) and ColumnKind.POSITION in kinds)


def _read(data: bytes, name: str, choices: ReadingChoices) -> Iterator[RouteInput]:
    if (text := decode(data) or "").strip():
        yield read_nav_log(text, name, choices)


FORMAT = InputFormat(name="nav-log", looks_like=_looks_like_nav_log, read=_read)
