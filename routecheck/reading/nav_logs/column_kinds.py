"""What a column of a nav log may hold, and how the user says which is which (`fix=1,distance=4`)."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from routecheck.formatting import quote
from routecheck.reading.input_format import split_choices

if TYPE_CHECKING:
    from collections.abc import Mapping


class ColumnKind(StrEnum):
    """What a column holds; the value is its name in `--columns`."""

    FIX = "fix"
    FROM = "from"
    """Where a leg begins; only of the first row it is used."""
    AIRWAY = "airway"
    LATITUDE = "lat"
    LONGITUDE = "lon"
    POSITION = "position"
    COURSE_TRUE = "course_true"
    COURSE_MAGNETIC = "course_magnetic"
    COURSE = "course"
    """Neither said to be true nor magnetic: it is not compared."""
    DISTANCE = "distance"
    DISTANCE_SO_FAR = "distance_so_far"
    DISTANCE_LEFT = "distance_left"
    LEVEL = "level"
    WIND = "wind"
    AIRSPEED = "tas"
    GROUND_SPEED = "gs"
    TIME = "time"
    TIME_SO_FAR = "time_so_far"
    TIME_LEFT = "time_left"
    FUEL = "fuel"
    FUEL_LEFT = "fuel_left"
    OTHER = "other"
    """Known, and of no use to any check: heading, temperature, clock times …"""


def read_choices(text: str) -> tuple[dict[int, ColumnKind], str]:
    """Columns by their numbers, from 1, as `fix=1,distance=4` says them, and "" or a sentence why it cannot be read."""
    found: dict[int, ColumnKind] = {}
    parts, fault = split_choices(text)
    if fault:
        return {}, fault
    for part in parts:
        name, _, number = part.partition("=")
        if name.strip() not in set(ColumnKind) or not number.strip().isdecimal() or not 0 < int(number) < 1000:
            kinds = ", ".join(ColumnKind)
            return {}, f"{quote(part, 40)} names no column: write fix=1,distance=4; names are {kinds}"
        kind, column = ColumnKind(name.strip()), int(number) - 1
        if column in found or (kind in found.values() and kind is not ColumnKind.OTHER):
            return {}, f"{quote(part, 40)} says something else than what stands before it"
        found[column] = kind
    return found, ""


def write_choices(choices: Mapping[int, ColumnKind]) -> str:
    """The text that `read_choices` reads, in the order of the table."""
    return ",".join(f"{kind}={number + 1}" for number, kind in sorted(choices.items()))
