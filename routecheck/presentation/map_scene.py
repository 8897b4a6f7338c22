"""The Picture as plain values: projected legs, points, names and marks in NM of the plane. No Qt and no colours."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from routecheck import formatting
from routecheck.earth import geo
from routecheck.earth.projection import LEAST_APART_NM, Projection, StraightenedProjection, centre_on, straighten
from routecheck.model import FIELDS, LostChoice, PlaceKind, Weight
from routecheck.presentation.drawn_map import LEAST_BOX_NM, DrawnLeg, DrawnOther, DrawnPoint, Mark, OpenEnd, Picture
from routecheck.presentation.outline import project_islands
from routecheck.presentation.projected_lines import geodesic, join_curves, middle_of, project_lines
from routecheck.presentation.selection import legs_of_finding, points_of_finding
from routecheck.presentation.side_lines import speed_label, window_label
from routecheck.presentation.symbols import symbol_of
from routecheck.resolution.radials import variation_at
from routecheck.vertical.room import UNBOUNDED
from routecheck.vertical.transition import levels_along
from routecheck.vertical.windows import effective_bounds

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.arrays import Floats
    from routecheck.model import Assessment, FlownProcedure, Leg, Place, PresentProcedure, Route, RoutePoint
    from routecheck.presentation.graticule import ChartBox

_STUB = 0.2
"""Share of a gap that is drawn at each of its ends."""
_MOST_OTHERS = 12
_OPEN = (math.nan, math.nan)
_NUMBER = re.compile(r"\d{1,2}")
"""Of a runway, in its ident."""


def draw_picture(assessment: Assessment, *, straightened: bool = False) -> Picture:
    """Draw an assessment: only what could be placed is drawn, and nothing is made up in between.

    `straightened` = with the direct line straight across, where there is one; else north is up.
    """
    route = assessment.route
    placed = _placed_points(route)
    straight, why_not = _straighten(placed, len(route.points)) if straightened else (None, "")
    north_up = centre_on(*geo.lat_lon_columns([(p.lat, p.lon) for p in placed.values()]))
    projection = straight or north_up
    at = dict(zip(placed, _project(placed.values(), projection), strict=True))
    legs = _legs(assessment, placed, projection)
    invented = any(source.invented for source in route.resolved.sources)
    return Picture(
        projection=projection,
        box=_box([np.array(list(at.values())).reshape(-1, 2), *(leg.curve for leg in legs)]),
        legs=legs,
        points=_points(route, placed, at, projection),
        others=_others(route, projection),
        marks=_marks(assessment, at, legs),
        direct=_direct(placed, len(route.points), projection),
        islands=project_islands(projection) if invented else (),
        note=f"North up, not straightened: {why_not}." if why_not and placed else "",
    )


def draw_plain_picture(assessment: Assessment) -> Picture:
    """Draw a route as it was entered and no more: straight on to the next placed point wherever no path is known.

    It has no figures, no gaps, no marks and no places that were not chosen: it tells nobody where to look.
    """
    picture, route = draw_picture(assessment), assessment.route
    placed = _placed_points(route)
    ends = list(pairwise(sorted(placed)))
    arcs = (route.legs[start].shape if end == start + 1 else () for start, end in ends)
    lines = [arc or geodesic(placed[start], placed[end]) for arc, (start, end) in zip(arcs, ends, strict=True)]
    legs = tuple(
        DrawnLeg(start, end, curve=curve, weight=None, is_gap=False, figures="")
        for (start, end), curve in zip(ends, project_lines(lines, picture.projection), strict=True)
    )
    return replace(picture, legs=legs, others=(), marks=())


def _straighten(placed: dict[int, Place], count: int) -> tuple[StraightenedProjection | None, str]:
    """The map on which the direct line is straight; None where there is no such line, and why."""
    if 0 not in placed or count - 1 not in placed:
        return None, "departure or destination is not placed"
    start, end = placed[0], placed[count - 1]
    found = straighten((start.lat, start.lon), (end.lat, end.lon))
    is_one = geo.rough_nm(start.lat, start.lon, end.lat, end.lon) <= LEAST_APART_NM
    why = "departure and destination are one place" if is_one else "the ends are nearly opposite each other"
    return found, "" if found else why


def draw_on_map(assessment: Assessment, projection: Projection) -> tuple[tuple[DrawnLeg, ...], tuple[DrawnPoint, ...]]:
    """The legs and points of an assessment on the map of another one."""
    placed = _placed_points(assessment.route)
    at = dict(zip(placed, _project(placed.values(), projection), strict=True))
    return _legs(assessment, placed, projection), _points(assessment.route, placed, at, projection)


def leg_weights(assessment: Assessment) -> dict[int, Weight]:
    """The heaviest weight that asks for attention on each leg; legs not in it are as calm as the rest."""
    heaviest: dict[int, Weight] = {}
    order = list(Weight)
    for finding in assessment.findings:
        if finding.weight is Weight.NOTE:
            continue
        for leg in legs_of_finding(assessment.route, finding):
            heaviest[leg] = min(heaviest.get(leg, finding.weight), finding.weight, key=order.index)
    return heaviest


def figures(leg: Leg) -> str:
    """Course and distance of a leg as printed along it: "099°M  113.1 NM"; "" where it has none."""
    if leg.distance_nm is None or leg.course_true_deg is None:
        return ""
    if leg.course_magnetic_deg is not None:
        return f"{formatting.course(leg.course_magnetic_deg, 'M')}  {leg.distance_nm:,.1f} NM"
    return f"{formatting.course(leg.course_true_deg, 'T')}  {leg.distance_nm:,.1f} NM"


def _placed_points(route: Route) -> dict[int, Place]:
    return {i: p.place for i, p in enumerate(route.points) if p.place is not None}


def _project(places: Iterable[Place], projection: Projection) -> list[tuple[float, float]]:
    spots = projection.forward(*geo.lat_lon_columns([(p.lat, p.lon) for p in places]))
    return [(float(x), float(y)) for x, y in spots]


def _legs(assessment: Assessment, placed: dict[int, Place], projection: Projection) -> tuple[DrawnLeg, ...]:
    weights = leg_weights(assessment)
    ends = list(pairwise(sorted(placed)))
    lines = [_line(assessment.route, start, end, placed) for start, end in ends]
    curves = project_lines(lines, projection)
    return tuple(
        _leg(assessment.route, *pair, curve, weights.get(pair[0])) for pair, curve in zip(ends, curves, strict=True)
    )


def _leg(route: Route, start: int, end: int, curve: Floats, weight: Weight | None) -> DrawnLeg:
    """From one placed point to the next; open where no path is known or points between could not be placed.

    Past one word without a place a dotted line leads, with the word on it: nobody takes it for a path.
    """
    leg = route.legs[start]
    if end == start + 1 and leg.distance_nm is not None:
        return DrawnLeg(start, end, curve=curve, weight=weight, is_gap=False, figures=figures(leg))
    if present := _present_procedure(route, start, end):
        return DrawnLeg(start, end, curve=curve, weight=weight, is_gap=True, figures=f"if {present.name}")
    if end == start + 2 and (word := formatting.short(route.points[start + 1].text)):
        return DrawnLeg(start, end, curve=curve, weight=weight, is_gap=True, figures=f"{word}?")
    names = [formatting.short(route.points[i].text) for i in (start, end)]
    return DrawnLeg(
        start, end, curve=_stubs(curve), weight=weight, is_gap=True, figures="", ends=_open_ends(curve, *names)
    )


def _line(route: Route, start: int, end: int, placed: dict[int, Place]) -> Sequence[tuple[float, float]]:
    """The positions along a leg: of an arc those it goes by, else the geodesic."""
    if end == start + 1 and route.legs[start].shape:
        return route.legs[start].shape
    if present := _present_procedure(route, start, end):
        return list(_positions_along(present.path))
    return geodesic(placed[start], placed[end])


def _present_procedure(route: Route, start: int, end: int) -> PresentProcedure | None:
    """What the data has in place of a superseded procedure between two points."""
    return route.resolved.connections[route.legs[start].connection].present if end == start + 1 else None


def _positions_along(path: FlownProcedure) -> Iterator[tuple[float, float]]:
    """The positions along a procedure, NaN where it is open."""
    for leg, (start, end) in zip(path.legs, pairwise(path.points), strict=True):
        ends = [(point.place.lat, point.place.lon) for point in (start, end) if point.place is not None]
        if leg.distance_nm is None or start.place is None or end.place is None:
            yield from (*ends[:1], _OPEN, *ends[1:])
        else:
            yield from leg.shape or geodesic(start.place, end.place)


def _stubs(curve: Floats) -> Floats:
    """Only a stub at each end, with nothing between: the path is not fixed there."""
    first, last = curve[0], curve[-1]
    return join_curves(
        [np.array([first, first + _STUB * (last - first)]), np.array([last - _STUB * (last - first), last])]
    )


def _open_ends(curve: Floats, start: str, end: str) -> tuple[OpenEnd, ...]:
    reach = curve[-1] - curve[0]
    length = float(np.hypot(*reach))
    if length == 0.0:
        return ()
    dx, dy = (float(v) for v in reach / length)
    (x1, y1), (x2, y2) = (curve[0] + share * reach for share in (_STUB, 1.0 - _STUB))
    return (
        OpenEnd(float(x1), float(y1), (dx, dy), f"gap to {end or 'destination'}"),
        OpenEnd(float(x2), float(y2), (-dx, -dy), f"gap from {start or 'departure'}"),
    )


def _direct(placed: dict[int, Place], count: int, projection: Projection) -> Floats:
    if 0 not in placed or count - 1 not in placed:
        return np.empty((0, 2))
    return project_lines([geodesic(placed[0], placed[count - 1])], projection)[0]


def _points(
    route: Route, placed: dict[int, Place], at: dict[int, tuple[float, float]], projection: Projection
) -> tuple[DrawnPoint, ...]:
    levels_from = levels_along(route)
    return tuple(
        DrawnPoint(
            i,
            *at[i],
            symbol=symbol_of(place),
            name=formatting.short(route.points[i].text),
            minor=route.points[i].route_point is None,
            turned=_runway_angle(route, place, at[i], projection) if place.kind is PlaceKind.RUNWAY else 0,
            limits=_limits(route, i, levels_from[i]),
        )
        for i, place in placed.items()
    )


def _runway_angle(route: Route, threshold: Place, at: tuple[float, float], projection: Projection) -> int:
    """Which way a runway lies on the map: by its number, which is its magnetic bearing in tens of degrees."""
    number, variation = _NUMBER.search(threshold.ident), variation_at(threshold, route.date)
    if number is None or variation is None:
        return 0
    ahead = geo.direct(threshold.lat, threshold.lon, 10.0 * int(number[0]) + variation[0], 1.0)
    x, y = projection.place(*ahead)
    return round(math.degrees(math.atan2(at[1] - y, x - at[0])))


def _limits(route: Route, index: int, levels_from_ft: float) -> str:
    """The altitudes and the speed allowed at a point: "≥ 11,000 ft, ≤ 210 kt"."""
    low, high = effective_bounds(route.windows[index]) if route.windows else UNBOUNDED
    point = route.points[index]
    is_field = point.place is not None and point.place.kind in FIELDS
    window = "" if is_field else window_label(low, high, levels_from_ft)
    return ", ".join(filter(None, (window, speed_label(point.speed) if point.speed else "")))


def _others(route: Route, projection: Projection) -> tuple[DrawnOther, ...]:
    lost = [
        (index, point.text, choice)
        for index, point in enumerate(route.points)
        if point.route_point is not None
        for choice in _other_places(route.resolved.route_points[point.route_point])
    ]
    spots = _project([choice.place for _, _, choice in lost], projection)
    return tuple(
        DrawnOther(index, *spot, symbol=symbol_of(choice.place), name=_other_name(text, choice), lost=choice)
        for (index, text, choice), spot in zip(lost, spots, strict=True)
    )


def _other_places(route_point: RoutePoint) -> tuple[LostChoice, ...]:
    """The places of its name that were not chosen; of one without a place where an undated list has it."""
    if route_point.hint is not None:
        return (LostChoice(route_point.hint, None, "by an undated world list"),)
    return route_point.lost_choices[:_MOST_OTHERS]


def _other_name(text: str, lost: LostChoice) -> str:
    if lost.longer_nm is None:
        return f"{text}, {lost.reason}"
    return f"{text}, {formatting.nm(lost.longer_nm)} longer"


def _marks(assessment: Assessment, at: dict[int, tuple[float, float]], legs: Sequence[DrawnLeg]) -> tuple[Mark, ...]:
    marks = []
    for i, finding in enumerate(assessment.findings):
        spots = [spot for p in points_of_finding(assessment.route, finding) if (spot := _spot(p, at, legs))]
        about = () if spots else legs_of_finding(assessment.route, finding)
        spots += [_middle(leg) for leg in legs if about and leg.is_about(about)]
        marks += [Mark(i, finding.weight, *spot) for spot in spots[:1]]
    return tuple(marks)


def _middle(leg: DrawnLeg) -> tuple[float, float]:
    """Where the mark of a leg stands: in its middle, or where its drawing stops."""
    if leg.ends:
        return leg.ends[0].x, leg.ends[0].y
    x, y = middle_of(leg.curve).tolist()
    return x, y


def _spot(point: int, at: dict[int, tuple[float, float]], legs: Sequence[DrawnLeg]) -> tuple[float, float] | None:
    """Where the mark of a point stands: at the point, or at the open end of the gap that it left."""
    if point in at:
        return at[point]
    return next((_middle(leg) for leg in legs if leg.index < point < leg.last), None)


def _box(curves: Iterable[Floats]) -> ChartBox | None:
    everything = np.concatenate(list(curves))
    everything = everything[~np.isnan(everything[:, 0])]
    if everything.size == 0:
        return None
    low, high = everything.min(axis=0), everything.max(axis=0)
    lack = np.maximum(0.0, LEAST_BOX_NM - (high - low)) / 2
    west, south, east, north = (float(v) for v in (*(low - lack), *(high + lack)))
    return west, south, east, north
