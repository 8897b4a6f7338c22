"""Airways followed: where a place lies on a continuous piece, what lies between two places, where two pieces meet."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from routecheck.earth import geo

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import Airway, AirwaySegment, Place

ON_AIRWAY_NM = 1.0
"""A place this near the line of an airway lies on it, coded there or not: our choice."""
SAME_SPOT_NM = 0.1
"""A point of another name this near a point of the airway is the same spot (a fix coded on top of a VOR)."""
NEAR_AERODROME_NM = 25.0
"""An open-ended airway that comes this near the aerodrome needs no question: our choice."""


PiecePositions = list[float | None]
"""Where one place is on each piece of an airway, as `position_on` gives it."""


class AirwayRun(NamedTuple):
    """The stretch of one piece between two places: the places strictly between, and the segments in flown order.

    `first_segment` is the index in the piece of the segment that is flown first.
    """

    inner: tuple[Place, ...]
    segments: tuple[AirwaySegment, ...]
    forward: bool
    piece: Airway
    first_segment: int


def is_same_place(a: Place, b: Place) -> bool:
    """Whether two places are one and the same of the data."""
    return a is b or a.key == b.key


def position_on(piece: Airway, place: Place) -> float | None:
    """Where a place is on a piece: its index, a fraction between two; None where it is not on it."""
    known = piece.index_by_key.get(place.key)
    if known is not None:
        return float(known)
    lat, lon, places = place.lat, place.lon, piece.places
    south, north, west, east = piece.box
    if not (south <= lat <= north and west <= lon <= east):
        return None
    near = [i for i, (s, n, w, e) in enumerate(piece.segment_boxes) if s <= lat <= n and w <= lon <= e]
    ends = dict.fromkeys([end for index in near for end in (index, index + 1)])
    for index in ends:
        if _is_within(places[index], place, SAME_SPOT_NM):
            return float(index)
    for index in near:
        share = _share_of_segment(places[index], places[index + 1], place)
        if share is not None:
            return index + share
    return None


def run_between(pieces: Sequence[Airway], entering: Place, leaving: Place) -> AirwayRun | None:
    """The shortest run of one piece that holds both places; None where no piece does."""
    runs = []
    for piece in pieces:
        start = position_on(piece, entering)
        end = position_on(piece, leaving) if start is not None else None
        if start is not None and end is not None:
            runs.append(_make_run(piece, start, end))
    return _shortest_run(runs)


def positions_on_pieces(pieces: Sequence[Airway], place: Place) -> PiecePositions:
    """Where a place is on each piece."""
    return [position_on(piece, place) for piece in pieces]


def run_between_positions(pieces: Sequence[Airway], starts: PiecePositions, ends: PiecePositions) -> AirwayRun | None:
    """The shortest run of one piece, where the positions of both ends on each are known."""
    runs = [
        _make_run(piece, start, end)
        for piece, start, end in zip(pieces, starts, ends, strict=True)
        if start is not None and end is not None
    ]
    return _shortest_run(runs)


def _shortest_run(runs: Sequence[AirwayRun]) -> AirwayRun | None:
    return min(runs, key=lambda run: len(run.inner), default=None)


def is_on_airway(pieces: Sequence[Airway], place: Place) -> bool:
    """Whether the place lies on any piece of the airway."""
    return any(position_on(piece, place) is not None for piece in pieces)


def common_places(first: Sequence[Airway], second: Sequence[Airway]) -> tuple[tuple[Place, ...], ...]:
    """The places two airways share, grouped: each group is one crossing or one stretch flown by both."""
    shared = {key for piece in second for key in piece.index_by_key}
    groups: list[tuple[Place, ...]] = []
    for piece in first:
        if shared.isdisjoint(piece.index_by_key):
            continue
        open_group: list[Place] = []
        for place in piece.places:
            if place.key in shared:
                open_group.append(place)
            elif open_group:
                groups.append(tuple(open_group))
                open_group = []
        if open_group:
            groups.append(tuple(open_group))
    return tuple(groups)


def nearest_point(pieces: Sequence[Airway], place: Place) -> tuple[float, Place]:
    """The point of an airway, which has at least one piece, nearest to a place, with its rough distance in NM."""
    distances = ((geo.rough_nm(place.lat, place.lon, p.lat, p.lon), p) for piece in pieces for p in piece.places)
    return min(distances, key=lambda pair: pair[0])


def beyond_end(piece: Airway, place: Place) -> tuple[float, float, Place]:
    """How far a place lies beyond the nearer end of a piece: (NM from that end, turn there in degrees, that end)."""
    first, last = piece.places[0], piece.places[-1]
    forward = geo.rough_nm(last.lat, last.lon, place.lat, place.lon)
    backward = geo.rough_nm(first.lat, first.lon, place.lat, place.lon)
    end, inward = (last, piece.places[-2]) if forward <= backward else (first, piece.places[1])
    _, arriving, _ = geo.inverse(inward.lat, inward.lon, end.lat, end.lon)
    leaving, _, distance = geo.inverse(end.lat, end.lon, place.lat, place.lon)
    return distance, abs(geo.wrap180(leaving - arriving)), end


def points_near_aerodrome(pieces: Sequence[Airway], place: Place) -> tuple[Place, ...]:
    """The points of an airway near enough an aerodrome to be where an open-ended airway is joined or left."""
    near = [p for piece in pieces for p in piece.places if _is_within(p, place, NEAR_AERODROME_NM)]
    return tuple(near)


def _is_within(a: Place, b: Place, limit_nm: float) -> bool:
    return geo.roughly_within(a.lat, a.lon, b.lat, b.lon, limit_nm)


def _share_of_segment(start: Place, end: Place, place: Place) -> float | None:
    """How far along the segment a free position lies (0 to 1), if it is within the limit of it."""
    length = geo.rough_nm(start.lat, start.lon, end.lat, end.lon)
    if geo.rough_nm(start.lat, start.lon, place.lat, place.lon) > length + 2 * ON_AIRWAY_NM or length == 0:
        return None
    _, _, length = geo.inverse(start.lat, start.lon, end.lat, end.lon)
    cross, ahead = geo.cross_track(start.lat, start.lon, end.lat, end.lon, place.lat, place.lon)
    if abs(cross) > ON_AIRWAY_NM or not -ON_AIRWAY_NM <= ahead <= length + ON_AIRWAY_NM:
        return None
    return min(max(ahead / length, 0.0), 1.0)


def _make_run(piece: Airway, start: float, end: float) -> AirwayRun:
    forward = start <= end
    low, high = (start, end) if forward else (end, start)
    first, end_of_last = int(low), math.ceil(high)
    inner, segments = piece.places[first + 1 : end_of_last], piece.segments[first:end_of_last]
    if forward:
        return AirwayRun(inner, segments, forward, piece, first)
    return AirwayRun(inner[::-1], segments[::-1], forward, piece, end_of_last - 1)
