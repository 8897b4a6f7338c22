"""Segments of an airway joined to continuous pieces. Where the segments came from is not known here."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from routecheck.model import Airway

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from routecheck.model import Place
    from routecheck.navdata.tables import PlaceRef, SegmentRecord


class _Stretch(NamedTuple):
    """A segment with the area whose record it is."""

    area: str
    record: SegmentRecord


def join_segments(
    designator: str, areas: Iterable[tuple[str, Sequence[SegmentRecord]]], places: Mapping[PlaceRef, Place]
) -> tuple[Airway, ...]:
    """The continuous pieces of one airway, in the order in which their first segments are given.

    Every segment lies on a piece that is as long as can be. At a fork each branch is a piece of its own, with what
    leads to the fork; an airway that comes back to a point goes on from there. A segment with an end that is nowhere in
    the data is left out, so that nothing is joined across it. Where the data says that the airway ends, only another
    area goes on from there; the area of the piece is then "CAN/PAC".
    """
    stretches = [
        _Stretch(area, record)
        for area, records in areas
        for record in records
        if record.start in places and record.end in places
    ]
    net = _Net(stretches)
    return tuple(_airway(designator, [stretches[i] for i in piece], places) for piece in net.join_all())


class _Net:
    """Segments by number, and which of them begin and end where."""

    def __init__(self, stretches: Sequence[_Stretch]) -> None:
        self._stretches = stretches
        self._from: dict[PlaceRef, list[int]] = {}
        self._to: dict[PlaceRef, list[int]] = {}
        for i, (_, record) in enumerate(stretches):
            self._from.setdefault(record.start, []).append(i)
            self._to.setdefault(record.end, []).append(i)

    def join_all(self) -> Iterable[list[int]]:
        """Pieces as numbers of segments in coded order, until every segment lies on one."""
        placed: set[int] = set()
        for i in range(len(self._stretches)):
            if i not in placed:
                piece = self._extend_piece(i, placed)
                placed.update(piece)
                yield piece

    def _extend_piece(self, number: int, placed: set[int]) -> list[int]:
        piece = [number]
        while (following := self._next_stretch(self._stretches_after(piece[-1]), piece, placed)) is not None:
            piece.append(following)
        while (leading := self._next_stretch(self._stretches_before(piece[0]), piece, placed)) is not None:
            piece.insert(0, leading)
        return piece

    def _stretches_after(self, number: int) -> list[int]:
        there = self._from.get(self._stretches[number].record.end, ())
        return [i for i in there if self._goes_on(number, i)]

    def _stretches_before(self, number: int) -> list[int]:
        there = self._to.get(self._stretches[number].record.start, ())
        return [i for i in there if self._goes_on(i, number)]

    def _goes_on(self, number: int, following: int) -> bool:
        """Whether the airway goes on with a segment that begins where the one before it ends: not straight back."""
        area, record = self._stretches[number]
        next_area, next_record = self._stretches[following]
        return next_record.end != record.start and not (record.ends and area == next_area)

    @staticmethod
    def _next_stretch(numbers: Iterable[int], piece: Sequence[int], placed: set[int]) -> int | None:
        """The first that is on no piece yet, else the first; None where all are on this one already."""
        open_ones = [i for i in numbers if i not in piece]
        return min(open_ones, key=lambda i: (i in placed, i), default=None)


def _airway(designator: str, piece: Sequence[_Stretch], places: Mapping[PlaceRef, Place]) -> Airway:
    records = [stretch.record for stretch in piece]
    return Airway(
        designator,
        area="/".join(area for area, _ in groupby(stretch.area for stretch in piece)),
        places=(places[records[0].start], *(places[record.end] for record in records)),
        segments=tuple(record.figures for record in records),
        level=next((record.level for record in records if record.level), ""),
    )
