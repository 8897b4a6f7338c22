"""The limits of checks that the user changed: `[limits.CHECK]` in settings.toml. The caller says which limits exist."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from routecheck.faults import UsageError
from routecheck.formatting import quote, short
from routecheck.frozen_dataclass import dataclass
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
class Bound:
    """What a limit may be set to, both ends included, and its unit."""

    lowest: float
    highest: float
    unit: str


Bounds = dict[str, dict[str, Bound]]
"""`bounds[check][limit]` for every limit there is."""
ChangedLimits = dict[str, dict[str, float]]
"""`changed[check][limit]`; what is absent keeps its default."""


def read_limits(text: str, bounds: Bounds) -> tuple[ChangedLimits, tuple[str, ...]]:
    """The limits that a settings file changes, and what of it is not used and why. Never raises on what it says."""
    document, why = read_document(text, STEPS)
    if why:
        return {}, (f"The settings are not used: {why}.",)
    remarks = [f"Not used in the settings: the unknown key {quote(k)}." for k in document if k not in _KNOWN]
    changed: ChangedLimits = {}
    for check, limits in _tables(document.get("limits", {}), "limits", remarks):
        if check not in bounds:
            remarks.append(f"Not used in the settings: limits of {quote(check)}; there is no such check.")
            continue
        accepted = dict(_valid_limits(check, limits, bounds[check], remarks))
        if accepted:
            changed[check] = accepted
    return changed, tuple(remarks)


_KNOWN = frozenset({"schema", "limits"})


def _tables(value: object, called: str, remarks: list[str]) -> list[tuple[str, Mapping[str, Any]]]:
    if not isinstance(value, dict):
        remarks.append(f"Not used in the settings: {called}; it must be a table.")
        return []
    odd = [key for key, table in value.items() if not isinstance(table, dict)]
    remarks += [f"Not used in the settings: {called}.{short(key, 60)}; it must be a table." for key in odd]
    return [(key, table) for key, table in value.items() if isinstance(table, dict)]


def _valid_limits(
    check: str, limits: Mapping[str, Any], bounds: Mapping[str, Bound], remarks: list[str]
) -> list[tuple[str, float]]:
    found = []
    for name, given in limits.items():
        why = refusal(given, bounds.get(name))
        if why:
            remarks.append(f"Not used in the settings: {short(name, 60)} of {check}; {why}.")
        else:
            found.append((name, float(given)))
    return found


def refusal(given: object, bound: Bound | None) -> str:
    """Why a value is not taken for a limit; "" where it is."""
    if bound is None:
        return "the check has no such limit"
    value = finite_number(given)
    if value is None:
        return "it must be a number"
    if bound.lowest <= value <= bound.highest:
        return ""
    if bound.highest == float("inf"):
        return f"{value:g} is too little: the lowest is {bound.lowest:g} {bound.unit}"
    return f"{value:g} is out of bounds: from {bound.lowest:g} to {bound.highest:g} {bound.unit}"


def write_limits(changed: ChangedLimits, bounds: Bounds, existing_text: str | None = None) -> str:
    """The settings file with exactly these limits changed; comments and what this version does not know stay.

    Raises UsageError where a value is out of bounds or the existing file is broken or from a later version.
    """
    import tomlkit  # here, because only writing needs it

    for check, limits in changed.items():
        for name, value in limits.items():
            if why := refusal(value, bounds.get(check, {}).get(name)):
                raise UsageError(f"{name} of {check}: {why}")
    if existing_text and (why := read_document(existing_text, STEPS)[1]):
        raise UsageError(f"the settings file is left as it is: {why}")
    document = editable_document(existing_text, SCHEMA)
    if not isinstance(document.get("limits"), dict):
        document["limits"] = tomlkit.table(is_super_table=True)
    tables: Any = document["limits"]
    for check, known in bounds.items():
        _write_check(tables, check, known, changed.get(check, {}))
    return dump_document(document)


def _write_check(tables: Any, check: str, known: Mapping[str, Bound], changed: Mapping[str, float]) -> None:
    if check not in tables and not changed:
        return
    import tomlkit  # here, because only writing needs it

    if not isinstance(tables.get(check), dict):
        tables[check] = tomlkit.table()
    table = tables[check]
    for name in known:
        if name in changed:
            table[name] = shortest_number(changed[name])
        else:
            table.pop(name, None)
