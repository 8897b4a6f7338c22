"""A pasted text from the plain JSON of a saved session, with what was made of it. Offsets outside it are refused."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from routecheck.gui.input_bounds import LONGEST_PASTE
from routecheck.model import Pasted, PastedColumn, PastedPart, RoutePiece, Span, Use

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence


def restore_paste(values: Mapping[str, Any]) -> Pasted:
    """Make it again. Raises KeyError, TypeError or ValueError where the values are none of one."""
    text = _text(values["text"])
    if len(text) > LONGEST_PASTE:
        raise ValueError("the pasted text is longer than any that is taken")
    pieces = tuple(RoutePiece(_number(one["start"]), _span(one["span"], text)) for one in values["pieces"])
    parts = tuple(
        PastedPart(_span(one["span"], text), _text(one["name"]), Use(one["use"]), _text(one["why"]))
        for one in values["parts"]
    )
    return Pasted(text, pieces, parts, tuple(map(_column, values.get("columns", ()))))


def _column(values: Mapping[str, Any]) -> PastedColumn:
    cells = tuple(map(_text, values["cells"]))
    return PastedColumn(_text(values["head"]), _text(values["kind"]), cells, is_chosen=values["is_chosen"] is True)


def _span(values: Sequence[Any], text: str) -> Span:
    start, end = map(_number, values)
    if not start <= end <= len(text):
        raise ValueError("a stretch lies outside the pasted text")
    return Span(start, end)


def _number(value: object) -> int:
    if not isinstance(value, int) or isinstance(value, bool) or value < 0:
        raise TypeError("a number of characters was expected")
    return value


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError("a text was expected")
    return value
