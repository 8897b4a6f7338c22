"""Where the words of a text are: blanks, dots and punctuation cut away, every place kept. No meaning here."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import TYPE_CHECKING

from routecheck.model import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

# Every blank of Unicode, control characters, zero-width blanks and + separate words.
_CHUNK = re.compile(r"[^\s\x00-\x1f\x7f-\x9f\u200b\ufeff+]+")
_DOTS = re.compile(r"[.…]+")
# A number with a decimal point is one word: the point is part of a near miss.
_COORDINATE = re.compile(r"[0-9NSEW.,°'’′\"”″/:()\[\]-]+|M0?\.[0-9]+.{0,6}")
_POINT = re.compile(r"[0-9M]\.[0-9]")
_ENDS_TOO = frozenset("|<>=`´→−")
"""Symbols that are no punctuation to Unicode but stand between words in pasted text."""

_TO_UPPER = {ord(char): char.upper() for char in "abcdefghijklmnopqrstuvwxyz"}


def upper(text: str) -> str:
    """Upper case, A to Z alone, so that every character stays where it is (ß has two capitals)."""
    return text.upper() if text.isascii() else text.translate(_TO_UPPER)


def tokens(text: str) -> Iterator[Span]:
    """The span of each word, and of each run of two or more dots or slashes alone, in order and without overlap."""
    for match in _CHUNK.finditer(text):
        start, end = match.span()
        if match[0].isalnum() or (text.startswith("//", start) and not text[start:end].strip("/")):
            yield Span(start, end)
        elif _has_dots(text, start, end) and not _is_decimal(text, start, end):
            yield from _dotted(text, start, end)
        else:
            yield from _stripped(text, start, end)


def _has_dots(text: str, start: int, end: int) -> bool:
    return text.find(".", start, end) >= 0 or text.find("…", start, end) >= 0


def _is_decimal(text: str, start: int, end: int) -> bool:
    return bool(_COORDINATE.fullmatch(text, start, end) and _POINT.search(text, start, end))


def _dotted(text: str, start: int, end: int) -> Iterator[Span]:
    for dots in _DOTS.finditer(text, start, end):
        yield from _stripped(text, start, dots.start())
        if dots[0] != ".":
            yield Span(*dots.span())
        start = dots.end()
    yield from _stripped(text, start, end)


def _stripped(text: str, start: int, end: int) -> Iterator[Span]:
    while start < end and not text[start].isalnum() and _falls_off(text[start]):
        start += 1
    while end > start and not text[end - 1].isalnum() and _falls_off(text[end - 1]):
        end -= 1
    if start < end:
        yield Span(start, end)


@lru_cache(maxsize=1024)
def _falls_off(char: str) -> bool:
    """Whether it is punctuation (of any script) or an invisible mark, which mean nothing at the end of a word."""
    return char in _ENDS_TOO or unicodedata.category(char) in ("Cf", "Pc", "Pd", "Pe", "Pf", "Pi", "Po", "Ps")
