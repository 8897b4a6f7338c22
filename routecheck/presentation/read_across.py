"""A read-across as it goes on: which row is next, what a mark changes of the input, how far it has come."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.checks.read_across_rows import marks_by_row, read_across_rows, read_shown
from routecheck.formatting import count
from routecheck.model import Claim, PlanTotals, ReadAcross, ReadMark, half_digit

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

    from routecheck.checks.read_across_rows import ReadRow
    from routecheck.model import Route, RouteInput


def set_mark(given: RouteInput, rows: Sequence[ReadRow], number: int, mark: ReadMark | None) -> RouteInput:
    """The input with the mark of a row, None = it is to be read again. What was typed goes to the claims as well."""
    read = given.read_across or ReadAcross()
    row = rows[number]
    order = {one.text: index for index, one in enumerate(rows)}
    others = [one for one in read.marks if one.row != row.text]
    marks = sorted([*others, *([mark] if mark else [])], key=lambda one: order.get(one.row, -1))
    before = _without_figures(given, row, read.find(row.text))
    changed = _with_figures(before, rows, row, mark)
    return replace(changed, read_across=ReadAcross(tuple(marks)) if marks else None)


def end_read_across(given: RouteInput, by: str, now: dt.datetime) -> RouteInput:
    """The input with the initials of both and the time, UTC."""
    read = given.read_across or ReadAcross()
    return replace(given, read_across=replace(read, by=by.strip(), at=f"{now:%Y-%m-%dT%H:%M:%SZ}"))


def next_row(route: Route) -> int | None:
    """The first row that was not read, or reads otherwise by now; None where all were read."""
    return next((number for number, mark in enumerate(marks_by_row(route)) if mark is None), None)


def read_across_line(route: Route) -> str:
    """How far it has come, in one sentence; "" where nobody began."""
    read = route.route_input.read_across
    if read is None:
        return ""
    marks = marks_by_row(route)
    same = sum(mark is not None and mark.is_same for mark in marks)
    differ = sum(mark is not None and not mark.is_same for mark in marks)
    left = sum(mark is None for mark in marks)
    parts = [f"{same} of {count(len(marks), 'row')} the same"]
    parts += [f"{differ} differing"] if differ else []
    parts += [f"{left} not read"] if left else []
    who = f", by {read.by}" if read.by else ""
    when = f" at {read.at[:16].replace('T', ' ')} UTC" if read.at else ", not ended"
    return f"Read across: {', '.join(parts)}{who}{when}."


def rows_of(route: Route) -> tuple[ReadRow, ...]:
    """The rows to read."""
    return read_across_rows(route)


def _make_claim(row: ReadRow, mark: ReadMark | None) -> Claim | None:
    """What was typed for a row as a claim about its leg; None where it names another point or gives no figure."""
    shown = read_shown(mark.shown) if mark and not mark.is_same else None
    if shown is None or row.point is None or (shown.name and shown.name != row.name):
        return None
    if shown.course_deg is None and shown.distance_nm is None:
        return None
    half = shown.rounding_nm
    nm = shown.distance_nm
    halves = (("distance_nm", half),) if nm is not None and half != half_digit(nm) else ()
    return Claim(row.name, course_magnetic_deg=shown.course_deg, distance_nm=nm, halves=halves)


def _with_figures(given: RouteInput, rows: Sequence[ReadRow], row: ReadRow, mark: ReadMark | None) -> RouteInput:
    """Claims with that of the row in its place. What the plan states of the same point stays, and stands alone."""
    if row.point is None:
        return _with_total(given, mark)
    claim = _make_claim(row, mark)
    if claim is None or any(one.to == row.name for one in given.claims):
        return given
    places = {one.name: index for index, one in reversed(list(enumerate(rows)))}
    at = next((i for i, one in enumerate(given.claims) if places.get(one.to, -1) > row.point - 1), len(given.claims))
    return replace(given, claims=(*given.claims[:at], claim, *given.claims[at:]))


def _without_figures(given: RouteInput, row: ReadRow, mark: ReadMark | None) -> RouteInput:
    """The input without what an earlier mark of the row put into it."""
    if row.point is None:
        nm = read_shown(mark.shown).distance_nm if mark and not mark.is_same else None
        is_own = nm is not None and given.stated_totals == PlanTotals(distance_nm=nm)
        return replace(given, stated_totals=None) if is_own else given
    claim = _make_claim(row, mark)
    return replace(given, claims=tuple(one for one in given.claims if claim is None or one != claim))


def _with_total(given: RouteInput, mark: ReadMark | None) -> RouteInput:
    nm = read_shown(mark.shown).distance_nm if mark and not mark.is_same else None
    if nm is None or given.stated_totals is not None:
        return given
    return replace(given, stated_totals=PlanTotals(distance_nm=nm))
