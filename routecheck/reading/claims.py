"""The `[[claim]]` tables of a route file to claims; what is of a wrong type is said, not guessed. No comparing here."""

from __future__ import annotations

import math
from decimal import Decimal
from typing import TYPE_CHECKING, Any, TypeGuard

from routecheck.model import Claim

if TYPE_CHECKING:
    from collections.abc import Mapping

_FIGURES = ("course_true_deg", "course_magnetic_deg", "distance_nm", "time_min", "fuel_kg")
_BOUNDS = {"lat": 90, "lon": 180, "course_true_deg": 360, "course_magnetic_deg": 360}
KNOWN = frozenset({"to", "lat", "lon", "level", *_FIGURES})
NOT_COMPARED = (
    "Claimed courses, distances, times, fuel and levels: no check compares them in this version. The window's Leg "
    "table shows claimed courses, distances and levels beside the computed ones."
)


def read_claims(value: object, remarks: list[str]) -> tuple[Claim, ...]:
    """The claims in order. Numbers with a point must come as Decimal: their digits are their precision."""
    if not isinstance(value, list) or not all(isinstance(table, dict) for table in value):
        remarks.append("Not used: claim; claims are tables headed [[claim]].")
        return ()
    read = tuple(_claim(table, f"claim {number}", remarks) for number, table in enumerate(value, start=1))
    if any(key in table for table in value for key in (*_FIGURES, "level")):
        remarks.append(NOT_COMPARED)
    return read


def _claim(table: Mapping[str, object], called: str, remarks: list[str]) -> Claim:
    values: dict[str, Any] = {key: _text(table, key, called, remarks) for key in ("to", "level")}
    values |= {key: _number(table, key, called, remarks) for key in ("lat", "lon", *_FIGURES)}
    remarks += [f"Not used: the unknown key “{key[:60]}” of {called}." for key in table if key not in KNOWN]
    halves = [_half_digit(table[key]) for key in ("lat", "lon") if values[key] is not None]
    return Claim(**values, precision_deg=max(halves, default=0.0))


def _text(table: Mapping[str, object], key: str, called: str, remarks: list[str]) -> str:
    value = table.get(key, "")
    if isinstance(value, str):
        return value.strip().upper()
    remarks.append(f"Not used: {key} of {called}; it must be text in quotation marks.")
    return ""


def _number(table: Mapping[str, object], key: str, called: str, remarks: list[str]) -> float | None:
    value = table.get(key)
    if value is None:
        return None
    most = _BOUNDS.get(key, 1_000_000)
    if not _is_number(value) or not -most <= value <= most:
        remarks.append(f"Not used: {key} of {called}; it must be a number, at most {most:,}.")
        return None
    return float(value)


def _is_number(value: object) -> TypeGuard[int | Decimal]:
    if isinstance(value, Decimal):
        return value.is_finite()
    return isinstance(value, int) and not isinstance(value, bool)


def _half_digit(value: object) -> float:
    """Half of the last digit written: 0.05 of 31.5, 0.5 of 31."""
    if isinstance(value, Decimal):
        return 0.5 * 10.0 ** int(value.as_tuple().exponent)
    return 0.5


def written(claim: Claim) -> dict[str, object]:
    """A claim as the keys of its table, without what is not stated. Positions keep at least the digits they had."""
    table: dict[str, object] = {"to": claim.to} if claim.to else {}
    for key in ("lat", "lon"):
        if (degrees := getattr(claim, key)) is not None:
            table[key] = _with_digits(degrees, claim.precision_deg)
    table |= {key: getattr(claim, key) for key in _FIGURES if getattr(claim, key) is not None}
    return table | ({"level": claim.level} if claim.level else {})


def _with_digits(degrees: float, precision_deg: float) -> object:
    """A TOML number whose last digit says the precision; an integer where that was whole degrees."""
    import tomlkit  # here, because only writing needs it

    least = max(0, round(-math.log10(2 * precision_deg))) if precision_deg else 1
    exact = -int(Decimal(repr(degrees)).normalize().as_tuple().exponent)
    return tomlkit.value(f"{degrees:.{max(least, exact, 0)}f}")
