"""The `[[accepted]]` tables of a route file: findings that somebody answers for. Which ones is not known here."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from routecheck.model import Accepted

if TYPE_CHECKING:
    from collections.abc import Mapping

_TEXTS = ("check", "words", "finding", "reason", "by")
_MUST = ("check", "reason", "by")
KNOWN = frozenset({*_TEXTS, "at"})


def read_accepted(value: object, remarks: list[str]) -> tuple[Accepted, ...]:
    """The accepted findings in order; one that lacks its check, reason or name is no acceptance, and is said."""
    if not isinstance(value, list) or not all(isinstance(table, dict) for table in value):
        remarks.append("Not used: accepted; accepted findings are tables headed [[accepted]].")
        return ()
    read = (_accepted(table, f"accepted {number}", remarks) for number, table in enumerate(value, start=1))
    return tuple(filter(None, read))


def written_accepted(accepted: Accepted) -> dict[str, object]:
    """An accepted finding as the keys of its table, without what is not known."""
    table: dict[str, object] = {key: value for key in _TEXTS if (value := getattr(accepted, key))}
    return table | ({"at": dt.datetime.fromisoformat(accepted.at)} if accepted.at else {})


def _accepted(table: Mapping[str, object], called: str, remarks: list[str]) -> Accepted | None:
    wrong = [key for key in _TEXTS if not isinstance(table.get(key, ""), str)]
    if wrong:
        remarks.append(f"Not used: {called}; its {wrong[0]} must be text in quotation marks.")
        return None
    texts = {key: str(table.get(key, "")).strip() for key in _TEXTS}
    if lacking := [key for key in _MUST if not texts[key]]:
        remarks.append(f"Not used: {called}; it has no {lacking[0]}.")
        return None
    remarks += [f"Not used: the unknown key “{key[:60]}” of {called}." for key in table if key not in KNOWN]
    return Accepted(**texts, at=_time(table.get("at"), called, remarks))


def _time(value: object, called: str, remarks: list[str]) -> str:
    if value is None:
        return ""
    if not isinstance(value, dt.datetime):
        remarks.append(f"Not used: at of {called}; it must be a time such as 2026-12-03T14:30:00Z.")
        return ""
    if value.tzinfo is None:
        remarks.append(f"at of {called} has no time zone: taken as UTC.")
        value = value.replace(tzinfo=dt.UTC)
    return f"{value.astimezone(dt.UTC):%Y-%m-%dT%H:%M:%SZ}"
