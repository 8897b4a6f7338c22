"""Finding a place by its name or position, and saying where it lies from the route. Plain values, no Qt."""

from __future__ import annotations

from dataclasses import KW_ONLY, replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from routecheck import formatting
from routecheck.earth import geo
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Place, PlaceKind
from routecheck.reading.nav_logs.values import read_position
from routecheck.reading.understood_positions import read_short_code

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route
    from routecheck.navdata.database import NavDatabase

_STEP_NM = 25.0
"""The route is searched for its place nearest to a point in steps of this, then between two of them."""
_SAME_NM = 0.05
"""So near counts as on the route, and as the same place."""
_LONGEST = 64
"""Characters: no name and no position is longer."""


@dataclass(frozen=True, slots=True)
class FoundPoint:
    """A place that was looked for. `from_route_nm`: its distance from the route; None where no route is placed."""

    place: Place
    _: KW_ONLY
    from_route_nm: float | None
    where: str
    """Where it lies from the route, in words; "" where no route is placed."""

    @property
    def label(self) -> str:
        """What and where it is, in one line."""
        place = self.place
        name = place.name.title() if place.name.upper() != place.ident else ""
        named = ", ".join(filter(None, (place.ident, name)))
        kind = f"{place.kind.value} of {place.airport}" if place.airport else place.kind.value
        position = "" if place.kind is PlaceKind.TYPED else formatting.position(place.lat, place.lon)
        return "  ".join(filter(None, (named, kind, position, self.where)))


def find_points(text: str, database: NavDatabase, route: Route | None) -> tuple[FoundPoint, ...]:
    """Every place of a name, or the one position that a text says: those nearest to the route first; () if none."""
    wanted = text.strip().upper()
    if not wanted or len(wanted) > _LONGEST:
        return ()
    track = _Track(route) if route is not None else None
    found = [_describe(place, track) for place in _places(wanted, database, route)]
    return tuple(sorted(found, key=lambda point: point.from_route_nm or 0.0))


def describe_search(text: str, found: Sequence[FoundPoint]) -> str:
    """How many places a search found, in a sentence."""
    wanted = formatting.quote(text.strip().upper())
    if not found:
        return f"Not found: no point {wanted} in the data in use, and no position."
    if len(found) == 1:
        return "Found."
    nearest = "; the nearest to the route first" if found[0].where else ""
    return f"{len(found)} points are called {wanted}{nearest}."


def _places(wanted: str, database: NavDatabase, route: Route | None) -> Iterator[Place]:
    """Points of the route first: of two at one spot the route's own stays."""
    kept: list[Place] = []
    for place in _candidates(wanted, database, route):
        if all(geo.rough_nm(place.lat, place.lon, other.lat, other.lon) > _SAME_NM for other in kept):
            kept.append(place)
            yield place


def _candidates(wanted: str, database: NavDatabase, route: Route | None) -> Iterator[Place]:
    for point in route.points if route is not None else ():
        if point.place is not None and point.text.upper() == wanted:
            yield replace(point.place, ident=wanted)
    yield from database.places(wanted)
    if airport := database.airport(wanted):
        yield airport
    position = read_position(read_short_code(wanted) or wanted)
    if position is not None:
        lat, lon = (figure.value for figure in position)
        yield Place(formatting.position(lat, lon), lat, lon, PlaceKind.TYPED)


def _describe(place: Place, track: _Track | None) -> FoundPoint:
    nearest = track.nearest(place) if track is not None else None
    if nearest is None:
        return FoundPoint(place, from_route_nm=None, where="")
    away, course, beside = nearest
    if away < _SAME_NM:
        return FoundPoint(place, from_route_nm=0.0, where="on the route")
    where = f"{formatting.nm(away)} {formatting.course(course, 'T')} from {beside}"
    return FoundPoint(place, from_route_nm=away, where=where)


class _Track:
    """The route as places a few miles apart, with the names of the points they lie between."""

    def __init__(self, route: Route) -> None:
        self._names: list[str] = []
        places: list[tuple[float, float]] = []
        for name, stretch in _stretches(route):
            places += stretch
            self._names += [name] * len(stretch)
        self._lat, self._lon = geo.lat_lon_columns(places)

    def nearest(self, place: Place) -> tuple[float, float, str] | None:
        """How far a place is from the route, on which true course from there, and beside what; None with no route."""
        if not self._names:
            return None
        here = np.full_like(self._lat, place.lat), np.full_like(self._lon, place.lon)
        courses, _, away = geo.inverse_many(self._lat, self._lon, *here)
        near = int(np.argmin(away))
        feet = [(float(away[near]), float(courses[near]), self._names[near])]
        feet += [foot for first in (near - 1, near) if (foot := self._foot_between(first, place))]
        return min(feet)

    def _foot_between(self, first: int, place: Place) -> tuple[float, float, str] | None:
        """The same for the step from one place of the track to the next, where the foot of the place lies on it."""
        after = first + 1
        if first < 0 or after >= len(self._names) or self._names[first] != self._names[after]:
            return None
        start, end = ((float(self._lat[i]), float(self._lon[i])) for i in (first, after))
        course, _, length = geo.inverse(*start, *end)
        cross_nm, along_nm = geo.cross_track(*start, *end, place.lat, place.lon)
        if not 0.0 < along_nm < length:
            return None
        bearing, _, _ = geo.inverse(*geo.direct(*start, course, along_nm), place.lat, place.lon)
        return abs(cross_nm), bearing, self._names[first]


def _stretches(route: Route) -> Iterator[tuple[str, list[tuple[float, float]]]]:
    """Points by their names, and the legs between them in steps; a gap has no path."""
    for point in route.points:
        if point.place is not None:
            yield formatting.short(point.text), [(point.place.lat, point.place.lon)]
    for leg, (start, end) in zip(route.legs, pairwise(route.points), strict=True):
        if leg.distance_nm is None or start.place is None or end.place is None:
            continue
        line = leg.shape or geo.points_along(start.place.lat, start.place.lon, end.place.lat, end.place.lon, _STEP_NM)
        yield f"{formatting.short(start.text)}–{formatting.short(end.text)}", list(line)
