"""Tables of a route file written anew: what this version does not know or could not read stays."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeGuard

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from tomlkit.items import AoT


@dataclass(frozen=True, slots=True)
class Kind:
    """What makes two tables of a kind the same one, which keys of them are known, and how they are read."""

    same: tuple[str, ...]
    known: frozenset[str]
    read: Callable[[object, list[str]], tuple[object, ...]]


def merged(old: object, raw: object, rows: Iterable[Mapping[str, object]], kind: Kind) -> AoT:
    """The rows as tables: those that were there keep their comments and unknown keys; unread ones stand last.

    `old` are the tables as they are edited, `raw` the same as they are read.
    """
    import tomlkit  # here, because only writing needs it

    there = list(zip(old, raw, strict=True)) if _is_tables(old) and isinstance(raw, list) else []
    made = tomlkit.aot()
    for row in rows:
        at = next((i for i, (table, _) in enumerate(there) if _identity(table, kind) == _identity(row, kind)), None)
        made.append(tomlkit.item(row) if at is None else _updated(there.pop(at)[0], row, kind))
    for table, read in there:
        if not kind.read([read], []):
            made.append(table)
    return made


def _is_tables(old: object) -> TypeGuard[AoT]:
    from tomlkit.items import AoT

    return isinstance(old, AoT)


def _identity(table: Mapping[str, object], kind: Kind) -> tuple[str, ...]:
    return tuple(str(table.get(key, "")).strip().upper() for key in kind.same)


def _updated(table: Any, row: Mapping[str, object], kind: Kind) -> Any:
    for key in [key for key in table if key in kind.known and key not in row]:
        table.pop(key)
    for key, value in row.items():
        if key not in table or table[key] != value:
            table[key] = value
    return table
