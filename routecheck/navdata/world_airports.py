"""Airports of the rest of the world, from the airportsdata package. Loaded navigation data comes before it.

Its elevations are often wrong and are left out: an unknown elevation is None.
"""

from __future__ import annotations

import csv
import re
from bisect import bisect_left
from functools import cache, lru_cache
from importlib.resources import files

from routecheck.model import Place, PlaceKind

SOURCE = "airportsdata"
_ICAO = re.compile(r"[A-Z]{4}")
_LID = re.compile(r"(?=.*\d)[A-Z0-9]{3,4}")
"""FAA location identifiers with a digit. Those of three letters are passenger codes and navaids too: never read."""
_COLUMNS = ("icao", "iata", "name", "city", "subd", "country", "elevation", "lat", "lon", "tz", "lid")


@lru_cache(maxsize=65_536)
def world_airport(ident: str) -> Place | None:
    """The airport of that ICAO code (four letters) or FAA location identifier with a digit (L18, 00AK); else None."""
    if _ICAO.fullmatch(ident):
        line = _find_by_icao(ident.encode())
    elif _LID.fullmatch(ident):
        line = _by_lid().get(ident.encode(), b"")
    else:
        return None
    return _read(ident, line.decode()) if line else None


def _read(ident: str, line: str) -> Place:
    route_input = next(csv.DictReader([line], _COLUMNS))
    return Place(
        ident,
        float(route_input["lat"]),
        float(route_input["lon"]),
        PlaceKind.AIRPORT,
        name=route_input["name"],
        source=SOURCE,
    )


def _find_by_icao(ident: bytes) -> bytes:
    """The line that begins with the code, else b"". Most of the names that are asked for are those of no airport."""
    lines, beginning = _lines(), b'"%b",' % ident
    at = bisect_left(lines, beginning)
    return lines[at] if at < len(lines) and lines[at].startswith(beginning) else b""


@cache
def _lines() -> list[bytes]:
    """The lines of the package's table in order. Each is read when its airport is asked for: the package's own loader
    reads them all, and the first answer would wait for it, as it would for a dictionary of them."""
    return sorted(files("airportsdata").joinpath("airports.csv").read_bytes().splitlines()[1:])


@cache
def _by_lid() -> dict[bytes, bytes]:
    return {line[line.rindex(b",") + 2 : -1]: line for line in _lines()}
