"""Weights and fuel beside a route: the `[load]` table of a route file and one line of text. No adding up here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from routecheck.formatting import listing, quote
from routecheck.model import KG_PER_UNIT, LOAD_NAMES, RESERVE_RULES, Load
from routecheck.reading.field_kinds import FieldKind
from routecheck.reading.figures import find_halves, measure_decimals, write_figure
from routecheck.reading.load_text import LABELS, LoadText, find_load
from routecheck.reading.tokens import to_capitals
from routecheck.reading.toml_values import name_type, read_number

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.reading.reading_notes import ReadingNotes

_TEXTS: dict[str, tuple[str, ...]] = {"unit": tuple(KG_PER_UNIT), "reserve_rule": tuple(RESERVE_RULES)}
_KNOWN = frozenset({*_TEXTS, *LOAD_NAMES})
_BOUNDS = (0, 100_000_000)
"""Wide: a weight of one digit too many must come through, so that the checks can say so."""


def _read_load(value: object, key: str, notes: ReadingNotes) -> Load | None:
    if not isinstance(value, dict):
        notes.refuse(key, f"it is {name_type(value)}, but must be a table headed [{key}]")
        return None
    notes.refuse_unknown_keys(value, _KNOWN, key)
    unit, rule = (_read_choice(value, name, key, notes) for name in _TEXTS)
    figures = {name: read_number(value, name, key, _BOUNDS, notes) for name in LOAD_NAMES}
    if not (unit or rule) and all(figure is None for figure in figures.values()):
        return None
    halves = tuple(find_halves(value, figures))
    values: dict[str, Any] = {"reserve_rule": rule, **figures}
    return Load(unit, **values, halves=halves)


def _read_choice(table: Mapping[str, object], name: str, key: str, notes: ReadingNotes) -> str:
    value = table.get(name, "")
    if value == "" or value in _TEXTS[name]:
        return str(value)
    notes.refuse(name, f"it is one of {listing([quote(one) for one in _TEXTS[name]], 'or')}", where=key)
    return ""


def _write_load(load: Load | None) -> dict[str, object] | None:
    if load is None:
        return None
    table: dict[str, object] = {name: getattr(load, name) for name in _TEXTS if getattr(load, name)}
    for name in LOAD_NAMES:
        if (figure := load.get(name)) is not None:
            table[name] = write_figure(figure, load.halves, name)
    return table or None


def _restore_load(values: dict[str, Any]) -> Load:
    return Load(**{**values, "halves": tuple(map(tuple, values.get("halves", ())))})


def read_load_line(text: str) -> tuple[Load | None, str]:
    """Weights and fuel of one line, and "" or a sentence why they cannot be read: all of it must be understood."""
    capitals = to_capitals(text)
    found = LoadText()
    find_load(capitals, 0, len(capitals), found)
    rest = capitals
    for span in found.spans:
        rest = rest[: span.start] + " " * (span.end - span.start) + rest[span.end :]
    rest = rest.strip(" ,;")
    if rest:
        return None, f"{quote(rest, 40)} is no weight or fuel: written {quote(_EXAMPLE)}"
    if found.are_units_mixed:
        return None, "both kg and lb are stated; one of them holds for all"
    if found.rule and found.rule not in RESERVE_RULES:
        return None, f"the rule is one of {listing(list(RESERVE_RULES), 'or')}"
    load = found.make_load()
    if load is None and (found.units or found.rule):
        load = Load(found.units[0] if found.units else "", reserve_rule=found.rule)
    return load, ""


_EXAMPLE = "kg ZFW 54200 BLOCK 9100 TAXI 200"


def _write_line(load: Load | None) -> str:
    if load is None:
        return ""
    parts = [load.unit, f"RULE {load.reserve_rule}" if load.reserve_rule else ""]
    parts += [f"{LABELS[name][0]} {_write_digits(load, name)}" for name in LOAD_NAMES if load.get(name) is not None]
    return " ".join(filter(None, parts))


def _write_digits(load: Load, name: str) -> str:
    figure, half = load.get(name) or 0.0, load.half(name)
    digits = max(measure_decimals(f"{2.0 * half:.6f}".rstrip("0")), measure_decimals(f"{figure:.6f}".rstrip("0")))
    return f"{figure:.{digits}f}"


LOAD = FieldKind(
    read_value=_read_load,
    write_value=_write_load,
    restore=_restore_load,
    read_text=read_load_line,
    write_text=_write_line,
)
