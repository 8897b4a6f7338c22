"""The reader of the FAA's table of designated points: a CSV file with a row a point, those of its neighbours too.

Source of the columns: `Designated_Point_2025.csv` of the FAA's open data, January 2025. The table has no cycle and no
ICAO regions, so that its points place names and never say that another one is missing.
"""

from __future__ import annotations

import csv
import re
from typing import TYPE_CHECKING

from routecheck.formatting import listing
from routecheck.model import DataSource, Place, PlaceKind
from routecheck.navdata.data_reader import MOST_LISTED, NothingUsableError, TerminalFixes
from routecheck.navdata.tables import Tables, ref_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from routecheck.model import CodedBranch
    from routecheck.navdata.archives import Member
    from routecheck.navdata.tables import Records

_COLUMNS = ("IDENT", "LATITUDE", "LONGITUDE", "TYPE_CODE", "MAGVAR")
_IDENT = re.compile(r"[A-Z0-9]{2,5}")
_NUMBER = re.compile(r"[+-]?\d{1,3}(?:\.\d{1,20})?")
_ANGLE = re.compile(r"(\d{1,3})-(\d{1,2})-(\d{1,2}(?:\.\d+)?)([NSEW])")
_LEFT_OUT = frozenset({"OTHER", "GND"})
"""Types of points that no route names: navaids and airports again, and points on the ground."""


class _BadRowError(Exception):
    """A row cannot be used; the message says why."""


class FaaPointsReader:
    """A DataReader."""

    name = "faa points"
    form = "FAA designated points (CSV)"

    def sniff(self, head: bytes) -> bool:
        """Whether the first line names all columns that are needed."""
        first = head.decode("latin-1").split("\n", 1)[0].strip()
        return set(_COLUMNS) <= set(first.split(","))

    def read(self, text: Member, source: str, progress: Callable[[float], None]) -> Tables:
        """As in DataReader."""
        tables, left_out, rejected = Tables(), 0, []
        lines = ((number, line) for number, line in enumerate(_lines(text, progress), start=1) if line.strip())
        titles = _read_titles(next(lines, (0, ""))[1])
        for number, line in lines:
            try:
                row = _read_row(line, titles)
                if row["TYPE_CODE"] in _LEFT_OUT:
                    left_out += 1
                    continue
                place = read_point(row, source)
            except _BadRowError as error:
                rejected.append((number, str(error)))
                continue
            before = tables.places.setdefault(ref_of(place), place)
            if before is not place:
                rejected.append((number, f"{place.ident} stands before it too"))
        if not tables.places:
            raise NothingUsableError("there are no points in it")
        counts = (("fixes", len(tables.places)), ("other records", left_out), ("rejected", len(rejected)))
        tables.source = DataSource(
            source, cycle="", effective=None, until=None, counts=counts, rejected=tuple(rejected[:MOST_LISTED])
        )
        return tables

    def procedures(self, airport: str, block: bytes, records: Records) -> NoProcedures:  # noqa: ARG002 (the protocol's)
        """As in DataReader."""
        return NoProcedures()


class NoProcedures:
    """An AirportProcedures: the table has none."""

    def branches(self, kind: str, name: str) -> tuple[CodedBranch, ...]:  # noqa: ARG002 (the protocol's)
        """As in AirportProcedures."""
        return ()

    def terminal_fixes(self) -> TerminalFixes:
        """As in AirportProcedures."""
        return TerminalFixes(frozenset(), frozenset())


def _lines(text: Member, progress: Callable[[float], None]) -> Iterator[str]:
    for lines, share in text.blocks:
        yield from lines
        progress(share)


def _read_titles(line: str) -> list[str]:
    """The titles of the columns. Raises NothingUsableError where one that is needed stands there twice."""
    titles = line.strip().split(",")
    if twice := [column for column in _COLUMNS if titles.count(column) > 1]:
        raise NothingUsableError(f"the column {listing(twice)} stands twice in the first line")
    return titles


def _read_row(line: str, titles: list[str]) -> dict[str, str]:
    """The cells of a row by their columns. A row is a line: no cell runs over the end of it, so that a stray quotation
    mark costs its own row. Raises _BadRowError."""
    try:
        cells = next(csv.reader([line], strict=True), [])
    except csv.Error:
        raise _BadRowError("a quotation mark opens a cell and does not close it in the same line") from None
    if len(cells) != len(titles):
        raise _BadRowError(f"it has {'more' if len(cells) > len(titles) else 'fewer'} cells than the first line")
    return dict(zip(titles, cells, strict=True))


def read_point(row: dict[str, str], source: str) -> Place:
    """Read a row. Raises _BadRowError."""
    ident = row["IDENT"].strip()
    if not _IDENT.fullmatch(ident):
        raise _BadRowError(f"“{ident[:20]}” is no name of a point")
    lat, lon = _degrees(row["LATITUDE"], "NS", 90.0), _degrees(row["LONGITUDE"], "EW", 180.0)
    return Place(ident, lat, lon, PlaceKind.FIX, variation_deg=_variation_deg(row["MAGVAR"]), source=source)


def _degrees(text: str, hemispheres: str, most: float) -> float:
    """Degrees, minutes and seconds (31-53-41.240N); seconds rounded up to 60 are found in the table."""
    match = _ANGLE.fullmatch(text.strip())
    if not match or match[4] not in hemispheres:
        raise _BadRowError(f"“{text[:20]}” is no position")
    minutes, seconds = int(match[2]), float(match[3])
    degrees = int(match[1]) + minutes / 60.0 + seconds / 3600.0
    if minutes >= 60 or seconds > 60.0 or degrees > most:
        raise _BadRowError(f"{match[0]} is no position")
    return degrees if match[4] == hemispheres[0] else -degrees


def _variation_deg(text: str) -> float | None:
    """East positive, as the table has it: some 12 in California, -16 in Maine; None where the cell is empty."""
    if not text.strip():
        return None
    if not _NUMBER.fullmatch(text.strip()) or abs(float(text)) > 180.0:
        raise _BadRowError(f"“{text[:20]}” is no variation")
    return float(text)
