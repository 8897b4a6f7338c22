"""Findings that somebody answers for: the `[[accepted]]` tables of a route file. No check is known here."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from routecheck.model import Accepted, InputKind
from routecheck.reading.field_kinds import make_table_kind
from routecheck.reading.toml_merge import TableIdentity

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.reading.reading_notes import ReadingNotes

_TEXTS = ("check", "words", "finding", "reason", "by")
_NEEDED = ("check", "reason", "by")
_KNOWN = frozenset({*_TEXTS, "at"})


def _read_accepted(table: Mapping[str, object], table_name: str, notes: ReadingNotes) -> Accepted | None:
    """An accepted finding; without its check, reason or name it is not used."""
    wrong = [key for key in _TEXTS if not isinstance(table.get(key, ""), str)]
    if wrong:
        notes.refuse(table_name, f"its {wrong[0]} must be text in quotation marks", what=InputKind.ACCEPTANCE)
        return None
    texts = {key: str(table.get(key, "")).strip() for key in _TEXTS}
    if lacking := [key for key in _NEEDED if not texts[key]]:
        notes.refuse(table_name, f"it has no {lacking[0]}", what=InputKind.ACCEPTANCE)
        return None
    notes.refuse_unknown_keys(table, _KNOWN, table_name)
    return Accepted(**texts, at=read_time(table.get("at"), table_name, notes))


def read_time(value: object, table_name: str, notes: ReadingNotes) -> str:
    """A time of a key as it is kept, in UTC; "" where there is none."""
    if value is None:
        return ""
    if not isinstance(value, dt.datetime):
        notes.refuse("at", "it must be a time such as 2026-12-03T14:30:00Z", where=table_name)
        return ""
    if value.tzinfo is None:
        notes.remarks.append(f"at of {table_name} has no time zone: taken as UTC.")
        value = value.replace(tzinfo=dt.UTC)
    return f"{value.astimezone(dt.UTC):%Y-%m-%dT%H:%M:%SZ}"


def _write_accepted(accepted: Accepted) -> dict[str, object]:
    """An accepted finding as the keys of its table, without what is not known."""
    table: dict[str, object] = {key: value for key in _TEXTS if (value := getattr(accepted, key))}
    return table | ({"at": dt.datetime.fromisoformat(accepted.at)} if accepted.at else {})


ACCEPTED = make_table_kind(
    Accepted, "accepted findings", _read_accepted, _write_accepted, TableIdentity(("check", "words"), _KNOWN)
)
