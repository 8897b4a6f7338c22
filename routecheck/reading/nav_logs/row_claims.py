"""The rows of a nav log to claims, winds and totals, each figure with half of its last digit."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from routecheck.model import Claim, PlanTotals, Wind, half_digit
from routecheck.reading.nav_logs.column_kinds import ColumnKind
from routecheck.reading.nav_logs.table import FIGURES, Row, Table, read_course_of
from routecheck.reading.nav_logs.values import (
    Figure,
    read_coordinate,
    read_level,
    read_position,
    read_wind,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.reading.nav_logs.lines import Cell

_OF_TOTAL = {ColumnKind.DISTANCE: "distance_nm", ColumnKind.TIME: "time_min", ColumnKind.FUEL: "fuel_kg"}
_OF_TOTAL |= {ColumnKind.DISTANCE_SO_FAR: "distance_nm", ColumnKind.TIME_SO_FAR: "time_min"}


_COURSES = (ColumnKind.COURSE_TRUE, "course_true_deg"), (ColumnKind.COURSE_MAGNETIC, "course_magnetic_deg")
_OF_LEG = ("distance_nm", "time_min", "fuel_kg")


def make_claims(table: Table) -> tuple[Claim, ...]:
    """A claim for each row. A place on the way without a name is no point: its leg is a part of that to the next."""
    claims: list[Claim] = []
    on_the_way: list[Claim] = []
    for row in table.rows:
        claim = _make_claim(row, table)
        if not row.word:
            on_the_way.append(claim)
            continue
        claims.append(_add_legs(on_the_way, claim) if on_the_way else claim)
        on_the_way = []
    return tuple(claims)


def _add_legs(on_the_way: list[Claim], claim: Claim) -> Claim:
    """The claim of the whole leg, with the course at its start; a figure that one of its parts lacks is not known."""
    values: dict[str, Any] = {name: getattr(on_the_way[0], name) for _, name in _COURSES}
    halves = {name: half for name, half in claim.halves if name not in _OF_LEG}
    for name in _OF_LEG:
        parts = [getattr(one, name) for one in (*on_the_way, claim)]
        values[name] = None if None in parts else sum(parts)
        if values[name] is not None:
            halves[name] = sum(one.half(name) for one in (*on_the_way, claim))
    return replace(claim, **values, halves=tuple(halves.items()))


def _make_claim(row: Row, table: Table) -> Claim:
    """What a row states of its point and of the leg to it."""
    values: dict[str, Any] = {}
    halves: dict[str, float] = {}
    for kind, (name, _) in FIGURES.items():
        figure = table.read_figure(kind, row.cells[kind].text) if kind in row.cells else None
        if figure:
            values[name], halves[name] = figure
    for kind, name in _COURSES:
        course = read_course_of(kind, row.cells[kind].text) if kind in row.cells else None
        if course:
            values[name], halves[name] = course
    shown = tuple((name, half) for name, half in halves.items() if half != half_digit(values[name]))
    level = read_level(row.cells[ColumnKind.LEVEL].text) if ColumnKind.LEVEL in row.cells else ""
    return Claim(row.name, **values, **_read_where(row), level=level, halves=shown)


def _read_where(row: Row) -> dict[str, float]:
    cells = row.cells
    pair: tuple[Figure | None, Figure | None] | None = None
    if ColumnKind.POSITION in cells:
        pair = read_position(cells[ColumnKind.POSITION].text)
    elif ColumnKind.LATITUDE in cells and ColumnKind.LONGITUDE in cells:
        pair = (
            read_coordinate(cells[ColumnKind.LATITUDE].text, "NS"),
            read_coordinate(cells[ColumnKind.LONGITUDE].text, "EW"),
        )
    if not pair or not pair[0] or not pair[1]:
        return {}
    return {"lat": pair[0].value, "lon": pair[1].value, "precision_deg": max(pair[0].half, pair[1].half)}


def find_winds(rows: list[Row]) -> Iterator[Wind]:
    """The winds of the table, one a leg, taken as true."""
    for row in rows:
        wind = read_wind(row.cells[ColumnKind.WIND].text) if row.word and ColumnKind.WIND in row.cells else None
        if wind:
            yield Wind(wind[0], wind[1], to=row.word)


def is_total(table: Table, kind: ColumnKind | None, text: str) -> bool:
    """Whether a cell of the row of totals states one that is compared."""
    return kind in _OF_TOTAL and table.read_figure(kind, text) is not None


def read_totals(table: Table, cells: tuple[Cell, ...]) -> PlanTotals | None:
    """What the row of totals states; None where there is none."""
    values: dict[str, Any] = {}
    halves: list[tuple[str, float]] = []
    for number, kind in table.kinds.items():
        name = _OF_TOTAL.get(kind)
        figure = table.read_figure(kind, cells[number].text) if name and number < len(cells) else None
        if name and figure and name not in values:
            values[name] = figure.value
            halves.append((name, figure.half))
    return PlanTotals(**values, halves=tuple(halves)) if values else None
