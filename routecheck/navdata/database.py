"""The navigation database: names to places, airways, procedures, runways, minima. How records are stored is unknown."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Any

from routecheck.earth import geo
from routecheck.garbage import collect_no_garbage
from routecheck.model import CodedProcedure, PlaceKind
from routecheck.navdata import readers, world_airports
from routecheck.navdata.airway_pieces import join_segments
from routecheck.navdata.coverage import area_cell, reaches, well_known_areas
from routecheck.navdata.data_reader import TerminalFixes
from routecheck.navdata.grid_index import cells_touching, places_within
from routecheck.navdata.memo import cached_per_database
from routecheck.navdata.tables import SORTS, Tables, merge_tables
from routecheck.navdata.world_airports import world_airport

if TYPE_CHECKING:
    import os
    from collections.abc import Callable, Collection, Iterable, Iterator, Sequence

    from routecheck.model import Airway, DataSource, Place, Runway
    from routecheck.navdata.coverage import AreaCell, RecordCounts, RecordKind
    from routecheck.navdata.data_reader import AirportProcedures
    from routecheck.navdata.tables import Records, Spot

SAME_SPOT_NM = 0.1
_ANSWERS = 50_000
_DECODED = 4_096
"""So many procedures are cached decoded."""
_NO_TERMINAL_FIXES = TerminalFixes(frozenset(), frozenset())
_ORDER = {kind: rank for rank, kind in enumerate(PlaceKind)}


class NavDatabase:
    """Loaded navigation data, asked by name or by position. Positions in degrees, north and east positive.

    Made by `load_navdata`, `demo_database` or `empty_database`, or opened from the store. It never changes once made,
    and any thread may ask it.
    """

    def __init__(self, records: Records, sources: tuple[DataSource, ...]) -> None:
        self.records = records
        self.sources = sources
        """The files the data came from, newest first; () where nothing is loaded."""
        self.derived: defaultdict[object, dict[Any, Any]] = defaultdict(dict)
        """The answers that `cached_per_database` has cached, by function."""

    @classmethod
    def from_tables(cls, *tables: Tables) -> NavDatabase:
        """Several data sources together. Of records with the same key that of the newer cycle holds.

        The key of a fix or navaid is its sort, airport, ident and region, that of an airway its designator and area.
        An airport's runways and an airport's procedures are taken whole from the newest source that has any: a
        superseded procedure must not come back out of an older file. Of two equally new sources the later given wins.
        """
        return cls(*merge_sources(tables))

    @cached_per_database(_ANSWERS)
    def places(self, ident: str) -> tuple[Place, ...]:
        """Every fix, terminal fix and navaid of that ident (no airports), always in the same order; () if none.

        What stands at the same spot (within 0.1 NM) under the same name and is of the same sort (fix, VHF navaid,
        NDB) appears once: a terminal fix that repeats an enroute fix, or that of another airport, is left out.
        """
        return _without_repeats(self.records.by_ident.get(ident, ()))

    def names(self) -> Collection[str]:
        """Every ident that `places` answers to."""
        return self.records.by_ident.keys()

    def spots(self, beginning: str) -> Sequence[Spot]:
        """Every fix and navaid whose ident begins so (no airports), in brief and in no order."""
        return self.records.spots(beginning)

    def airport(self, ident: str) -> Place | None:
        """The airport by ICAO code or FAA location identifier, loaded data first, then the world list; else None.

        A three-letter passenger code is never one: it names a navaid, often far from the airport.
        """
        return self.records.airports.get(ident) or world_airport(ident)

    def runways(self, airport: str) -> tuple[Runway, ...]:
        """The runways of a loaded airport, by ident; () where none are loaded."""
        return tuple(runway for _, runway in sorted(self.records.runways.get(airport, {}).items()))

    @cached_per_database(_ANSWERS)
    def airways(self, designator: str) -> tuple[Airway, ...]:
        """The continuous pieces of an airway, in the order of (area, sequence); () if the data has none.

        `minimum_back_ft` of a segment is the minimum against the coded order: the record's second minimum where it
        has one, else the same as `minimum_ft`. A piece is cut where a fix of it is nowhere in the data.
        """
        areas = self.records.areas.get(designator, ())
        segments = [(area, self.records.airways[designator, area]) for area in areas]
        return join_segments(designator, segments, self.records.places)

    def airway_names(self) -> Collection[str]:
        """Every designator that `airways` answers to."""
        return self.records.areas.keys()

    def airways_through(self, ident: str) -> frozenset[str]:
        """The designators of all airways that go by a point of that ident, the ident alone being compared."""
        return frozenset(self.records.through.get(ident, ()))

    def procedure_kinds(self, airport: str, name: str) -> frozenset[str]:
        """What that name is at that airport: "SID", "STAR", both, or nothing."""
        known = self.records.procedures.get(airport, {})
        return frozenset(kind for kind in ("SID", "STAR") if (kind, name) in known)

    def procedure_airports(self, name: str) -> frozenset[str]:
        """Every airport that has a SID or STAR of that name."""
        return frozenset(self.records.procedure_airports.get(name, ()))

    def procedure_names(self, airport: str, kind: str) -> tuple[str, ...]:
        """The names of an airport's procedures of one kind ("SID", "STAR" or "APPROACH"), sorted."""
        return tuple(sorted(name for known, name in self.records.procedures.get(airport, ()) if known == kind))

    def transitions(self, airport: str, name: str) -> frozenset[str]:
        """The enroute transitions of a procedure (no runway branches)."""
        known = self.records.procedures.get(airport, {})
        return frozenset().union(*(known.get((kind, name), ()) for kind in ("SID", "STAR")))

    @cached_per_database(_ANSWERS)
    def terminal_fixes(self, airport: str) -> TerminalFixes:
        """Idents of the fixes at which approaches of an airport begin, and of all fixes of its procedures."""
        coded = self._coded_procedures(airport)
        return coded.terminal_fixes() if coded else _NO_TERMINAL_FIXES

    @cached_per_database(_DECODED)
    def procedure(self, airport: str, kind: str, name: str) -> CodedProcedure | None:
        """A coded SID, STAR or APPROACH (`kind`) with all its branches; None where the data has none.

        Decoded when it is first asked for. A fix that is nowhere in the data has no place.
        """
        coded = self._coded_procedures(airport)
        if coded is None or (kind, name) not in self.records.procedures.get(airport, {}):
            return None
        return CodedProcedure(airport, kind, name, coded.branches(kind, name), self.airport(airport))

    @cached_per_database(_ANSWERS)
    def _coded_procedures(self, airport: str) -> AirportProcedures | None:
        block = self.records.blocks.get(airport)
        if block is None:
            return None
        return readers.reader_named(block.reader).procedures(airport, block.content, self.records)

    @property
    def coverage(self) -> RecordCounts:
        """How many records of each kind the loaded data has of each ICAO region."""
        return self.records.coverage

    def covers(self, kind: RecordKind, lat: float, lon: float) -> bool:
        """Whether the loaded data would surely have what it should have of a kind at a position.

        Points of areas of which it has many such records must lie within about 150 NM in all four quadrants, and
        none of another area nearer. By cells of half a degree. Raises ImpossiblePositionError.
        """
        geo.refuse_impossible(lat, lon)
        return self._is_covered_cell(kind, area_cell(lat, lon))

    def knows_area_of(self, kind: RecordKind, place: Place) -> bool:
        """Whether the loaded data has many records of a kind in the area of a place, as far as its area is known.

        That of an airport of the world list is told by its ICAO code: the first two letters are the area, in the
        United States K and a digit.
        """
        areas, ident = self._well_known_areas(kind), place.ident
        if place.source == world_airports.SOURCE and len(ident) == 4 and ident.isalpha():
            return ident[:2] in areas or any(area[0] == ident[0] and area[1:].isdigit() for area in areas)
        return not place.region or place.region in areas

    @cached_per_database(_ANSWERS)
    def _is_covered_cell(self, kind: RecordKind, cell: AreaCell) -> bool:
        return reaches(self.records.area_cells, self._well_known_areas(kind), cell)

    @cached_per_database(_ANSWERS)
    def _well_known_areas(self, kind: RecordKind) -> frozenset[str]:
        return well_known_areas(self.records.coverage, kind)

    def mora_ft(self, lat: float, lon: float) -> float | None:
        """The grid minimum off-route altitude there, feet; None where the data has none or says unknown.

        On a line between cells the higher of the known ones. Raises ImpossiblePositionError.
        """
        geo.refuse_impossible(lat, lon)
        known = (self.records.mora.get(cell) for cell in cells_touching(lat, lon))
        return max((feet for feet in known if feet is not None), default=None)

    def places_within(self, lat: float, lon: float, radius_nm: float) -> Iterator[Place]:
        """Every loaded place (airports too, repeats too) within a radius, measured on the sphere (0.6 %).

        Raises ImpossiblePositionError.
        """
        return places_within(self.records.by_cell, lat, lon, radius_nm)


def merge_sources(tables: Iterable[Tables]) -> tuple[Tables, tuple[DataSource, ...]]:
    """Several data sources as one, by the rules of `NavDatabase.from_tables`, and the sources, newest first."""
    oldest_first = sorted(tables, key=lambda t: t.source.effective or dt.date.min)
    return merge_tables(oldest_first), tuple(t.source for t in reversed(oldest_first))


@collect_no_garbage()
def load_navdata(
    paths: Iterable[str | os.PathLike[str]],
    *,
    progress: Callable[[float], None] | None = None,
    with_demo: bool = False,
) -> NavDatabase:
    """Read files of navigation data (plain, .gz, .xz, .zip). Raises DataError, and UsageError for a missing file.

    `progress` gets the share done, 0 to 1, and may raise to stop the reading. `with_demo` adds the demo region.
    """
    files = list(paths)
    tables: list[Tables] = [_demo_tables()] if with_demo else []
    for done, path in enumerate(files):
        share = partial_progress(progress, done, len(files)) if progress else None
        tables += readers.read_file(path, progress=share)
    return NavDatabase.from_tables(*tables)


def partial_progress(progress: Callable[[float], None], done: int, parts: int) -> Callable[[float], None]:
    """Report progress through one of several parts as progress through all of them."""
    return lambda share: progress((done + share) / parts)


def empty_database() -> NavDatabase:
    """No navigation data: airports of the world list only."""
    return NavDatabase.from_tables()


@cache
def demo_database() -> NavDatabase:
    """The invented demo region that comes with the program. It is read once, and what is derived from it stays."""
    return NavDatabase.from_tables(_demo_tables())


def _demo_tables() -> Tables:
    text = resources.files("routecheck.resources").joinpath("demo", "demo_region.txt").read_text("latin-1")
    return readers.read_text(text, "demo region")


def _without_repeats(places: Iterable[Place]) -> tuple[Place, ...]:
    distinct: list[Place] = []
    for place in sorted(places, key=lambda p: (not p.region, _ORDER[p.kind], p.region, p.airport, p.lat, p.lon)):
        if not any(_is_repeat(place, other) for other in distinct):
            distinct.append(place)
    return tuple(distinct)


def _is_repeat(place: Place, other: Place) -> bool:
    return (
        SORTS[place.kind] == SORTS[other.kind]
        and geo.rough_nm(place.lat, place.lon, other.lat, other.lon) <= SAME_SPOT_NM
    )
