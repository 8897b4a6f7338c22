"""The rows of a nav log to a route text, with the place of each word in the table. No figures here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.model import RoutePiece, Span
from routecheck.reading.nav_logs.column_kinds import ColumnKind
from routecheck.reading.nav_logs.table import Row, Table, is_word, read_way
from routecheck.reading.tokens import to_capitals

if TYPE_CHECKING:
    from routecheck.reading.nav_logs.lines import Cell


def find_ends(table: Table) -> tuple[str, str]:
    """The aerodromes at the ends of the table: four letters at its first and its last point."""
    named = [row.word for row in table.rows if row.word]
    return _take_aerodrome(first_from(table) or named[0]), _take_aerodrome(named[-1])


def _take_aerodrome(word: str) -> str:
    return word if len(word) == len("XVAL") and word.isalpha() else ""


def first_from(table: Table) -> str:
    """Where the first leg begins, if a column says it and the first row is not that point itself."""
    cell = table.rows[0].cells.get(ColumnKind.FROM)
    word = to_capitals(cell.text) if cell else ""
    return word if word and word != table.rows[0].word and is_word(word) else ""


def write_route(table: Table) -> tuple[str, list[RoutePiece]]:
    """The route of all points with a name but the aerodromes at the ends, and where each word stands in the table."""
    departure, destination = find_ends(table)
    named = [row for row in table.rows if row.word]
    leads_on = _airways_lead_on(named)
    words: list[tuple[str, Span | None]] = []
    first = first_from(table)
    if first and not departure:
        words.append((first, table.rows[0].cells[ColumnKind.FROM].span))
    for number, row in enumerate(named):
        way: Row | None = row
        if leads_on:
            way = named[number - 1] if number else None
        if number or first:
            words.append(_way_to(way))
        if not (number == 0 and departure and not first) and not (number == len(named) - 1 and destination):
            words.append((row.word, _find_word(row.cells[ColumnKind.FIX], row.word)))
    return _join_words(words)


def _join_words(words: list[tuple[str, Span | None]]) -> tuple[str, list[RoutePiece]]:
    text, pieces = "", list[RoutePiece]()
    for word, span in words:
        text += " " if text else ""
        if span:
            pieces.append(RoutePiece(len(text), span))
        text += word
    return text, pieces


def _airways_lead_on(rows: list[Row]) -> bool:
    """Whether an airway stands in the row of the point that it leads on from: the last row has none, the first has."""
    first, last = (row.cells.get(ColumnKind.AIRWAY) for row in (rows[0], rows[-1]))
    return bool(first and first.text and not (last and last.text))


def _way_to(row: Row | None) -> tuple[str, Span | None]:
    cell = row.cells.get(ColumnKind.AIRWAY) if row else None
    way = read_way(cell.text) if cell else ""
    return (way, cell.span) if cell and way not in ("", "DCT") else ("DCT", None)


def say_airways_lead_on(table: Table) -> str:
    """That airways are taken to lead on from the point in their row; "" where they lead to it, as is usual."""
    named = [row for row in table.rows if row.word]
    airways = [row for row in named if (cell := row.cells.get(ColumnKind.AIRWAY)) and read_way(cell.text) != "DCT"]
    is_worth_saying = airways and _airways_lead_on(named)
    return (
        "An airway is taken to lead on from the point of its row, for the last row has none." if is_worth_saying else ""
    )


def find_way_from_nowhere(table: Table) -> Cell | None:
    """The airway in the first row, where no point says from where it is flown; None where there is none."""
    named = [row for row in table.rows if row.word]
    cell = named[0].cells.get(ColumnKind.AIRWAY)
    is_left_out = not first_from(table) and not _airways_lead_on(named)
    return cell if cell and is_left_out and read_way(cell.text) not in ("", "DCT") else None


def _find_word(cell: Cell, word: str) -> Span:
    start = cell.span.start + to_capitals(cell.text).index(word)
    return Span(start, start + len(word))
