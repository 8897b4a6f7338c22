"""Airway records of ARINC 424 turned into segments: each record is a fix, and says what leads on from it."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from routecheck.model import AirwaySegment
from routecheck.navdata.tables import SegmentRecord

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.navdata.tables import PlaceRef


class AirwayRow(NamedTuple):
    """One record of an airway. Outbound figures lead to the next record's fix, `inbound_deg` arrives at this one."""

    sequence: int
    fix: PlaceRef
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


def segments_of(rows: Iterable[AirwayRow]) -> list[SegmentRecord]:
    """The segments of the airway of one area; from a record with the mark of an end none leads on."""
    in_order = sorted(rows, key=lambda row: row.sequence)
    return [_segment(row, following) for row, following in pairwise(in_order) if not row.ends]


def _segment(row: AirwayRow, following: AirwayRow) -> SegmentRecord:
    figures = AirwaySegment(
        course_deg=row.outbound_deg,
        distance_nm=row.distance_nm,
        inbound_course_deg=following.inbound_deg,
        minimum_ft=row.minimum_ft,
        minimum_back_ft=row.minimum_back_ft,
        maximum_ft=row.maximum_ft,
        one_way=row.one_way,
    )
    return SegmentRecord(row.fix, following.fix, row.level, following.ends, figures)
