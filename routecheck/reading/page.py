"""A page with a route in it (e-mail, briefing, list of flights): the lines of the route; the rest is counted."""

from __future__ import annotations

import re
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from routecheck.model import Pasted, RouteInput, RoutePiece, Span
from routecheck.reading.decoding import decode
from routecheck.reading.input_format import InputFormat, ReadingChoices
from routecheck.reading.load_text import enter_load
from routecheck.reading.messages.ledger import Ledger, are_dots, are_signs_alone, find_not_used, name_unused
from routecheck.reading.tokens import to_capitals

if TYPE_CHECKING:
    from collections.abc import Iterator

_LINE = re.compile(r"[^\s](?:[^\r\n]*[^\s])?")
_WORD = re.compile(r"\S+")
_PROSE = re.compile(r"[A-Z]?[a-z]{2,}[.,:;!?]?|[a-z][.,:;!?]?")
# What no prose has: DCT, airways, speed and level, positions, a point with its change.
_ROUTE_WORD = re.compile(
    r"DCT|[UKS]?[A-Z]\d{1,3}[A-Z]?|(?:\S+/)?(?:[NK]\d{4}|M\d{3})(?:[FA]\d{3}|[SM]\d{4}|VFR)|\d{2,4}[NS]\d{3,5}[EW]"
)
_NAME = re.compile(r"[A-Z]{2,7}|[A-Z]{3,6}\d[A-Z]?|[A-Z]{4}/(?:RW)?\d\d[LRC]?")
_LABEL = re.compile(r"[A-Za-z][A-Za-z ]{1,20}[:=]\s*(?=[A-Z0-9])")
"""What may stand before a route in its line: "Route:"."""
_LEAST_WORDS = 2
_SHARE = 0.8
_MOST_LINES = 400
_LEAST_SIGNS = 3
"""Of a rule that frames a route (our choice). Between lines of a route it may stand for something left out: no page."""


class _Line(NamedTuple):
    """A line, and where in it the route stands; None where it is none of a route."""

    span: Span
    route: Span | None


def _sort_lines(text: str) -> list[_Line]:
    lines = [_sort_line(text, Span(*match.span())) for match in _LINE.finditer(text)]
    for number, line in enumerate(lines):
        if line.route is None and any(
            _goes_with(text, line, other) for other in lines[max(number - 1, 0) : number + 2]
        ):
            lines[number] = _Line(line.span, line.span)
    return lines


def _goes_with(text: str, line: _Line, other: _Line) -> bool:
    """Whether a line of names alone stands right beside a line of the route, so that it is a part of it."""
    if other.route is None or not all(_NAME.fullmatch(word) for word in _WORD.findall(text, *line.span)):
        return False
    between = text[min(line.span.end, other.span.end) : max(line.span.start, other.span.start)]
    return between.count("\n") == 1


def _sort_line(text: str, span: Span) -> _Line:
    label = _LABEL.match(text, span.start, span.end)
    begin = label.end() if label else span.start
    words = _WORD.findall(text, begin, span.end)
    telling = sum(bool(_ROUTE_WORD.fullmatch(word)) for word in words)
    known = telling + sum(bool(_NAME.fullmatch(word)) for word in words)
    is_route = telling and len(words) >= _LEAST_WORDS and known >= _SHARE * len(words)
    return _Line(span, Span(begin, span.end) if is_route else None)


def _is_prose(text: str, span: Span) -> bool:
    words = _WORD.findall(text, span.start, span.end)
    return sum(bool(_PROSE.fullmatch(word)) for word in words) > len(words) / 2


def _looks_like_page(head: str) -> bool:
    """Whether a text has lines of a route, and lines of prose or rules around it, so that none is taken for another."""
    lines = _sort_lines(head)[:_MOST_LINES]
    others = [line for line in lines if line.route is None]
    if others and len(others) < len(lines) and all(_is_rule(head, line.span) for line in others):
        return sum(is_route for is_route, _ in groupby(line.route is not None for line in lines)) == 1
    has_label = any(line.route and line.route.start > line.span.start for line in lines)
    return len(others) < len(lines) and (has_label or any(_is_prose(head, line.span) for line in others))


def _is_rule(text: str, span: Span) -> bool:
    line = text[span.start : span.end]
    return len(line) >= _LEAST_SIGNS and are_signs_alone(line) and not are_dots(line)


def read_page(text: str, name: str) -> Iterator[RouteInput]:
    """A RouteInput for every run of lines that are a route; what stands between counts with the one behind it."""
    start = 0
    runs = [list(run) for is_route, run in groupby(_sort_lines(text), lambda line: line.route is not None) if is_route]
    for number, run in enumerate(runs, start=1):
        end = len(text) if number == len(runs) else run[-1].span.end
        place = f"{name}, route {number}" if len(runs) > 1 else name
        yield _make_input(text[start:end], Span(_begin(run) - start, run[-1].span.end - start), place)
        start = end


def _begin(run: list[_Line]) -> int:
    route = run[0].route
    return route.start if route else run[0].span.start


def _make_input(text: str, route: Span, name: str) -> RouteInput:
    ledger = Ledger(text)
    ledger.enter(route, "route")
    lines = [Span(*match.span()) for match in _LINE.finditer(text)]
    around = [clipped for line in lines for clipped in _clip(line, route)]
    load = enter_load(to_capitals(text), ledger, around, "text around the route")
    pasted = Pasted(text, (RoutePiece(0, route),), ledger.close())
    return RouteInput(
        text[route.start : route.end],
        name=name,
        load=load.make_load(),
        remarks=("Taken for the route: the lines that read like one.", *name_unused(pasted.parts), *load.remarks),
        not_used=find_not_used(text, pasted.parts),
        pasted=pasted,
    )


def _clip(line: Span, route: Span) -> Iterator[Span]:
    """What of a line stands before and behind the route."""
    if not line.overlaps(route):
        yield line
        return
    yield Span(line.start, max(line.start, route.start))
    yield Span(min(line.end, route.end), line.end)


def _read(data: bytes, name: str, _choices: ReadingChoices) -> Iterator[RouteInput]:
    yield from read_page(decode(data) or "", name)


FORMAT = InputFormat(name="page", looks_like=_looks_like_page, read=_read)
