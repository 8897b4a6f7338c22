"""The rows of a read-across: point by point what stands here, the total last; which were read, and what they showed."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import allowed_altitudes
from routecheck.checks.per_route_cache import cached_per_route
from routecheck.formatting import altitudes_allowed, column_nm, course, short
from routecheck.frozen_dataclass import dataclass
from routecheck.model import ReadAcross
from routecheck.vertical.transition import levels_from_ft

if TYPE_CHECKING:
    from routecheck.model import ReadMark, Route


@dataclass(frozen=True, slots=True)
class ReadRow:
    """One row in the words in which it is read out; `point` indexes Route.points, None = the total."""

    point: int | None
    name: str
    course: str
    distance: str
    window: str = ""

    @property
    def text(self) -> str:
        """All of it in one line: a row that reads otherwise by now is another one."""
        return " ".join(filter(None, (self.name, self.course, self.distance, self.window)))


@dataclass(frozen=True, slots=True)
class ShownFigures:
    """What was typed of the other display, as far as it can be told apart."""

    name: str
    course_deg: float | None
    distance_nm: float | None
    rounding_nm: float


@cached_per_route
def read_across_rows(route: Route) -> tuple[ReadRow, ...]:
    """Every point behind the departure with the leg to it, and the total."""
    allowed = allowed_altitudes(route)
    rows = []
    for index, leg in enumerate(route.legs, start=1):
        has_window = index < len(allowed) and allowed[index] != (None, None)
        window = altitudes_allowed(*allowed[index], levels_from_ft(route, index)) if has_window else ""
        true = course(leg.course_true_deg, "T")
        distance = "no fixed length" if leg.distance_nm is None else f"{column_nm(leg.distance_nm)} NM"
        name = short(route.points[index].text)
        rows.append(ReadRow(index, name, course(leg.course_magnetic_deg, "M") or true, distance, window))
    totals = route.totals
    least = "at least " if totals.gaps else ""
    rows.append(ReadRow(None, "total", "", f"{least}{column_nm(totals.distance_nm)} NM"))
    return tuple(rows)


def marks_by_row(route: Route) -> list[ReadMark | None]:
    """For every row its mark; None where it was not read, or reads otherwise by now."""
    read = route.route_input.read_across or ReadAcross()
    return [read.find(row.text) for row in read_across_rows(route)]


def is_read_same(route: Route, first: int, last: int) -> bool:
    """Whether every leg from one point to another was read, and found the same."""
    if route.route_input.read_across is None:
        return False
    marks = marks_by_row(route)[first:last]
    return bool(marks) and all(mark is not None and mark.is_same for mark in marks)


_COURSE, _NUMBER = re.compile(r"\d{3}°?[MT]?"), re.compile(r"(\d{1,5})(?:\.(\d))?(?:NM)?")


def read_shown(text: str) -> ShownFigures:
    """What was typed for a row: a name, a course in three digits, a distance: "PIKOR 097 196.6"."""
    name, degrees, nm, rounding = "", None, None, 0.5
    for word in text.upper().replace(" NM", "NM").split():
        if not name and word[0].isalpha():
            name = word
        elif degrees is None and nm is None and _COURSE.fullmatch(word):
            degrees = float(word[:3])
        elif nm is None and (number := _NUMBER.fullmatch(word)):
            nm = float(f"{number[1]}.{number[2] or 0}")
            rounding = 0.05 if number[2] else 0.5
    if degrees is not None and (degrees > 360.0 or (nm is None and not name)):
        degrees, nm = None, degrees if nm is None else nm
    return ShownFigures(name, degrees, nm, rounding)
