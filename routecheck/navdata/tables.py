"""The records of one file sorted into dicts in memory, and what a NavDatabase asks of records wherever they are.

No reading of files and no answering of questions here, and nothing that only one form of data knows.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import KW_ONLY, dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple, Protocol

from routecheck.model import AirwaySegment, DataSource, PlaceKind
from routecheck.navdata.coverage import area_cell, count_records
from routecheck.navdata.grid_index import Cell, sort_into_cells

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence

    from routecheck.model import Place, Runway
    from routecheck.navdata.coverage import AreaCell, AreaCells, RecordCounts

PlaceRef = tuple[str, str, str, str]
"""(sort, airport, ident, region) of a fix or navaid: what airways and procedures refer to it by. The airport is ""
unless the place belongs to one; sorts are "fix", "VHF navaid" and "NDB"."""

Spot = tuple[str, float, float, str]
"""Ident, latitude, longitude (degrees) and airport ("" = none) of a fix or navaid: enough to choose among many."""

SORTS = {
    PlaceKind.FIX: "fix",
    PlaceKind.TERMINAL_FIX: "fix",
    PlaceKind.NDB: "NDB",
    PlaceKind.VOR: "VHF navaid",
    PlaceKind.VOR_DME: "VHF navaid",
    PlaceKind.DME: "VHF navaid",
}
"""The sort of a fix or navaid: places of one sort, airport, ident and region are the same place."""


def spot_of(place: Place) -> Spot:
    """A fix or navaid in brief."""
    return place.ident, place.lat, place.lon, place.airport


def ref_of(place: Place) -> PlaceRef:
    """What a fix or navaid is referred to by."""
    return SORTS[place.kind], place.airport, place.ident, place.region


class SegmentRecord(NamedTuple):
    """A stretch of an airway between two places, in coded order. `level`: L, H, "" = both or not said.

    `ends`: the data says that within its area the airway does not go on, even where another segment begins there.
    """

    start: PlaceRef
    end: PlaceRef
    level: str
    ends: bool
    figures: AirwaySegment


class ProcedureBlock(NamedTuple):
    """All coded procedures of an airport as its data source has them, and the name of the reader that decodes them."""

    reader: str
    content: bytes


class Records(Protocol):
    """What a NavDatabase asks of records: `Tables` in memory, or a compiled image read as records are wanted."""

    @property
    def places(self) -> Mapping[PlaceRef, Place]:
        """Fixes and navaids."""

    @property
    def airports(self) -> Mapping[str, Place]:
        """By ident."""

    @property
    def runways(self) -> Mapping[str, Mapping[str, Runway]]:
        """By airport, then by ident."""

    @property
    def airways(self) -> Mapping[tuple[str, str], Sequence[SegmentRecord]]:
        """By (designator, area), in coded order."""

    @property
    def procedures(self) -> Mapping[str, Mapping[tuple[str, str], Collection[str]]]:
        """By airport, then by (kind, name): the idents of the enroute transitions, of SIDs and STARs only."""

    @property
    def blocks(self) -> Mapping[str, ProcedureBlock]:
        """By airport."""

    @property
    def mora(self) -> Mapping[Cell, float]:
        """Feet by cell."""

    @property
    def by_ident(self) -> Mapping[str, Collection[Place]]:
        """Fixes and navaids of each ident, in the order of the file."""

    @property
    def by_cell(self) -> Mapping[Cell, Sequence[Place]]:
        """Fixes and navaids, then airports, of each cell, in the order of the file."""

    @property
    def area_cells(self) -> AreaCells:
        """Which areas have an enroute fix, a navaid or an airport in a cell: terminal fixes say nothing of an area."""

    @property
    def coverage(self) -> RecordCounts:
        """How many records of each kind each ICAO region has."""

    @property
    def areas(self) -> Mapping[str, Sequence[str]]:
        """The areas, sorted, that have an airway of that designator."""

    @property
    def through(self) -> Mapping[str, Collection[str]]:
        """The designators of the airways that go by a fix of that ident which is in the data."""

    @property
    def procedure_airports(self) -> Mapping[str, Collection[str]]:
        """The airports that have a SID or STAR of that name."""

    def spots(self, beginning: str) -> Sequence[Spot]:
        """Every fix and navaid whose ident begins so, in no order."""


@dataclass
class Tables:
    """What one data source holds: Records in memory, filled while a file is read and asked only afterwards."""

    _: KW_ONLY
    source: DataSource = field(default_factory=lambda: DataSource("", cycle="", effective=None, until=None, counts=()))
    places: dict[PlaceRef, Place] = field(default_factory=dict)
    airports: dict[str, Place] = field(default_factory=dict)
    runways: dict[str, dict[str, Runway]] = field(default_factory=dict)
    airways: dict[tuple[str, str], list[SegmentRecord]] = field(default_factory=dict)
    procedures: dict[str, dict[tuple[str, str], set[str]]] = field(default_factory=dict)
    blocks: dict[str, ProcedureBlock] = field(default_factory=dict)
    mora: dict[Cell, float] = field(default_factory=dict)

    @cached_property
    def by_ident(self) -> dict[str, list[Place]]:
        """As in Records."""
        known: dict[str, list[Place]] = {}
        for place in self.places.values():
            known.setdefault(place.ident, []).append(place)
        return known

    @cached_property
    def by_cell(self) -> dict[Cell, list[Place]]:
        """As in Records."""
        return sort_into_cells(self._fixes_navaids_and_airports())

    @cached_property
    def area_cells(self) -> dict[AreaCell, set[str]]:
        """As in Records."""
        cells: dict[AreaCell, set[str]] = {}
        for place in self._fixes_navaids_and_airports():
            if place.kind is not PlaceKind.TERMINAL_FIX and place.region:
                cells.setdefault(area_cell(place.lat, place.lon), set()).add(place.region)
        return cells

    @cached_property
    def coverage(self) -> RecordCounts:
        """As in Records."""
        return count_records(self)

    @cached_property
    def areas(self) -> dict[str, list[str]]:
        """As in Records."""
        return areas_by_designator(self.airways)

    @cached_property
    def through(self) -> dict[str, set[str]]:
        """As in Records."""
        through: dict[str, set[str]] = {}
        for (designator, _), segments in self.airways.items():
            for segment in segments:
                for ref in (segment.start, segment.end):
                    if ref in self.places:
                        through.setdefault(ref[2], set()).add(designator)
        return through

    @cached_property
    def procedure_airports(self) -> dict[str, set[str]]:
        """As in Records."""
        airports: dict[str, set[str]] = {}
        for airport, procedures in self.procedures.items():
            for kind, name in procedures:
                if kind != "APPROACH":
                    airports.setdefault(name, set()).add(airport)
        return airports

    def spots(self, beginning: str) -> list[Spot]:
        """As in Records."""
        idents, found = self._sorted_idents, list[Spot]()
        for i in range(bisect_left(idents, beginning), len(idents)):
            if not idents[i].startswith(beginning):
                break
            found += map(spot_of, self.by_ident[idents[i]])
        return found

    @cached_property
    def _sorted_idents(self) -> list[str]:
        return sorted(self.by_ident)

    def _fixes_navaids_and_airports(self) -> Iterator[Place]:
        yield from self.places.values()
        yield from self.airports.values()


def areas_by_designator(airways: Collection[tuple[str, str]]) -> dict[str, list[str]]:
    """The areas of each designator, sorted."""
    areas: dict[str, list[str]] = {}
    for designator, area in sorted(airways):
        areas.setdefault(designator, []).append(area)
    return areas


def merge_tables(tables: Sequence[Tables]) -> Tables:
    """All in one, later ones before earlier ones; one alone is given back as it is."""
    if len(tables) == 1:
        return tables[0]
    merged = Tables()
    for one in tables:
        merged.places.update(one.places)
        merged.airports.update(one.airports)
        merged.runways.update(one.runways)
        merged.airways.update(one.airways)
        merged.procedures.update(one.procedures)
        merged.blocks.update(one.blocks)
        merged.mora.update(one.mora)
    return merged
