"""The records of one file sorted into dicts, in memory, and what a NavDatabase asks of records however they are kept.

No reading of files and no answering of questions here.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple, Protocol

from routecheck.model import NAVAIDS, DataSource, PlaceKind
from routecheck.navdata.grid_index import Cell, by_cell, cell_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence

    from routecheck.model import Place, Runway

Key = tuple[str, str, str, str]
"""(section, airport, ident, region) as the columns have them: the region unstripped, since `K ` and `P ` occur."""
SIDS_AND_STARS, APPROACHES, LANDING_AIDS = "SID, STAR", "APPROACH", "landing aid"
"""What is kept of an airport as it stands in the file, to be read when it is asked for."""
_COUNTED = frozenset({PlaceKind.FIX, PlaceKind.AIRPORT, *NAVAIDS})
"""What makes a neighbourhood covered: terminal fixes alone do not."""


class AirwayRow(NamedTuple):
    """One record of an airway. Outbound figures lead to the next record's fix, `inbound_deg` arrives at this one."""

    sequence: int
    fix: Key
    ends: bool
    level: str
    outbound_deg: float | None
    distance_nm: float | None
    inbound_deg: float | None
    minimum_ft: float | None
    minimum_back_ft: float | None
    maximum_ft: float | None
    one_way: str
    line: int


class Records(Protocol):
    """What a NavDatabase asks of records: `Tables` in memory, or a compiled image read as records are wanted."""

    @property
    def places(self) -> Mapping[Key, Place]:
        """Fixes and navaids."""

    @property
    def airports(self) -> Mapping[str, Place]:
        """By ident."""

    @property
    def runways(self) -> Mapping[str, Mapping[str, Runway]]:
        """By airport, then by ident."""

    @property
    def airways(self) -> Mapping[tuple[str, str], Sequence[AirwayRow]]:
        """By (designator, area)."""

    @property
    def procedures(self) -> Mapping[str, Mapping[tuple[str, str], Collection[str]]]:
        """By airport, then by (kind, name): the idents of the enroute transitions."""

    @property
    def coded(self) -> Mapping[tuple[str, str], Sequence[str]]:
        """By airport and what they are: columns 13 to 118 of the records of coded legs and landing aids."""

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
    def counted_cells(self) -> Collection[Cell]:
        """The cells with something that makes their neighbourhood covered."""

    @property
    def areas(self) -> Mapping[str, Sequence[str]]:
        """The areas, sorted, that have an airway of that designator."""

    @property
    def through(self) -> Mapping[str, Collection[str]]:
        """The designators of the airways that go by a fix of that ident which is in the data."""

    @property
    def procedure_airports(self) -> Mapping[str, Collection[str]]:
        """The airports that have a procedure of that name."""


@dataclass
class Tables:
    """What one data source holds: Records in memory, filled while a file is read and asked only afterwards.

    `airways` by (designator, area), `procedures[airport][kind, name]` the idents of its enroute transitions, `coded`
    the records of coded legs as they stand in the file, `mora` in feet by the south-west corner of the degree.
    """

    source: DataSource = field(default_factory=lambda: DataSource("", cycle="", effective=None, until=None, counts=()))
    places: dict[Key, Place] = field(default_factory=dict)
    airports: dict[str, Place] = field(default_factory=dict)
    runways: dict[str, dict[str, Runway]] = field(default_factory=dict)
    airways: dict[tuple[str, str], list[AirwayRow]] = field(default_factory=dict)
    procedures: dict[str, dict[tuple[str, str], set[str]]] = field(default_factory=dict)
    coded: dict[tuple[str, str], list[str]] = field(default_factory=dict)
    mora: dict[Cell, float] = field(default_factory=dict)

    @cached_property
    def by_ident(self) -> dict[str, list[Place]]:
        """Fixes and navaids of each ident."""
        known: dict[str, list[Place]] = {}
        for place in self.places.values():
            known.setdefault(place.ident, []).append(place)
        return known

    @cached_property
    def by_cell(self) -> dict[Cell, list[Place]]:
        """Fixes and navaids, then airports, of each cell."""
        return by_cell(self._all())

    @cached_property
    def counted_cells(self) -> frozenset[Cell]:
        """The cells with something that makes their neighbourhood covered."""
        return frozenset(cell_of(p.lat, p.lon) for p in self._all() if p.kind in _COUNTED)

    @cached_property
    def areas(self) -> dict[str, list[str]]:
        """The areas of each designator."""
        return areas_of(self.airways)

    @cached_property
    def through(self) -> dict[str, set[str]]:
        """The airways that go by each ident."""
        through: dict[str, set[str]] = {}
        for (designator, _), rows in self.airways.items():
            for row in rows:
                if row.fix in self.places:
                    through.setdefault(row.fix[2], set()).add(designator)
        return through

    @cached_property
    def procedure_airports(self) -> dict[str, set[str]]:
        """The airports of each procedure name."""
        airports: dict[str, set[str]] = {}
        for airport, procedures in self.procedures.items():
            for _, name in procedures:
                airports.setdefault(name, set()).add(airport)
        return airports

    def _all(self) -> Iterator[Place]:
        yield from self.places.values()
        yield from self.airports.values()


def areas_of(airways: Collection[tuple[str, str]]) -> dict[str, list[str]]:
    """The areas of each designator, sorted."""
    areas: dict[str, list[str]] = {}
    for designator, area in sorted(airways):
        areas.setdefault(designator, []).append(area)
    return areas


def merged(tables: Sequence[Tables]) -> Tables:
    """All in one, later ones before earlier ones; one alone is given back as it is."""
    if len(tables) == 1:
        return tables[0]
    together = Tables()
    for one in tables:
        together.places.update(one.places)
        together.airports.update(one.airports)
        together.runways.update(one.runways)
        together.airways.update(one.airways)
        together.procedures.update(one.procedures)
        together.coded.update(one.coded)
        together.mora.update(one.mora)
    return together
