"""The rows of a nav log with what each cell is, entered as they are read. What follows from them is made elsewhere."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from routecheck.formatting import quote
from routecheck.model import Span, Use, WordKind
from routecheck.reading.forms import read_form
from routecheck.reading.load_text import LoadText
from routecheck.reading.nav_logs.column_kinds import ColumnKind
from routecheck.reading.nav_logs.columns import is_place_on_the_way
from routecheck.reading.nav_logs.values import (
    Figure,
    read_coordinate,
    read_course,
    read_level,
    read_number,
    read_position,
    read_time,
    read_wind,
)
from routecheck.reading.tokens import to_capitals

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.reading.messages.ledger import Ledger
    from routecheck.reading.nav_logs.lines import Cell

POINT = re.compile(r"[A-Z0-9]{2,11}")
DIRECT = re.compile(r"DCT|DIRECT|-+|SID|STAR|\.+|")
"""What stands in a column of airways where there is none."""
_POUNDS = 0.45359237
_KM = 1.0 / 1.852
FIGURES: dict[ColumnKind, tuple[str, Callable[[str], Figure | None]]] = {
    ColumnKind.DISTANCE: ("distance_nm", read_number),
    ColumnKind.DISTANCE_SO_FAR: ("distance_so_far_nm", read_number),
    ColumnKind.DISTANCE_LEFT: ("distance_left_nm", read_number),
    ColumnKind.TIME: ("time_min", read_time),
    ColumnKind.TIME_SO_FAR: ("time_so_far_min", read_time),
    ColumnKind.TIME_LEFT: ("time_left_min", read_time),
    ColumnKind.FUEL: ("fuel_kg", read_number),
    ColumnKind.FUEL_LEFT: ("fuel_left_kg", read_number),
    ColumnKind.GROUND_SPEED: ("ground_speed_kt", read_number),
}
TELLING = frozenset({*FIGURES, ColumnKind.COURSE_TRUE, ColumnKind.COURSE_MAGNETIC, ColumnKind.LATITUDE})
"""Columns that no other table of points has."""
USED_KINDS = frozenset(
    {*FIGURES, ColumnKind.FIX, ColumnKind.AIRWAY, ColumnKind.LATITUDE, ColumnKind.LONGITUDE, ColumnKind.POSITION}
    | {ColumnKind.COURSE_TRUE, ColumnKind.COURSE_MAGNETIC, ColumnKind.LEVEL, ColumnKind.WIND, ColumnKind.FROM}
)


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its point as the route text has it ("" = a place without a name), and the cells by what they are."""

    word: str
    name: str
    cells: dict[ColumnKind, Cell]


@dataclass(slots=True, kw_only=True)
class Table:
    """A table with what its columns are. `factors` turn figures into NM and kg."""

    text: str
    kinds: dict[int, ColumnKind]
    heads: list[str]
    ledger: Ledger
    factors: dict[ColumnKind, float] = field(default_factory=dict)
    load: LoadText = field(default_factory=LoadText)
    dotted: frozenset[ColumnKind] = frozenset()
    """Columns of times in which 0.14 is 14 minutes."""
    rows: list[Row] = field(default_factory=list)

    def read_figure(self, kind: ColumnKind, text: str) -> Figure | None:
        """The figure of a cell in NM, minutes or kg; None where it is none."""
        figure = FIGURES[kind][1](text.replace(".", ":") if kind in self.dotted else text)
        factor = self.factors.get(kind, 1.0)
        return Figure(figure.value * factor, figure.half * factor) if figure else None

    def read_row(self, cells: tuple[Cell, ...]) -> None:
        """Read a row and enter its cells; one without a point is no row."""
        by_kind = {kind: cells[number] for number, kind in self.kinds.items() if number < len(cells)}
        fix = by_kind.get(ColumnKind.FIX)
        found = POINT.search(to_capitals(fix.text)) if fix else None
        if fix is None or found is None:
            for cell in cells:
                self.ledger.enter(cell.span, "a row without a point", Use.UNREAD)
            return
        word = found[0] if is_word(found[0]) and not is_place_on_the_way(fix.text) else ""
        self.rows.append(Row(word, word or f"PLACE {to_capitals(fix.text)}"[:24], by_kind))
        for number, cell in enumerate(cells):
            if word and cell is fix:
                self._enter_point(cell, word)
            elif cell is fix and not is_place_on_the_way(cell.text):
                self.ledger.enter(cell.span, "point", Use.UNREAD, "it is no name of a point")
            else:
                self._enter(number, cell)

    def _enter_point(self, cell: Cell, word: str) -> None:
        start = cell.span.start + to_capitals(cell.text).index(word)
        end = start + len(word)
        self.ledger.enter(Span(start, end), "point")
        for beside in (Span(cell.span.start, start), Span(end, cell.span.end)):
            self.ledger.enter(beside, "what stands beside a point", Use.NOT_USED, "not read")

    def _enter(self, number: int, cell: Cell) -> None:
        kind = self.kinds.get(number)
        name = f"column {number + 1}{f' {quote(self.heads[number])}' if self.heads[number] else ''}"
        if kind is ColumnKind.AIRWAY and cell.text.upper() in ("SID", "STAR"):
            self.ledger.enter(cell.span, name, Use.UNREAD, "which one is not said; the leg is taken as direct")
        elif kind in USED_KINDS:
            readable = kind is None or is_readable(kind, cell.text)
            use, why = (Use.USED, "") if readable else (Use.UNREAD, f"it is no {str(kind).replace('_', ' ')}")
            self.ledger.enter(cell.span, name, use, why)
        elif kind is ColumnKind.COURSE:
            self.ledger.enter(
                cell.span, name, Use.NOT_USED, "not compared, for nothing says whether it is true or magnetic"
            )
        else:
            why = "read, and used by no check" if kind else ""  # a column that is not recognised is named as a whole
            self.ledger.enter(cell.span, name, Use.NOT_USED, why)


def unit_factor(kind: ColumnKind, head: str) -> float | None:
    """What turns the figures of a column into NM or kg, where its head names another unit; None where it does not."""
    if kind.startswith("fuel") and re.search(r"\blbs?\b", head.lower()):
        return _POUNDS
    return _KM if kind.startswith("distance") and re.search(r"\bkm\b", head.lower()) else None


def read_way(text: str) -> str:
    """The airway of a cell, "DCT" where it says that there is none; "" where it is neither."""
    way = to_capitals(text)
    if DIRECT.fullmatch(way):
        return "DCT"
    return way if POINT.fullmatch(way) else ""


def read_course_of(kind: ColumnKind, text: str) -> Figure | None:
    """The course of a cell; None where it is none, or its letter says the other kind."""
    course = read_course(text)
    letter = "T" if kind is ColumnKind.COURSE_TRUE else "M"
    return course[0] if course and course[1] in ("", letter) else None


def is_word(text: str) -> bool:
    """Whether a text is a point as a route text may have it."""
    return read_form(text, Span(0, len(text))).kind in (WordKind.NAME, WordKind.POSITION, WordKind.RADIAL_DISTANCE)


_READERS: dict[ColumnKind, Callable[[str], object]] = {
    **{kind: read for kind, (_, read) in FIGURES.items()},
    ColumnKind.AIRWAY: read_way,
    ColumnKind.LATITUDE: lambda text: read_coordinate(text, "NS"),
    ColumnKind.LONGITUDE: lambda text: read_coordinate(text, "EW"),
    ColumnKind.POSITION: read_position,
    ColumnKind.COURSE_TRUE: lambda text: read_course_of(ColumnKind.COURSE_TRUE, text),
    ColumnKind.COURSE_MAGNETIC: lambda text: read_course_of(ColumnKind.COURSE_MAGNETIC, text),
    ColumnKind.LEVEL: read_level,
    ColumnKind.WIND: read_wind,
    ColumnKind.FIX: lambda text: POINT.search(to_capitals(text)),
}


def is_readable(kind: ColumnKind, text: str) -> bool:
    """Whether a cell can be what its column is taken for. An empty one, or one of dots and strokes, can be anything."""
    return is_blank(text) or kind not in _READERS or bool(_READERS[kind](text))


def is_blank(text: str) -> bool:
    """Whether a cell says nothing."""
    return set(text) <= set("-.–—_ ")


def fits(kind: ColumnKind, cells: Sequence[str]) -> bool:
    """Whether half of the cells that say something can be what the head of their column says."""
    filled = [cell for cell in cells if not is_blank(cell)]
    return sum(is_readable(kind, cell) for cell in filled) >= len(filled) / 2.0


_DOTTED = re.compile(r"(\d{1,2})\.[0-5]\d")
_MOST_HOURS = {ColumnKind.TIME: 10, ColumnKind.TIME_SO_FAR: 24, ColumnKind.TIME_LEFT: 24}
"""Of hours written with a point; more are minutes with decimals (our choice)."""


def find_dotted_times(columns: Sequence[Sequence[str]], kinds: dict[int, ColumnKind]) -> frozenset[ColumnKind]:
    """The columns of times in which a point parts hours and minutes: all cells have two digits behind it, below 60.

    Where the times of legs are written so all times are, else none.
    """
    dotted: dict[ColumnKind, bool] = {}
    for number, kind in kinds.items():
        if kind in _MOST_HOURS and number < len(columns):
            cells = [cell for cell in columns[number] if not is_blank(cell)]
            matches = [match for cell in cells if (match := _DOTTED.fullmatch(cell))]
            dotted[kind] = len(matches) == len(cells) > 0 and max(int(one[1]) for one in matches) < _MOST_HOURS[kind]
    return frozenset(kind for kind, is_so in dotted.items() if is_so and dotted.get(ColumnKind.TIME, True))
