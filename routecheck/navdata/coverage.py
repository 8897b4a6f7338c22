"""What the data has of which part of the world: records counted by ICAO region and by kind. Nothing is judged here."""

from __future__ import annotations

from collections import Counter
from enum import StrEnum
from typing import TYPE_CHECKING

from routecheck.model import PlaceKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

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
