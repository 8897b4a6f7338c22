"""Which names and airways of a route would surely be in the loaded data, and which places are far namesakes.

Where the data does not cover the way, what it lacks may well exist, and a name that it has may be that of another
place on the other side of the world. Nothing is said to the user here.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import accumulate, takewhile
from typing import TYPE_CHECKING

from routecheck.earth import geo
from routecheck.model import (
    AirwayNotCovered,
    AirwaysApart,
    BothEndsOffAirway,
    OffAirway,
    OpenEnd,
    Place,
    PlaceKind,
    UnknownAirway,
    Via,
)
from routecheck.navdata.coverage import ALL_ROUND_NM, RecordKind, kind_of_name
from routecheck.resolution.airways import is_on_airway
from routecheck.resolution.choose import PlaceChoice, choose_places

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Connection, ConnectionFault, RoutePoint
    from routecheck.navdata.database import NavDatabase
    from routecheck.resolution.chain import Chain, PendingPoint

FAR_TIMES = 2.0
FAR_NM = 500.0
"""A place that makes the way between what is sure so many times as long, and by so much, is far: our choice."""
FAR_ALONE_NM = 300.0
"""One that nothing of the data joins to the route is far if it makes the way so much longer. Nearer than this to its
neighbour none is: our choice."""
NEAR_END_NM = 1200.0
"""Where only one end of the route is known, what lies further from it counts as what it adds: our choice."""
_LEAST_PLACED = 2.0 / 3.0
"""Where an aerodrome is not known, so large a share of the names must be placed: our choice."""
_STEP_NM = 60.0
"""The way between two places is covered if it is so every so often."""
_ROUNDS = 3
"""So often places are chosen anew without the far ones: each round leaves fewer."""
_DIRECT = frozenset({Via.DIRECT, Via.IMPLIED})
_RADIAL_OF = re.compile(r"([A-Z]{1,5})\d{3}(?:\d{3})?")


def covered_points(points: Sequence[PendingPoint], places: Sequence[Place | None], database: NavDatabase) -> list[bool]:
    """For every point whether its name would surely be in the data: any that is placed, or that names nothing."""
    if not any(point.unknown for point in points):
        return [True] * len(points)
    if not _says_where_it_goes(points, places):
        return [not point.unknown for point in points]
    around, last = nearest_placed(places), len(points) - 1
    kinds = [RecordKind.AIRPORT if index in (0, last) else _kind_of(point) for index, point in enumerate(points)]
    return [
        not point.unknown or (point.namesake_nm is None and is_covered_between(database, kinds[index], *around[index]))
        for index, point in enumerate(points)
    ]


def _says_where_it_goes(points: Sequence[PendingPoint], places: Sequence[Place | None]) -> bool:
    """Whether both aerodromes are placed, or so many names that the others lie among them: a few may be namesakes."""
    if places[0] is not None and places[-1] is not None:
        return True
    named = [place is not None for place, point in zip(places[1:-1], points[1:-1], strict=True) if not point.implied]
    return sum(named) >= _LEAST_PLACED * len(named)


def is_covered_between(database: NavDatabase, kind: RecordKind, before: Place | None, after: Place | None) -> bool:
    """Whether the data would surely have what lies between two places, or beside one: it covers the whole way."""
    start, end = before or after, after or before
    if start is None or end is None:
        return False
    if start is end:
        return _is_covered_at(database, kind, start)
    if not (_is_known(database, kind, start) and _is_known(database, kind, end)):
        return False
    way = geo.points_along(start.lat, start.lon, end.lat, end.lon, _STEP_NM)
    return all(database.covers(kind, lat, lon) for lat, lon in way[1:-1])


def _is_known(database: NavDatabase, kind: RecordKind, place: Place) -> bool:
    """Whether a place is of an area that the data knows well, at its very border too, or lies within one."""
    if place.region and database.knows_area_of(kind, place):
        return True
    return _is_covered_at(database, kind, place)


def _is_covered_at(database: NavDatabase, kind: RecordKind, place: Place) -> bool:
    """A place of an area of which the data has little is not covered, however near the border it lies."""
    return database.knows_area_of(kind, place) and database.covers(kind, place.lat, place.lon)


def _kind_of(point: PendingPoint) -> RecordKind:
    radial = _RADIAL_OF.fullmatch(point.text)
    return kind_of_name(radial[1] if radial else point.text)


def nearest_placed(places: Sequence[Place | None]) -> list[tuple[Place | None, Place | None]]:
    """For every point the nearest placed ones before and after it, itself counted."""
    before = accumulate(places, _place_or_last)
    after = reversed(list(accumulate(reversed(places), _place_or_last)))
    return list(zip(before, after, strict=True))


def _place_or_last(last: Place | None, place: Place | None) -> Place | None:
    return place or last


# ---- places on the other side of the world


def drop_far_namesakes(chain: Chain, choice: PlaceChoice, database: NavDatabase) -> tuple[Chain, PlaceChoice]:
    """Take away the places that multiply the way, where the data does not cover what lies between their neighbours."""
    for _ in range(_ROUNDS):
        far = _far_namesakes(chain, chosen_places(chain, choice), database)
        if not far:
            break
        points = [_without_place(point, far[i]) if i in far else point for i, point in enumerate(chain.points)]
        chain = replace(chain, points=points)
        choice = choose_places(chain)
    return chain, choice


def chosen_places(chain: Chain, choice: PlaceChoice) -> list[Place | None]:
    """The place of every point; None where it has none."""
    picks = zip(chain.points, choice.chosen, strict=True)
    return [point.candidates[pick] if pick is not None else None for point, pick in picks]


def _without_place(point: PendingPoint, away_nm: float) -> PendingPoint:
    return replace(point, candidates=(), crossings=(), unknown=not point.implied, namesake_nm=away_nm)


def _far_namesakes(chain: Chain, places: Sequence[Place | None], database: NavDatabase) -> dict[int, float]:
    """The points whose places are far from the way and not covered, and how far their nearest neighbour is, NM.

    What is sure is an aerodrome or a typed position: a name is judged by those before and after it, one of which must
    be where the data is not complete.
    """
    sure = [place if _is_sure(place) else None for place in places]
    kinds = (RecordKind.FIX, RecordKind.VHF_NAVAID)
    if all(_is_known(database, kind, one) for one in sure if one is not None for kind in kinds):
        return {}  # nearly all routes
    suspects = {}
    for index, (place, (before, after)) in enumerate(zip(places, nearest_placed(sure), strict=True)):
        ends = [end for end in (before, after) if end is not None]
        if place is None or sure[index] is not None or not ends:
            continue
        kind = _kind_of(chain.points[index])
        if not all(_is_known(database, kind, end) for end in ends):
            suspects[index] = _added_by(place, ends)
    far = {index for index, (added, _) in suspects.items() if added > FAR_ALONE_NM}
    if not far:
        return {}
    rest = [None if index in far else place for index, place in enumerate(places)]
    for index in (*sorted(far), *sorted(far, reverse=True)):
        if not _is_very_far(*suspects[index]) and _is_joined(chain, rest, index, database):
            rest[index] = places[index]
    around = nearest_placed(rest)
    lost = [index for index in far if rest[index] is None]
    away = {index: _away_nm(places[index], around[index]) for index in lost}
    return {
        index: away_nm
        for index, away_nm in away.items()
        if away_nm > FAR_ALONE_NM and not is_covered_between(database, _kind_of(chain.points[index]), *around[index])
    }


def _is_sure(place: Place | None) -> bool:
    return place is not None and place.kind in (PlaceKind.AIRPORT, PlaceKind.TYPED)


def _added_by(place: Place, ends: Sequence[Place]) -> tuple[float, float]:
    """What a place adds to the way between two others, or beside one: NM, and how many times as long that is by it."""
    way = sum(geo.rough_nm(place.lat, place.lon, end.lat, end.lon) for end in ends)
    if len(ends) == 1:
        return way - NEAR_END_NM, math.inf
    direct = geo.rough_nm(ends[0].lat, ends[0].lon, ends[1].lat, ends[1].lon)
    return way - direct, way / direct if direct else math.inf


def _is_very_far(added_nm: float, times: float) -> bool:
    return added_nm > FAR_NM and times > FAR_TIMES


def _is_joined(chain: Chain, rest: Sequence[Place | None], index: int, database: NavDatabase) -> bool:
    """Whether a line of the data goes by a place, or it stands directly beside one that is covered and not far."""
    point = chain.points[index]
    for connection, beside in ((chain.connections[index - 1], index - 1), (chain.connections[index], index + 1)):
        if connection.procedure or any(is_on_airway(connection.pieces, place) for place in point.candidates):
            return True
        near = rest[beside] if connection.via in _DIRECT else None
        if near is not None and _is_known(database, _kind_of(point), near):
            return True
    return False


def _away_nm(place: Place | None, around: tuple[Place | None, Place | None]) -> float:
    near = [end for end in around if end is not None]
    return min(geo.inverse(place.lat, place.lon, end.lat, end.lon)[2] for end in near) if place else 0.0


# ---- airways


def open_uncovered_airways(
    connections: Sequence[Connection], route_points: Sequence[RoutePoint], database: NavDatabase
) -> tuple[Connection, ...]:
    """The connections; an airway that cannot be followed where the data does not cover it all is not to blame."""
    if not any(connection.via is Via.AIRWAY and connection.fault for connection in connections):
        return tuple(connections)
    around = nearest_placed([route_point.place for route_point in route_points])
    opened = list(connections)
    for index, connection in enumerate(connections):
        if connection.via is not Via.AIRWAY or not _may_lead_on(connection.fault):
            continue
        before, after = around[index][0], around[index + 1][1]
        unplaced = (*_unplaced_at_start(route_points[index::-1]), *_unplaced_at_start(route_points[index + 1 :]))
        is_known = all(point.covered for point in unplaced)
        if not (is_known and is_covered_between(database, RecordKind.AIRWAY, before, after)):
            opened[index] = replace(connection, fault=AirwayNotCovered())
    return tuple(opened)


def _unplaced_at_start(route_points: Sequence[RoutePoint]) -> Iterator[RoutePoint]:
    """Those without a place as far as the first that has one."""
    return takewhile(lambda point: point.place is None, route_points)


def _may_lead_on(fault: ConnectionFault | None) -> bool:
    """Whether a fault may be none where the data is not complete.

    An airway that passes beside a point without an end there, or that is loaded in pieces, is known well enough.
    """
    if isinstance(fault, OffAirway):
        return fault.nearest == fault.piece_end or fault.nearest_nm > ALL_ROUND_NM
    return isinstance(fault, UnknownAirway | BothEndsOffAirway | AirwaysApart | OpenEnd)
