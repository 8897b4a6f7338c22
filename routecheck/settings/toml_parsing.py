"""The one door for TOML that a user wrote: text to a document in which every number and time can be reckoned with.

What the library of the language takes for a number may be beyond all arithmetic, and takes minutes on keys of many
parts. Both are stopped here. What the keys mean is not known here.
"""

from __future__ import annotations

import datetime as dt
import re
import tomllib
from decimal import Decimal, InvalidOperation
from typing import Any

from routecheck.frozen_dataclass import dataclass

Document = dict[str, Any]

LONGEST = 4_000_000
"""Characters of a document (our choice: two thousand times a route file with all its tables)."""
_MOST_DIGITS, _MOST_EXPONENT = 400, 308
"""Of a number: more no float of the language holds."""
_LEAST_EXPONENT = -400
_GREATEST = 10**_MOST_EXPONENT
_STRING = re.compile(r'"(?:[^"\\\n]|\\.)*"|' + r"'[^'\n]*'")
# A key of so many parts takes the square of their number to parse; a real one has two or three.
_LONG_KEY = re.compile(r"(?<![\w-])(?:[\w-]++[ \t]*+\.[ \t]*+){60}")
# Texts and remarks, in which figures are no numbers; or an integer for which the language refuses the whole document.
_LONG_INTEGER = re.compile(
    r"""\"{3}(?:[^\\]|\\.)*?\"{3}|'{3}.*?'{3}|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'|\#[^\n]*"""
    r"""|(?<=[=\[,\s+-])(?P<digits>\d[\d_]{4000,})(?=[ \t]*(?:[,\]}\#\r\n]|$))""",
    re.DOTALL,
)
_STAND_IN = "0.{}e999999999"
"""A number that is out of bounds too, with the line in place of its figures."""
_LINE_OF_STAND_IN = re.compile(r"[+-]?0\.(\d+)e999999999")
_BROKEN = "a number or a list in it is out of all bounds"


@dataclass(frozen=True, slots=True)
class OutOfBounds:
    """Stands for a value that nothing can be reckoned with; `what` it is, in words."""

    what: str


_NUMBER = OutOfBounds("a number out of all bounds")
_TIME = OutOfBounds("a time outside the calendar")


def parse_toml(text: str) -> tuple[Document, str]:
    """The document, and "" or why it is none, worded to follow a colon. Numbers with a point come as Decimal."""
    if why := _refuse_unparsed(text):
        return {}, why
    try:
        document = tomllib.loads(_replace_long_integers(text), parse_float=_parse_decimal)
    except tomllib.TOMLDecodeError as error:
        return {}, f"{str(error)[:1].lower()}{str(error)[1:]}"
    except (ValueError, RecursionError):
        return {}, _BROKEN
    _replace_out_of_bounds(document)
    return document, ""


def _refuse_unparsed(text: str) -> str:
    """Why a text is not even parsed: parsing it could take minutes."""
    if len(text) > LONGEST:
        return f"it has {len(text):,} characters, more than {LONGEST:,}"
    if _LONG_KEY.search(_STRING.sub("x", text)):
        return "a key in it has more than 60 parts"
    return ""


def _replace_long_integers(text: str) -> str:
    """The text with a stand-in for each integer of thousands of figures, so that it costs itself alone."""

    def replace(match: re.Match[str]) -> str:
        return _STAND_IN.format(text.count("\n", 0, match.start()) + 1) if match["digits"] else match[0]

    return _LONG_INTEGER.sub(replace, text)


def _parse_decimal(text: str) -> Decimal | OutOfBounds:
    if match := _LINE_OF_STAND_IN.fullmatch(text):
        return OutOfBounds(f"a number out of all bounds in line {match[1]}")
    try:
        number = Decimal(text)
    except InvalidOperation:  # an exponent of twenty digits
        return _NUMBER
    if not number.is_finite():
        return _NUMBER
    digits, exponent = number.as_tuple()[1:]
    fits = len(digits) <= _MOST_DIGITS and _LEAST_EXPONENT <= int(exponent) <= _MOST_EXPONENT - len(digits)
    return number if fits else _NUMBER


def _replace_out_of_bounds(document: Document) -> None:
    """Put the mark in place of integers and times that cannot be reckoned with, however deep they stand."""
    waiting: list[Any] = [document]
    while waiting:
        holder = waiting.pop()
        for key, value in list(holder.items()) if isinstance(holder, dict) else enumerate(list(holder)):
            if isinstance(value, dict | list):
                waiting.append(value)
            else:
                holder[key] = _mark_out_of_bounds(value)


def _mark_out_of_bounds(value: object) -> object:
    if isinstance(value, int):
        return value if abs(value) < _GREATEST else _NUMBER
    if isinstance(value, dt.datetime) and value.tzinfo is not None:
        try:
            value.astimezone(dt.UTC)
        except OverflowError:
            return _TIME
    return value
