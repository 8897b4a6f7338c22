"""Altitude windows stated beside the route: the `[[window]]` tables of a route file. No judging here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.model import AltitudeWindow, InputKind
from routecheck.reading.field_kinds import make_table_kind
from routecheck.reading.toml_merge import TableIdentity
from routecheck.reading.toml_values import read_number, simplify_number

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.reading.reading_notes import ReadingNotes

_ALTITUDES = ("low_ft", "high_ft", "at_ft")
_KNOWN = frozenset({"point", *_ALTITUDES})
_BOUNDS_FT = (-10_000, 1_000_000)
"""Wide: an altitude of one digit too many must come through, so that the checks can say so."""


def _read_window(table: Mapping[str, object], table_name: str, notes: ReadingNotes) -> AltitudeWindow | None:
    """An altitude window, also one that is upside down, for that is a finding."""
    notes.refuse_unknown_keys(table, _KNOWN, table_name)
    point = table.get("point")
    if not isinstance(point, str) or not point.strip():
        notes.refuse(table_name, "it must name its point", what=InputKind.WINDOW)
        return None
    low, high, at = (read_number(table, key, table_name, _BOUNDS_FT, notes) for key in _ALTITUDES)
    if at is not None and (low is not None or high is not None):
        notes.refuse(table_name, "at_ft beside low_ft or high_ft says two things", what=InputKind.WINDOW)
        return None
    if at is None and low is None and high is None:
        notes.refuse(table_name, "it must give low_ft, high_ft or at_ft", what=InputKind.WINDOW)
        return None
    return AltitudeWindow(point.strip().upper(), low if at is None else at, high if at is None else at)


def _write_window(window: AltitudeWindow) -> dict[str, object]:
    if window.low_ft is not None and window.low_ft == window.high_ft:
        return {"point": window.point, "at_ft": simplify_number(window.low_ft)}
    bounds = {"low_ft": window.low_ft, "high_ft": window.high_ft}
    return {"point": window.point} | {key: simplify_number(value) for key, value in bounds.items() if value is not None}


WINDOWS = make_table_kind(
    AltitudeWindow, "altitude windows", _read_window, _write_window, TableIdentity(("point",), _KNOWN)
)
