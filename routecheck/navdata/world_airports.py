"""Airports of the rest of the world, from the airportsdata package. Loaded navigation data comes before it.

Its elevations are often wrong and are left out: an unknown elevation is None.
"""

from __future__ import annotations

import csv
import re
from functools import cache, lru_cache
from importlib.resources import files

from routecheck.model import Place, PlaceKind

SOURCE = "airportsdata"
_ICAO = re.compile(r"[A-Z]{4}")
_LID = re.compile(r"(?=.*\d)[A-Z0-9]{3,4}")
"""FAA location identifiers with a digit. Those of three letters are passenger codes and navaids too: never read."""
_COLUMNS = ("icao", "iata", "name", "city", "subd", "country", "elevation", "lat", "lon", "tz", "lid")


def world_airport(ident: str) -> Place | None:
    """The airport of that ICAO code (four letters) or FAA location identifier with a digit (L18, 00AK); else None."""
    # Asked of hundreds of names that are no airport: most are in neither list.
    return _read(ident) if ident in _by_icao() or ident in _by_lid() else None


@lru_cache(maxsize=4096)
def _read(ident: str) -> Place | None:
    line = None
    if _ICAO.fullmatch(ident):
        line = _by_icao().get(ident)
    elif _LID.fullmatch(ident):
        line = _by_lid().get(ident)
    if line is None:
        return None
    route_input = next(csv.DictReader([line], _COLUMNS))
    return Place(
        ident,
        float(route_input["lat"]),
        float(route_input["lon"]),
        PlaceKind.AIRPORT,
        name=route_input["name"],
        source=SOURCE,
    )


@cache
def _lines() -> list[str]:
    """The lines of the package's table. Each is read when its airport is asked for: the package's own loader reads them
    all, and the first answer would wait for it."""
    return files("airportsdata").joinpath("airports.csv").read_text("utf-8").strip().split("\n")[1:]


@cache
def _by_icao() -> dict[str, str]:
    return {line[1 : line.index('"', 1)]: line for line in _lines()}


@cache
def _by_lid() -> dict[str, str]:
    return {line[line.rindex(",") + 2 : -1]: line for line in _lines()}
