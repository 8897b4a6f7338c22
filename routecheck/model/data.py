"""What navigation data holds: places, runways, airways, and the files they came from."""

from __future__ import annotations

import math
from dataclasses import KW_ONLY, field
from enum import StrEnum
from itertools import pairwise
from types import MappingProxyType
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Mapping


class PlaceKind(StrEnum):
    """What stands at a place. The values are what a reader sees."""

    FIX = "fix"
    TERMINAL_FIX = "terminal fix"
    VOR = "VOR"
    VOR_DME = "VOR/DME"
    DME = "DME"
    NDB = "NDB"
    AIRPORT = "airport"
    TYPED = "typed position"
    COMPUTED = "computed position"
    RUNWAY = "runway"
    LOCALIZER = "localizer"


FIELDS = frozenset({PlaceKind.AIRPORT, PlaceKind.RUNWAY})
"""The kinds of place at which a route can begin and end."""
NAVAIDS = frozenset({PlaceKind.VOR, PlaceKind.VOR_DME, PlaceKind.DME, PlaceKind.NDB})


PlaceKey = tuple[str, float, float]
"""Ident, latitude, longitude."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place of the loaded data, or one typed or computed. Variation and declination in degrees, east positive.

    `variation_deg` is the earth's as the record gives it; `declination_deg` the alignment of a VHF station.
    `source` names the data source ("" for typed and computed places). `rnav` = the data says that it is an RNAV
    waypoint and nothing else.
    """

    ident: str
    lat: float
    lon: float
    kind: PlaceKind
    _: KW_ONLY
    region: str = ""
    airport: str = ""
    name: str = ""
    variation_deg: float | None = None
    declination_deg: float | None = None
    elevation_ft: float | None = None
    transition_altitude_ft: float | None = None
    """At an aerodrome: up to it altitudes are flown, above it flight levels; from `transition_level_ft` up, levels."""
    transition_level_ft: float | None = None
    rnav: bool = False
    source: str = ""

    @property
    def key(self) -> PlaceKey:
        """The key of the place: two places with the same key are the same."""
        return self.ident, self.lat, self.lon


@dataclass(frozen=True, slots=True)
class Runway:
    """A runway as the data has it; `ident` without the leading RW ("09", "27R")."""

    ident: str
    _: KW_ONLY
    length_ft: float | None
    bearing_magnetic_deg: float | None
    lat: float
    lon: float
    elevation_ft: float | None

    def threshold(self, airport: str) -> Place:
        """Its threshold as a place, named RW27R."""
        return Place(
            f"RW{self.ident}",
            self.lat,
            self.lon,
            PlaceKind.RUNWAY,
            airport=airport,
            elevation_ft=self.elevation_ft,
        )


@dataclass(frozen=True, slots=True)
class AirwaySegment:
    """What the data says of the stretch from one point of an airway to the next; None = not given or unknown."""

    _: KW_ONLY
    course_deg: float | None
    distance_nm: float | None
    inbound_course_deg: float | None
    minimum_ft: float | None
    minimum_back_ft: float | None
    maximum_ft: float | None
    one_way: str
    """"" = both ways or not said, "F" = only in coded order, "B" = only against it."""


LatLonBox = tuple[float, float, float, float]
"""South, north, west, east, degrees."""
_SPARE_DEG = 0.1


@dataclass(frozen=True, slots=True)
class Airway:
    """One continuous piece of an airway: `segments[i]` leads from `places[i]` to `places[i + 1]`."""

    designator: str
    area: str
    places: tuple[Place, ...]
    segments: tuple[AirwaySegment, ...]
    _: KW_ONLY
    level: str = ""
    index_by_key: Mapping[PlaceKey, int] = field(init=False, compare=False, repr=False)
    """The index of each place in `places`, of one that comes twice the first, by (ident, lat, lon)."""
    segment_boxes: tuple[LatLonBox, ...] = field(init=False, compare=False, repr=False)
    """For each segment a box that holds every position within 5 NM of its line."""
    box: LatLonBox = field(init=False, compare=False, repr=False)
    """The box that holds all of these."""
    stations: tuple[int, ...] = field(init=False, compare=False, repr=False)
    """The indices in `places` of its VHF stations: those that have an alignment."""

    def __post_init__(self) -> None:
        """Compute once what is asked again and again of a piece that never changes."""
        places = self.places
        indices = {p.key: i for i, p in reversed(tuple(enumerate(places)))}
        object.__setattr__(self, "index_by_key", MappingProxyType(indices))
        boxes = tuple(_box_around(a, b) for a, b in pairwise(places))
        object.__setattr__(self, "segment_boxes", boxes)
        south, north, west, east = zip(*boxes, strict=True) if boxes else ((0.0,),) * 4
        object.__setattr__(self, "box", (min(south), max(north), min(west), max(east)))
        stations = tuple(i for i, place in enumerate(places) if place.declination_deg is not None)
        object.__setattr__(self, "stations", stations)


def _box_around(a: Place, b: Place) -> LatLonBox:
    """The box of a segment, a tenth of a degree wider than its line; near ±180 and the poles it has all longitudes."""
    south, north, west, east = min(a.lat, b.lat), max(a.lat, b.lat), min(a.lon, b.lon), max(a.lon, b.lon)
    span = min(east - west, 360.0 - (east - west))
    # A geodesic leaves the band between its ends' latitudes by no more than about longitude² / 900 degrees.
    margin = _SPARE_DEG + span * span / 450.0
    highest = max(-south, north) + margin
    if east - west > 90.0 or max(-west, east) > 178.0 or highest > 80.0:
        return south - margin, north + margin, -180.0, 180.0
    aside = _SPARE_DEG / math.cos(math.radians(highest))
    return south - margin, north + margin, west - aside, east + aside


@dataclass(frozen=True, slots=True)
class DataSource:
    """One loaded file of navigation data. `rejected` holds (line number, reason) of records not used."""

    name: str
    _: KW_ONLY
    file: str = ""
    """The name of the file that it came in: `name` says too which text of a .zip it is. "" = it came in no file."""
    cycle: str
    effective: dt.date | None
    until: dt.date | None
    """First day on which the next cycle holds."""
    counts: tuple[tuple[str, int], ...]
    """How many records of each kind it has."""
    records: int = 0
    """How many records it has in all, those rejected and those of kinds that are not used among them."""
    announced: int | None = None
    """How many records its header says that it has; None = it does not say."""
    rejected: tuple[tuple[int, str], ...] = ()
    invented: bool = False
    """Whether this is the demo region, which is nowhere on earth's charts."""
    has_directions: bool = False
    """Whether any airway record says that it is one-way; where none does, directions are simply not given."""

    @property
    def missing(self) -> int:
        """How many records fewer it has than its header announces; below zero = more. 0 where it announces none."""
        return 0 if self.announced is None else self.announced - self.records

    def count_of(self, kind: str) -> int:
        """How many records of a kind it has."""
        return dict(self.counts).get(kind, 0)
