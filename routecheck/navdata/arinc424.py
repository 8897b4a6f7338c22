"""Files of ARINC 424-18 records into Tables: lines sorted by section, headers, cycle, and what was wrong with a line.

Columns are told in arinc424_records; no question about a name or a place is answered here.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.model import DataSource
from routecheck.navdata import airac
from routecheck.navdata.archives import Member, members
from routecheck.navdata.arinc424_fields import BadFieldError
from routecheck.navdata.arinc424_records import AIRPORT_SECTIONS, PRIMARY, READERS, UnusedRecord
from routecheck.navdata.tables import Tables
from routecheck.settings import DataError

if TYPE_CHECKING:
    import os
    from collections.abc import Callable, Iterable

KEPT = 1_000
"""So many rejected records are told one by one; all are counted."""
_SECTIONS = frozenset("ADEHPRTUV")
_MONTHS = ("JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC")
_VOLUME = re.compile(r"\bVOLUME\s+(\d{4})\b")
_EFFECTIVE = re.compile(r"\bEFFECTIVE\s+(\d{1,2})[ -]?([A-Z]{3})[ -]?(\d{4})\b")


def read(
    path: str | os.PathLike[str], *, progress: Callable[[float], None] | None = None, name: str = ""
) -> list[Tables]:
    """Read one file, packed or not: one Tables for each text in it that is navigation data (a .zip may hold several).

    The data source bears the file's name, or the `name` given. Records that cannot be used are counted and listed in
    it, never fatal. Raises DataError where nothing in the file can be used, UsageError where there is no such file.
    """
    path = Path(path)
    good: list[Tables] = []
    refused: list[tuple[str, str]] = []
    for member in members(path):
        reading = _Reading(f"{name or path.name}: {member.name}" if member.name else name or path.name)
        why = reading.take(member, progress or (lambda _share: None))
        if why:
            refused.append((member.name, why))
        else:
            good.append(reading.tables())
    if not good:
        raise DataError(str(path), None, _refusal(refused))
    for name, why in refused:
        good[0].source = _with_note(good[0].source, f"{name} in the same file was left out: {why}")
    return good


def read_lines(lines: Iterable[str], name: str) -> Tables:
    """Read records from lines without line ends, for data that is not in a file. Raises DataError like `read`."""
    reading = _Reading(name)
    why = reading.take(Member("", iter([(list(lines), 1.0)])), lambda _share: None)
    if why:
        raise DataError(name, None, why)
    return reading.tables()


def _refusal(refused: list[tuple[str, str]]) -> str:
    if not refused:
        return "there is nothing in it"
    if len(refused) == 1:
        return refused[0][1]
    return f"none of its {len(refused)} files can be used; {refused[0][0]}: {refused[0][1]}"


def _with_note(source: DataSource, note: str) -> DataSource:
    return replace(source, rejected=((0, note), *source.rejected[: KEPT - 1]))


@dataclass(slots=True)
class _Reading:
    """One text on its way into tables."""

    name: str
    into: Tables = field(default_factory=Tables)
    counts: dict[str, int] = field(default_factory=lambda: dict.fromkeys((what for _, what, _ in READERS.values()), 0))
    other: int = 0
    rejected: list[tuple[int, str]] = field(default_factory=list)
    bad: int = 0
    cycles: set[str] = field(default_factory=set)
    header: list[str] = field(default_factory=list)
    first_line: str = ""

    def take(self, member: Member, progress: Callable[[float], None]) -> str:
        """Read it all; the answer is why it is of no use, "" where it is of use."""
        self.into.source = DataSource(self.name, cycle="", effective=None, until=None, counts=())
        number = 0
        for lines, share in member.blocks:
            self.first_line = self.first_line or next((line for line in lines if line.strip()), "")
            self._take_lines(lines, number)
            number += len(lines)
            progress(share)
            if number and not (self.cycles or self.header):
                break  # not one record in a whole block: whatever follows, this is something else
        return "" if any(self.counts.values()) else self._why_not()

    def _take_lines(self, lines: list[str], number: int) -> None:
        counts, into, cycles = self.counts, self.into, self.cycles
        for line in lines:
            number += 1
            section = line[4:6]
            if section in AIRPORT_SECTIONS:
                section = section[0] + line[12:13]
            reader = READERS.get(section)
            if reader is None or line[0] not in "ST":
                self._other_line(line, number)
                continue
            cycles.add(line[128:132])
            continuation, what, read_record = reader
            if line[continuation : continuation + 1] not in PRIMARY:
                self.other += 1
                continue
            try:
                read_record(line, into, number)
                counts[what] += 1
            except BadFieldError as reason:
                self._reject(number, f"{section.strip()} record: {reason}")
            except UnusedRecord:
                self.other += 1

    def _other_line(self, line: str, number: int) -> None:
        if line[:1] in ("S", "T") and line[1:4].isalpha() and line[4:5] in _SECTIONS:
            self.cycles.add(line[128:132])
            self.other += 1
        elif line.startswith("HDR"):
            self.header.append(line)
        elif line.strip():
            self._reject(number, "not an ARINC 424 record")

    def _reject(self, number: int, reason: str) -> None:
        self.bad += 1
        if len(self.rejected) < KEPT:
            self.rejected.append((number, reason))

    def _why_not(self) -> str:
        if not self.first_line:
            return "there is nothing in it"
        if self.first_line.lstrip().startswith("<"):
            return "this is a web page or XML, not navigation data in ARINC 424 records"
        if not (self.cycles or self.header):
            return "not navigation data: there are no ARINC 424 records in it"
        if self.rejected:
            line, reason = self.rejected[0]
            return f"not one of its records can be used; line {line}: {reason}"
        return "its records are all of kinds that are not used here"

    def _tell_missing_fixes(self) -> None:
        places = self.into.places
        for (designator, _), rows in self.into.airways.items():
            for row in rows:
                if row.fix not in places:
                    self._reject(row.line, f"ER record: {designator} goes by {row.fix[2]}, which is not in this file")

    def tables(self) -> Tables:
        """What was read, with the source told."""
        self._tell_missing_fixes()
        header = " ".join(self.header).upper()
        cycle, effective = _dates(header, self.cycles)
        self.into.source = DataSource(
            name=self.name,
            cycle=cycle,
            effective=effective,
            until=effective and effective + dt.timedelta(days=airac.DAYS),
            counts=(*self.counts.items(), ("other records", self.other), ("rejected", self.bad)),
            rejected=tuple(self.rejected),
            invented="INVENTED" in header,
            has_directions=any(row.one_way for rows in self.into.airways.values() for row in rows),
        )
        return self.into


def _dates(header: str, cycles: set[str]) -> tuple[str, dt.date | None]:
    """The cycle and its first day: as the header says, else from the newest cycle any record was changed in."""
    volume = _VOLUME.search(header)
    said = _said_date(header)
    named = [volume[1]] if volume else [airac.cycle_of(said)] if said else cycles
    newest = max(filter(None, map(_start, named)), default=None)
    effective = said or newest
    if volume:
        return volume[1], effective
    return (airac.cycle_of(effective) if effective else ""), effective


def _said_date(header: str) -> dt.date | None:
    found = _EFFECTIVE.search(header)
    if not found or found[2] not in _MONTHS:
        return None
    try:
        return dt.date(int(found[3]), _MONTHS.index(found[2]) + 1, int(found[1]))
    except ValueError:
        return None


def _start(cycle: str) -> dt.date | None:
    try:
        return airac.effective(cycle)
    except ValueError:
        return None
