"""Radials and radial-distance points: magnetic bearings from a station turned into lines and places.

A radial is referenced to the alignment of its station, so the station's own declination comes first, the World Magnetic
Model next, and the variation in the station's record last. Which one served is said with the result.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.earth import geo, magnetic
from routecheck.frozen_dataclass import dataclass
from routecheck.model import FIELDS, Place, PlaceKind, VariationFrom
from routecheck.navdata.memo import cached_per_database

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable

    from routecheck.model import Airway, Word
    from routecheck.navdata.database import NavDatabase


NEARBY_NM = 30.0
"""A fix this near tells the variation of a place that has no record of it: our choice."""
_CLOSE_NM = 8.0
"""Most places have a fix as close as that: the hundred others around need not be measured."""
_FIXES = frozenset({PlaceKind.FIX, PlaceKind.TERMINAL_FIX})
_FAR_NM = 300.0
"""Where a second point of a radial is put, to measure from."""


@dataclass(frozen=True, slots=True)
class RadialLine:
    """A line from a station on a true course, degrees; `how` says what the course rests on."""

    station: Place
    course_true_deg: float
    how: str


def variation_at(place: Place, date: dt.date) -> tuple[float, VariationFrom] | None:
    """Magnetic variation (degrees, east positive) at a place, the model first; None where nobody says it."""
    return _variation(place, magnetic.declination(place.lat, place.lon, date))


def compass_variation(place: Place, date: dt.date) -> tuple[float, VariationFrom] | None:
    """Magnetic variation as `variation_at` has it; None, too, where the field is too steep for a compass."""
    field = magnetic.declination(place.lat, place.lon, date)
    return None if field is not None and field.is_unusable else _variation(place, field)


def _variation(place: Place, modelled: magnetic.Declination | None) -> tuple[float, VariationFrom] | None:
    if modelled is not None:
        return modelled.declination_deg, VariationFrom.WMM
    if place.variation_deg is None:
        return None
    return place.variation_deg, VariationFrom.FIELD if place.kind in FIELDS else VariationFrom.RECORD


def variation_nearby(database: NavDatabase, place: Place) -> float | None:
    """The variation in the record of the fix nearest to a place, degrees; None where no fix is near.

    For places without a record: typed positions, and stations, whose alignment is not the earth's variation. Measured
    on the fixes of the U.S. FAA CIFP, cycle 2301, each hidden in turn (3,000 at random): 2,939 have
    another near, whose variation is within 1° of theirs in all cases.
    """
    return _variation_around(database, place.lat, place.lon)


@cached_per_database(50_000)
def _variation_around(database: NavDatabase, lat: float, lon: float) -> float | None:
    for radius_nm in (_CLOSE_NM, NEARBY_NM):
        near = [
            (geo.rough_nm(lat, lon, fix.lat, fix.lon), fix.variation_deg)
            for fix in database.places_within(lat, lon, radius_nm)
            if fix.variation_deg is not None and fix.kind in _FIXES
        ]
        if near:
            return min(near)[1]
    return None


def station_alignment(place: Place, date: dt.date) -> tuple[float, VariationFrom] | None:
    """What to add to a radial of a station to get its true course: degrees, and where it comes from."""
    if place.declination_deg is not None:
        return place.declination_deg, VariationFrom.STATION
    return variation_at(place, date)


def radial_lines(word: Word, stations: Iterable[Place], date: dt.date) -> tuple[tuple[RadialLine, ...], str]:
    """The lines a radial word may mean, one a station; or none, and the reason."""
    lines = []
    for station in stations:
        alignment = station_alignment(station, date)
        if alignment is not None and word.bearing_deg is not None:
            degrees, source = alignment
            how = f"{word.ident} {word.bearing_deg:03.0f}°M by {source}, {_east_west(degrees)}"
            lines.append(RadialLine(station, (word.bearing_deg + degrees) % 360.0, how))
    return tuple(lines), "" if lines else f"no variation is known at {word.ident} for this date"


def radial_distance_places(word: Word, stations: Iterable[Place], date: dt.date) -> tuple[tuple[Place, ...], str]:
    """The places a radial-distance word may mean, what each rests on as its name; or none, and the reason."""
    lines, why = radial_lines(word, stations, date)
    if not lines or word.distance_nm is None:
        return (), why
    return tuple(_place_on_radial(line, word.text, word.distance_nm) for line in lines), ""


def radial_crossings(first: Iterable[RadialLine], second: Iterable[RadialLine], text: str) -> tuple[Place, ...]:
    """Where lines of two radials meet ahead of both stations."""
    found = []
    for a in first:
        for b in second:
            here, there = a.station, b.station
            met = geo.crossing(here.lat, here.lon, a.course_true_deg, there.lat, there.lon, b.course_true_deg)
            if met:
                found.append(Place(text, met[0], met[1], PlaceKind.COMPUTED))
    return tuple(found)


def airway_crossings(lines: Iterable[RadialLine], pieces: Iterable[Airway], text: str) -> tuple[Place, ...]:
    """Where the lines of a radial meet an airway, its own points (within 1 NM of the line) included."""
    found = []
    for line in lines:
        normal = geo.line_normal(line.station.lat, line.station.lon, line.course_true_deg)
        for piece in pieces:
            sides = [geo.side_of_line(normal, p.lat, p.lon) for p in piece.places]
            for (start, left), (end, right) in pairwise(zip(piece.places, sides, strict=True)):
                met = _crossing_on_segment(line, start, end) if _straddles(left, right) else None
                if met:
                    found.append(Place(text, met[0], met[1], PlaceKind.COMPUTED))
    return tuple(found)


def _straddles(left: float, right: float) -> bool:
    """Whether two points may lie on both sides of a line: on the sphere, so with 14 NM to spare for the ellipsoid."""
    return min(left, right) <= 0.004 and max(left, right) >= -0.004


def _crossing_on_segment(line: RadialLine, start: Place, end: Place) -> tuple[float, float] | None:
    if geo.rough_nm(line.station.lat, line.station.lon, start.lat, start.lon) > 400:
        return None
    course, _, length = geo.inverse(start.lat, start.lon, end.lat, end.lon)
    met = geo.crossing(line.station.lat, line.station.lon, line.course_true_deg, start.lat, start.lon, course)
    if met is None or geo.rough_nm(start.lat, start.lon, *met) > length + 0.5:
        return None
    return met


def _place_on_radial(line: RadialLine, text: str, distance_nm: float) -> Place:
    lat, lon = geo.direct(line.station.lat, line.station.lon, line.course_true_deg, distance_nm)
    return Place(text, lat, lon, PlaceKind.COMPUTED, name=line.how)


def distance_off_radials_nm(lines: Iterable[RadialLine], place: Place) -> float:
    """How far a place lies off the nearest of some radials; behind a station, how far from the station."""
    return min(_distance_off_radial_nm(line, place) for line in lines)


@lru_cache(maxsize=8192)
def _distance_off_radial_nm(line: RadialLine, place: Place) -> float:
    station = line.station
    far = geo.direct(station.lat, station.lon, line.course_true_deg, _FAR_NM)
    cross, ahead = geo.cross_track(station.lat, station.lon, *far, place.lat, place.lon)
    return abs(cross) if ahead > 0 else geo.inverse(station.lat, station.lon, place.lat, place.lon)[2]


def _east_west(degrees: float) -> str:
    return f"{abs(degrees):.1f}° {'W' if degrees < 0 else 'E'}"
