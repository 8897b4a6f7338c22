"""Writes the tables of a route file anew and keeps what this version does not know or could not read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeGuard

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from tomlkit.items import AoT

    Table = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class TableIdentity:
    """The keys whose values make two tables the same one, and all keys that this version writes."""

    same: tuple[str, ...]
    known: frozenset[str]


def merge_tables(
    old: object, raw: object, rows: Iterable[Table], identity: TableIdentity, is_read: Callable[[Table], bool]
) -> AoT:
    """The rows as tables: those that were there keep their comments and unknown keys; unread ones stand last.

    `old` are the tables as they are edited, `raw` the same as they are read; `is_read` says of a raw table whether it
    could be read, and is therefore among the rows or no longer wanted.
    """
    import tomlkit  # here, because only writing needs it

    existing = list(zip(old, raw, strict=True)) if _are_tables(old) and isinstance(raw, list) else []
    merged = tomlkit.aot()
    for row in rows:
        wanted = _identify(row, identity)
        at = next((i for i, (table, _) in enumerate(existing) if _identify(table, identity) == wanted), None)
        merged.append(tomlkit.item(row) if at is None else _update(existing.pop(at)[0], row, identity))
    for table, raw_table in existing:
        if not is_read(raw_table):
            merged.append(table)
    return merged


def _are_tables(old: object) -> TypeGuard[AoT]:
    from tomlkit.items import AoT

    return isinstance(old, AoT)


def _identify(table: Table, identity: TableIdentity) -> tuple[str, ...]:
    return tuple(str(table.get(key, "")).strip().upper() for key in identity.same)


def _update(table: Any, row: Table, identity: TableIdentity) -> Any:
    for key in [key for key in table if key in identity.known and key not in row]:
        table.pop(key)
    for key, value in row.items():
        if key not in table or table[key] != value:
            table[key] = value
    return table
