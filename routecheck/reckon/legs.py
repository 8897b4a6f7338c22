"""The only place where distance, course and turn are computed: for a whole batch of routes in one array call.

Every total is added up a second time with another library; a difference over a metre is our fault and is shown.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from routecheck.earth import geo, magnetic
from routecheck.model import Joint, Leg, Point, Route, Stretch, Totals
from routecheck.model.value import value
from routecheck.reckon.path import Path, unroll
from routecheck.reckon.radials import variation_at
from routecheck.reckon.windows import placed, with_coded
from routecheck.wording import short

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

    from routecheck.model import PathLeg, Place, ResolvedRoute, VariationFrom

_ONE_METRE_NM = 1.0 / geo.METRES_PER_NM
_ARC_SHARE = 0.001
Figures = tuple[float, float, float]
"""(course, end course, distance): degrees, degrees, NM."""


@dataclass(slots=True)
class _Pairs:
    """The geodesics a batch asks for, computed together: `ask` first, `answer`, then `figures[number]`."""

    numbers: list[float] = field(default_factory=list)
    figures: list[Figures] = field(default_factory=list)

    def ask(self, a: Place | None, b: Place | None) -> int | None:
        """Put down one geodesic and get its number; None where an end is not placed."""
        if a is None or b is None:
            return None
        self.numbers += (a.lat, a.lon, b.lat, b.lon)
        return len(self.numbers) // 4 - 1

    def answer(self) -> None:
        """Compute all geodesics asked for in one call."""
        table = np.array(self.numbers, dtype=np.float64).reshape(-1, 4)
        columns = geo.inverse_many(table[:, 0], table[:, 1], table[:, 2], table[:, 3])
        self.figures = list(zip(*(column.tolist() for column in columns), strict=True))

    def of(self, number: int | None) -> Figures | None:
        """The figures of one geodesic asked for."""
        return None if number is None else self.figures[number]


_Variation = tuple[float, "VariationFrom"]


@dataclass(slots=True)
class _Compass:
    """The magnetic variations of a batch, asked once for each place and day.

    A place is told by identity, which is safe while the routes of the batch hold it.
    """

    known: dict[tuple[int, dt.date], _Variation | None] = field(default_factory=dict)

    def at(self, place: Place | None, date: dt.date) -> _Variation | None:
        """The variation and what it rests on; None where nobody says it or a compass is of no use."""
        if place is None:
            return None
        key = id(place), date
        if key not in self.known:
            no_use = magnetic.compass_of_no_use(place.lat, place.lon, date)
            self.known[key] = None if no_use else variation_at(place, date)
        return self.known[key]


@value
class _Asked:
    """What one route asked for: its legs, the geodesics past each point, direct, and around unplaced points.

    `onward[i]` is the point to which the route leads on from point i: the next that lies elsewhere.
    """

    path: Path
    legs: list[int | None]
    past: list[int | None]
    onward: list[int | None]
    direct: int | None
    around: dict[tuple[int, int], int | None]


def reckon(resolved: Sequence[ResolvedRoute], dates: Sequence[dt.date]) -> list[Route]:
    """Points, legs, turns and totals of a batch of routes. The result of each does not depend on the others."""
    pairs = _Pairs()
    asked = [_ask(route, pairs) for route in resolved]
    pairs.answer()
    compass = _Compass()
    return [_route(r, date, a, pairs, compass) for r, date, a in zip(resolved, dates, asked, strict=True)]


def _ask(resolved: ResolvedRoute, pairs: _Pairs) -> _Asked:
    path = unroll(resolved)
    places = [point.place for point in path.points]
    has = [coded is not None and coded.distance_nm is not None for coded in path.fixed]
    legs = [None if own else pairs.ask(*ends) for own, ends in zip(has, itertools.pairwise(places), strict=True)]
    fixed = [own or (leg is not None and not gap) for own, leg, gap in zip(has, legs, path.gaps, strict=True)]
    past: list[int | None] = [None] * len(places)
    onward = _onward(places, fixed)
    for i in range(1, len(places) - 1):
        following = onward[i]
        inside = path.fixed[i - 1] and path.fixed[i]  # within a procedure the data is believed
        if fixed[i - 1] and following is not None and not inside:
            past[i] = pairs.ask(places[i - 1], places[following])
    around = {ends: pairs.ask(places[ends[0]], places[ends[1]]) for ends in _unplaced_runs(places)}
    return _Asked(path, legs, past, onward, pairs.ask(places[0], places[-1]), around)


def _onward(places: Sequence[Place | None], fixed: Sequence[bool]) -> list[int | None]:
    """For every point the next one that lies elsewhere (else the last); None where no fixed path leads there."""
    onward: list[int | None] = [None] * len(places)
    onward[-1] = len(places) - 1
    for i in range(len(places) - 2, -1, -1):
        if fixed[i]:
            onward[i] = onward[i + 1] if _coincide(places[i], places[i + 1]) else i + 1
    return onward


def _coincide(a: Place | None, b: Place | None) -> bool:
    """Whether two places are one position, so that there is no course between them."""
    return a is not None and b is not None and (a.lat, a.lon) == (b.lat, b.lon)


def _unplaced_runs(places: list[Place | None]) -> list[tuple[int, int]]:
    """For every run of unplaced points the indices of the placed ones around it (or of the end of the route)."""
    runs = []
    start = 0
    for i, place in enumerate(places):
        if place is not None or i == len(places) - 1:
            if i - start > 1 or (i > start and (place is None or places[start] is None)):
                runs.append((start, i))
            start = i
    return runs


def _route(resolved: ResolvedRoute, date: dt.date, asked: _Asked, pairs: _Pairs, compass: _Compass) -> Route:
    points = tuple(asked.path.points)
    variations = [compass.at(point.place, date) for point in points]
    legs = tuple([_leg(points, i, asked, pairs, variations) for i in range(len(points) - 1)])
    numbers = enumerate(asked.past)
    joints = tuple([_joint(points, i, asked.onward[i], legs, pairs.of(number)) for i, number in numbers])
    totals = _totals(points, legs, asked, pairs)
    faults = tuple(filter(None, [_second_reading(points, legs, totals)]))
    windows = with_coded(placed(resolved.parsed.entry.windows, points), asked.path.windows)
    return Route(resolved, points, legs, joints, totals, date, windows=windows, faults=faults)


def _leg(points: Sequence[Point], i: int, asked: _Asked, pairs: _Pairs, variations: Sequence[_Variation | None]) -> Leg:
    path, coded = asked.path, asked.path.fixed[i]
    joined = (path.vias[i], path.links[i])
    shape, most_kt, least_kt = (coded.shape, coded.most_kt, coded.least_kt) if coded else ((), None, None)
    figures = _own(coded) or pairs.of(asked.legs[i])
    start, end = points[i].place, points[i + 1].place
    gap = path.gaps[i] or ("" if start and end else _unplaced_reason(points[i], points[i + 1]))
    if figures is None or gap:
        least = figures[2] if figures else None
        return Leg(*joined, None, None, None, None, None, None, least, gap, shape, most_kt, least_kt)
    course, end_course, distance = figures
    if _coincide(start, end) and not shape:
        return Leg(*joined, 0.0, None, None, None, None, None, 0.0, "", shape, most_kt, least_kt)
    compass, source = _magnetic(course, variations[i])
    end_compass, _ = _magnetic(end_course, variations[i + 1])
    return Leg(
        *joined, distance, course, end_course, compass, end_compass, source, distance, "", shape, most_kt, least_kt
    )


def _own(coded: PathLeg | None) -> Figures | None:
    """The figures that a leg of a procedure brings with it."""
    if coded is None or coded.distance_nm is None:
        return None
    return coded.course_deg or 0.0, coded.end_course_deg or 0.0, coded.distance_nm


def _unplaced_reason(*ends: Point) -> str:
    return ", ".join(_said(end) for end in ends if end.place is None)


def _said(point: Point) -> str:
    return f"{short(point.text)}: {point.why}" if point.text and not point.why.startswith(point.text) else point.why


def _magnetic(course: float, variation: _Variation | None) -> tuple[float | None, VariationFrom | None]:
    """The magnetic course and what it rests on."""
    return (None, None) if variation is None else ((course - variation[0]) % 360.0, variation[1])


def _joint(
    points: Sequence[Point], i: int, onward: int | None, legs: Sequence[Leg], past: Figures | None
) -> Joint | None:
    """The turn at a point. Of points on one spot the first has it and the others have none: no leg, no course."""
    if past is None or onward is None:
        return None
    before, after = legs[i - 1], legs[onward - 1]
    if before.distance_nm is None or after.distance_nm is None:
        return None
    last_stop = points[-1].stop or 0
    ends = i in (1, len(legs) - 1) or points[i].stop in (1, last_stop - 1)
    if before.end_course_true_deg is None or after.course_true_deg is None:
        return Joint(0.0, 0.0, 0.0, 0.0, ends)
    turn = geo.wrap180(after.course_true_deg - before.end_course_true_deg)
    detour = max(0.0, before.distance_nm + after.distance_nm - past[2])
    share = detour / past[2] if past[2] > 0 else float("inf")
    return Joint(turn, detour, share, detour * abs(turn) / 90.0 / (3.0 if ends else 1.0), ends)


def _totals(points: Sequence[Point], legs: Sequence[Leg], asked: _Asked, pairs: _Pairs) -> Totals:
    known = sum(leg.distance_nm for leg in legs if leg.distance_nm is not None)
    direct = pairs.of(asked.direct)
    stretches = tuple(_stretches(points, legs, asked, pairs))
    least = [s.least_nm for s in stretches]
    whole = None if None in least else known + sum(nm for nm in least if nm is not None)
    gaps = sum(leg.distance_nm is None for leg in legs)
    return Totals(known, direct[2] if direct else None, gaps, known, whole, stretches)


def _stretches(points: Sequence[Point], legs: Sequence[Leg], asked: _Asked, pairs: _Pairs) -> list[Stretch]:
    """The parts of the route that have no known path, from placed point to placed point."""
    found = []
    covered: set[int] = set()
    for (first, last), number in asked.around.items():
        figures = pairs.of(number)
        because = "; ".join(dict.fromkeys(_said(p) for p in points[first : last + 1] if p.place is None))
        found.append(Stretch(first, last, figures[2] if figures else None, because))
        covered.update(range(first, last))
    for i, leg in enumerate(legs):
        if leg.distance_nm is None and i not in covered:
            found.append(Stretch(i, i + 1, leg.least_nm, leg.gap))
    return sorted(found, key=lambda stretch: stretch.first)


def _second_reading(points: Sequence[Point], legs: Sequence[Leg], totals: Totals) -> str:
    """Add the route up again with the other library; what it says if the two differ by more than a metre."""
    again = 0.0
    for i, leg in enumerate(legs):
        start, end = points[i].place, points[i + 1].place
        if leg.shape and leg.distance_nm is not None:
            chords = sum(geo.second_distance_nm(*a, *b) for a, b in itertools.pairwise(leg.shape))
            # An arc in steps of at most 5 degrees is longer than its chords by at most 0.04 %.
            again += leg.distance_nm if abs(chords / leg.distance_nm - 1.0) < _ARC_SHARE else chords
        elif leg.distance_nm is not None and start and end:
            again += geo.second_distance_nm(start.lat, start.lon, end.lat, end.lon)
    if abs(again - totals.distance_nm) <= _ONE_METRE_NM:
        return ""
    return f"two computations of the total differ: {totals.distance_nm:.6f} and {again:.6f} NM"
