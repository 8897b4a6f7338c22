"""The published minimum altitudes along a route: of airways, and of the cells of one degree that a leg crosses.

Altitudes are looked up, never judged here.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.earth import geo
from routecheck.model import GridCell, LegMinima, Via, WordKind
from routecheck.navdata.memo import cached_per_database
from routecheck.vertical.levels import level_ft

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Leg, Place, Route
    from routecheck.navdata.database import NavDatabase

_STEP_NM = 30.0
"""Between two points so near a meridian or parallel is met in proportion: within 0.1 NM of the geodesic."""
_TOUCH_DEG = 1e-9
"""0.1 mm: so near a line between cells is on it."""
_CORNER_NM = 1e-6
"""2 mm: what passes a corner so near touches all four cells."""
_Ends = tuple[float, float, float, float]
_Spot = tuple[float, float, float]
"""Share of the leg's length, latitude, longitude counted on beyond 180."""
_Crossed = tuple[int, int, float, float]
"""Row and column of a cell, and from which to which share of the leg it is crossed."""
_AirwayLimits = tuple[bool, float | None, float | None]
"""Whether on an airway, its minimum and its maximum."""
_NOTHING: _AirwayLimits = (False, None, None)


def add_minima(route: Route, database: NavDatabase) -> Route:
    """Add the minima to a route where a level is filed for it; else there is nothing to hold against them."""
    return replace(route, minima=route_minima(route, database)) if has_level(route) else route


def has_level(route: Route) -> bool:
    """Whether a level in feet is filed, beside the text or in it."""
    if level_ft(route.route_input.level.strip().upper()) is not None:
        return True
    words = route.parsed.words
    changes = (word for word in words if word.level and word.kind is WordKind.CHANGE and not word.bad)
    return any(level_ft(word.level) is not None for word in changes)


def route_minima(route: Route, database: NavDatabase) -> tuple[LegMinima, ...]:
    """Look up what is published of altitudes along every leg, in order, for checks and the Side view.

    On airways that could be followed the segment's minimum in the direction flown (`minimum_back_ft` against the coded
    order) and its maximum; on every leg whose path is fixed the grid MORA of each cell it crosses, an arc taken point
    by point. A gap has no cells. What is unknown is None.
    """
    pairs = zip(route.points, route.points[1:], route.legs, _airway_limits(route), strict=False)
    return tuple(_leg_minima(leg, a.place, b.place, published, database) for a, b, leg, published in pairs)


def _airway_limits(route: Route) -> Iterator[_AirwayLimits]:
    """For every leg what its airway's segment publishes in the direction flown; nothing off airways."""
    connections = route.resolved.connections
    taken = [0] * len(connections)
    for leg in route.legs:
        connection, nth = connections[leg.connection], taken[leg.connection]
        taken[leg.connection] += 1
        if connection.via is not Via.AIRWAY or nth >= len(connection.segments) or connection.is_gap:
            yield _NOTHING
            continue
        segment = connection.segments[nth]
        yield True, segment.minimum_ft if connection.forward else segment.minimum_back_ft, segment.maximum_ft


def _leg_minima(
    leg: Leg, start: Place | None, end: Place | None, published: _AirwayLimits, database: NavDatabase
) -> LegMinima:
    if leg.distance_nm is None or start is None or end is None:
        return LegMinima(*published)
    if leg.shape:
        pieces = [_geodesic_minima(database, (*a, *b), _NOTHING).cells for a, b in pairwise(leg.shape)]
        return LegMinima(*published, tuple(_join_cells(pieces)))
    return _geodesic_minima(database, (start.lat, start.lon, end.lat, end.lon), published)


def _join_cells(pieces: Sequence[Sequence[GridCell]]) -> Iterator[GridCell]:
    """Join the cells of a line of several pieces, which are taken to be equally long: arcs are cut so."""
    share = 1.0 / max(len(pieces), 1)
    for nth, cells in enumerate(pieces):
        for cell in cells:
            yield replace(cell, begins=(nth + cell.begins) * share, ends=(nth + cell.ends) * share)


@cached_per_database(50_000)
def _geodesic_minima(database: NavDatabase, ends: _Ends, published: _AirwayLimits) -> LegMinima:
    crossed = crossed_cells(*ends)
    cells = tuple(GridCell(*cell, database.mora_ft(cell[0] + 0.5, cell[1] + 0.5)) for cell in crossed)
    return LegMinima(*published, cells)


# ---- which cells


def crossed_cells(lat1: float, lon1: float, lat2: float, lon2: float) -> list[_Crossed]:
    """Every cell of one degree that a geodesic crosses: (row, column, from share, to share), in flown order.

    No cell is missed: between two points of the line latitude and longitude only rise or only fall, so that it stays
    in the box of the two; where that box holds more than one row and one column it is halved. Along a meridian or
    parallel of whole degrees the cells of both sides count; a corner counts to all of its cells. Raises
    ImpossiblePositionError.
    """
    course, end_course, length = geo.inverse(lat1, lon1, lat2, lon2)
    spots = _line_points((lat1, lon1, lat2, lon2), course, end_course, length)
    merged: dict[tuple[int, int], tuple[float, float]] = {}
    for a, b in pairwise(spots):
        for row, column, begins, ends in _cells_between(a, b, lat1, lon1, course, length):
            cell = min(max(row, -90), 89), (column + 180) % 360 - 180
            first, last = merged.get(cell, (begins, ends))
            merged[cell] = min(first, begins), max(last, ends)
    return [(*cell, *shares) for cell, shares in sorted(merged.items(), key=lambda item: item[1])]


def _line_points(ends: _Ends, course: float, end_course: float, length: float) -> list[_Spot]:
    """Points of the line in order, its highest or lowest latitude among them where it has one."""
    points = geo.points_along(*ends, _STEP_NM)
    spots = [(nth / (len(points) - 1), *point) for nth, point in enumerate(points)]
    if math.cos(math.radians(course)) * math.cos(math.radians(end_course)) < 0.0:
        spots.append(_vertex(ends, course, end_course, length))
    eastward = course <= 180.0
    unwound: list[_Spot] = []
    for share, lat, lon in sorted(spots):
        unwound.append((share, _snap(lat), _snap(_unwrap(lon, unwound[-1][2], eastward) if unwound else lon)))
    return unwound


def _unwrap(lon: float, before: float, eastward: bool) -> float:
    """Count a longitude on from the one before, the way the line runs; a hair the other way is no way round."""
    ahead = (lon - before) % 360.0
    if 360.0 - ahead < _TOUCH_DEG:
        ahead -= 360.0
    if not eastward and ahead > _TOUCH_DEG:
        ahead -= 360.0
    return before + ahead


def _snap(degrees: float) -> float:
    return float(round(degrees)) if abs(degrees - round(degrees)) < _TOUCH_DEG else degrees


def _vertex(ends: _Ends, course: float, end_course: float, length: float) -> _Spot:
    """Where the line runs due east or west: found between the ends by halving, sharpened by false position."""
    low, high = 0.0, 1.0
    at_low, at_high = math.cos(math.radians(course)), math.cos(math.radians(end_course))
    spot = (0.0, ends[0], ends[1])
    for _ in range(60):
        share = (low * at_high - high * at_low) / (at_high - at_low)
        share = share if low < share < high else (low + high) / 2.0
        spot = (share, *geo.direct(ends[0], ends[1], course, share * length))
        _, arriving, _ = geo.inverse(ends[0], ends[1], spot[1], spot[2])
        north = math.cos(math.radians(arriving))
        if abs(north) < 1e-9 or high - low < 1e-12:
            break
        if north * at_low > 0.0:
            low, at_low, at_high = share, north, at_high / 2.0
        else:
            high, at_high, at_low = share, north, at_low / 2.0
    return spot


def _cells_between(a: _Spot, b: _Spot, lat1: float, lon1: float, course: float, length: float) -> Iterator[_Crossed]:
    """The cells between two points of which the line neither rises and falls nor turns east and west."""
    rows, columns = _degrees_between(a[1], b[1]), _degrees_between(a[2], b[2])
    if len(rows) == 1 or len(columns) == 1 or (b[0] - a[0]) * length < _CORNER_NM:
        for row in rows:
            for column in columns:
                inside = _share_inside(row, a[1], b[1]), _share_inside(column, a[2], b[2])
                begins, ends = max(s[0] for s in inside), min(s[1] for s in inside)
                reach = b[0] - a[0]
                yield row, column, a[0] + reach * begins, a[0] + reach * max(ends, begins)
        return
    middle = (a[0] + b[0]) / 2.0
    lat, lon = geo.direct(lat1, lon1, course, middle * length)
    halfway = (middle, _snap(lat), _snap(_unwrap(lon, a[2], b[2] > a[2])))
    yield from _cells_between(a, halfway, lat1, lon1, course, length)
    yield from _cells_between(halfway, b, lat1, lon1, course, length)


def _degrees_between(start: float, end: float) -> range:
    """The whole degrees whose cells lie between; of a line between cells both sides."""
    low, high = min(start, end), max(start, end)
    if low == high:
        return range(math.ceil(low) - 1, math.floor(high) + 1)
    return range(math.floor(low), math.ceil(high))


def _share_inside(step: int, start: float, end: float) -> tuple[float, float]:
    """From which to which share of the way from start to end one is between step and the next."""
    if start == end:
        return 0.0, 1.0
    one, other = (step - start) / (end - start), (step + 1 - start) / (end - start)
    return max(min(one, other), 0.0), min(max(one, other), 1.0)
