"""Airway records put together to continuous pieces. Reading the records is done in arinc424_records."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.model import Airway, AirwaySegment

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from routecheck.library.tables import AirwayRow, Key
    from routecheck.model import Place


def pieces(
    designator: str, areas: Iterable[tuple[str, list[AirwayRow]]], places: Mapping[Key, Place]
) -> tuple[Airway, ...]:
    """The continuous pieces of one airway, area by area: sequence numbers mean something within an area only."""
    return tuple(
        _airway(designator, area, piece, places)
        for area, rows in areas
        for piece in _cut(sorted(rows, key=lambda row: row.sequence), places)
    )


def _cut(rows: Iterable[AirwayRow], places: Mapping[Key, Place]) -> Iterator[list[AirwayRow]]:
    """Rows up to the mark of an end, or up to a fix that is nowhere in the data: nothing is joined across it."""
    piece: list[AirwayRow] = []
    for row in rows:
        placed = row.fix in places
        if placed:
            piece.append(row)
        if piece and (row.ends or not placed):
            yield piece
            piece = []
    if piece:
        yield piece


def _airway(designator: str, area: str, rows: list[AirwayRow], places: Mapping[Key, Place]) -> Airway:
    return Airway(
        designator,
        area,
        places=tuple(places[row.fix] for row in rows),
        segments=tuple(map(_segment, rows[:-1], rows[1:])),
        level=next((row.level for row in rows if row.level), ""),
    )


def _segment(row: AirwayRow, following: AirwayRow) -> AirwaySegment:
    return AirwaySegment(
        course_deg=row.outbound_deg,
        distance_nm=row.distance_nm,
        inbound_course_deg=following.inbound_deg,
        minimum_ft=row.minimum_ft,
        minimum_back_ft=row.minimum_back_ft,
        maximum_ft=row.maximum_ft,
        one_way=row.one_way,
    )
