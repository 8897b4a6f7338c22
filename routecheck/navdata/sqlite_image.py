"""Records compiled into one SQLite image and read from it when they are asked for. No file is opened or written here.

An image is bytes: the whole of it is copied into memory when it is opened, so nothing that later happens to the file
it came from can reach an answer.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import heapq
import json
import sqlite3
import sys
import threading
import weakref
import zlib
from contextlib import closing
from dataclasses import asdict, fields
from functools import cached_property
from itertools import islice
from operator import attrgetter, itemgetter
from typing import TYPE_CHECKING, Any

from routecheck.model import AirwaySegment, DataSource, Place, PlaceKind, Runway
from routecheck.navdata.coverage import RecordKind
from routecheck.navdata.grid_index import Cell, cell_of
from routecheck.navdata.lazy_mapping import LazyMapping, PlacesByIdent, PlacesByRef
from routecheck.navdata.tables import PlaceRef, ProcedureBlock, SegmentRecord, areas_by_designator, ref_of

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence

    from routecheck.navdata.coverage import AreaCell, RecordCounts
    from routecheck.navdata.tables import Records, Spot

Row = tuple[Any, ...]

_PLACE_NAMES = (
    *("lat", "lon", "kind", "region", "airport", "name", "variation_deg", "declination_deg", "elevation_ft"),
    *("transition_altitude_ft", "transition_level_ft", "rnav"),
)
PLACE_COLUMNS = ", ".join((*_PLACE_NAMES, "source"))
_PLACE_FIELDS = attrgetter("ident", *("kind.value" if name == "kind" else name for name in _PLACE_NAMES))
_RUNWAY_NAMES = [field.name for field in fields(Runway)]
_RUNWAY, _RUNWAY_FIELDS = ", ".join(_RUNWAY_NAMES), attrgetter(*_RUNWAY_NAMES)
_FIGURE_NAMES = [field.name for field in fields(AirwaySegment)]
_FIGURES = attrgetter(*_FIGURE_NAMES)
_SEGMENT = ", ".join(
    [f"{end}_{part}" for end in ("start", "end") for part in ("sort", "airport", "ident", "region")]
    + ["level", "ends", *_FIGURE_NAMES]
)
_KINDS = {kind.value: kind for kind in PlaceKind}
# Columns have no type, so that every value comes back as the very one that was put in.
_TABLES = {
    "place": f"ident, n, south, west, {PLACE_COLUMNS}, PRIMARY KEY (ident, n)",
    "airport": f"south, west, n, ident, {PLACE_COLUMNS}, PRIMARY KEY (south, west, n)",
    "names": "what PRIMARY KEY, lines",
    "runway": f"airport, n, {_RUNWAY}, PRIMARY KEY (airport, n)",
    "segment": f"designator, area, n, {_SEGMENT}, PRIMARY KEY (designator, area, n)",
    "through": "ident PRIMARY KEY, designators",
    "procedure": "airport, kind, name, transitions, PRIMARY KEY (airport, kind, name)",
    "block": "airport PRIMARY KEY, reader, packed",
    "mora": "south, west, feet, PRIMARY KEY (south, west)",
    "cell": "n PRIMARY KEY, south, west",
    "area": "south, west, regions, PRIMARY KEY (south, west)",
    "coverage": "region, kind, records, PRIMARY KEY (region, kind)",
    "source": "n PRIMARY KEY, json",
}
_INDICES = """
    CREATE INDEX place_by_cell ON place (south, west, n);
    CREATE INDEX airport_by_ident ON airport (ident);
    CREATE INDEX procedure_by_name ON procedure (name, airport);
"""
_MEANING = 4
"""Count this up when the same columns come to mean something else, or other records are read into them."""
SCHEMA = f"{_MEANING}.{hashlib.sha256(repr((_TABLES, _INDICES)).encode()).hexdigest()[:8]}"
"""What an image holds and how: an image of another schema is compiled anew."""
_STEP = 4_096
"""Rows between two reports of progress."""


# Into an image


def compile_image(records: Records, sources: Sequence[DataSource], progress: Callable[[float], None]) -> bytes:
    """Everything a NavDatabase needs, as one SQLite image. `progress` gets the share done and may raise to stop."""
    rows = _rows(records, sources)
    counted = _CountedRows(progress, 2 * (len(records.places) + len(records.airports)))
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as database:
        database.execute("BEGIN")
        for table, columns in _TABLES.items():
            database.execute(f"CREATE TABLE {table} ({columns}) WITHOUT ROWID")
            width = len(database.execute(f"PRAGMA table_info ({table})").fetchall())
            database.executemany(f"INSERT INTO {table} VALUES ({', '.join('?' * width)})", counted(rows[table]))
        for statement in filter(str.strip, _INDICES.split(";")):
            database.execute(statement)
        database.execute("COMMIT")
        progress(1.0)
        return database.serialize()


class _CountedRows:
    """Hands rows on and reports how many of those expected they are."""

    def __init__(self, progress: Callable[[float], None], expected: int) -> None:
        self._progress, self._expected, self._done = progress, max(expected, 1), 0

    def __call__(self, rows: Iterable[Row]) -> Iterator[Row]:
        for row in rows:
            self._done += 1
            if not self._done % _STEP:
                self._progress(min(self._done / self._expected, 0.99))
            yield row


def _sort_in_turns(rows: Iterable[Row]) -> Iterator[Row]:
    """Sort rows by their first two columns, a part at a time: sorting all at once stops every other thread."""
    by_name, waiting = itemgetter(0, 1), iter(rows)
    parts = []
    while part := sorted(islice(waiting, _STEP), key=by_name):
        parts.append(part)
    return heapq.merge(*parts, key=by_name)


def _rows(records: Records, sources: Sequence[DataSource]) -> dict[str, Iterable[Row]]:
    numbers = {source.name: n for n, source in enumerate(sources)}
    return {
        "place": _sort_in_turns(_place_rows(records, numbers)),
        "airport": _sort_in_turns(_airport_rows(records, numbers)),
        "names": [("ident", _lines(records.by_ident)), ("airport", _lines(records.airports))],
        "runway": _runway_rows(records),
        "segment": _segment_rows(records),
        "through": ((ident, _lines(sorted(names))) for ident, names in records.through.items()),
        "procedure": _procedure_rows(records),
        "block": (
            (airport, block.reader, zlib.compress(block.content, 1)) for airport, block in records.blocks.items()
        ),
        "mora": ((*cell, feet) for cell, feet in records.mora.items()),
        "cell": ((n, *cell) for n, cell in enumerate(records.by_cell)),
        "area": ((*cell, _lines(sorted(regions))) for cell, regions in records.area_cells.items()),
        "coverage": ((*key, number) for key, number in records.coverage.items()),
        "source": ((n, json.dumps(asdict(source), default=str)) for n, source in enumerate(sources)),
    }


def _place_rows(records: Records, numbers: Mapping[str, int]) -> Iterator[Row]:
    for n, place in enumerate(records.places.values()):
        ident, *rest = _PLACE_FIELDS(place)
        yield ident, n, *cell_of(place.lat, place.lon), *rest, numbers[place.source]


def _airport_rows(records: Records, numbers: Mapping[str, int]) -> Iterator[Row]:
    for n, place in enumerate(records.airports.values()):
        ident, *rest = _PLACE_FIELDS(place)
        yield *cell_of(place.lat, place.lon), n, ident, *rest, numbers[place.source]


def _runway_rows(records: Records) -> Iterator[Row]:
    for airport, runways in records.runways.items():
        for n, runway in enumerate(runways.values()):
            yield airport, n, *_RUNWAY_FIELDS(runway)


def _segment_rows(records: Records) -> Iterator[Row]:
    for name, segments in records.airways.items():
        for n, segment in enumerate(segments):
            yield *name, n, *segment.start, *segment.end, segment.level, segment.ends, *_FIGURES(segment.figures)


def _procedure_rows(records: Records) -> Iterator[Row]:
    for airport, procedures in records.procedures.items():
        for name, transitions in procedures.items():
            yield airport, *name, _lines(sorted(transitions))


def _lines(names: Iterable[str]) -> str:
    return "\n".join(names)


def _split(lines: str) -> list[str]:
    return lines.split("\n") if lines else []


# Out of an image


def _segment(row: Row) -> SegmentRecord:
    """The segment of a row, spelled out like a place."""
    course, distance, inbound, minimum, minimum_back, maximum, one_way = row[10:]
    figures = AirwaySegment(
        course_deg=course, distance_nm=distance, inbound_course_deg=inbound, minimum_ft=minimum,
        minimum_back_ft=minimum_back, maximum_ft=maximum, one_way=one_way,
    )  # fmt: skip
    return SegmentRecord(row[:4], row[4:8], row[8], bool(row[9]), figures)


class ImageError(Exception):
    """The bytes are no image."""


class Image:
    """The Records of an image. May be asked from any thread. Raises ImageError where the bytes are no image."""

    def __init__(self, content: bytes | memoryview) -> None:
        if not content:  # SQLite would call this lack of memory
            raise ImageError("there is nothing in it")
        self._lock = threading.Lock()
        self._database = sqlite3.connect(":memory:", check_same_thread=False)
        weakref.finalize(self, self._database.close)
        try:
            self._database.deserialize(content)
            sources = self._fetch_all("SELECT json FROM source ORDER BY n")
            self.sources = tuple(_source(json.loads(text)) for (text,) in sources)
            """The data sources, newest first."""
        except (sqlite3.Error, ValueError, KeyError, TypeError) as error:
            raise ImageError(str(error)) from error
        self._names = [source.name for source in self.sources]
        groups = LazyMapping(self._names_of("ident"), self._group)
        self.places: Mapping[PlaceRef, Place] = PlacesByRef(groups)
        self.by_ident: Mapping[str, Collection[Place]] = PlacesByIdent(groups)
        self.by_cell: Mapping[Cell, Sequence[Place]] = LazyMapping(self._cells, self._cell)
        self.airports: Mapping[str, Place] = LazyMapping(self._names_of("airport"), self._airport)
        self.runways: Mapping[str, Mapping[str, Runway]] = LazyMapping(
            self._keys("DISTINCT airport FROM runway"), self._runways
        )
        self.airways: Mapping[tuple[str, str], Sequence[SegmentRecord]] = LazyMapping(
            self._airway_names, self._segments
        )
        self.procedures: Mapping[str, Mapping[tuple[str, str], frozenset[str]]] = LazyMapping(
            self._keys("DISTINCT airport FROM procedure"), self._procedures
        )
        self.blocks: Mapping[str, ProcedureBlock] = LazyMapping(self._keys("airport FROM block"), self._block)
        self.through: Mapping[str, list[str]] = LazyMapping(self._keys("ident FROM through"), self._airways_through)
        self.procedure_airports: Mapping[str, frozenset[str]] = LazyMapping(
            self._keys("DISTINCT name FROM procedure WHERE kind != 'APPROACH'"), self._airports_with
        )

    @cached_property
    def area_cells(self) -> dict[AreaCell, list[str]]:
        """As in Records."""
        rows = self._fetch_all("SELECT south, west, regions FROM area")
        return {(south, west): _split(regions) for south, west, regions in rows}

    @cached_property
    def mora(self) -> dict[Cell, float]:
        """As in Records."""
        return {(south, west): feet for south, west, feet in self._fetch_all("SELECT south, west, feet FROM mora")}

    @cached_property
    def areas(self) -> dict[str, list[str]]:
        """As in Records."""
        return areas_by_designator(self.airways.keys())

    @cached_property
    def coverage(self) -> RecordCounts:
        """As in Records."""
        counts = self._fetch_all("SELECT region, kind, records FROM coverage")
        return {(region, RecordKind(kind)): number for region, kind, number in counts}

    def spots(self, beginning: str) -> list[Spot]:
        """As in Records."""
        sql = "SELECT ident, lat, lon, airport FROM place WHERE ident >= ? AND ident < ?"
        return self._fetch_all(sql, beginning, beginning + chr(sys.maxunicode))

    def _fetch_all(self, sql: str, *values: object) -> list[Row]:
        with self._lock:
            return self._database.execute(sql, values).fetchall()

    def _keys(self, what: str) -> Callable[[], Iterable[str]]:
        return lambda: [key for (key,) in self._fetch_all(f"SELECT {what}")]

    def _names_of(self, what: str) -> Callable[[], Iterable[str]]:
        return lambda: _split(self._fetch_all("SELECT lines FROM names WHERE what = ?", what)[0][0])

    def _cells(self) -> Iterable[Cell]:
        return self._fetch_all("SELECT south, west FROM cell ORDER BY n")

    def _airway_names(self) -> Iterable[tuple[str, str]]:
        return self._fetch_all("SELECT DISTINCT designator, area FROM segment")

    def _place(self, row: Row) -> Place:
        """The place of a row, spelled out: of thousands each takes 2.6 times as long by the names of the columns."""
        ident, lat, lon, kind, region, airport, name, *more = row
        variation, declination, elevation, transition_altitude, transition_level, rnav, source = more
        return Place(
            ident, lat, lon, _KINDS[kind], region=region, airport=airport, name=name, variation_deg=variation,
            declination_deg=declination, elevation_ft=elevation, transition_altitude_ft=transition_altitude,
            transition_level_ft=transition_level, rnav=bool(rnav), source=self._names[source],
        )  # fmt: skip

    def _group(self, ident: str) -> dict[PlaceRef, Place]:
        rows = self._fetch_all(f"SELECT ident, {PLACE_COLUMNS} FROM place WHERE ident = ? ORDER BY n", ident)
        return {ref_of(place): place for place in map(self._place, rows)}

    def _cell(self, cell: Cell) -> list[Place]:
        sql = f"SELECT ident, {PLACE_COLUMNS} FROM {{}} WHERE south = ? AND west = ? ORDER BY n"
        return [self._place(row) for table in ("place", "airport") for row in self._fetch_all(sql.format(table), *cell)]

    def _airport(self, ident: str) -> Place:
        return self._place(self._fetch_all(f"SELECT ident, {PLACE_COLUMNS} FROM airport WHERE ident = ?", ident)[0])

    def _runways(self, airport: str) -> dict[str, Runway]:
        rows = self._fetch_all(f"SELECT {_RUNWAY} FROM runway WHERE airport = ? ORDER BY n", airport)
        return {row[0]: Runway(**dict(zip(_RUNWAY_NAMES, row, strict=True))) for row in rows}

    def _segments(self, name: tuple[str, str]) -> list[SegmentRecord]:
        rows = self._fetch_all(f"SELECT {_SEGMENT} FROM segment WHERE designator = ? AND area = ? ORDER BY n", *name)
        return [_segment(row) for row in rows]

    def _airways_through(self, ident: str) -> list[str]:
        return _split(self._fetch_all("SELECT designators FROM through WHERE ident = ?", ident)[0][0])

    def _procedures(self, airport: str) -> dict[tuple[str, str], frozenset[str]]:
        rows = self._fetch_all("SELECT kind, name, transitions FROM procedure WHERE airport = ?", airport)
        return {(kind, name): frozenset(_split(text)) for kind, name, text in rows}

    def _block(self, airport: str) -> ProcedureBlock:
        reader, packed = self._fetch_all("SELECT reader, packed FROM block WHERE airport = ?", airport)[0]
        return ProcedureBlock(reader, zlib.decompress(packed))

    def _airports_with(self, name: str) -> frozenset[str]:
        sql = "SELECT airport FROM procedure WHERE name = ? AND kind != 'APPROACH'"
        return frozenset(airport for (airport,) in self._fetch_all(sql, name))


def _source(values: dict[str, Any]) -> DataSource:
    days = {name: values[name] and dt.date.fromisoformat(values[name]) for name in ("effective", "until")}
    pairs = {name: tuple((key, what) for key, what in values[name]) for name in ("counts", "rejected")}
    return DataSource(**{**values, **days, **pairs})
