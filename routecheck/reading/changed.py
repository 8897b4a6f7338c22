"""What was changed here against what was entered: the `[[changed]]` tables of a route file. Nothing is changed here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import listing
from routecheck.model import Change, InputKind
from routecheck.reading.field_kinds import make_table_kind
from routecheck.reading.toml_merge import TableIdentity

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.reading.reading_notes import ReadingNotes

_KNOWN = frozenset({"old", "new", "offset", "beside", "ticked"})
_FIELDS = frozenset(
    {"departure", "destination", "departure_runway", "destination_runway", "approach", "level", "windows"}
)
"""The values beside the text that a correction can change."""


def _read_change(table: Mapping[str, object], table_name: str, notes: ReadingNotes) -> Change | None:
    """A change. Without its original it is no record, and is not used."""
    old, new = table.get("old"), table.get("new")
    if not isinstance(old, str) or not isinstance(new, str) or old == new:
        notes.refuse(
            table_name, "it must give old and new, two different texts in quotation marks", what=InputKind.CHANGE
        )
        return None
    notes.refuse_unknown_keys(table, _KNOWN, table_name)
    ticked = table.get("ticked", False)
    if not isinstance(ticked, bool):
        notes.refuse("ticked", "it must be true or false", where=table_name)
    field = _read_field(table.get("beside"), table_name, notes)
    return Change(old, new, _read_offset(table.get("offset"), table_name, notes), ticked is True, field)


def _read_field(value: object, table_name: str, notes: ReadingNotes) -> str:
    if value is None:
        return ""
    if isinstance(value, str) and value in _FIELDS:
        return value
    notes.refuse("beside", f"it must be one of {listing(sorted(_FIELDS), 'or')}", where=table_name)
    return ""


def _read_offset(value: object, table_name: str, notes: ReadingNotes) -> int:
    if value is None:
        return -1
    if isinstance(value, int) and not isinstance(value, bool) and value >= 0:
        return value
    notes.refuse("offset", "it must be a whole number from 0", where=table_name)
    return -1


def _write_change(change: Change) -> dict[str, object]:
    """A change as the keys of its table; no offset for what was changed beside the text, but which value it was."""
    table: dict[str, object] = {"old": change.old, "new": change.new}
    if change.at >= 0:
        table["offset"] = change.at
    if change.field:
        table["beside"] = change.field
    return table | ({"ticked": True} if change.ticked else {})


CHANGES = make_table_kind(Change, "changes", _read_change, _write_change, TableIdentity(("old", "new"), _KNOWN))
