"""Findings that somebody answers for: the `[[accepted]]` tables of a route file. No check is known here."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from routecheck.model import Accepted
from routecheck.reading.field_kinds import make_table_kind
from routecheck.reading.toml_merge import TableIdentity
from routecheck.reading.toml_values import remark_unknown_keys

if TYPE_CHECKING:
    from collections.abc import Mapping

_TEXTS = ("check", "words", "finding", "reason", "by")
_NEEDED = ("check", "reason", "by")
_KNOWN = frozenset({*_TEXTS, "at"})


def _read_accepted(table: Mapping[str, object], table_name: str, remarks: list[str]) -> Accepted | None:
    """An accepted finding; without its check, reason or name it is none, and a remark says so."""
    wrong = [key for key in _TEXTS if not isinstance(table.get(key, ""), str)]
    if wrong:
        remarks.append(f"Not used: {table_name}; its {wrong[0]} must be text in quotation marks.")
        return None
    texts = {key: str(table.get(key, "")).strip() for key in _TEXTS}
    if lacking := [key for key in _NEEDED if not texts[key]]:
        remarks.append(f"Not used: {table_name}; it has no {lacking[0]}.")
        return None
    remark_unknown_keys(table, _KNOWN, table_name, remarks)
    return Accepted(**texts, at=_read_time(table.get("at"), table_name, remarks))


def _read_time(value: object, table_name: str, remarks: list[str]) -> str:
    if value is None:
        return ""
    if not isinstance(value, dt.datetime):
        remarks.append(f"Not used: at of {table_name}; it must be a time such as 2026-12-03T14:30:00Z.")
        return ""
    if value.tzinfo is None:
        remarks.append(f"at of {table_name} has no time zone: taken as UTC.")
        value = value.replace(tzinfo=dt.UTC)
    return f"{value.astimezone(dt.UTC):%Y-%m-%dT%H:%M:%SZ}"


def _write_accepted(accepted: Accepted) -> dict[str, object]:
    """An accepted finding as the keys of its table, without what is not known."""
    table: dict[str, object] = {key: value for key in _TEXTS if (value := getattr(accepted, key))}
    return table | ({"at": dt.datetime.fromisoformat(accepted.at)} if accepted.at else {})


ACCEPTED = make_table_kind(
    Accepted, "accepted findings", _read_accepted, _write_accepted, TableIdentity(("check", "words"), _KNOWN)
)
