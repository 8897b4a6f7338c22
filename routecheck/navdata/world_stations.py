"""Radio stations of the world, from a list without a date: a hint of where a name lies, and never more than that.

The list comes with the program (resources/stations). It is read when it is first asked for.
"""

from __future__ import annotations

import lzma
from bisect import bisect_left
from functools import cache, lru_cache
from importlib.resources import files
from itertools import islice, takewhile

from routecheck.model import Place, PlaceKind

SOURCE = "undated list"
_KINDS = {"V": PlaceKind.VOR, "W": PlaceKind.VOR_DME, "D": PlaceKind.DME, "N": PlaceKind.NDB}


@lru_cache(maxsize=4096)
def world_stations(ident: str) -> tuple[Place, ...]:
    """Every station of that ident, in the order of the list; () if there is none."""
    lines, beginning = _lines(), ident + " "
    first = bisect_left(lines, beginning)
    return tuple(_read(line) for line in takewhile(lambda line: line.startswith(beginning), islice(lines, first, None)))


def _read(line: str) -> Place:
    ident, kind, lat, lon = line.split()
    return Place(ident, float(lat), float(lon), _KINDS[kind], source=SOURCE)


@cache
def _lines() -> list[str]:
    """The lines of the list, which are in order."""
    packed = files("routecheck.resources").joinpath("stations", "world_stations.txt.xz").read_bytes()
    return lzma.decompress(packed).decode("ascii").splitlines()
