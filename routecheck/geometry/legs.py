"""The only place where distance, course and turn are computed: for a whole batch of routes in one array call.

Every total is added up a second time by another method; a difference over a metre is our fault and is shown.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import chain, groupby, pairwise
from typing import TYPE_CHECKING

import numpy as np

from routecheck.earth import geo, vincenty
from routecheck.formatting import listing
from routecheck.geometry.columns import Columns, column_to_list
from routecheck.geometry.path import UnplacedRun, lay_out_path
from routecheck.geometry.turns import Courses, compute_turns, find_turning_points
from routecheck.model import Leg, Route, Stretch, Totals, WordKind
from routecheck.vertical.windows import add_coded_windows, assign_windows

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterator, Mapping, Sequence

    from routecheck.arrays import Floats, Indices
    from routecheck.geometry.path import Path
    from routecheck.model import AltitudeWindow, PathPoint, ResolvedRoute
    from routecheck.navdata.database import NavDatabase

_ONE_METRE_NM = 1.0 / geo.METRES_PER_NM
_ARC_SHARE = 0.001
_UnplacedRuns = list[tuple[UnplacedRun, float | None]]
"""Runs of unplaced points, each with the geodesic between the placed ones around it, NM."""


def compute_routes(
    resolved: Sequence[ResolvedRoute], dates: Sequence[dt.date], database: NavDatabase | None = None
) -> list[Route]:
    """Compute points, legs, turns and totals of a batch of routes. The result of each does not depend on the others.

    `database` tells the variation of a place that has none itself, on days that the magnetic model does not cover.
    """
    if not resolved:
        return []
    paths = [lay_out_path(route) for route in resolved]
    columns = Columns(paths, dates, database)
    turning_points = find_turning_points(columns)
    to_measure = np.flatnonzero(columns.both_placed & ~columns.has_figures)
    legs_measured, past_turns, end_to_end, around_unplaced = columns.geodesics(
        (columns.start[to_measure], columns.end[to_measure]),
        turning_points.past,
        (columns.first_point[:-1], columns.first_point[1:] - 1),
        _unplaced_run_ends(paths, columns),
    )
    legs, courses = _make_legs(columns, _leg_figures(columns, to_measure, legs_measured), paths)
    turns = compute_turns(columns, turning_points, past_turns, courses)
    second_lengths = _second_lengths_nm(columns, legs, courses.distance)
    direct_nm, least_nm = _nan_to_none(end_to_end[2]), iter(_nan_to_none(around_unplaced[2]))
    routes = []
    for r, (begin, end) in enumerate(pairwise(columns.first_leg.tolist())):
        points, legs_here = tuple(paths[r].points), tuple(legs[begin:end])
        around = [(run, next(least_nm)) for run in paths[r].unplaced]
        totals = _make_totals(points, legs_here, direct_nm[r], around, resolved[r])
        routes.append(
            Route(
                resolved[r],
                points=points,
                legs=legs_here,
                turns=tuple(turns[begin + r : end + r + 1]),
                totals=totals,
                date=dates[r],
                windows=_altitude_windows(resolved[r], paths[r]),
                own_mistakes=_differing_totals(totals, sum(second_lengths[begin:end])),
            )
        )
    return routes


def _unplaced_run_ends(paths: Sequence[Path], columns: Columns) -> tuple[Indices, Indices]:
    """The ends of all runs of unplaced points by their numbers in the batch."""
    begins = columns.first_point.tolist()
    pairs = [(begin + i, begin + j) for begin, path in zip(begins, paths, strict=False) for i, j in path.unplaced]
    table = np.array(pairs, dtype=np.intp).reshape(-1, 2)
    return table[:, 0], table[:, 1]


def _nan_to_none(column: Floats) -> list[float | None]:
    return column_to_list(column, ~np.isnan(column))


def _leg_figures(columns: Columns, measured: Indices, geodesics: Floats) -> Floats:
    """The figures of all legs, shape (3, n): geodesics, and what the legs of procedures bring with them."""
    figures = np.full((3, len(columns.start)), np.nan)
    figures[:, measured] = geodesics
    own = np.flatnonzero(columns.has_figures)
    brought = [columns.coded_legs[number] for number in own.tolist()]
    figures[0, own] = [coded.course_deg or 0.0 for coded in brought]
    figures[1, own] = [coded.end_course_deg or 0.0 for coded in brought]
    figures[2, own] = [coded.distance_nm for coded in brought]
    return figures


def _make_legs(columns: Columns, figures: Floats, paths: Sequence[Path]) -> tuple[list[Leg], Courses]:
    """All legs of a batch, and the courses and lengths of those that are fixed. On one spot there is no course."""
    course, end_course, distance = figures
    known = ~np.isnan(distance) & ~columns.mark_legs(columns.gaps)
    shaped = columns.mark_legs(i for i, coded in columns.coded_legs.items() if coded.shape)
    still = known & columns.on_one_spot & ~shaped
    distance[still] = 0.0
    flown = known & ~still
    sources = columns.sources[columns.start]
    sources[~flown] = None
    variation, end_variation = columns.variation[columns.start], columns.variation[columns.end]
    fields = {
        "via": chain.from_iterable(path.vias for path in paths),
        "connection": chain.from_iterable(path.connections for path in paths),
        "distance_nm": column_to_list(distance, known),
        "course_true_deg": column_to_list(course, flown),
        "end_course_true_deg": column_to_list(end_course, flown),
        "course_magnetic_deg": column_to_list((course - variation) % 360.0, flown & ~np.isnan(variation)),
        "end_course_magnetic_deg": column_to_list(
            (end_course - end_variation) % 360.0, flown & ~np.isnan(end_variation)
        ),
        "variation_from": sources.tolist(),
        "least_nm": _nan_to_none(distance),
        "gap": [columns.gaps.get(leg, "") for leg in range(len(known))],
        "is_open_by_design": columns.mark_legs(columns.open_by_design).tolist(),
    }
    legs = [Leg(**dict(zip(fields, figures, strict=True))) for figures in zip(*fields.values(), strict=True)]
    for number, coded in columns.coded_legs.items():
        legs[number] = replace(legs[number], shape=coded.shape, most_kt=coded.most_kt, least_kt=coded.least_kt)
    course[~flown] = end_course[~flown] = distance[~known] = np.nan
    return legs, Courses(course, end_course, distance)


def _altitude_windows(resolved: ResolvedRoute, path: Path) -> tuple[tuple[AltitudeWindow, ...], ...]:
    typed = assign_windows(resolved.parsed.route_input.windows, path.points)
    if not path.windows:
        return typed
    return add_coded_windows(typed, [path.windows.get(index, ()) for index in range(len(path.points))])


def _make_totals(
    points: Sequence[PathPoint],
    legs: Sequence[Leg],
    direct_nm: float | None,
    around: _UnplacedRuns,
    resolved: ResolvedRoute,
) -> Totals:
    lengths = [leg.distance_nm for leg in legs if leg.distance_nm is not None]
    known, gaps = sum(lengths), len(legs) - len(lengths)
    stretches = _unchecked_stretches(points, legs, around) if gaps or around else ()
    least = [s.least_nm for s in stretches]
    whole = None if None in least else known + sum(nm for nm in least if nm is not None)
    taken = (*_stretches_taken(points, legs), *_straight_stretches(legs, _straight_names(resolved, legs)))
    return Totals(
        distance_nm=known,
        direct_nm=direct_nm,
        gaps=gaps,
        checked_nm=max(known - sum(stretch.least_nm or 0.0 for stretch in taken), 0.0) if taken else known,
        whole_nm=whole,
        not_checked=tuple(sorted((*stretches, *taken), key=lambda stretch: stretch.first)) if taken else stretches,
        unread=sum(word.kind is WordKind.UNREAD or bool(word.bad) for word in resolved.parsed.words),
    )


def _stretches_taken(points: Sequence[PathPoint], legs: Sequence[Leg]) -> Iterator[Stretch]:
    """The legs to and from positions that no form of Item 15 gives: measured, but what was meant is not sure."""
    meant = [f"{point.text} is taken for {point.taken_for}" if point.taken_for else "" for point in points]
    beside = (i for i, leg in enumerate(legs) if leg.distance_nm is not None and (meant[i] or meant[i + 1]))
    for _, run in groupby(enumerate(beside), key=lambda pair: pair[1] - pair[0]):
        numbers = [leg for _, leg in run]
        first, last = numbers[0], numbers[-1] + 1
        length = sum(legs[i].distance_nm or 0.0 for i in numbers)
        yield Stretch(first, last, length, "; ".join(filter(None, meant[first : last + 1])), is_measured=True)


def _straight_names(resolved: ResolvedRoute, legs: Sequence[Leg]) -> dict[int, str]:
    """The legs that are measured straight between positions of the plan, with the airway or procedure not known."""
    connections = resolved.connections
    return {
        i: connections[leg.connection].name
        for i, leg in enumerate(legs)
        if connections[leg.connection].is_straight and connections[leg.connection].fault
    }


def _straight_stretches(legs: Sequence[Leg], straight: Mapping[int, str]) -> Iterator[Stretch]:
    for _, run in groupby(enumerate(straight), key=lambda pair: pair[1] - pair[0]):
        numbers = [leg for _, leg in run]
        length = sum(legs[i].distance_nm or 0.0 for i in numbers)
        names = listing(list(dict.fromkeys(straight[i] for i in numbers)))
        because = f"measured straight between positions of the plan, without data of {names}"
        yield Stretch(numbers[0], numbers[-1] + 1, length, because, is_measured=True)


def _unchecked_stretches(
    points: Sequence[PathPoint], legs: Sequence[Leg], around: _UnplacedRuns
) -> tuple[Stretch, ...]:
    """The parts of the route that have no known path, from placed point to placed point."""
    found = []
    covered: set[int] = set()
    for (first, last), least_nm in around:
        because = "; ".join(dict.fromkeys(p.why for p in points[first : last + 1] if p.place is None))
        found.append(Stretch(first, last, least_nm, because))
        covered.update(range(first, last))
    for i, leg in enumerate(legs):
        if leg.distance_nm is None and i not in covered:
            found.append(Stretch(i, i + 1, leg.least_nm, leg.gap, is_open_by_design=leg.is_open_by_design))
    return tuple(sorted(found, key=lambda stretch: stretch.first))


def _second_lengths_nm(columns: Columns, legs: Sequence[Leg], lengths: Floats) -> list[float]:
    """The length of every leg by the second reader; 0 where it has none."""
    again = np.zeros(len(legs))
    arcs = [i for i, coded in columns.coded_legs.items() if coded.shape]
    plain = np.flatnonzero(columns.both_placed & ~np.isnan(lengths) & ~columns.mark_legs(arcs))
    starts, ends = columns.start[plain], columns.end[plain]
    once, answers = columns.distinct_pairs(starts, ends)
    four = (column[side[once]] for side in (starts, ends) for column in (columns.lat, columns.lon))
    again[plain] = vincenty.distances_nm(*four)[answers]
    for i in arcs:
        again[i] = _second_arc_length_nm(legs[i])
    return again.tolist()


def _second_arc_length_nm(leg: Leg) -> float:
    """The length of an arc, if the second reader agrees on its chords, else these."""
    if leg.distance_nm is None:
        return 0.0
    lat, lon = np.array(leg.shape).T
    chords = float(vincenty.distances_nm(lat[:-1], lon[:-1], lat[1:], lon[1:]).sum())
    # An arc in steps of at most 5 degrees is longer than its chords by at most 0.04 %.
    return leg.distance_nm if abs(chords / leg.distance_nm - 1.0) < _ARC_SHARE else chords


def _differing_totals(totals: Totals, again: float) -> tuple[str, ...]:
    """What the two computations of the total say where they differ by more than a metre."""
    if abs(again - totals.distance_nm) <= _ONE_METRE_NM:
        return ()
    return (f"two computations of the total differ: {totals.distance_nm:.6f} and {again:.6f} NM",)
