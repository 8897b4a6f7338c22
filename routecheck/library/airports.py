"""Airports of the rest of the world, from the airportsdata package. Loaded navigation data comes before it.

Its elevations are often wrong and are left out: an unknown elevation is None.
"""

from __future__ import annotations

import csv
import re
from functools import cache
from importlib.resources import files

from routecheck.model import Place, PlaceKind

SOURCE = "airportsdata"
_ICAO = re.compile(r"[A-Z]{4}")
_LID = re.compile(r"(?=.*\d)[A-Z0-9]{3,4}")
"""FAA location identifiers with a digit. Those of three letters are passenger codes and navaids too: never read."""
_COLUMNS = ("icao", "lid", "lat", "lon", "name")
Entries = dict[str, tuple[float, float, str]]


def world_airport(ident: str) -> Place | None:
    """The airport of that ICAO code (four letters) or FAA location identifier with a digit (L18, 00AK); else None."""
    by_icao, by_lid = _entries()
    entry = by_icao.get(ident) if _ICAO.fullmatch(ident) else by_lid.get(ident) if _LID.fullmatch(ident) else None
    if entry is None:
        return None
    lat, lon, name = entry
    return Place(ident, lat, lon, PlaceKind.AIRPORT, name=name, source=SOURCE)


@cache
def _entries() -> tuple[Entries, Entries]:
    """By ICAO code and by location identifier. Read from the package's table at once: its own loader takes four times
    as long, and the first answer waits for it."""
    by_icao: Entries = {}
    by_lid: Entries = {}
    with files("airportsdata").joinpath("airports.csv").open(encoding="utf-8") as stream:
        rows = csv.reader(stream, quoting=csv.QUOTE_NONNUMERIC)
        icao, lid, lat, lon, name = map(next(rows).index, _COLUMNS)
        for row in rows:
            where = float(row[lat]), float(row[lon]), row[name]
            by_icao[row[icao]] = by_lid[row[lid]] = where
    return by_icao, by_lid
