"""What the data has of which part of the world: records counted by ICAO region and by kind, and how far it reaches.

A name that the data lacks is missing only where the data is complete. That is told by area, which is an ICAO region:
the data of one country always holds a few points of its neighbours, as far as its own airways go there.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Mapping
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from routecheck.earth import geo
from routecheck.model import PlaceKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.navdata.tables import Records


class RecordKind(StrEnum):
    """A kind of record that a region may have or lack. Grid MORA has no region: its cells say where it is."""

    FIX = "fix"
    TERMINAL_FIX = "terminal fix"
    VHF_NAVAID = "VHF navaid"
    NDB = "NDB"
    AIRPORT = "airport"
    RUNWAY = "runway"
    AIRWAY = "airway segment"
    SID = "SID"
    STAR = "STAR"
    APPROACH = "approach"


RecordCounts = dict[tuple[str, RecordKind], int]
"""How many records of a kind a region has, by (region, kind); what is not there has none."""

_OF_PLACES = {
    PlaceKind.FIX: RecordKind.FIX,
    PlaceKind.TERMINAL_FIX: RecordKind.TERMINAL_FIX,
    PlaceKind.NDB: RecordKind.NDB,
    PlaceKind.VOR: RecordKind.VHF_NAVAID,
    PlaceKind.VOR_DME: RecordKind.VHF_NAVAID,
    PlaceKind.DME: RecordKind.VHF_NAVAID,
    PlaceKind.AIRPORT: RecordKind.AIRPORT,
}


def count_records(records: Records) -> RecordCounts:
    """Count the records of every region. A segment that crosses a border counts on both sides of it.

    What belongs to an airport is of the airport's region, "" where the data does not have the airport.
    """
    counts = Counter((place.region, _OF_PLACES[place.kind]) for place in records.places.values())
    counts.update((place.region, RecordKind.AIRPORT) for place in records.airports.values())
    counts.update(_airport_records(records))
    for segments in records.airways.values():
        for segment in segments:
            counts.update((region, RecordKind.AIRWAY) for region in {segment.start[3], segment.end[3]})
    return dict(counts)


def _airport_records(records: Records) -> Iterator[tuple[str, RecordKind]]:
    regions: Mapping[str, str] = {ident: place.region for ident, place in records.airports.items()}
    for airport, runways in records.runways.items():
        for _ in runways:
            yield regions.get(airport, ""), RecordKind.RUNWAY
    for airport, procedures in records.procedures.items():
        for kind, _ in procedures:
            yield regions.get(airport, ""), RecordKind[kind]


# ---- how far the data reaches

ALL_ROUND_NM = 150.0
"""Where points of the data lie within this in all four quadrants, it is complete: our choice, calibrated on routes that
leave the U.S. file and on the demo region."""
_LEAST = {RecordKind.FIX: 200, RecordKind.AIRWAY: 200, RecordKind.VHF_NAVAID: 100, RecordKind.AIRPORT: 100}
"""An area with fewer records of a kind is a neighbour's. The U.S. file of cycle 2301 has 158 fixes of Canada and 145
segments of the Bahamas; the least of its own are 246 fixes and 201 segments, of Hawaii, and 127 navaids, of the
north-west."""
_LEAST_SHARE = 0.1
"""So large a share of all records of a kind counts too, in a small file."""
_TOGETHER = {RecordKind.VHF_NAVAID: (RecordKind.VHF_NAVAID, RecordKind.NDB)}
_CELLS_A_DEGREE = 2

AreaCell = tuple[int, int]
"""South and west edge of a cell in halves of a degree."""
AreaCells = Mapping[AreaCell, Collection[str]]
"""The areas that have a fix, navaid or airport in a cell."""


def area_cell(lat: float, lon: float) -> AreaCell:
    """The cell of half a degree that a position lies in; the pole belongs to the last row, 180 to -180."""
    row, column = (int(degrees * _CELLS_A_DEGREE // 1) for degrees in (lat, lon))
    turn = 180 * _CELLS_A_DEGREE
    return min(row, 90 * _CELLS_A_DEGREE - 1), (column + turn) % (2 * turn) - turn


def kind_of_name(name: str) -> RecordKind:
    """The kind of record that a name in a route would be of: navaids have up to three letters."""
    return RecordKind.FIX if len(name) > 3 else RecordKind.VHF_NAVAID


def well_known_areas(counts: RecordCounts, kind: RecordKind) -> frozenset[str]:
    """The areas of which the data has so many records of a kind that it can be taken to have all."""
    kinds = _TOGETHER.get(kind, (kind,))
    number: Counter[str] = Counter()
    for (region, of_kind), count in counts.items():
        if of_kind in kinds and region:
            number[region] += count
    share = _LEAST_SHARE * sum(number.values())
    return frozenset(region for region, count in number.items() if count >= _LEAST[kind] or count >= share)


def reaches(areas: AreaCells, known: Collection[str], here: AreaCell) -> bool:
    """Whether points of well-known areas lie all round a cell, and the points nearest to it are of one of them."""
    missing, nearest_stranger_nm, is_first = set(_QUADRANTS), math.inf, True
    for cell, distance_nm, quadrants in _cells_around(here):
        regions = areas.get(cell, ())
        if any(region in known for region in regions):
            if is_first and nearest_stranger_nm < distance_nm:
                return False
            is_first = False
            missing.difference_update(quadrants)
            if not missing:
                return True
        elif regions:
            nearest_stranger_nm = min(nearest_stranger_nm, distance_nm)
    return False


_QUADRANTS = ("NE", "SE", "SW", "NW")


class _NearCell(NamedTuple):
    cell: AreaCell
    distance_nm: float
    quadrants: tuple[str, ...]


@cache
def _offsets(row: int) -> tuple[tuple[int, int, float], ...]:
    """(rows up, columns right, NM) of every cell whose middle is near enough that of a cell in a row, nearest first."""
    lat = (row + 0.5) / _CELLS_A_DEGREE
    found = []
    reach = int(ALL_ROUND_NM / 60.0 * _CELLS_A_DEGREE) + 1
    for up in range(-reach, reach + 1):
        other = (row + up + 0.5) / _CELLS_A_DEGREE
        for right in range(180 * _CELLS_A_DEGREE):
            distance = geo.rough_nm(lat, 0.0, other, right / _CELLS_A_DEGREE) if abs(other) < 90 else math.inf
            if distance > ALL_ROUND_NM:
                break
            found += [(up, side, distance) for side in {right, -right}]
    return tuple(sorted(found, key=lambda offset: offset[2]))


def _cells_around(here: AreaCell) -> Iterator[_NearCell]:
    row, column = here
    turn = 180 * _CELLS_A_DEGREE
    for up, right, distance in _offsets(row):
        quadrants = tuple([q for q in _QUADRANTS if (up or right) and _is_in(q, up, right)])
        yield _NearCell((row + up, (column + right + turn) % (2 * turn) - turn), distance, quadrants)


def _is_in(quadrant: str, up: int, right: int) -> bool:
    """Whether a cell lies in a quadrant; one straight ahead lies in both beside it."""
    north, east = quadrant[0] == "N", quadrant[1] == "E"
    return (up >= 0 if north else up <= 0) and (right >= 0 if east else right <= 0)
