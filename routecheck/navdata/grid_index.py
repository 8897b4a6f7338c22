"""Cells of one degree, to find the places within a radius. Names are not known here.

Cells are (south latitude, west longitude) in whole degrees; longitudes close round the date line, and at the poles
every longitude meets.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.earth import geo, sphere

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from routecheck.model import Place

Cell = tuple[int, int]
_MARGIN_DEG = 1e-5
"""Cells are looked for in a radius so much wider: rounding must not hide a place on the rim."""


def cell_of(lat: float, lon: float) -> Cell:
    """The cell a position lies in; the pole belongs to the last row, 180 to -180."""
    return min(math.floor(lat), 89), (math.floor(lon) + 180) % 360 - 180


def cells_touching(lat: float, lon: float) -> set[Cell]:
    """The cells a position lies in or on the edge of: one, two or four."""
    row, column = cell_of(lat, lon)
    rows = {row, max(row - 1, -90)} if lat == row else {row}
    columns = {column, (column - 1 + 180) % 360 - 180} if lon == math.floor(lon) else {column}
    return {(r, c) for r in rows for c in columns}


def sort_into_cells(places: Iterable[Place]) -> dict[Cell, list[Place]]:
    """Places sorted into cells, within a cell in the order given."""
    cells: dict[Cell, list[Place]] = {}
    for place in places:
        cells.setdefault(cell_of(place.lat, place.lon), []).append(place)
    return cells


def places_within(cells: Mapping[Cell, Sequence[Place]], lat: float, lon: float, radius_nm: float) -> Iterator[Place]:
    """Every place within the radius, on the sphere (0.6 %). Raises ImpossiblePositionError."""
    geo.refuse_impossible(lat, lon)
    reach_deg = radius_nm / 60.0 + _MARGIN_DEG  # the latitudes, 60.04 NM a degree, rule most places out at once
    for cell in _cells_around(cells, lat, lon, radius_nm):
        for place in cells.get(cell, ()):
            if abs(place.lat - lat) <= reach_deg and geo.rough_nm(lat, lon, place.lat, place.lon) <= radius_nm:
                yield place


def _cells_around(cells: Mapping[Cell, object], lat: float, lon: float, radius_nm: float) -> Iterable[Cell]:
    radius = min(max(radius_nm, 0.0) / sphere.EARTH_RADIUS_NM, math.pi)
    south, north = (lat + sign * (math.degrees(radius) + _MARGIN_DEG) for sign in (-1, 1))
    rows = range(max(math.floor(south), -90), min(math.floor(north), 89) + 1)
    half_width = 180.0
    if south > -90 and north < 90:
        widest = math.asin(min(1.0, math.sin(radius) / math.cos(math.radians(lat))))
        half_width = math.degrees(widest) + _MARGIN_DEG
    columns = range(
        math.floor(lon - half_width), min(math.floor(lon + half_width), math.floor(lon - half_width) + 359) + 1
    )
    if len(rows) * len(columns) > len(cells):
        return cells.keys()
    return [(row, (column + 180) % 360 - 180) for row in rows for column in columns]
