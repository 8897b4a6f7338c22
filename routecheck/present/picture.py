"""The Picture as plain values: projected legs, points, names and marks in NM of the plane. No Qt and no colours."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from routecheck import wording
from routecheck.earth import geo
from routecheck.model import PlaceKind, Weight
from routecheck.present.graticule import joined
from routecheck.present.outline import COARSE, FINE, islands, outline
from routecheck.present.picks import legs_about, marked_points
from routecheck.present.projection import Projection, centred_on

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.model import Assessment, Leg, Place, Point, Route
    from routecheck.present.graticule import Box
    from routecheck.present.projection import Floats

_STEP_NM = 100.0
_LEAP_NM = 20 * _STEP_NM
_LEAST_BOX_NM = 40.0
FINE_REACH_NM = 3000.0
"""How far from the centre the fine coast goes; a view beyond takes the coarse one."""
_COARSE_REACH_NM = 9000.0
_STUB = 0.2
"""Share of a gap that is drawn at each of its ends."""


class Symbol(StrEnum):
    """The shape drawn at a point, after ICAO Annex 4 where it has one."""

    TRIANGLE = "triangle"
    HEXAGON = "hexagon"
    HEXAGON_IN_SQUARE = "hexagon in a square"
    SQUARE = "square"
    DOTTED_CIRCLE = "dotted circle"
    AIRPORT = "circle with a line"
    DOT = "dot"


SYMBOLS = {
    PlaceKind.FIX: Symbol.TRIANGLE,
    PlaceKind.TERMINAL_FIX: Symbol.TRIANGLE,
    PlaceKind.VOR: Symbol.HEXAGON,
    PlaceKind.VOR_DME: Symbol.HEXAGON_IN_SQUARE,
    PlaceKind.DME: Symbol.SQUARE,
    PlaceKind.NDB: Symbol.DOTTED_CIRCLE,
    PlaceKind.AIRPORT: Symbol.AIRPORT,
    PlaceKind.TYPED: Symbol.DOT,
    PlaceKind.COMPUTED: Symbol.DOT,
}


@dataclass(frozen=True, slots=True)
class DrawnPoint:
    """A placed point of the path: `index` into Route.points; `minor` = inside an airway, not named by the text."""

    index: int
    x: float
    y: float
    symbol: Symbol
    name: str
    minor: bool
    hint: str


@dataclass(frozen=True, slots=True)
class DrawnLeg:
    """A leg to the next placed point. `curve`: shape (n, 2), NM; a gap's has NaN in its middle and is no path."""

    index: int
    curve: Floats
    weight: Weight | None
    is_gap: bool
    figures: str
    hint: str


@dataclass(frozen=True, slots=True)
class Mark:
    """The mark of a finding on the spot; `index` into Assessment.findings, its number is one more."""

    index: int
    weight: Weight
    x: float
    y: float
    hint: str


@dataclass(frozen=True, slots=True)
class Picture:
    """Everything to draw. `box` holds the route (west, south, east, north, NM); None where no point could be placed."""

    projection: Projection
    box: Box | None
    legs: tuple[DrawnLeg, ...]
    points: tuple[DrawnPoint, ...]
    marks: tuple[Mark, ...]
    direct: Floats
    coast_fine: Floats
    coast_coarse: Floats
    islands: tuple[Floats, ...]


def picture(assessment: Assessment) -> Picture:
    """Draw an assessment: only what could be placed is drawn, and nothing is made up in between."""
    route = assessment.route
    placed = {i: p.place for i, p in enumerate(route.points) if p.place is not None}
    projection = centred_on(*geo.columns([(p.lat, p.lon) for p in placed.values()]))
    at = {i: projection.place(p.lat, p.lon) for i, p in placed.items()}
    legs = _legs(assessment, placed, projection)
    invented = any(source.invented for source in route.resolved.sources)
    return Picture(
        projection=projection,
        box=_box([np.array(list(at.values())).reshape(-1, 2), *(leg.curve for leg in legs)]),
        legs=legs,
        points=tuple(_point(i, route.points[i], placed[i], at[i]) for i in placed),
        marks=_marks(assessment, at),
        direct=_direct(placed, len(route.points), projection),
        coast_fine=outline(projection, FINE, FINE_REACH_NM),
        coast_coarse=outline(projection, COARSE, _COARSE_REACH_NM),
        islands=islands(projection) if invented else (),
    )


def empty_picture() -> Picture:
    """A picture of nothing, for when there is no assessment."""
    nothing = np.empty((0, 2))
    return Picture(Projection(0.0, 0.0), None, (), (), (), nothing, nothing, nothing, ())


def leg_weights(assessment: Assessment) -> dict[int, Weight]:
    """The heaviest weight that asks for attention on each leg; legs not in it are as calm as the rest."""
    heaviest: dict[int, Weight] = {}
    order = list(Weight)
    for finding in assessment.findings:
        if finding.weight is Weight.NOTE:
            continue
        for leg in legs_about(assessment.route, finding):
            heaviest[leg] = min(heaviest.get(leg, finding.weight), finding.weight, key=order.index)
    return heaviest


def figures(leg: Leg) -> str:
    """Course and distance of a leg as printed along it: "099°M  113.1 NM"; "" where it has none."""
    if leg.distance_nm is None:
        return ""
    if leg.course_magnetic_deg is not None:
        return f"{wording.course(leg.course_magnetic_deg, 'M')}  {leg.distance_nm:,.1f} NM"
    return f"{wording.course(leg.course_true_deg, 'T')}  {leg.distance_nm:,.1f} NM"


def _legs(assessment: Assessment, placed: dict[int, Place], projection: Projection) -> tuple[DrawnLeg, ...]:
    weights = leg_weights(assessment)
    ends = pairwise(sorted(placed))
    return tuple(_leg(assessment.route, start, end, placed, projection, weights.get(start)) for start, end in ends)


def _leg(
    route: Route, start: int, end: int, placed: dict[int, Place], projection: Projection, weight: Weight | None
) -> DrawnLeg:
    """From one placed point to the next; open where no path is known or points between could not be placed."""
    leg = route.legs[start]
    is_gap = end > start + 1 or leg.distance_nm is None
    return DrawnLeg(
        index=start,
        curve=_curve(placed[start], placed[end], projection, gap=is_gap),
        weight=weight,
        is_gap=is_gap,
        figures="gap" if is_gap else figures(leg),
        hint=_leg_hint(route, start, end),
    )


def _curve(start: Place, end: Place, projection: Projection, *, gap: bool = False) -> Floats:
    points = geo.along(start.lat, start.lon, end.lat, end.lon, _STEP_NM)
    curve = projection.forward(*geo.columns(points))
    return _open(curve) if gap else _broken(curve)


def _broken(curve: Floats) -> Floats:
    """Broken where it leaps past the point opposite the centre, which is a whole circle on the map."""
    leaps = np.flatnonzero(np.hypot(*np.diff(curve, axis=0).T) > _LEAP_NM) + 1
    return np.insert(curve, leaps, np.nan, axis=0)


def _open(curve: Floats) -> Floats:
    """Only a stub at each end, with nothing between: the path is not fixed there."""
    first, last = curve[0], curve[-1]
    return joined([np.array([first, first + _STUB * (last - first)]), np.array([last - _STUB * (last - first), last])])


def _direct(placed: dict[int, Place], count: int, projection: Projection) -> Floats:
    if 0 not in placed or count - 1 not in placed:
        return np.empty((0, 2))
    return _curve(placed[0], placed[count - 1], projection)


def _point(index: int, point: Point, place: Place, at: tuple[float, float]) -> DrawnPoint:
    kind = " ".join(filter(None, (place.name.title(), str(place.kind))))
    hint = f"{point.text}: {kind}\n{wording.position(place.lat, place.lon)}"
    return DrawnPoint(index, *at, SYMBOLS[place.kind], point.text, point.stop is None, hint)


def _marks(assessment: Assessment, at: dict[int, tuple[float, float]]) -> tuple[Mark, ...]:
    marks = []
    for i, finding in enumerate(assessment.findings):
        spots = [spot for p in marked_points(assessment.route, finding) if (spot := _spot(p, at))]
        legs = () if spots else legs_about(assessment.route, finding)
        spots += [_middle(at[leg], at[leg + 1]) for leg in legs if leg in at and leg + 1 in at]
        marks += [Mark(i, finding.weight, *spot, finding.message) for spot in spots[:1]]
    return tuple(marks)


def _middle(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float]:
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2


def _spot(point: int, at: dict[int, tuple[float, float]]) -> tuple[float, float] | None:
    """Where the mark of a point stands: at the point, or in the middle of the gap where it could not be placed."""
    if point in at:
        return at[point]
    before, after = max((i for i in at if i < point), default=None), min((i for i in at if i > point), default=None)
    if before is None or after is None:
        return None
    return _middle(at[before], at[after])


def _leg_hint(route: Route, start: int, end: int) -> str:
    leg = route.legs[start]
    ends = f"{route.points[start].text} to {route.points[end].text}"
    if end > start + 1:
        return f"{ends}\nNot placed: {wording.listing([p.text or '–' for p in route.points[start + 1 : end]])}"
    if leg.distance_nm is None:
        least = f", at least {wording.nm(leg.least_nm)}" if leg.least_nm is not None else ""
        return f"{ends}{least}\n{leg.gap or 'The path is not fixed here.'}"
    courses = (wording.course(leg.course_true_deg, "T"), wording.course(leg.course_magnetic_deg, "M"))
    figures_line = "  ".join(filter(None, (*courses, wording.nm(leg.distance_nm))))
    return f"{ends}, {leg.via}\n{figures_line}"


def _box(curves: Iterable[Floats]) -> Box | None:
    everything = np.concatenate(list(curves))
    everything = everything[~np.isnan(everything[:, 0])]
    if everything.size == 0:
        return None
    low, high = everything.min(axis=0), everything.max(axis=0)
    lack = np.maximum(0.0, _LEAST_BOX_NM - (high - low)) / 2
    west, south, east, north = (float(v) for v in (*(low - lack), *(high + lack)))
    return west, south, east, north
