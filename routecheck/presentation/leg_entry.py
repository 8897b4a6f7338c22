"""A leg as the Leg table has it, and how single figures are written in its cells. No columns are chosen here."""

from __future__ import annotations

from dataclasses import KW_ONLY
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.model import ChartedCourse, Claim, Leg, LegMinima
    from routecheck.performance.times import LegTime
    from routecheck.presentation.time_words import Moment
    from routecheck.vertical.room import Bounds

_LEADS = ("=", "+", "-", "@", "\t", "\r")
"""What makes a spreadsheet take a text for a formula."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its head, its name in CSV, whether it holds figures (right-aligned then), its head in words."""

    head: str
    key: str
    figures: bool = True
    tip: str = ""


@dataclass(frozen=True, slots=True)
class LegEntry:
    """A leg with its claim, time and level. `bounds` are the lowest and highest altitude allowed where it ends."""

    ends: tuple[str, str]
    _: KW_ONLY
    in_text: tuple[bool, bool]
    """Whether the text, or a field beside it, names its ends."""
    leg: Leg
    charted: ChartedCourse | None
    """The course that charts have, where it differs enough from the computed one."""
    sum_nm: float
    open_before: bool
    to_go_nm: float
    open_after: bool
    level: str
    planned_ft: float | None
    """The planned altitude where it ends."""
    minima: LegMinima | None
    bounds: Bounds
    levels_from_ft: float
    """From which altitude on flight levels are flown where it ends."""
    claim: Claim | None
    time: LegTime | None
    sum_min: float | None
    """The time from the start to its end, as far as it is known; None = its own is not."""
    over: Moment | None
    """When it ends."""
    wind_given: bool
    basis: str
    """What the times rest on; "" where there are none."""

    @property
    def minutes(self) -> float | None:
        """Its time; None = not known."""
        return self.time.minutes if self.time else None

    @property
    def fuel_kg(self) -> float | None:
        """Its fuel, about; None = not known."""
        return self.time.fuel_kg if self.time else None


CellWriters = tuple["Callable[[LegEntry], str]", "Callable[[LegEntry], str]"]
"""How a cell is written on the screen, and how in CSV."""
ColumnGroup = list[tuple[Column, CellWriters]]


def escape_formula(text: str) -> str:
    """The text of a cell, with a mark before it where a spreadsheet would take it for a formula."""
    return f"'{text}" if text.startswith(_LEADS) else text


def write_degrees(value: float | None) -> str:
    """A course in tenths of a degree, for CSV."""
    return "" if value is None else f"{value % 360.0:.1f}"


def write_feet(value: float | None) -> str:
    """An altitude in whole feet, for CSV."""
    return "" if value is None else f"{value:.0f}"


def write_signed(value: float, digits: int) -> str:
    """A difference with its sign, as a reader sees it."""
    rounded = round(value, digits)
    sign = "−" if rounded < 0 else "+"
    return f"{sign if rounded else ''}{abs(rounded):,.{digits}f}"


def empty_cell(_one: LegEntry) -> str:
    """Nothing: a column that only CSV has."""
    return ""


def write_duration(minutes: float | None) -> str:
    """A time as h:mm, for the screen."""
    return "" if minutes is None else formatting.duration(minutes)


def write_tenths(value: float | None) -> str:
    """A figure with one decimal, for CSV."""
    return "" if value is None else f"{value:.1f}"


def write_kg(value: float | None) -> str:
    """A mass in three figures, for the screen."""
    return "" if value is None else formatting.three_figures(value)


def same_in_csv(cell: Callable[[LegEntry], str]) -> CellWriters:
    """A cell that is written alike on the screen and in CSV."""
    return cell, cell


def ascii_in_csv(cell: Callable[[LegEntry], str]) -> CellWriters:
    """A cell of which CSV has plain signs and no thousands marks."""
    return cell, lambda one: cell(one).replace("−", "-").replace(",", "")
