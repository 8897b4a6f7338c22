"""Airports of the rest of the world, from the airportsdata package. Loaded navigation data comes before it.

Its elevations are often wrong and are left out: an unknown elevation is None.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from routecheck.model import Place, PlaceKind

if TYPE_CHECKING:
    from collections.abc import Mapping

SOURCE = "airportsdata"
_ICAO = re.compile(r"[A-Z]{4}")
_LID = re.compile(r"(?=.*\d)[A-Z0-9]{3,4}")
"""FAA location identifiers with a digit. Those of three letters are passenger codes and navaids too: never read."""


def world_airport(ident: str) -> Place | None:
    """The airport of that ICAO code (four letters) or FAA location identifier with a digit (L18, 00AK); else None."""
    entry = _entries().get(ident)
    if entry is None:
        return None
    lat, lon, name = entry
    return Place(ident, lat, lon, PlaceKind.AIRPORT, name=name, source=SOURCE)


@cache
def _entries() -> Mapping[str, tuple[float, float, str]]:
    import airportsdata  # here, because most runs need none of it

    known: dict[str, tuple[float, float, str]] = {}
    for entry in (*airportsdata.load("LID").values(), *airportsdata.load("ICAO").values()):
        where = float(entry["lat"]), float(entry["lon"]), str(entry["name"])
        if _ICAO.fullmatch(entry["icao"]):
            known[entry["icao"]] = where
        if _LID.fullmatch(entry["lid"]):
            known[entry["lid"]] = where
    return known
