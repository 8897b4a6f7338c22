"""Where the words of a text are, without blanks, dots and punctuation around them. What they mean is read elsewhere."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import TYPE_CHECKING

from routecheck.model import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

# Every blank of Unicode, control characters, zero-width blanks and + separate words.
_CHUNK = re.compile(r"[^\s\x00-\x1f\x7f-\x9f\u200b\ufeff+]+|(?<!\S)\+{2,}(?!\S)")
_DOTS = re.compile(r"[.…]+")
# A number with a decimal point is one word: the point is part of a near miss.
_COORDINATE = re.compile(r"[0-9NSEW.,°'’′\"”″/:()\[\]-]+|M0?\.[0-9]+.{0,6}")
_POINT = re.compile(r"[0-9M]\.[0-9]")
_OPENING_HYPHEN = re.compile(r"\s*-(?=[NKM][0-9])")
_MAY_BE_INVISIBLE = re.compile(r"[^\t-\r\x1c-\x1f -~]")
SEPARATORS = frozenset(",;:.()[]{}<>\"'`´‘’‚“”„«»‹›")
"""Signs that mean nothing before or behind a word, or one alone. Any other sign, or several of these with nothing
between, stay: they may stand for a word left out."""

_ENOUGH = 64
"""So many signs of a run are looked at to tell whether there are several."""

_PARTING = frozenset(",;:")

_TO_UPPER = {ord(char): char.upper() for char in "abcdefghijklmnopqrstuvwxyz"}


def to_capitals(text: str) -> str:
    """Upper case, A to Z alone, so that every character stays where it is (ß has two capitals)."""
    return text.upper() if text.isascii() else text.translate(_TO_UPPER)


def find_tokens(text: str) -> Iterator[Span]:
    """The span of each word, of each run of two or more dots and of signs alone, in order and without overlap."""
    for match in _CHUNK.finditer(text, _opening_hyphen(text)):
        start, end = match.span()
        if match[0].isalnum():
            yield Span(start, end)
            continue
        parts = _find_parts(text, start, end)
        first = next(parts, None)
        if first:
            yield first
            yield from parts
        elif sum(char in SEPARATORS for char in match[0][:_ENOUGH]) > 1:
            yield Span(start, end)


def find_invisible_marks(text: str) -> list[int]:
    """Where the text has characters that nobody sees: control and format characters, marks of direction among them."""
    if not any(_is_invisible(char) for char in set(_MAY_BE_INVISIBLE.findall(text))):
        return []
    return [match.start() for match in _MAY_BE_INVISIBLE.finditer(text) if _is_invisible(match[0])]


@lru_cache(maxsize=1024)
def _is_invisible(char: str) -> bool:
    return unicodedata.category(char) in ("Cc", "Cf") and not char.isspace()


def _find_parts(text: str, start: int, end: int) -> Iterator[Span]:
    if _has_dots(text, start, end) and not _is_decimal(text, start, end):
        return _split_at_dots(text, start, end)
    return _strip_signs(text, start, end)


def _opening_hyphen(text: str) -> int:
    """Where the words begin: behind the hyphen that opens Item 15 in a message (ICAO Doc 4444 Appendix 3).

    The speed follows it there. Before any other word a hyphen may stand for something left out.
    """
    match = _OPENING_HYPHEN.match(text)
    return match.end() if match else 0


def _has_dots(text: str, start: int, end: int) -> bool:
    return text.find(".", start, end) >= 0 or text.find("…", start, end) >= 0


def _is_decimal(text: str, start: int, end: int) -> bool:
    return bool(_COORDINATE.fullmatch(text, start, end) and _POINT.search(text, start, end))


def _split_at_dots(text: str, start: int, end: int) -> Iterator[Span]:
    for dots in _DOTS.finditer(text, start, end):
        yield from _strip_signs(text, start, dots.start())
        if dots[0] != ".":
            yield Span(*dots.span())
        start = dots.end()
    yield from _strip_signs(text, start, end)


def _strip_signs(text: str, start: int, end: int) -> Iterator[Span]:
    first, last = start, end
    while first < last and not text[first].isalnum() and _falls_off(text[first]):
        first += 1
    while last > first and not text[last - 1].isalnum() and _falls_off(text[last - 1]):
        last -= 1
    if first == last:
        return
    if first - start > 1 and _are_several(text[start:first]):
        first = start
    if end - last > 1 and _are_several(text[last:end]):
        last = end
    yield Span(first, last)


def _are_several(signs: str) -> bool:
    """Whether two or more of the signs part words: between them something may be left out."""
    return sum(sign in _PARTING for sign in signs[:_ENOUGH]) > 1


@lru_cache(maxsize=1024)
def _falls_off(char: str) -> bool:
    """Whether a character at the end of a word means nothing: a separator, or an invisible mark."""
    return char in SEPARATORS or unicodedata.category(char) == "Cf"
