"""A pasted text cut into lines and cells by the sign that parts its columns; where there is none, into words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.model import Span

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_SIGNS = "\t|;,"
_LEAST_CELLS = 3
_SHARE = 0.6
"""Of the lines that are not blank, so many have a sign that parts columns: our choice."""
_RULE = re.compile(r"[\s|+=_.*-]*")
_WORD = re.compile(r"\S+")


@dataclass(frozen=True, slots=True)
class Cell:
    """The text of a cell without the blanks around it, and where it stands."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Line:
    """A line with its cells; with its words where no sign parts the columns of the text."""

    span: Span
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class CutText:
    """A text in lines. `sign` "" = blanks part its columns, and where is seen only once rows are known."""

    text: str
    lines: tuple[Line, ...]
    sign: str
    rules: tuple[Span, ...] = ()
    """The lines of signs alone."""


def cut_lines(text: str) -> CutText:
    """Every line that is neither blank nor a rule of signs, cut into cells or words."""
    spans = [Span(*match.span()) for match in re.finditer(r"[^\r\n]+", text)]
    is_rule = [bool(_RULE.fullmatch(text, span.start, span.end)) for span in spans]
    rules = tuple(span for span, is_one in zip(spans, is_rule, strict=True) if is_one and text[slice(*span)].strip())
    spans = [span for span, is_one in zip(spans, is_rule, strict=True) if not is_one]
    sign = _find_sign([text[span.start : span.end] for span in spans])
    lines = tuple(
        Line(span, tuple(_cut_at_sign(text, span, sign) if sign else _cut_words(text, span))) for span in spans
    )
    return CutText(text, lines, sign, rules)


def _find_sign(lines: Sequence[str]) -> str:
    """The sign that parts columns in most lines, twice or more in each; "" where it is blanks that do."""
    for sign in _SIGNS:
        if lines and sum(line.count(sign) >= _LEAST_CELLS - 1 for line in lines) >= _SHARE * len(lines):
            return sign
    return ""


def _cut_at_sign(text: str, span: Span, sign: str) -> Iterator[Cell]:
    start = span.start
    pieces = text[span.start : span.end].split(sign)
    if sign == "|" and len(pieces) > 2 and not pieces[0].strip() and not pieces[-1].strip():
        start, pieces = start + len(pieces[0]) + 1, pieces[1:-1]  # a frame around the table
    for piece in pieces:
        yield _strip(text, start, start + len(piece))
        start += len(piece) + 1


def _strip(text: str, start: int, end: int) -> Cell:
    piece = text[start:end]
    stripped = piece.strip(" \t\u00a0\"'")
    begin = start + (piece.index(stripped) if stripped else 0)
    return Cell(stripped, Span(begin, begin + len(stripped)))


def _cut_words(text: str, span: Span) -> Iterator[Cell]:
    """Each word of a line as a cell."""
    for match in _WORD.finditer(text, span.start, span.end):
        yield Cell(match[0], Span(*match.span()))
