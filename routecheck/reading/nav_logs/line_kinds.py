"""What a line of a pasted text is: heads of columns, a line of the table, the row of totals, or none of the table."""

from __future__ import annotations

import re
from enum import Enum, auto
from typing import TYPE_CHECKING

from routecheck.reading.nav_logs.columns import count_heads, is_airway, is_beside_a_table, is_fix

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.reading.nav_logs.lines import Line

_LEAST_CELLS = 3
_HEADED = 0.5
_TOTALS = ("TOTAL", "TOTALS", "TTL", "SUM")
_FIGURE = re.compile(r"[NSEWFP+-]{0,3}\d[\d.,:°'′″/+-]*(?:[NSEWTM]|NM|KTS?|KG|LBS?|MIN|FT|[NS]\d+[EW])?|[-–—.]+")
_SHARE, _SHARE_BELOW_HEAD = 0.4, 0.3
"""Of the words of a line of the table, so many are figures (our choice); below a head fewer will do."""


class LineKind(Enum):
    """What a line is."""

    HEAD = auto()
    DATA = auto()
    TOTAL = auto()
    AROUND = auto()


def find_line_kinds(lines: Sequence[Line], *, are_words: bool) -> list[LineKind]:
    """The kind of every line. Above the first heads nothing is of the table, wherever there are heads."""
    texts = [tuple(cell.text.upper() for cell in line.cells) for line in lines]
    heads = [_is_head(one) for one in texts]
    first = heads.index(True) if True in heads else -1
    known_titles = {_shape(line) for line in texts[: max(first, 0)]}
    kinds = []
    for number, (line, cells) in enumerate(zip(lines, texts, strict=True)):
        if heads[number]:
            kinds.append(LineKind.HEAD)
        elif number < first or (first >= 0 and _shape(cells) in known_titles) or is_beside_a_table(cells[0]):
            kinds.append(LineKind.AROUND)
        elif any(text.rstrip(":") in _TOTALS for text in cells[:2]):
            kinds.append(LineKind.TOTAL)
        else:
            is_data = _is_data(cells, below_head=first >= 0) if are_words else _is_row(line, below_head=first >= 0)
            kinds.append(LineKind.DATA if is_data else LineKind.AROUND)
    return kinds


def _shape(texts: Sequence[str]) -> str:
    """A line without its figures: a title that comes on every page has always the same."""
    return re.sub(r"\d+", "0", " ".join(texts))


def _is_head(texts: Sequence[str]) -> bool:
    filled = [text for text in texts if text]
    return len(filled) > 1 and count_heads(filled) >= max(2, _HEADED * len(filled))


def _is_data(words: Sequence[str], *, below_head: bool) -> bool:
    """Whether words are a line of a table: figures enough among them, or an aerodrome and nothing else."""
    if len(words) == 1 and below_head and len(words[0]) == len("XVAL") and words[0].isalpha():
        return True
    figures = sum(bool(_FIGURE.fullmatch(word)) for word in words)
    least = 1 if below_head else _LEAST_CELLS
    if below_head and len(words) >= _LEAST_CELLS and figures and all(map(_is_of_a_row, words)):
        return True
    return len(words) >= least and figures >= (_SHARE_BELOW_HEAD if below_head else _SHARE) * len(words) > 0


def _is_of_a_row(word: str) -> bool:
    return bool(_FIGURE.fullmatch(word)) or is_fix(word) or is_airway(word)


def _is_row(line: Line, *, below_head: bool) -> bool:
    """Whether a line of cells is one of the table: cells enough, figures among them, and no sentence."""
    texts = [cell.text for cell in line.cells if cell.text]
    if below_head and len(texts) == 1 and len(texts[0]) == len("XVAL") and texts[0].isalpha():
        return True
    with_digits = sum(any(char.isdigit() for char in text) for text in texts)
    in_small_letters = sum(text[1:].isalpha() and text[1:].islower() for text in texts)
    least = 2 if below_head else _LEAST_CELLS
    return len(texts) >= least and with_digits > 0 and in_small_letters <= with_digits


def has_name(line: Line) -> bool:
    """Whether a word or cell of a line may be a point."""
    return any(is_fix(cell.text) for cell in line.cells)
