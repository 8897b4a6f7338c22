"""The `[[changed]]` tables of a route file: what was changed against what was entered. Nothing is changed here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import listing
from routecheck.model import Change

if TYPE_CHECKING:
    from collections.abc import Mapping

KNOWN = frozenset({"old", "new", "offset", "beside", "ticked"})
_FIELDS = frozenset(
    {"departure", "destination", "departure_runway", "destination_runway", "approach", "level", "windows"}
)


def read_changed(value: object, remarks: list[str]) -> tuple[Change, ...]:
    """The changes in order. One that does not name its original is no record of it, and is said."""
    if not isinstance(value, list) or not all(isinstance(table, dict) for table in value):
        remarks.append("Not used: changed; changes are tables headed [[changed]].")
        return ()
    read = (_change(table, f"changed {number}", remarks) for number, table in enumerate(value, start=1))
    return tuple(filter(None, read))


def written_change(change: Change) -> dict[str, object]:
    """A change as the keys of its table; no offset for what was changed beside the text, but what it was."""
    table: dict[str, object] = {"old": change.old, "new": change.new}
    if change.at >= 0:
        table["offset"] = change.at
    if change.field:
        table["beside"] = change.field
    return table | ({"ticked": True} if change.ticked else {})


def _change(table: Mapping[str, object], called: str, remarks: list[str]) -> Change | None:
    old, new = table.get("old"), table.get("new")
    if not isinstance(old, str) or not isinstance(new, str) or old == new:
        remarks.append(f"Not used: {called}; it must give old and new, two different texts in quotation marks.")
        return None
    remarks += [f"Not used: the unknown key “{key[:60]}” of {called}." for key in table if key not in KNOWN]
    ticked = table.get("ticked", False)
    if not isinstance(ticked, bool):
        remarks.append(f"Not used: ticked of {called}; it must be true or false.")
    field = _field(table.get("beside"), called, remarks)
    return Change(old, new, _offset(table.get("offset"), called, remarks), ticked is True, field)


def _field(value: object, called: str, remarks: list[str]) -> str:
    if value is None:
        return ""
    if isinstance(value, str) and value in _FIELDS:
        return value
    remarks.append(f"Not used: beside of {called}; it must be one of {listing(sorted(_FIELDS), 'or')}.")
    return ""


def _offset(value: object, called: str, remarks: list[str]) -> int:
    if value is None:
        return -1
    if isinstance(value, int) and not isinstance(value, bool) and value >= 0:
        return value
    remarks.append(f"Not used: offset of {called}; it must be a whole number from 0.")
    return -1
