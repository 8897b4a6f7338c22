"""What each column of a nav log is by the words of its head, and by what its cells look like."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.reading.nav_logs.column_kinds import ColumnKind
from routecheck.reading.nav_logs.values import read_coordinate, read_number, read_position, read_time, read_wind

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


# Words of the trade as they stand over columns; the narrower first. No program's own headings.
_SUM = r"(?:cum\w*|acc\w*|tot\w*|ttl|sum)"
_LEFT = r"(?:to go|left|rem\w*)"
_LENGTH = r"(?:dist\w*|nm)"
_TIME = r"(?:time|ete|eet)"
_TRACK = r"(?:course|crs|track|trk)"
_HEADS: tuple[tuple[ColumnKind, str], ...] = (
    (ColumnKind.DISTANCE_LEFT, rf"{_LENGTH} {_LEFT}|rem\w* {_LENGTH}|dtg"),
    (ColumnKind.DISTANCE_SO_FAR, rf"{_SUM} {_LENGTH}|{_LENGTH} (?:{_SUM}|so far)"),
    (ColumnKind.TIME_LEFT, rf"{_TIME} {_LEFT}|rem\w* {_TIME}"),
    (ColumnKind.TIME_SO_FAR, rf"{_SUM} {_TIME}|{_TIME} (?:{_SUM}|so far)|elapsed\w*"),
    (ColumnKind.FUEL_LEFT, rf"fuel (?:{_LEFT}|on board)|rem\w* fuel|fob"),
    (ColumnKind.FUEL, r"(?:leg )?fuel(?: used| burn\w*)?|burn(?: off)?"),
    (ColumnKind.POSITION, r"lat\w* ?[/ ] ?lon\w*|coord\w*|position|pos"),
    (ColumnKind.LATITUDE, r"lat\w*"),
    (ColumnKind.LONGITUDE, r"lon\w*"),
    (ColumnKind.COURSE_TRUE, rf"true {_TRACK}|{_TRACK} \(?°? ?t(?:rue)?\)?|tc|tt|°t"),
    (ColumnKind.COURSE_MAGNETIC, rf"mag\w* {_TRACK}|{_TRACK} \(?°? ?m(?:ag\w*)?\)?|mc|mt|°m"),
    (ColumnKind.COURSE, _TRACK),
    (ColumnKind.DISTANCE, r"(?:leg )?dist\w*|nm|leg|miles"),
    (ColumnKind.LEVEL, r"(?:flight )?level|fl|alt\w*"),
    (ColumnKind.WIND, r"wind\w*|w/?v"),
    (ColumnKind.GROUND_SPEED, r"gs|g/s|ground ?speed"),
    (ColumnKind.AIRSPEED, r"tas|true airspeed"),
    (ColumnKind.TIME, rf"(?:leg )?{_TIME}"),
    (ColumnKind.AIRWAY, r"airway|awy|via|route|ats route"),
    (ColumnKind.FROM, r"from"),
    (ColumnKind.FIX, r"fix\w*|(?:way)?points?|wpts?|ident\w*|to|name|id"),
    (ColumnKind.OTHER, r"et[ao]|at[ao]|[ea]td|actual|hdg|heading|[tmc]h|var\w*|dev\w*|oat|temp\w*|isa|freq\w*"),
    (ColumnKind.OTHER, r"mach|ias|no\.?|#|min\w*|mora|msa|mea|remarks?|notes?|flow|ff"),
)
_BY_HEAD = tuple((kind, re.compile(pattern, re.IGNORECASE)) for kind, pattern in _HEADS)
_UNIT = re.compile(
    r"[\[(]\s*(nm|km|kt|kts|kg|lbs?|min|h:mm|hh:mm|ft|deg)\s*[\])]|\s+(nm|km|kt|kg|lbs?)\.?$", re.IGNORECASE
)
_MOST_OF_CELLS = 0.7
_LEAST_FIGURES = 3
_FIX_CELL = re.compile(r"[A-Z]{2,5}|[A-Z]{3,5}\d[A-Z]?|\d{2,4}[NS]\d{3,5}[EW]|[A-Z]{3}\d{6}")
_WAYS_AND_UNITS = "DCT DIRECT SID STAR VIA NM KT KG LB MIN FIR"
_BESIDE_A_TABLE = (
    "ALTN ALTNS DEST DEP ARR ETD ETA EOBT STD STA BLOCK TRIP TAXI CONT RESV PAGE LOG PLAN DATE REG TO FROM"
)
_NO_FIXES = frozenset(f"{_WAYS_AND_UNITS} {_BESIDE_A_TABLE}".split())
_AIRWAY = re.compile(r"[UKS]?[A-Z]\d{1,3}[A-Z]?|DCT|DIRECT|[A-Z]{3,5}\d[A-Z]|SID|STAR|-+")
_LEVEL = re.compile(r"FL?\s?\d{2,3}|\d{4,5}\s*FT", re.IGNORECASE)
_COURSE_CELL = re.compile(r"[0-3]\d\d(?:\.\d)?\s*°?\s*[TM]?", re.IGNORECASE)


def kind_of_head(cell: str) -> ColumnKind | None:
    """What the words over a column say; None where they say nothing. No head has a digit, nearly all cells do."""
    if not cell or any(char.isdigit() for char in cell):
        return None
    bare = " ".join(_UNIT.sub("", cell).replace("_", " ").split()).strip(".:")
    return next((kind for kind, pattern in _BY_HEAD if pattern.fullmatch(bare)), None) if bare else None


def count_heads(cells: Sequence[str]) -> int:
    """How many cells or words of a line read like heads of columns, alone or two together."""
    count = at = 0
    while at < len(cells):
        together = next((n for n in (2, 1) if kind_of_head(" ".join(cells[at : at + n]))), 0)
        count += together
        at += together or 1
    return count


def is_fix(text: str) -> bool:
    """Whether a cell may be a point; words for the way to one are none."""
    text = text.upper()
    return bool(_FIX_CELL.fullmatch(text) and text not in _NO_FIXES) or is_place_on_the_way(text)


def is_beside_a_table(text: str) -> bool:
    """Whether a word begins a line about the flight rather than one of its rows: ALTN, ETD …"""
    return text.upper().rstrip(":") in _BESIDE_A_TABLE.split()


def is_airway(text: str) -> bool:
    """Whether a cell may be the way to a point."""
    return bool(_AIRWAY.fullmatch(text.upper()))


def is_place_on_the_way(text: str) -> bool:
    """Whether a cell names the top of a climb or descent, which no route text has."""
    return bool(re.fullmatch(r"[-*<( ]*(?:T/?[OP]?/?[CD]|TOP OF (?:CLIMB|DESCENT))[-*>) ]*", text.upper()))


def guess_kinds(columns: Sequence[Sequence[str]], known: dict[int, ColumnKind]) -> dict[int, ColumnKind]:
    """What the columns are that nothing has named yet, by their cells. What fits nothing is left out."""
    found = dict(known)
    for number, cells in enumerate(columns):
        filled = [cell.upper() for cell in cells if cell]
        if number in found or not filled:
            continue
        for kind, looks_so in _BY_CELLS:
            fitting = sum(bool(looks_so(cell)) for cell in filled)
            if fitting >= _MOST_OF_CELLS * len(filled) and (kind not in found.values()):
                found[number] = kind
                break
    return _guess_figures(columns, found)


_BY_CELLS: tuple[tuple[ColumnKind, Callable[[str], object]], ...] = (
    (ColumnKind.POSITION, read_position),
    (ColumnKind.LATITUDE, lambda cell: cell[:1].isascii() and _has_letter(cell, "NS") and read_coordinate(cell, "NS")),
    (ColumnKind.LONGITUDE, lambda cell: _has_letter(cell, "EW") and read_coordinate(cell, "EW")),
    (ColumnKind.LEVEL, _LEVEL.fullmatch),
    (ColumnKind.WIND, lambda cell: "/" in cell and read_wind(cell)),
    (ColumnKind.AIRWAY, _AIRWAY.fullmatch),
    (ColumnKind.FIX, _FIX_CELL.fullmatch),
    (ColumnKind.COURSE_TRUE, lambda cell: cell.endswith("T") and _COURSE_CELL.fullmatch(cell)),
    (ColumnKind.COURSE_MAGNETIC, lambda cell: cell.endswith("M") and _COURSE_CELL.fullmatch(cell)),
)


def _has_letter(cell: str, letters: str) -> bool:
    return cell[:1] in letters or cell[-1:] in letters


def _guess_figures(columns: Sequence[Sequence[str]], found: dict[int, ColumnKind]) -> dict[int, ColumnKind]:
    """Columns of figures that nothing names: the running sum, or what is left, of another one."""
    for read, leg, so_far, left in (
        (_read_length, ColumnKind.DISTANCE, ColumnKind.DISTANCE_SO_FAR, ColumnKind.DISTANCE_LEFT),
        (_read_clock, ColumnKind.TIME, ColumnKind.TIME_SO_FAR, ColumnKind.TIME_LEFT),
        (_read_length, ColumnKind.FUEL, None, ColumnKind.FUEL_LEFT),
    ):
        figures: dict[int, list[float | None]] = {}
        for number, cells in enumerate(columns):
            values = [read(cell) for cell in cells]
            if found.get(number, leg) is leg and len(values) - values.count(None) >= _LEAST_FIGURES:
                figures[number] = values
        for one, steps in figures.items():
            may_be_leg = found.get(one) is leg or (leg not in found.values() and so_far is not None)
            for other, sums in figures.items():
                kind = {1: so_far, -1: left}.get(_find_sign(steps, sums)) if may_be_leg else None
                if kind is left and so_far is not None and not _ends_at_nothing(sums):
                    continue
                if one != other and other not in found and kind and kind not in found.values():
                    found |= {one: leg, other: kind}
    return found


def _read_length(cell: str) -> float | None:
    figure = read_number(cell)
    return figure.value if figure else None


def _read_clock(cell: str) -> float | None:
    figure = read_time(cell.replace(".", ":")) if re.search(r"\d[:.+h]\d\d", cell) else None
    return figure.value if figure else None


def _ends_at_nothing(figures: Sequence[float | None]) -> bool:
    """Whether nothing is left at the last row: of distance and time, while of fuel there always is."""
    known = [figure for figure in figures if figure is not None]
    return bool(known) and abs(known[-1]) <= _NEAR


_NEAR, _NEAR_SHARE = 1.5, 0.002
"""By how much a sum may be off by rounding (our choice)."""


def _find_sign(steps: Sequence[float | None], sums: Sequence[float | None]) -> int:
    """1 where one column is the running sum of the other, -1 where it is what is left, 0 where neither."""
    for sign in (1, -1):
        fitting = [
            abs(then + sign * step - now) <= _NEAR + _NEAR_SHARE * abs(now)
            for step, then, now in zip(steps[1:], sums, sums[1:], strict=False)
            if step is not None and then is not None and now is not None and step > 0
        ]
        if sum(fitting) >= max(2, _MOST_OF_CELLS * len(fitting)):  # the plan's own slip must not hide what it is
            return sign
    return 0
