"""The account of a pasted text: which stretch was taken for what. Whoever reads a stretch enters it here."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.formatting import count, listing, quote
from routecheck.model import InputKind, NotUsed, PastedPart, Span, Use, parts_of_use

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_LINES = re.compile(r"[^\s](?:.*[^\s])?")
_MOST_QUOTED = 40
_SIGNS = "a line of signs alone"
_SEPARATORS = re.compile(r"[\s,;:.|/+=_*-]*")
"""What parts a plan, its cells or its figures from other text of their line."""
_MEANT = "?!"
"""Signs that may be meant as more than a rule."""
_MOST_DOTS = 9
"""A line of so many dots says that others are left out; more are a rule (our choice)."""


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

    def enter_around(self, span: Span, name: str) -> None:
        """Say of every line of a stretch around a plan that it is left alone, of signs alone that they are no more."""
        for match in _LINES.finditer(self.text, span.start, span.end):
            line = Span(*match.span())
            if are_signs_alone(match[0]) and self._is_whole_line(line):
                self._enter_signs(line)
            elif not _SEPARATORS.fullmatch(match[0]):
                self.enter(line, name, Use.AROUND)

    def _is_whole_line(self, span: Span) -> bool:
        start = self.text.rfind("\n", 0, span.start) + 1
        end = self.text.find("\n", span.end)
        return not (self.text[start : span.start] + self.text[span.end : end if end >= 0 else None]).strip()

    def _enter_signs(self, line: Span) -> None:
        if are_dots(self.text[line.start : line.end]):
            self.enter(line, "a line of dots", Use.UNREAD, "something seems to be left out there")
        else:
            self.enter(line, _SIGNS, Use.NOT_USED)

    def close(self) -> tuple[PastedPart, ...]:
        """All parts in the order of the text."""
        return tuple(sorted(self._parts, key=lambda part: part.span))


def are_signs_alone(text: str) -> bool:
    """Whether a text has neither letters nor figures, nor a sign that may be meant."""
    return not any(char.isalnum() or char in _MEANT for char in text)


def are_dots(text: str) -> bool:
    """Whether a text is the dots that stand for what was left out."""
    signs = set(text.split())
    return set().union(*signs) <= {".", "…"} and ("…" in text or text.count(".") <= _MOST_DOTS)


def find_not_used(text: str, parts: Sequence[PastedPart]) -> tuple[NotUsed, ...]:
    """What of a pasted text was not understood, one by one, and how many lines around the plan were left alone."""
    unread = [
        NotUsed(InputKind.ITEM, f"{part.name} {_quote(text, part)}", "", part.why or "it could not be read")
        for part in parts_of_use(parts, Use.UNREAD)
    ]
    around = parts_of_use(parts, Use.AROUND)
    if around:
        name = f"{count(len(around), 'line')} of text around the plan"
        unread.append(NotUsed(InputKind.TEXT, name, "", f"it begins {_quote(text, around[0])}"))
    return tuple(unread)


def name_unused(parts: Sequence[PastedPart]) -> Iterator[str]:
    """What was understood and is of no use to any check, by the reason; nothing where no reason is said."""
    by_reason: dict[str, list[str]] = {}
    for part in parts_of_use(parts, Use.NOT_USED):
        names = by_reason.setdefault(part.why, [])
        if part.name not in names:
            names.append(part.name)
    for why, names in by_reason.items():
        if why:
            yield f"{why[:1].upper()}{why[1:]}: {listing(names)}."
    yield from _count_signs(parts)


def _count_signs(parts: Sequence[PastedPart]) -> Iterator[str]:
    """The lines of signs alone, in one sentence."""
    if number := sum(part.name == _SIGNS for part in parts):
        yield f"Not used: {count(number, 'line')} of signs alone."


def _quote(text: str, part: PastedPart) -> str:
    return quote(" ".join(text[part.span.start : part.span.end].split()), _MOST_QUOTED)
