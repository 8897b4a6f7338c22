"""The account of a pasted text: which stretch was taken for what. Whoever reads a stretch enters it here."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.formatting import count, listing, quote
from routecheck.model import PastedPart, Span, Use, parts_of_use

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_LINES = re.compile(r"[^\s](?:.*[^\s])?")
_MOST_QUOTED = 40


class Ledger:
    """The parts of one text, in any order while it is read."""

    def __init__(self, text: str) -> None:
        self.text = text
        self._parts: list[PastedPart] = []

    def enter(self, span: Span, name: str, use: Use = Use.USED, why: str = "") -> None:
        """Say what a stretch is. One of no length, or none but blanks, is left out."""
        if self.text[span.start : span.end].strip():
            self._parts.append(PastedPart(span, name, use, why))

    def enter_lines(self, span: Span, name: str, use: Use, why: str = "") -> None:
        """Say the same of every line of a stretch."""
        for match in _LINES.finditer(self.text, span.start, span.end):
            self.enter(Span(*match.span()), name, use, why)

    def close(self) -> tuple[PastedPart, ...]:
        """All parts in the order of the text."""
        return tuple(sorted(self._parts, key=lambda part: part.span))


def remarks_on(text: str, parts: Sequence[PastedPart]) -> tuple[str, ...]:
    """What of a pasted text is not used, as sentences: what was not understood first, a sentence each."""
    return (*_name_unread(text, parts), *_name_unused(parts), *_count_around(text, parts))


def _name_unread(text: str, parts: Sequence[PastedPart]) -> Iterator[str]:
    for part in parts_of_use(parts, Use.UNREAD):
        why = f": {part.why}" if part.why else ""
        yield f"Not understood: {part.name} {quote(_one_line(text, part.span), _MOST_QUOTED)}{why}."


def _name_unused(parts: Sequence[PastedPart]) -> Iterator[str]:
    by_reason: dict[str, list[str]] = {}
    for part in parts_of_use(parts, Use.NOT_USED):
        names = by_reason.setdefault(part.why, [])
        if part.name not in names:
            names.append(part.name)
    for why, names in by_reason.items():
        yield f"Not used: {listing(names)}{f' ({why})' if why else ''}."


def _count_around(text: str, parts: Sequence[PastedPart]) -> Iterator[str]:
    around = parts_of_use(parts, Use.AROUND)
    if around:
        first = quote(_one_line(text, around[0].span), _MOST_QUOTED)
        yield f"Not used: {count(len(around), 'line')} of text around the plan, the first of them {first}."


def _one_line(text: str, span: Span) -> str:
    return " ".join(text[span.start : span.end].split())
