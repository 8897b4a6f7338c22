"""The Leg table: one row a leg in route order, computed figures, planned level, claimed figures and the difference.

Columns that nothing is known for are left out. How it looks is not decided here.
"""

from __future__ import annotations

import csv
import io
from dataclasses import KW_ONLY
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.checks.claim_queries import match_claims
from routecheck.frozen_dataclass import dataclass
from routecheck.geometry.charted_courses import differing_charted_courses
from routecheck.model import Weight
from routecheck.performance.planned_profile import planned_altitudes
from routecheck.performance.speeds import filed_by_leg
from routecheck.performance.times import WindGiven
from routecheck.presentation.course_words import charted_words
from routecheck.presentation.leg_columns import ONLY_CSV, choose_columns
from routecheck.presentation.leg_entry import Column, LegEntry, escape_formula
from routecheck.presentation.selection import legs_of_finding
from routecheck.presentation.time_words import brief_time, known_times, time_sentence, times_basis, times_over
from routecheck.vertical.room import UNBOUNDED
from routecheck.vertical.transition import levels_along, levels_from_ft
from routecheck.vertical.windows import altitude_bounds

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import AltitudeWindow, Assessment, ChartedCourse, Claim, PathPoint, Route, Totals
    from routecheck.performance.times import Times

__all__ = ["Column", "LegRow", "LegTable", "claims_by_leg", "leg_csv", "leg_table"]


@dataclass(frozen=True, slots=True)
class LegRow:
    """One leg. `findings` are the indices of the findings about it, heaviest first; `weight` the heaviest, if any.

    `cells` are under the columns; `tip` says in words what they have no room for; `in_text` whether the text names the
    two ends, which else stand inside an airway or a procedure.
    """

    cells: tuple[str, ...]
    _: KW_ONLY
    findings: tuple[int, ...]
    weight: Weight | None
    tip: str
    is_gap: bool
    in_text: tuple[bool, bool] = (True, True)


@dataclass(frozen=True, slots=True)
class LegTable:
    """What the Leg table shows; `rows[i]` is leg i. `total` are cells under the columns, () where there is none.

    `basis` says between which ends the time runs and what it rests on, `brief` the same in a few words; "" where there
    is no time.
    """

    columns: tuple[Column, ...]
    rows: tuple[LegRow, ...]
    total: tuple[str, ...] = ()
    basis: str = ""
    brief: str = ""


def leg_table(assessment: Assessment) -> LegTable:
    """The table of an assessment; empty where nothing was typed or nothing could be read."""
    route = assessment.route
    if route.route_input.unread or not any(point.text for point in route.points):
        return LegTable((), ())
    times = known_times(route)
    legs = _leg_entries(route, times)
    found = choose_columns(legs)
    hidden = {"level"} if any(column.key == "planned_altitude_ft" for column, _ in found) else set()
    columns = [(column, cell) for column, cell in found if column.head and column.key not in hidden]
    about = _findings_by_leg(assessment)
    rows = (
        LegRow(
            cells=tuple(shown(one) for _, (shown, _) in columns),
            findings=about[i],
            weight=assessment.findings[about[i][0]].weight if about[i] else None,
            tip=_leg_tooltip(route, i, one.charted),
            is_gap=one.leg.distance_nm is None,
            in_text=one.in_text,
        )
        for i, one in enumerate(legs)
    )
    heads = tuple(column for column, _ in columns)
    basis, brief = (time_sentence(route, times), brief_time(times)) if times else ("", "")
    total = _total_cells(heads, legs, route.totals, times)
    return LegTable(heads, tuple(rows), total, basis, brief)


def leg_csv(assessment: Assessment) -> str:
    """The same as CSV with a header: plain numbers, units in the names of the columns."""
    route = assessment.route
    legs = [] if route.route_input.unread else _leg_entries(route, known_times(route))
    columns = [*choose_columns(legs), *ONLY_CSV]
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(column.key for column, _ in columns)
    for one in legs:
        writer.writerow(
            written(one) if column.figures else escape_formula(written(one)) for column, (_, written) in columns
        )
    return stream.getvalue()


def claims_by_leg(route: Route) -> list[Claim | None]:
    """For every leg the claim about its end, in route order; None where there is none."""
    found: list[Claim | None] = [None] * len(route.legs)
    for one in match_claims(route).legs:
        found[one.end - 1] = one.claim
    return found


def _leg_entries(route: Route, times: Times | None) -> list[LegEntry]:
    legs, total, is_open, minutes = [], 0.0, False, 0.0
    whole, gaps = sum(leg.distance_nm or 0.0 for leg in route.legs), [leg.distance_nm is None for leg in route.legs]
    last_gap = max((i for i, is_gap in enumerate(gaps) if is_gap), default=-1)
    planned = planned_altitudes(route)
    claims, levels = claims_by_leg(route), [level for _, level in filed_by_leg(route)]
    windows, named = altitude_bounds(route, fields=False), [_is_in_text(route, point) for point in route.points]
    levels_from = levels_along(route)
    over = times_over(route, times)
    basis, charted = times_basis(times) if times else "", differing_charted_courses(route)
    for i, leg in enumerate(route.legs):
        total += leg.distance_nm or 0.0
        is_open = is_open or leg.distance_nm is None
        time = times.legs[i] if times else None
        minutes += time.minutes if time else 0.0
        one = LegEntry(
            ends=(route.points[i].text, route.points[i + 1].text),
            in_text=(named[i], named[i + 1]),
            leg=leg,
            charted=charted[i],
            sum_nm=total,
            open_before=is_open,
            to_go_nm=max(whole - total, 0.0),
            open_after=i < last_gap,
            planned_ft=planned[i + 1],
            minima=route.minima[i] if route.minima else None,
            level="" if route.resolved.connections[leg.connection].procedure else levels[i],
            bounds=windows[i + 1],
            levels_from_ft=levels_from[i + 1],
            claim=claims[i],
            time=time,
            sum_min=minutes if time else None,
            over=over[i],
            wind_given=times is not None and times.wind is WindGiven.EVERYWHERE,
            basis=basis,
        )
        legs.append(one)
    return legs


def _is_in_text(route: Route, point: PathPoint) -> bool:
    """Whether the text or a field beside it names the point."""
    return point.route_point is not None and not route.resolved.route_points[point.route_point].implied


def _total_cells(
    columns: Sequence[Column], legs: Sequence[LegEntry], totals: Totals, times: Times | None
) -> tuple[str, ...]:
    if len(legs) < 2 or not legs[-1].sum_nm:
        return ()
    least = "≥ " if legs[-1].open_before else ""
    cells = {"from": "total", "distance_nm": f"{least}{formatting.column_nm(totals.least_nm)}"}
    if least:
        cells["to"] = "+ gaps"
    if times and times.minutes is not None:
        least = "≥ " if times.gaps else ""
        cells["time_min"] = f"{least}{formatting.duration(times.minutes)}"
        cells["fuel_about_kg"] = "" if times.fuel_kg is None else f"{least}{formatting.three_figures(times.fuel_kg)}"
    return tuple(cells.get(column.key, "") for column in columns)


def _findings_by_leg(assessment: Assessment) -> list[tuple[int, ...]]:
    about: list[list[int]] = [[] for _ in assessment.route.legs]
    heavy_first = sorted(enumerate(assessment.findings), key=lambda numbered: list(Weight).index(numbered[1].weight))
    for i, finding in heavy_first:
        for leg in legs_of_finding(assessment.route, finding):
            about[leg].append(i)
    return [tuple(findings) for findings in about]


def _leg_tooltip(route: Route, index: int, charted: ChartedCourse | None) -> str:
    """What the cells of a leg have no room for: why it is a gap, what is coded at its end and where."""
    leg, end = route.legs[index], route.points[index + 1]
    lines = []
    if leg.distance_nm is None:
        least = f" At least {formatting.nm(leg.least_nm)}." if leg.least_nm is not None else ""
        lines.append(f"Gap: {leg.gap or 'the path is not fixed here'}.{least}")
    if charted:
        words = charted_words(charted)
        lines.append(formatting.as_sentence(words))
    if end.procedure and not _is_in_text(route, end):
        lines.append(f"{end.text} is on {end.procedure}; the text does not name it.")
    windows = route.windows[index + 1] if route.windows else ()
    lines += [
        f"{end.text}: {_window_sentence(window, levels_from_ft(route, index + 1))}."
        for window in windows
        if _is_limit(window)
    ]
    lines += [f"At {end.text}: {end.note}."] if end.note else []
    return "\n".join(lines)


def _is_limit(window: AltitudeWindow) -> bool:
    return (window.low_ft, window.high_ft) != UNBOUNDED


def _window_sentence(window: AltitudeWindow, from_ft: float) -> str:
    by = f"coded by {window.procedure}" if window.procedure else "stated"
    return f"{formatting.altitudes_allowed(window.low_ft, window.high_ft, from_ft)}, {by}"
