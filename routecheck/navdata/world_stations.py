"""Radio stations of the world, from a list without a date: a hint of where a name lies, and never more than that.

The list comes with the program (resources/stations). It is read when it is first asked for.
"""

from __future__ import annotations

import lzma
from functools import cache, lru_cache
from importlib.resources import files

from routecheck.model import Place, PlaceKind

SOURCE = "undated list"
_KINDS = {"V": PlaceKind.VOR, "W": PlaceKind.VOR_DME, "D": PlaceKind.DME, "N": PlaceKind.NDB}


@lru_cache(maxsize=4096)
def world_stations(ident: str) -> tuple[Place, ...]:
    """Every station of that ident, in the order of the list; () if there is none."""
    return tuple(_read(line) for line in _lines_by_ident().get(ident, ()))


def _read(line: str) -> Place:
    ident, kind, lat, lon = line.split()
    return Place(ident, float(lat), float(lon), _KINDS[kind], source=SOURCE)


@cache
def _lines_by_ident() -> dict[str, list[str]]:
    lines: dict[str, list[str]] = {}
    packed = files("routecheck.resources").joinpath("stations", "world_stations.txt.xz").read_bytes()
    text = lzma.decompress(packed).decode("ascii")
    for line in text.splitlines():
        lines.setdefault(line[: line.index(" ")], []).append(line)
    return lines
