"""Aircraft sheets as TOML: reading with units and bounds, writing, the shipped ones. Nothing is computed here."""

from __future__ import annotations

import re
from dataclasses import KW_ONLY, field, replace
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Any

from routecheck.faults import DataError, UsageError
from routecheck.formatting import quote
from routecheck.frozen_dataclass import dataclass
from routecheck.model import AircraftSheet
from routecheck.settings.documents import (
    dump_document,
    editable_document,
    finite_number,
    read_document,
    shortest_number,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from routecheck.settings.toml_parsing import Document

STEPS: tuple[Callable[[Document], Document], ...] = ()
"""One function a step from schema to schema; schema 1 is the first."""
SCHEMA = len(STEPS) + 1


@dataclass(frozen=True, slots=True)
class Quantity:
    """One value of a sheet: its key, the field it fills, its unit, its bounds, other units it may be written in."""

    key: str
    fills: str
    unit: str
    _: KW_ONLY
    lowest: float
    highest: float
    others: Mapping[str, float] = field(default_factory=dict)
    """How many of `unit` one of that unit is."""

    def refusal(self, value: float) -> str:
        """Why a value in `unit` is not taken; "" where it is."""
        if self.lowest <= value <= self.highest:
            return ""
        return f"{value:g} is out of bounds: from {self.lowest:g} to {self.highest:g} {self.unit}".rstrip()

    @property
    def units(self) -> dict[str, float]:
        """Every unit it may be written in, its own first; how many of its own one of that unit is."""
        return {self.unit: 1.0, **self.others}

    def parse(self, text: str, unit: str) -> tuple[float | None, str]:
        """A value typed in one of its units, in its own, and "" or a reason why it is none. Nothing typed = None."""
        typed, factor = text.strip(), self.units[unit]
        if not typed:
            return None, ""
        found = finite_number(_float(typed))
        if found is None:
            return None, f"{quote(typed, 20)} is no number: written 0.78 or 41000"
        if not self.refusal(found * factor):
            return found * factor, ""
        bounds = f"from {_round(self.lowest / factor)} to {_round(self.highest / factor)} {unit}".rstrip()
        return None, f"{found:g} is out of bounds: {bounds}"


def _float(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def _round(bound: float) -> str:
    return f"{bound:.0f}" if bound >= 100 else f"{bound:.3g}"


_SPEED = {"km/h": 1 / 1.852, "mph": 1.609344 / 1.852}
_GRADIENT = {"%": 1852 / 0.3048 / 100}
_ALTITUDE = {"m": 1 / 0.3048, "FL": 100.0}
_MASS = {"lb": 0.45359237, "t": 1000.0}
_FLOW = {"lb/h": 0.45359237, "kg/min": 60.0}

QUANTITIES = (
    Quantity("climb_cas", "climb_cas_kt", "kt", lowest=40, highest=400, others=_SPEED),
    Quantity("climb_mach", "climb_mach", "", lowest=0.2, highest=0.95),
    Quantity("cruise_tas", "cruise_tas_kt", "kt", lowest=40, highest=600, others=_SPEED),
    Quantity("cruise_mach", "cruise_mach", "", lowest=0.2, highest=0.95),
    Quantity("descent_cas", "descent_cas_kt", "kt", lowest=40, highest=400, others=_SPEED),
    Quantity("descent_mach", "descent_mach", "", lowest=0.2, highest=0.95),
    Quantity("greatest_climb", "greatest_climb_ft_nm", "ft/NM", lowest=50, highest=3000, others=_GRADIENT),
    Quantity("greatest_descent", "greatest_descent_ft_nm", "ft/NM", lowest=100, highest=3000, others=_GRADIENT),
    Quantity("usual_climb", "usual_climb_ft_nm", "ft/NM", lowest=50, highest=3000, others=_GRADIENT),
    Quantity("usual_descent", "usual_descent_ft_nm", "ft/NM", lowest=50, highest=3000, others=_GRADIENT),
    Quantity("bank", "bank_deg", "°", lowest=5, highest=45),
    Quantity("ceiling", "ceiling_ft", "ft", lowest=1000, highest=65000, others=_ALTITUDE),
    Quantity("climb_fuel", "climb_fuel_kg_h", "kg/h", lowest=1, highest=40000, others=_FLOW),
    Quantity("cruise_fuel", "cruise_fuel_kg_h", "kg/h", lowest=1, highest=40000, others=_FLOW),
    Quantity("descent_fuel", "descent_fuel_kg_h", "kg/h", lowest=1, highest=40000, others=_FLOW),
    Quantity("holding_fuel", "holding_fuel_kg_h", "kg/h", lowest=1, highest=40000, others=_FLOW),
    Quantity("payload", "payload_kg", "kg", lowest=10, highest=350000, others=_MASS),
    Quantity("zero_fuel_weight", "zero_fuel_kg", "kg", lowest=200, highest=700000, others=_MASS),
    Quantity("take_off_weight", "take_off_kg", "kg", lowest=200, highest=700000, others=_MASS),
    Quantity("landing_weight", "landing_kg", "kg", lowest=200, highest=700000, others=_MASS),
    Quantity("tank", "tank_kg", "kg", lowest=10, highest=350000, others=_MASS),
)
_KNOWN = frozenset({"schema", "name", "typical", "remark", *(q.key for q in QUANTITIES)})
_KNOWN_OF_VALUE = frozenset({"value", "unit", "remark"})


def read_sheet(text: str, file: str) -> tuple[AircraftSheet | None, tuple[str, ...]]:
    """The sheet that a file holds, None where there is none; and in sentences what of it is not used and why.

    `file` is what the file is called. Never raises on what it says.
    """
    document, why = read_document(text, STEPS)
    name = document.get("name")
    if not why and not (isinstance(name, str) and name.strip()):
        why = 'it has no name; name = "…" is the one key it must have'
    if why:
        return None, (f"The Aircraft sheet {file} is not used: {why}.",)
    called = str(name).strip()
    remarks: list[str] = [f"the unknown key {quote(key)}" for key in document if key not in _KNOWN]
    typical = document.get("typical", False)
    if not isinstance(typical, bool):
        remarks.append("typical; it must be true or false. The figures are taken for typical ones")
    values = {q.fills: _read_value(document[q.key], q, remarks) for q in QUANTITIES if q.key in document}
    sheet = _without_contradictions(AircraftSheet(called, typical=typical is not False, **values), remarks)
    return sheet, tuple(f"Not used of the Aircraft sheet {quote(called)}: {what}." for what in remarks)


def _read_value(given: object, quantity: Quantity, remarks: list[str]) -> float | None:
    table = given if isinstance(given, dict) else {"value": given, "unit": quantity.unit}
    remarks += [f"the unknown key {quote(key)} of {quantity.key}" for key in table if key not in _KNOWN_OF_VALUE]
    value, factor = finite_number(table.get("value")), _factor(table.get("unit", quantity.unit), quantity)
    if value is None:
        remarks.append(f"{quantity.key}; it must be a number, or a table with value and unit")
    elif factor is None:
        remarks.append(f"{quantity.key}; its unit must be {_unit_choices(quantity)}")
    elif why := quantity.refusal(value * factor):
        remarks.append(f"{quantity.key}; {why}")
    else:
        return value * factor
    return None


def _factor(unit: object, quantity: Quantity) -> float | None:
    if not isinstance(unit, str):
        return None
    return 1.0 if unit.strip() == quantity.unit else quantity.others.get(unit.strip())


def _unit_choices(quantity: Quantity) -> str:
    return " or ".join(map(quote, quantity.units))


def contradictions(values: Mapping[str, float | None]) -> dict[str, str]:
    """Which values contradict others of their sheet, by the fields they fill, and why."""
    return {
        lower: f"it is above {greater.removesuffix('_ft_nm')}"
        for lower, greater in (
            ("usual_climb_ft_nm", "greatest_climb_ft_nm"),
            ("usual_descent_ft_nm", "greatest_descent_ft_nm"),
        )
        if _is_above(values[lower], values[greater])
    }


def _without_contradictions(sheet: AircraftSheet, remarks: list[str]) -> AircraftSheet:
    """The sheet without the values that contradict others in it."""
    wrong = contradictions({q.fills: getattr(sheet, q.fills) for q in QUANTITIES})
    remarks += [f"{q.key}; {wrong[q.fills]}" for q in QUANTITIES if q.fills in wrong]
    return replace(sheet, **dict.fromkeys(wrong))  # type: ignore[arg-type]


def _is_above(one: float | None, other: float | None) -> bool:
    return one is not None and other is not None and one > other


def write_sheet(sheet: AircraftSheet, existing_text: str | None = None) -> str:
    """The sheet as a file; values that did not change keep their unit and remark, unknown keys stay.

    Raises UsageError where a value is out of bounds or the existing file is broken or from a later version.
    """
    for q in QUANTITIES:
        value = getattr(sheet, q.fills)
        if value is not None and (why := q.refusal(value)):
            raise UsageError(f"{q.key}: {why}")
    if existing_text and (why := read_document(existing_text, STEPS)[1]):
        raise UsageError(f"the Aircraft sheet's file is left as it is: {why}")
    before = read_sheet(existing_text, "")[0] if existing_text else None
    document = editable_document(existing_text, SCHEMA)
    document["name"] = sheet.name
    document["typical"] = sheet.typical
    for q in QUANTITIES:
        value = getattr(sheet, q.fills)
        if value is None:
            document.pop(q.key, None)
        elif before is None or getattr(before, q.fills) != value:
            document[q.key] = _toml_value(value, q)
    return dump_document(document)


def _toml_value(value: float, quantity: Quantity) -> Any:
    import tomlkit  # here, because only writing needs it

    table = tomlkit.inline_table()
    table["value"] = shortest_number(value)
    if quantity.unit:
        table["unit"] = quantity.unit
    return table


def file_name(name: str) -> str:
    """The name of a sheet's file: "medium-jet.toml"."""
    return (re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-") or "sheet") + ".toml"


def is_same_name(one: str, other: str) -> bool:
    """Whether two names of sheets are the same, capitals and blanks at the ends aside."""
    return one.strip().casefold() == other.strip().casefold()


@cache
def shipped_sheets() -> tuple[AircraftSheet, ...]:
    """The shipped sheets, slowest class first. Raises DataError where one of our own files cannot be used."""
    folder = resources.files("routecheck.resources") / "aircraft"
    found = []
    for file in folder.iterdir():
        if file.name.endswith(".toml"):
            sheet, remarks = read_sheet(file.read_text("utf-8"), file.name)
            if sheet is None or remarks:
                raise DataError(file.name, None, " ".join(remarks))
            found.append(sheet)
    return tuple(sorted(found, key=lambda sheet: (sheet.cruise_tas_kt or 0.0, sheet.name)))
