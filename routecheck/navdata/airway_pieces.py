"""Airway records put together to continuous pieces. Reading the records is done in arinc424_records."""

from __future__ import annotations

from itertools import permutations
from typing import TYPE_CHECKING

from routecheck.model import Airway, AirwaySegment

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from routecheck.model import Place
    from routecheck.navdata.tables import AirwayRow, Key


def pieces(
    designator: str, areas: Iterable[tuple[str, Sequence[AirwayRow]]], places: Mapping[Key, Place]
) -> tuple[Airway, ...]:
    """The continuous pieces of one airway, area by area: sequence numbers mean something within an area only.

    Pieces of two areas that meet end to end at the same fix are one piece, its area told as "CAN/PAC".
    """
    cut = [(area, piece) for area, rows in areas for piece in _cut(sorted(rows, key=lambda row: row.sequence), places)]
    return tuple(_airway(designator, area, piece, places) for area, piece in _joined(cut))


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


def _joined(cut: list[tuple[str, list[AirwayRow]]]) -> list[tuple[str, list[AirwayRow]]]:
    """Pieces as before, those that one area hands over to another put together.

    Within an area the mark of an end is believed; at the border of an area it only says that the other goes on.
    """
    joined = list(cut)
    while found := next(filter(_meet, permutations(joined, 2)), None):
        (area, rows), (next_area, next_rows) = found
        joint = next_rows[0]._replace(inbound_deg=rows[-1].inbound_deg)
        where = joined.index(found[0])
        joined[where] = (f"{area}/{next_area}", [*rows[:-1], joint, *next_rows[1:]])
        joined.remove(found[1])
    return joined


def _meet(pair: tuple[tuple[str, list[AirwayRow]], tuple[str, list[AirwayRow]]]) -> bool:
    (area, rows), (next_area, next_rows) = pair
    return rows[-1].fix == next_rows[0].fix and area.rpartition("/")[2] != next_area.partition("/")[0]


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
