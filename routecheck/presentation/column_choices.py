"""The columns of a pasted nav log as a reader sees them: what each was taken for, and what it may be. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import count, quote
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Use, parts_of_use
from routecheck.reading.nav_logs.column_kinds import ColumnKind, read_choices, write_choices

if TYPE_CHECKING:
    from routecheck.model import Pasted, PastedColumn, RouteInput

_NAMES = {
    ColumnKind.FIX: "point",
    ColumnKind.FROM: "point where the leg begins",
    ColumnKind.AIRWAY: "airway",
    ColumnKind.LATITUDE: "latitude",
    ColumnKind.LONGITUDE: "longitude",
    ColumnKind.POSITION: "latitude and longitude",
    ColumnKind.COURSE_TRUE: "course, true",
    ColumnKind.COURSE_MAGNETIC: "course, magnetic",
    ColumnKind.COURSE: "course, not said which",
    ColumnKind.DISTANCE: "distance of the leg",
    ColumnKind.DISTANCE_SO_FAR: "distance so far",
    ColumnKind.DISTANCE_LEFT: "distance left",
    ColumnKind.LEVEL: "level",
    ColumnKind.WIND: "wind",
    ColumnKind.AIRSPEED: "true airspeed",
    ColumnKind.GROUND_SPEED: "ground speed",
    ColumnKind.TIME: "time of the leg",
    ColumnKind.TIME_SO_FAR: "time so far",
    ColumnKind.TIME_LEFT: "time left",
    ColumnKind.FUEL: "fuel used on the leg",
    ColumnKind.FUEL_LEFT: "fuel left",
    ColumnKind.OTHER: "something else",
}
AS_RECOGNISED = ""
"""The choice that leaves it to the program."""
KIND_CHOICES: tuple[tuple[str, str], ...] = (
    (AS_RECOGNISED, "as recognised"),
    *((kind.value, name) for kind, name in _NAMES.items()),
)
"""What a column may be, (value, name)."""


@dataclass(frozen=True, slots=True)
class ColumnView:
    """A column: its number and head, what it was taken for, how that is known, its first cells."""

    title: str
    kind: str
    how: str
    cells: tuple[str, ...]


def view_columns(pasted: Pasted) -> tuple[ColumnView, ...]:
    """All columns of a pasted table."""
    return tuple(
        ColumnView(_make_title(number, column.head), column.kind, _say_how(column), column.cells)
        for number, column in enumerate(pasted.columns, start=1)
    )


def _make_title(number: int, head: str) -> str:
    return f"{number}  {' '.join(head.split())}".strip()


def _say_how(column: PastedColumn) -> str:
    if column.is_chosen:
        return "chosen"
    return "recognised" if column.kind else "not recognised"


def choose_column(columns: str, number: int, kind: str) -> str:
    """The choices with another one for the column of that number, from 0. Two columns are never of one kind."""
    choices, _ = read_choices(columns)
    choices.pop(number, None)
    if kind != AS_RECOGNISED:
        wanted = ColumnKind(kind)
        choices = {at: one for at, one in choices.items() if one is not wanted or wanted is ColumnKind.OTHER}
        choices[number] = wanted
    return write_choices(choices)


def describe_reading(given: RouteInput) -> str:
    """How the table comes out, in one line."""
    if given.pasted is None:
        return ""
    unread = parts_of_use(given.pasted.parts, Use.UNREAD)
    rows = f"{count(len(given.claims), 'row')} read"
    if not unread:
        return f"{rows}, every cell of them understood."
    first = given.pasted.text[slice(*unread[0].span)]
    verb = "is" if len(unread) == 1 else "are"
    return f"{rows}; {count(len(unread), 'cell')} {verb} not understood, the first {quote(first, 30)}."
