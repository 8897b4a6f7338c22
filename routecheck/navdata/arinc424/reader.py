"""The reader of ARINC 424-18 records: lines sorted by section, headers, cycle, and what was wrong with a line.

What stands in which column is known by records, airways and procedures.
"""

from __future__ import annotations

import datetime as dt
import logging
import re
from dataclasses import KW_ONLY, dataclass, field
from typing import TYPE_CHECKING

from routecheck.faults import describe_failure
from routecheck.model import DataSource
from routecheck.navdata import airac
from routecheck.navdata.arinc424.airways import segments_of
from routecheck.navdata.arinc424.fields import BadFieldError
from routecheck.navdata.arinc424.procedures import Arinc424Procedures
from routecheck.navdata.arinc424.records import (
    AIRPORT_SECTIONS,
    PRIMARY,
    RECORDS,
    WHOLE_SECTIONS,
    Collected,
    UnusedRecord,
)
from routecheck.navdata.data_reader import MOST_LISTED, NothingUsableError
from routecheck.navdata.tables import ProcedureBlock

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from routecheck.navdata.archives import Member
    from routecheck.navdata.arinc424.airways import AirwayRow
    from routecheck.navdata.tables import Records, SegmentRecord, Tables

_LOG = logging.getLogger(__name__)
_SECTIONS = frozenset("ADEHPRTUV")
_NO_SECTION = ""
_MISPLACED = RECORDS.keys() - WHOLE_SECTIONS
"""Sections whose subsection stands in column 13: in columns 5 and 6 they say nothing that can be relied on."""
_YEARS = range(1964, 2064)
"""Years of the AIRAC calendar as it is known here: a header with another is not believed."""
_LENGTH = 132
"""Characters of a record (ARINC 424-18, chapter 4)."""
_SHORTEST = 100
"""Shorter than this it has no end that could be in the wrong columns (our choice)."""
_MONTHS = ("JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC")
_VOLUME = re.compile(r"\bVOLUME\s+(\d{4})\b")
_EFFECTIVE = re.compile(r"\bEFFECTIVE\s+(\d{1,2})[ -]?([A-Z]{3})[ -]?(\d{4})\b")


class Arinc424Reader:
    """A DataReader."""

    name = "arinc424"
    form = "ARINC 424 records"

    def sniff(self, head: bytes) -> bool:
        """Whether there is any record or header among the lines."""
        return any(map(_is_record_or_header, head.decode("latin-1").splitlines()))

    def read(self, text: Member, source: str, progress: Callable[[float], None]) -> Tables:
        """As in DataReader."""
        reading = _Reading(source)
        reading.take(text, progress)
        return reading.tables()

    def procedures(self, airport: str, block: bytes, records: Records) -> Arinc424Procedures:
        """As in DataReader."""
        return Arinc424Procedures(airport, block.decode().split("\n"), records)


def _is_record_or_header(line: str) -> bool:
    known = line[:1] in ("S", "T") and _section(line) in RECORDS
    return known or _is_other_record(line) or line.startswith("HDR")


def _is_shifted(line: str) -> bool:
    """Whether a record has lost or gained characters: it ends in its number and cycle, but not in the last columns.

    One without the blanks at its end, or without its end, keeps its columns.
    """
    return len(line) > _LENGTH or (_SHORTEST < len(line) < _LENGTH and line[-9:].isdigit())


def _is_other_record(line: str) -> bool:
    return line[:1] in ("S", "T") and line[1:4].isalpha() and line[4:5] in _SECTIONS


def _section(line: str) -> str:
    section = line[4:6]
    if section in AIRPORT_SECTIONS:
        return section[0] + line[12:13]
    return section if section in WHOLE_SECTIONS else _NO_SECTION


@dataclass(slots=True)
class _Reading:
    """One text on its way into tables."""

    name: str
    _: KW_ONLY
    collected: Collected = field(default_factory=Collected)
    counts: dict[str, int] = field(default_factory=lambda: dict.fromkeys((what for _, what, _ in RECORDS.values()), 0))
    other_records: int = 0
    listed_rejections: list[tuple[int, str]] = field(default_factory=list)
    rejected_count: int = 0
    cycles: set[str] = field(default_factory=set)
    header: list[str] = field(default_factory=list)
    records: int = 0
    """Lines that are neither blank nor header."""

    def take(self, text: Member, progress: Callable[[float], None]) -> None:
        """Read it all. Raises NothingUsableError."""
        self.collected.tables.source = DataSource(self.name, cycle="", effective=None, until=None, counts=())
        number = 0
        for lines, share in text.blocks:
            self._take_lines(lines, number)
            number += len(lines)
            self.records += len(lines) - lines.count("") - sum(map(str.isspace, lines))
            progress(share)
        if not any(self.counts.values()):
            raise NothingUsableError(self._why_nothing())

    def _take_lines(self, lines: list[str], number: int) -> None:
        counts, collected, cycles = self.counts, self.collected, self.cycles
        for line in lines:
            number += 1
            section = _section(line)
            record = RECORDS.get(section)
            if record is None or line[0] not in "ST":
                self._take_other_line(line, number)
                continue
            cycles.add(line[128:132])
            continuation, what, read_record = record
            if line[continuation : continuation + 1] not in PRIMARY:
                self.other_records += 1
                continue
            if len(line) != _LENGTH and _is_shifted(line.rstrip()):
                self._reject(number, f"{section.strip()} record: it has {len(line):,} characters, not {_LENGTH}")
                continue
            try:
                read_record(line, collected, number)
                counts[what] += 1
            except BadFieldError as reason:
                self._reject(number, f"{section.strip()} record: {reason}")
            except UnusedRecord:
                self.other_records += 1
            except Exception as error:
                _LOG.exception("a record could not be read")
                self._reject(number, f"{section.strip()} record: {describe_failure(error)}")

    def _take_other_line(self, line: str, number: int) -> None:
        if line[:1] in ("S", "T") and line[4:6] in _MISPLACED:
            self._reject(number, f"{line[4:6]} record: its subsection stands in column 6, not in 13")
        elif _is_other_record(line):
            self.cycles.add(line[128:132])
            self.other_records += 1
        elif line.startswith("HDR"):
            self.header.append(line)
            if _EFFECTIVE.search(line.upper()) and _stated_date(line.upper()) is None:
                self._reject(number, "HDR record: the day from which it is effective is none")
        elif line.strip():
            self._reject(number, "not an ARINC 424 record")

    def _reject(self, number: int, reason: str) -> None:
        self.rejected_count += 1
        if len(self.listed_rejections) < MOST_LISTED:
            self.listed_rejections.append((number, reason))

    def _why_nothing(self) -> str:
        if self.listed_rejections:
            line, reason = self.listed_rejections[0]
            return f"not one of its records can be used; line {line}: {reason}"
        return "its records are all of kinds that are not used here"

    def tables(self) -> Tables:
        """What was read, put together, with the source described."""
        tables, header = self.collected.tables, " ".join(self.header).upper()
        for name, rows in self.collected.airways.items():
            segments = segments_of(rows)
            self._reject_unused_rows(name[0], rows, segments)
            if segments:
                tables.airways[name] = segments
        tables.blocks = {
            airport: ProcedureBlock(Arinc424Reader.name, "\n".join(self.collected.coded[airport]).encode())
            for airport in tables.procedures
        }
        cycle, effective = _dates(header, self.cycles)
        tables.source = DataSource(
            name=self.name,
            cycle=cycle,
            effective=effective,
            until=effective and effective + dt.timedelta(days=airac.DAYS),
            counts=(*self.counts.items(), ("other records", self.other_records), ("rejected", self.rejected_count)),
            records=self.records - len(self.header),
            announced=_find_announced(self.header, self.records),
            rejected=tuple(self.listed_rejections),
            invented="INVENTED" in header,
            has_directions=any(row.one_way for rows in self.collected.airways.values() for row in rows),
        )
        return tables

    def _reject_unused_rows(
        self, designator: str, rows: Iterable[AirwayRow], segments: Iterable[SegmentRecord]
    ) -> None:
        places = self.collected.tables.places
        used = {ref for segment in segments for ref in (segment.start, segment.end)}
        for row in rows:
            if row.fix not in places:
                self._reject(row.line, f"ER record: {designator} goes by {row.fix[2]}, which is not in this file")
            elif row.fix not in used:
                self._reject(row.line, f"ER record: {designator} leads from {row.fix[2]} to no other point")


def _find_announced(header: list[str], lines: int) -> int | None:
    """How many records the first header announces; None where it does not say.

    Columns 29 to 35 (ARINC 424-18, 6.2, from memory). Where as many lines are there, headers among them, it counts
    those too.
    """
    first = next((line for line in header if line.startswith("HDR01")), "")
    number = first[28:35]
    if not (number.isascii() and number.isdigit()):
        return None
    announced = int(number)
    return announced - len(header) if announced == lines else announced


def _dates(header: str, cycles: set[str]) -> tuple[str, dt.date | None]:
    """The cycle and its first day: as the header says, else from the newest cycle any record was changed in."""
    volume = _VOLUME.search(header)
    stated = _stated_date(header)
    named = cycles
    if volume:
        named = {volume[1]}
    elif stated:
        named = {airac.cycle_of(stated)}
    newest = max(filter(None, map(_first_day, named)), default=None)
    effective = stated or newest
    if volume:
        return volume[1], effective
    return (airac.cycle_of(effective) if effective else ""), effective


def _stated_date(header: str) -> dt.date | None:
    found = _EFFECTIVE.search(header)
    if not found or found[2] not in _MONTHS or int(found[3]) not in _YEARS:
        return None
    try:
        return dt.date(int(found[3]), _MONTHS.index(found[2]) + 1, int(found[1]))
    except ValueError:
        return None


def _first_day(cycle: str) -> dt.date | None:
    try:
        return airac.first_day(cycle)
    except ValueError:
        return None
