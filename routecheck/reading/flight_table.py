"""A table of flights within a text, columns parted by blanks, tabs or bars: a RouteInput a row. The rest is counted."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from routecheck.formatting import quote
from routecheck.model import Origin, Pasted, PastedPart, RouteInput, RoutePiece, Span, Use
from routecheck.reading import rows
from routecheck.reading.decoding import decode
from routecheck.reading.input_fields import read_texts
from routecheck.reading.input_format import InputFormat, ReadingChoices
from routecheck.reading.messages.ledger import Ledger, find_not_used, name_unused
from routecheck.reading.row_columns import FIELDS, NEEDED, name_columns

if TYPE_CHECKING:
    from collections.abc import Iterator

_LINE = re.compile(r"[^\r\n]*\S[^\r\n]*")
_PHRASE = re.compile(r"\S+(?: \S+)*")
_ROUTE_HEAD = re.compile(r"\brout|item.?15", re.IGNORECASE)
_AERODROME = re.compile(r"[A-Z][A-Z0-9]{2,3}")
_SIGNS = "\t|;,"
_AROUND = "text around the table"
_LEAST_WORDS = 2
"""Of the route of some row: a table with an airway a row is a nav log."""


class _Piece(NamedTuple):
    """A cell, or part of one, with where it stands."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class _Head:
    """The line of heads: what parts the columns ("" = blanks), their titles, our names for them, where they begin."""

    span: Span
    sign: str
    titles: tuple[str, ...]
    names: tuple[str, ...]
    starts: tuple[int, ...]


@dataclass(slots=True)
class _Flight:
    """A row with its cells by their column, and the lines over which its route goes on."""

    line: int
    cells: dict[int, _Piece]
    more: list[_Piece] = field(default_factory=list)

    @property
    def end(self) -> int:
        """Where it ends in the text."""
        return max(piece.span.end for piece in (*self.cells.values(), *self.more))


def _find_head(text: str) -> _Head | None:
    """The first line that names departure, destination and route."""
    for match in _LINE.finditer(text):
        if not _ROUTE_HEAD.search(match[0]):
            continue
        sign = next((one for one in _SIGNS if match[0].count(one) >= len(NEEDED) - 1), "")
        pieces = _cut(text, Span(*match.span()), sign)
        names, _ = name_columns([piece.text for piece in pieces])
        if all(name in names for name in NEEDED):
            starts = tuple(piece.span.start - match.start() for piece in pieces)
            titles = tuple(piece.text for piece in pieces)
            return _Head(span=Span(*match.span()), sign=sign, titles=titles, names=tuple(names), starts=starts)
    return None


def _cut(text: str, span: Span, sign: str) -> list[_Piece]:
    if not sign:
        return [_Piece(match[0], Span(*match.span())) for match in _PHRASE.finditer(text, span.start, span.end)]
    found, start = [], span.start
    for raw in text[span.start : span.end].split(sign):
        begin = start + len(raw) - len(raw.lstrip())
        found.append(_Piece(raw.strip(), Span(begin, begin + len(raw.strip()))))
        start += len(raw) + 1
    framed = sign == "|" and len(found) > len(NEEDED) and not found[0].text and not found[-1].text
    return found[1:-1] if framed else found


def _cut_line(text: str, span: Span, head: _Head) -> dict[int, _Piece]:
    """The cells of a line by their columns: as many as there are heads, else by where the heads begin."""
    pieces = _cut(text, span, head.sign)
    if head.sign or len(pieces) == len(head.titles):
        return {number: piece for number, piece in enumerate(pieces[: len(head.titles)]) if piece.text}
    found: dict[int, _Piece] = {}
    for match in re.compile(r"\S+").finditer(text, span.start, span.end):
        number = max((i for i, at in enumerate(head.starts) if at <= match.start() - span.start), default=0)
        begin = found[number].span.start if number in found else match.start()
        found[number] = _Piece(text[begin : match.end()], Span(begin, match.end()))
    return found


def _find_flights(text: str, head: _Head) -> Iterator[_Flight]:
    """Every row below the heads, with the lines that hold nothing but more of its route."""
    route = head.names.index("route")
    last: _Flight | None = None
    for match in _LINE.finditer(text, head.span.end):
        span = Span(*match.span())
        cells = _cut_line(text, span, head)
        if _is_flight(cells, head):
            if last:
                yield last
            last = _Flight(text.count("\n", 0, match.start()) + 1, cells)
        elif last and {*cells} == {route} and _goes_on(text, last, span):
            last.more.append(cells[route])
    if last:
        yield last


def _is_flight(cells: dict[int, _Piece], head: _Head) -> bool:
    found = {head.names[number]: piece.text for number, piece in cells.items()}
    ends = [found.get("departure", ""), found.get("destination", "")]
    return all(_AERODROME.fullmatch(end.upper()) for end in ends) and bool(found.get("route"))


def _goes_on(text: str, flight: _Flight, span: Span) -> bool:
    return text.count("\n", flight.end, span.start) == 1


def read_flight_table(text: str, name: str) -> Iterator[RouteInput]:
    """A RouteInput for every row; what stands between two rows counts with the second."""
    head = _find_head(text)
    flights = list(_find_flights(text, head)) if head else []
    start = 0
    for number, flight in enumerate(flights, start=1):
        end = len(text) if number == len(flights) else flight.end
        if head:
            yield _make_input(text[start:end], start, flight, head, name)
        start = end


def _make_input(text: str, start: int, flight: _Flight, head: _Head, name: str) -> RouteInput:
    cells = {head.names[number]: piece.text for number, piece in flight.cells.items() if head.names[number]}
    route = [flight.cells[head.names.index("route")], *flight.more]
    cells["route"] = " ".join(piece.text for piece in route)
    read = read_texts([(one, cells[one.name]) for one in FIELDS if one.name in cells])
    others = {head.titles[number]: piece.text for number, piece in flight.cells.items() if not head.names[number]}
    pasted = Pasted(text, tuple(_place_route(route, start)), _account(text, start, flight, head))
    return RouteInput(
        **read.values,
        name=cells.get("name") or f"{name}, line {flight.line}",
        typed=tuple((one, cells[one]) for one in read.faults),
        remarks=("Read as a row of a table of flights.", *name_unused(pasted.parts)),
        not_used=find_not_used(text, pasted.parts),
        origin=Origin(line=flight.line, columns=tuple(others.items())),
        pasted=pasted,
    )


def _place_route(route: list[_Piece], start: int) -> Iterator[RoutePiece]:
    at = 0
    for piece in route:
        yield RoutePiece(at, Span(piece.span.start - start, piece.span.end - start))
        at += len(piece.text) + 1


def _account(text: str, start: int, flight: _Flight, head: _Head) -> tuple[PastedPart, ...]:
    """What every stretch was taken for: the cells of this row, the heads, and the lines around."""
    ledger = Ledger(text)
    taken = [(head.span, "heads of the table", True)] if head.span.start >= start else []
    for number, piece in flight.cells.items():
        taken.append((piece.span, f"column {quote(head.titles[number])}", bool(head.names[number])))
    taken += [(piece.span, "route", True) for piece in flight.more]
    begin = 0
    for where, name, is_used in sorted(taken):
        span = Span(where.start - start, where.end - start)
        ledger.enter_around(Span(begin, span.start), _AROUND)
        ledger.enter(span, name, Use.USED if is_used else Use.NOT_USED, "" if is_used else "passed through")
        begin = span.end
    ledger.enter_around(Span(begin, len(text)), _AROUND)
    return ledger.close()


def _looks_like_flight_table(head: str) -> bool:
    """Whether a text has heads of a table of flights, a row below with a route of several words, and is no CSV."""
    heads = _find_head(head)
    if heads is None or rows.FORMAT.looks_like(head):
        return False
    route = heads.names.index("route")
    return any(len(one.cells[route].text.split()) >= _LEAST_WORDS for one in _find_flights(head, heads))


def _read(data: bytes, name: str, _choices: ReadingChoices) -> Iterator[RouteInput]:
    yield from read_flight_table(decode(data) or "", name)


FORMAT = InputFormat(name="flight-table", looks_like=_looks_like_flight_table, read=_read)
