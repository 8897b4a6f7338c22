"""What the plan states leg by leg: the `[[claim]]` tables of a route file to claims and back. No comparing here."""

from __future__ import annotations

import math
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from routecheck.model import Claim
from routecheck.reading.field_kinds import make_table_kind
from routecheck.reading.toml_merge import TableIdentity
from routecheck.reading.toml_values import read_number
from routecheck.reading.value_forms import read_level

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.reading.reading_notes import ReadingNotes

_FIGURES = ("course_true_deg", "course_magnetic_deg", "distance_nm", "time_min", "fuel_kg")
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
    halves = [_measure_half_digit(table[key]) for key in ("lat", "lon") if values[key] is not None]
    return Claim(**values, precision_deg=max(halves, default=0.0))


def _read_text(table: Mapping[str, object], key: str, table_name: str, notes: ReadingNotes) -> str:
    value = table.get(key, "")
    if isinstance(value, str):
        return value.strip().upper()
    notes.refuse(key, "it must be text in quotation marks", where=table_name)
    return ""


def _measure_half_digit(value: object) -> float:
    """Half of the last digit written: 0.05 of 31.5, 0.5 of 31."""
    if isinstance(value, Decimal):
        return 0.5 * 10.0 ** int(value.as_tuple().exponent)
    return 0.5


def _write_claim(claim: Claim) -> dict[str, object]:
    """A claim as the keys of its table, without what is not stated. Positions keep at least the digits they had."""
    table: dict[str, object] = {"to": claim.to} if claim.to else {}
    for key in ("lat", "lon"):
        if (degrees := getattr(claim, key)) is not None:
            table[key] = _write_degrees(degrees, claim.precision_deg)
    table |= {key: getattr(claim, key) for key in _FIGURES if getattr(claim, key) is not None}
    return table | ({"level": claim.level} if claim.level else {})


def _write_degrees(degrees: float, precision_deg: float) -> object:
    """A TOML number whose last digit says the precision; an integer where that was whole degrees."""
    import tomlkit  # here, because only writing needs it

    least = max(0, round(-math.log10(2 * precision_deg))) if precision_deg else 1
    exact = -int(Decimal(repr(degrees)).normalize().as_tuple().exponent)
    return tomlkit.value(f"{degrees:.{max(least, exact, 0)}f}")


CLAIMS = make_table_kind(Claim, "claims", _read_claim, _write_claim, TableIdentity(("to",), _KNOWN))
