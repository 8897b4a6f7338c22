"""The magnetic courses that charts show along airways, beside those that the magnetic field gives. No geodesics here.

An airway's course is a radial of a VHF station of the airway, by that station's alignment, which is seldom set anew; an
RNAV airway's course is by the variation in the records of its fixes. Where the data codes no course the same rule makes
one. Tried on the 17,975 coded segments of the U.S. FAA CIFP, cycle 2301, with their courses hidden, it answers for
95.6 % of them, and of these 94.4 % within 3°, of each class of airway 93 % and more:
`pytest -m bench tests/bench/test_bench_charted_courses.py -s`.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from routecheck.earth import geo
from routecheck.model import ChartedCourse

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Airway, Connection, Leg, Place, Route

WORTH_SAYING_DEG = 2.0
"""A charted course this near the computed one needs no words: our choice."""
_EXPLAINED_DEG = 1.0
"""An alignment explains a coded course that it brings so near the true one: our choice."""
_FARTHEST_NM = 200.0
"""A coded course farther from a station is explained by none: our choice."""
_FARTHEST_RECKONED_NM = 80.0
"""The rule has no answer farther from the nearest station: 72 to 89 % of those coded there came within 3°, by class."""
_LEAST_APART_DEG = 3.0
_CLEARLY_NEARER = 0.7
"""No course is reckoned where the two stations differ by more than that and neither is so much nearer: our choice."""
_RNAV_AIRWAY = re.compile(r"U?[LMNPQTYZ]\d|TK\d")
"""ICAO Annex 11, Appendix 1: the letters of area navigation routes. TK are those for helicopters (from memory)."""
_BY_STATIONS_ALONE = re.compile(r"[JV]\d")
"""U.S. airways from station to station. Where none is near, the record of a fix came within 3° of 73 % of the coded."""


class _Station(NamedTuple):
    """A VHF station of an airway, and how far along the airway it lies from where the leg begins."""

    ident: str
    alignment_deg: float
    distance_nm: float


def charted_courses(route: Route) -> tuple[ChartedCourse | None, ...]:
    """For every leg the course that charts have at its start; None off airways, at gaps, and where nobody can say."""
    connections, taken = route.resolved.connections, [0] * len(route.resolved.connections)
    found = []
    for leg in route.legs:
        connection, nth = connections[leg.connection], taken[leg.connection]
        taken[leg.connection] += 1
        has_course = connection.piece is not None and not connection.is_gap and leg.course_true_deg is not None
        is_followed = has_course and nth < len(connection.segments)  # joined and left at one spot it has no segment
        found.append(_charted_course(connection, nth, leg) if is_followed else None)
    return tuple(found)


def differing_charted_courses(route: Route) -> tuple[ChartedCourse | None, ...]:
    """As `charted_courses`, but only those that differ from the magnetic course by enough to be said."""
    pairs = zip(charted_courses(route), route.legs, strict=True)
    return tuple(charted if charted and _differs(charted, leg) else None for charted, leg in pairs)


def _differs(charted: ChartedCourse, leg: Leg) -> bool:
    computed = leg.course_magnetic_deg
    return computed is None or abs(geo.wrap180(charted.course_deg - computed)) > WORTH_SAYING_DEG


def _charted_course(connection: Connection, nth: int, leg: Leg) -> ChartedCourse | None:
    piece, true_deg = connection.piece, leg.course_true_deg
    if piece is None or true_deg is None:
        return None
    number = connection.first_segment + (nth if connection.forward else -nth)
    segment, inbound_deg = piece.segments[number], piece.segments[number].inbound_course_deg
    if not connection.forward:
        coded_deg = None if inbound_deg is None else (inbound_deg + 180.0) % 360.0
    else:
        coded_deg = segment.course_deg
    if coded_deg is None:
        return reckon_charted_course(piece, number, true_deg, forward=connection.forward)
    return _explain(coded_deg, true_deg, _stations(piece, number, forward=connection.forward))


def _explain(coded_deg: float, true_deg: float, stations: Sequence[_Station]) -> ChartedCourse:
    """A coded course with the station whose alignment explains it, if one does."""

    def off_deg(station: _Station) -> float:
        return abs(geo.wrap180(coded_deg + station.alignment_deg - true_deg))

    best = min(stations, key=off_deg, default=None)
    if best is None or off_deg(best) > _EXPLAINED_DEG:
        return ChartedCourse(coded_deg, coded=True)
    return ChartedCourse(coded_deg, coded=True, station=best.ident, alignment_deg=best.alignment_deg)


def reckon_charted_course(piece: Airway, number: int, true_deg: float, *, forward: bool) -> ChartedCourse | None:
    """The course of segment `number` by our rule, for where none is coded; None where the rule has no answer.

    That of the nearest station on the airway, counted from where the leg begins; on RNAV airways, and on others that do
    not go from station to station, by the record of the fix at its start, or else at its end.
    """
    stations = sorted(_stations(piece, number, forward=forward), key=lambda station: station.distance_nm)
    if not stations:
        if _BY_STATIONS_ALONE.match(piece.designator):
            return None
        variation = _recorded_variation(piece, number, forward=forward)
        return None if variation is None else ChartedCourse((true_deg - variation) % 360.0, coded=False)
    best = stations[0]
    if best.distance_nm > _FARTHEST_RECKONED_NM or (len(stations) > 1 and _are_at_odds(best, stations[1])):
        return None
    course_deg = (true_deg - best.alignment_deg) % 360.0
    return ChartedCourse(course_deg, coded=False, station=best.ident, alignment_deg=best.alignment_deg)


def _are_at_odds(nearest: _Station, other: _Station) -> bool:
    apart = abs(nearest.alignment_deg - other.alignment_deg) > _LEAST_APART_DEG
    return apart and nearest.distance_nm > _CLEARLY_NEARER * other.distance_nm


def _recorded_variation(piece: Airway, number: int, *, forward: bool) -> float | None:
    ends = piece.places[number : number + 2] if forward else piece.places[number : number + 2][::-1]
    return next((place.variation_deg for place in ends if place.variation_deg is not None), None)


def _stations(piece: Airway, number: int, *, forward: bool) -> list[_Station]:
    """The station before segment `number` and the one behind it, where they are near; none on an RNAV airway."""
    if _RNAV_AIRWAY.match(piece.designator):
        return []
    behind = bisect_right(piece.stations, number)
    indices = piece.stations[max(behind - 1, 0) : behind + 1]
    begins = number if forward else number + 1
    near = (_station(piece.places, index, begins) for index in indices)
    return [station for station in near if station.distance_nm <= _FARTHEST_NM]


def _station(places: Sequence[Place], index: int, begins: int) -> _Station:
    between = places[min(index, begins) : max(index, begins) + 1]
    station = places[index]
    return _Station(station.ident, station.declination_deg or 0.0, sum(_lengths_nm(between)))


def _lengths_nm(places: Sequence[Place]) -> Iterator[float]:
    return (geo.rough_nm(a.lat, a.lon, b.lat, b.lon) for a, b in pairwise(places))
