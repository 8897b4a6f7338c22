"""What the plan states leg by leg: the `[[claim]]` tables of a route file to claims and back. No comparing here."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from routecheck.model import Claim
from routecheck.reading.field_kinds import make_table_kind
from routecheck.reading.figures import find_halves, measure_half_digit, write_digits, write_figure
from routecheck.reading.toml_merge import TableIdentity
from routecheck.reading.toml_values import read_number
from routecheck.reading.value_forms import read_level

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.reading.reading_notes import ReadingNotes

_FIGURES = (
    "course_true_deg",
    "course_magnetic_deg",
    "distance_nm",
    "time_min",
    "fuel_kg",
    "ground_speed_kt",
    "distance_so_far_nm",
    "distance_left_nm",
    "time_so_far_min",
    "time_left_min",
    "fuel_left_kg",
)
_MOST = {"lat": 90, "lon": 180, "course_true_deg": 360, "course_magnetic_deg": 360}
_MOST_OF_OTHERS = 1_000_000
_KNOWN = frozenset({"to", "lat", "lon", "level", *_FIGURES})


def _read_claim(table: Mapping[str, object], table_name: str, notes: ReadingNotes) -> Claim:
    """A claim. Numbers with a point must come as Decimal: their digits are their precision."""
    values: dict[str, Any] = {key: _read_text(table, key, table_name, notes) for key in ("to", "level")}
    level, why = read_level(values["level"])
    if why:
        notes.refuse("level", why, where=table_name)
    values["level"] = level or values["level"]
    for key in ("lat", "lon", *_FIGURES):
        most = _MOST.get(key, _MOST_OF_OTHERS)
        values[key] = read_number(table, key, table_name, (-most, most), notes)
    notes.refuse_unknown_keys(table, _KNOWN, table_name)
    halves = [measure_half_digit(table[key]) for key in ("lat", "lon") if values[key] is not None]
    return Claim(
        **values,
        precision_deg=max(halves, default=0.0),
        halves=tuple(find_halves(table, {key: values[key] for key in _FIGURES})),
    )


def _read_text(table: Mapping[str, object], key: str, table_name: str, notes: ReadingNotes) -> str:
    value = table.get(key, "")
    if isinstance(value, str):
        return value.strip().upper()
    notes.refuse(key, "it must be text in quotation marks", where=table_name)
    return ""


def _write_claim(claim: Claim) -> dict[str, object]:
    """A claim as the keys of its table, without what is not stated. Positions keep at least the digits they had."""
    table: dict[str, object] = {"to": claim.to} if claim.to else {}
    for key in ("lat", "lon"):
        if (degrees := getattr(claim, key)) is not None:
            table[key] = write_digits(degrees, claim.precision_deg)
    table |= {
        key: write_figure(getattr(claim, key), claim.halves, key) for key in _FIGURES if getattr(claim, key) is not None
    }
    return table | ({"level": claim.level} if claim.level else {})


def _restore_claims(values: list[dict[str, Any]]) -> tuple[Claim, ...]:
    """Claims from the plain JSON of a saved session, where tuples have become lists."""
    return tuple(Claim(**{**value, "halves": tuple(map(tuple, value.get("halves", ())))}) for value in values)


_TABLES = make_table_kind(Claim, "claims", _read_claim, _write_claim, TableIdentity(("to",), _KNOWN))
CLAIMS = replace(_TABLES, restore=_restore_claims)
