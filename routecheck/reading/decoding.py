"""Which characters the bytes of an input stand for. No meaning of the text here."""

from __future__ import annotations

import codecs
import io
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

NO_TEXT = "this is no text: pictures, PDF, spreadsheets and packed files are not read"
_SPREADSHEET = "this is a spreadsheet: save it as CSV and give that"
_SPREADSHEETS = (".xlsx", ".xlsm", ".xls", ".ods")

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_LOOKED_AT = 65_536
_CONTROL = bytes(set(range(32)) - {9, 10, 11, 12, 13, 26})
_MOST_CONTROL = 0.02
"""Share of control characters above which bytes are no text; a stray NUL in a table stays below (our choice)."""


def find_encoding(data: bytes) -> str | None:
    """The encoding: UTF-8 or UTF-16 by mark, UTF-8 where all of it is, else Windows-1252. None if it is no text."""
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return encoding
    if _is_binary(data[:_LOOKED_AT]):
        return None
    return "utf-8" if _is_utf8(data) else "cp1252"


def why_no_text(name: str) -> str:
    """What to say of an input of that name which is no text."""
    return _SPREADSHEET if name.lower().endswith(_SPREADSHEETS) else NO_TEXT


def decode_lines(data: bytes, encoding: str) -> Iterator[str]:
    """The lines one by one with their ends; characters the encoding does not know become the replacement mark."""
    with io.TextIOWrapper(io.BytesIO(data), encoding, errors="replace", newline="") as stream:
        yield from stream


def decode(data: bytes) -> str | None:
    """The whole text without its byte order mark; None if it is no text."""
    encoding = find_encoding(data)
    return data.decode(encoding, errors="replace").removeprefix("\ufeff") if encoding else None


def _is_binary(head: bytes) -> bool:
    control = len(head) - len(head.translate(None, _CONTROL))
    return control > 1 and control > _MOST_CONTROL * len(head)


def _is_utf8(data: bytes) -> bool:
    decoder = codecs.getincrementaldecoder("utf-8")()
    try:
        for start in range(0, len(data), _LOOKED_AT):
            decoder.decode(data[start : start + _LOOKED_AT])
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        return False
    return True
