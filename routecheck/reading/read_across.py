"""The read-across of a route: the `[read_across]` table of a route file. No row is known here."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Any

from routecheck.model import InputKind, ReadAcross, ReadMark
from routecheck.reading.accepted import read_time
from routecheck.reading.field_kinds import FieldKind
from routecheck.reading.toml_values import name_type, read_tables

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.reading.reading_notes import ReadingNotes

_KNOWN = frozenset({"by", "at", "row"})
_KNOWN_OF_ROW = frozenset({"row", "result", "shown"})
_SAME, _DIFFERS = "same", "differs"


def _read_value(value: object, key: str, notes: ReadingNotes) -> ReadAcross | None:
    if not isinstance(value, dict):
        notes.refuse(key, f"it is {name_type(value)}, but must be a table headed [{key}]")
        return None
    notes.refuse_unknown_keys(value, _KNOWN, key)
    marks = read_tables(value.get("row", []), f"{key}.row", "rows read across", _read_mark, notes)
    by = value.get("by", "")
    if not isinstance(by, str):
        notes.refuse("by", "it must be text in quotation marks", where=key)
        by = ""
    read = ReadAcross(marks, by.strip(), read_time(value.get("at"), key, notes))
    return read if read != ReadAcross() else None


def _read_mark(table: Mapping[str, object], table_name: str, notes: ReadingNotes) -> ReadMark | None:
    notes.refuse_unknown_keys(table, _KNOWN_OF_ROW, table_name)
    row, result, shown = table.get("row"), table.get("result"), table.get("shown", "")
    if isinstance(row, str) and row.strip() and result in (_SAME, _DIFFERS) and isinstance(shown, str):
        return ReadMark(row.strip(), result == _SAME, shown.strip())
    notes.refuse(table_name, "it must give row, and result, “same” or “differs”", what=InputKind.READ_ROW)
    return None


def _write_value(read: ReadAcross | None) -> dict[str, object] | None:
    if read is None:
        return None
    table: dict[str, object] = {"by": read.by} if read.by else {}
    if read.at:
        table["at"] = dt.datetime.fromisoformat(read.at)
    if read.marks:
        table["row"] = [_write_mark(mark) for mark in read.marks]
    return table or None


def _write_mark(mark: ReadMark) -> dict[str, str]:
    shown = {"shown": mark.shown} if mark.shown else {}
    return {"row": mark.row, "result": _SAME if mark.is_same else _DIFFERS, **shown}


def _restore(values: dict[str, Any]) -> ReadAcross:
    return ReadAcross(**{**values, "marks": tuple(ReadMark(**mark) for mark in values.get("marks", ()))})


READ_ACROSS = FieldKind(read_value=_read_value, write_value=_write_value, restore=_restore)
