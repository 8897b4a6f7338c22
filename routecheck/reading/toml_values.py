"""Values of TOML checked for their type: what is of a wrong type is noted, nothing is guessed."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import TYPE_CHECKING, TypeGuard, TypeVar

from routecheck.settings.toml_parsing import OutOfBounds

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from routecheck.reading.reading_notes import ReadingNotes

    Table = Mapping[str, object]

_T = TypeVar("_T")


def read_tables(
    value: object,
    key: str,
    plural: str,
    read_table: Callable[[Table, str, ReadingNotes], _T | None],
    notes: ReadingNotes,
) -> tuple[_T, ...]:
    """What `read_table` makes of each table headed [[key]], in order. It gets the table, its name and the notes."""
    if not are_tables(value):
        notes.refuse(key, f"{plural} are tables headed [[{key}]]")
        return ()
    read: list[_T] = []
    for number, table in enumerate(value, start=1):
        name = f"{key} {number}"
        with notes.fence(name):
            if (one := read_table(table, name, notes)) is not None:
                read.append(one)
    return tuple(read)


def are_tables(value: object) -> TypeGuard[list[dict[str, object]]]:
    """Whether it is a list of tables and nothing else."""
    return isinstance(value, list) and all(isinstance(table, dict) for table in value)


def read_number(table: Table, key: str, table_name: str, bounds: tuple[int, int], notes: ReadingNotes) -> float | None:
    """The number of a key within its bounds; None where there is none. What is no such number is noted."""
    value = table.get(key)
    if value is None:
        return None
    if is_number(value) and bounds[0] <= value <= bounds[1]:
        return float(value)
    found = f"it is {value.what}; " if isinstance(value, OutOfBounds) else ""
    notes.refuse(key, f"{found}it must be a number from {bounds[0]:,} to {bounds[1]:,}", where=table_name)
    return None


def is_number(value: object) -> TypeGuard[int | Decimal]:
    """Whether it can be compared at all: numbers with a point come as Decimal."""
    if isinstance(value, Decimal):
        return value.is_finite()
    return isinstance(value, int) and not isinstance(value, bool)


def simplify_number(value: float) -> float | int:
    """A number as it is written: without a point where it is whole."""
    return int(value) if value == int(value) else value


def name_type(value: object) -> str:
    """What a value is, in words."""
    if isinstance(value, OutOfBounds):
        return value.what
    if isinstance(value, bool):
        return "true or false"
    for types, words in (
        ((int, Decimal), "a number"),
        (str, "text"),
        (list, "a list"),
        (dict, "a table"),
        ((dt.date, dt.time), "a date or time"),
    ):
        if isinstance(value, types):
            return words
    return "something else"
