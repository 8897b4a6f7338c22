"""A text with flight-plan messages to RouteInputs, one a message. What stands around them is counted, never dropped."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from routecheck.formatting import listing, quote
from routecheck.model import InputKind, NotUsed, Pasted, RouteInput, RoutePiece, Span, Use
from routecheck.reading.decoding import decode
from routecheck.reading.input_format import InputFormat, ReadingChoices
from routecheck.reading.load_text import LoadText, enter_load
from routecheck.reading.messages.assignment import ITEMS, assign_amendments, assign_fields
from routecheck.reading.messages.items import ItemReader
from routecheck.reading.messages.ledger import Ledger, find_not_used, name_unused
from routecheck.reading.messages.splitting import MessageText, find_messages, has_message
from routecheck.reading.tokens import to_capitals

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_KINDS = {
    "CHG": "a change",
    "CNL": "a cancellation",
    "DLA": "a delay",
    "DEP": "a departure message",
    "ARR": "an arrival message",
    "CPL": "a current flight plan",
}
_NO_ROUTE = "{what} ({kind}) of {flight} carries no route"
_NOT_READ = "{what} ({kind}) of {flight} is recognised and not read in this version"
_ROUTELESS = frozenset({"CHG", "CNL", "DLA", "DEP", "ARR"})
"""Kinds of messages that are no plan: a change is read where it changes the route."""
_MOST_QUOTED, _MOST_BESIDE = 60, 20
"""Signs of another message of a flight, and such messages, that are named with its plan (our choice)."""
_NO_MESSAGE = "no flight-plan message stands in it"
_NEEDED = (7, 8, 9, 10, 13, 16, 18)
"""The items that every filed flight plan has; Item 15 is missed as a route, Item 19 is not transmitted."""
# What AFTN and its gateways put before and behind a message: ICAO Annex 10 Volume II, 4.4 (from memory).
_HEADER_LINE = re.compile(
    r"ZCZC\b.*|NNNN|(?:SS|DD|FF|GG|KK)(?:\s+[A-Z]{8})+|\d{6}\s+[A-Z]{8}.*|[A-Z]{8}(?:\s+[A-Z]{8})*|\(?", re.ASCII
)


def read_messages(text: str, name: str) -> Iterator[RouteInput]:
    """A RouteInput for each message; one with `unread` for a message without a route."""
    capitals = to_capitals(text)
    messages = find_messages(capitals)
    ends = [message.span.end for message in messages[:-1]] + [len(text)]
    others: dict[str, list[MessageText]] = {}
    for message in messages:
        if message.kind in _ROUTELESS:
            others.setdefault(_find_flight(capitals, message), []).append(message)
    start = 0
    for number, (message, end) in enumerate(zip(messages, ends, strict=True)):
        own = _shift(message, -start)
        place = f"{name}, message {number + 1}" if len(messages) > 1 else name
        given = _read_message(text[start:end], capitals[start:end], own, place)
        beside = others.get(_find_flight(capitals, message), ()) if given.route else ()
        yield replace(given, not_used=(*given.not_used, *_name_beside(capitals, message, beside)))
        start = end


def _name_beside(capitals: str, plan: MessageText, others: Sequence[MessageText]) -> Iterator[NotUsed]:
    """What other messages say of the flight of a plan: that it is delayed, changed, cancelled."""
    for other in (one for one in others[:_MOST_BESIDE] if one is not plan):
        what = f"{_KINDS[other.kind]} ({other.kind}) of {_find_flight(capitals, other)}"
        because = f"the plan is checked as it stands, without {quote(_get_fields(capitals, other), _MOST_QUOTED)}"
        yield NotUsed(InputKind.ITEM, what, "", because)


def _find_flight(capitals: str, message: MessageText) -> str:
    return next((capitals[field.start : field.end].partition("/")[0] for field in message.fields), "")


def _get_fields(capitals: str, message: MessageText) -> str:
    """A message without the flight, as it stands."""
    return "-".join(" ".join(capitals[field.start : field.end].split()) for field in message.fields[1:])


def _shift(message: MessageText, by: int) -> MessageText:
    def move(span: Span) -> Span:
        return Span(span.start + by, span.end + by)

    return MessageText(
        message.kind, move(message.span), move(message.opening), tuple(move(field) for field in message.fields)
    )


def _read_message(text: str, capitals: str, message: MessageText, place: str) -> RouteInput:
    ledger = Ledger(text)
    load = _enter_around(capitals, message, ledger)
    letters = Span(message.opening.start, message.opening.start + len(message.kind))
    ledger.enter(letters, "kind of message")
    numbers = Span(letters.end, message.opening.end)
    ledger.enter(numbers, "numbers of the message", Use.NOT_USED, "for the transmission alone")
    reader = ItemReader(text=capitals, ledger=ledger)
    assigned = (assign_amendments if message.kind == "CHG" else assign_fields)(capitals, message.fields)
    if message.kind == "FPL" or (message.kind == "CHG" and 15 in assigned.items):
        reader.read(assigned.items)
        for span in assigned.unknown:
            ledger.enter(span, "a field", Use.UNREAD, "it has the form of no item that may stand here")
        for item, span in assigned.replaced:
            ledger.enter(span, f"Item {item}", Use.NOT_USED, "given anew in the change")
        given = _build_input(reader, place, message, assigned.items)
        return replace(given, load=load.make_load(), remarks=(*given.remarks, *load.remarks))
    for number, span in enumerate(message.fields):
        ledger.enter(span, f"field {number + 1}", Use.NOT_USED, "the message carries no route")
    return RouteInput(
        "",
        name=place,
        unread=_say_no_route(capitals, message),
        is_routeless=message.kind in _ROUTELESS,
        pasted=_paste(ledger, None),
    )


def _say_no_route(capitals: str, message: MessageText) -> str:
    flight = _find_flight(capitals, message) or "no flight"
    sentence = _NO_ROUTE if message.kind in _ROUTELESS else _NOT_READ
    return sentence.format(what=_KINDS.get(message.kind, "a message"), kind=message.kind, flight=flight)


def _build_input(reader: ItemReader, place: str, message: MessageText, items: dict[int, Span]) -> RouteInput:
    pasted = _paste(reader.ledger, reader.route)
    notes: dict[str, Any] = {
        "name": reader.flight or place,
        "remarks": (*reader.remarks, *_name_missing(message, items), *name_unused(pasted.parts)),
        "not_used": find_not_used(pasted.text, pasted.parts),
        "pasted": pasted,
    }
    if reader.route is None or not pasted.text[reader.route.start : reader.route.end].strip():
        ends = {key: reader.values[key] for key in ("departure", "destination") if key in reader.values}
        unread = "the message has no Item 15, which is its route"
        return RouteInput("", **ends, **notes, unread=unread)
    route = pasted.text[reader.route.start : reader.route.end]
    return RouteInput(route, **reader.values, **notes)


def _name_missing(message: MessageText, items: dict[int, Span]) -> Iterator[str]:
    missing = [str(item) for item in ITEMS if item in _NEEDED and item not in items]
    if missing and message.kind == "FPL":
        yield f"The message has no Item {listing(missing)}."


def _paste(ledger: Ledger, route: Span | None) -> Pasted:
    pieces = () if route is None else (RoutePiece(0, route),)
    return Pasted(ledger.text, pieces, ledger.close())


def _enter_around(capitals: str, message: MessageText, ledger: Ledger) -> LoadText:
    """Enter what stands before and behind a message, line by line; weights and fuel among it are read."""
    around = list[Span]()
    for begin, end in ((0, message.span.start), (message.span.end, len(capitals))):
        for match in re.compile(r"\S(?:.*\S)?").finditer(capitals, begin, end):
            if _HEADER_LINE.fullmatch(match[0]):
                ledger.enter(Span(*match.span()), "address lines", Use.NOT_USED, "for the transmission alone")
            else:
                around.append(Span(*match.span()))
    return enter_load(capitals, ledger, around, "text around the message")


def _read(data: bytes, name: str, _choices: ReadingChoices) -> Iterator[RouteInput]:
    text = decode(data) or ""
    if not text.strip():
        return
    if not has_message(to_capitals(text)):
        yield RouteInput("", name=name, unread=_NO_MESSAGE)
        return
    yield from read_messages(text, name)


FORMAT = InputFormat(name="message", looks_like=lambda head: has_message(to_capitals(head)), read=_read)
