"""What a plan states of the whole flight and of times on the way: tables of a route file to values and back."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Any

from routecheck.model import ElapsedTime, PlanTotals
from routecheck.reading.field_kinds import FieldKind, make_table_kind
from routecheck.reading.figures import find_halves, write_figure
from routecheck.reading.toml_merge import TableIdentity
from routecheck.reading.toml_values import name_type, read_number, simplify_number

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.reading.reading_notes import ReadingNotes

_MOST = (0, 1_000_000)
_TOTALS = tuple(field.name for field in fields(PlanTotals) if field.name != "halves")
_KNOWN = frozenset({"at", "time_min"})


def _read_time(table: Mapping[str, object], table_name: str, notes: ReadingNotes) -> ElapsedTime | None:
    notes.refuse_unknown_keys(table, _KNOWN, table_name)
    at, minutes = table.get("at"), read_number(table, "time_min", table_name, _MOST, notes)
    if isinstance(at, str) and at.strip() and minutes is not None:
        return ElapsedTime(at.strip().upper(), minutes)
    notes.refuse(table_name, "it must give at, a name in quotation marks, and time_min")
    return None


def _write_time(time: ElapsedTime) -> dict[str, object]:
    return {"at": time.at, "time_min": simplify_number(time.time_min)}


def _read_totals(value: object, key: str, notes: ReadingNotes) -> PlanTotals | None:
    if not isinstance(value, dict):
        notes.refuse(key, f"it is {name_type(value)}, but must be a table headed [{key}]")
        return None
    notes.refuse_unknown_keys(value, frozenset(_TOTALS), key)
    figures = {name: read_number(value, name, key, _MOST, notes) for name in _TOTALS}
    if all(figure is None for figure in figures.values()):
        return None
    return PlanTotals(**figures, halves=tuple(find_halves(value, figures)))


def _write_totals(totals: PlanTotals | None) -> dict[str, object] | None:
    if totals is None:
        return None
    figures = {name: getattr(totals, name) for name in _TOTALS}
    return {name: write_figure(figure, totals.halves, name) for name, figure in figures.items() if figure is not None}


def _restore_totals(values: dict[str, Any]) -> PlanTotals:
    return PlanTotals(**{**values, "halves": tuple(map(tuple, values.get("halves", ())))})


_IDENTITY = TableIdentity(("at",), _KNOWN)
ELAPSED_TIMES = make_table_kind(ElapsedTime, "times from take-off", _read_time, _write_time, _IDENTITY)
DELAYS = make_table_kind(ElapsedTime, "delays", _read_time, _write_time, _IDENTITY)
TOTALS = FieldKind(read_value=_read_totals, write_value=_write_totals, restore=_restore_totals)
