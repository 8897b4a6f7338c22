"""The islands of the demo region: their outlines, and the safe height over each degree cell. No record columns here."""

from __future__ import annotations

import math
import random
from itertools import pairwise
from typing import Any

from chart import PLAN, on_chart


def outline(island: dict[str, Any]) -> list[list[float]]:
    """A closed ring of 60 corners around the island's centre: an oval with seven soft waves."""
    chance = random.Random(island["name"])
    waves = [(k, 0.17 / math.sqrt(k) * chance.uniform(0.4, 1), chance.uniform(0, math.tau)) for k in range(2, 9)]
    (x, y), (east, north) = island["centre"], island["size"]
    ring = []
    for corner in range(60):
        theta = math.tau * corner / 60
        swell = 1 + sum(height * math.cos(k * theta + phase) for k, height, phase in waves)
        lat, lon = on_chart(x + east * swell * math.cos(theta), y + north * swell * math.sin(theta))
        ring.append([round(lat, 4), round(lon, 4)])
    return [*ring, ring[0]]


def islands() -> list[dict[str, Any]]:
    """Every island with its name and outline."""
    return [{"name": island["name"], "outline": outline(island)} for island in PLAN["islands"]]


def inside(lat: float, lon: float, ring: list[list[float]]) -> bool:
    """Whether a point lies within a ring, by counting crossings."""
    crossings = 0
    for (lat1, lon1), (lat2, lon2) in pairwise(ring):
        if (lat1 > lat) != (lat2 > lat) and lon < lon1 + (lat - lat1) / (lat2 - lat1) * (lon2 - lon1):
            crossings += 1
    return crossings % 2 == 1


def highest_ground() -> dict[str, int]:
    """Highest ground of an island by name: its airport's row, else the height of its navaid plus 200 ft."""
    peaks = {row[3]: row[4] for row in PLAN["airports"].values()}
    stations = {row[4]: row[3] + 200 for row in (PLAN["vors"] | PLAN["dmes"]).values()}
    return stations | peaks


def ground_by_cell() -> dict[tuple[int, int], int]:
    """Highest ground, feet, in every one-degree cell (south-west corner) that an island touches."""
    peaks = highest_ground()
    cells: dict[tuple[int, int], int] = {}
    for island in islands():
        for lat, lon in touched(island["outline"]):
            cell = (math.floor(lat), math.floor(lon))
            cells[cell] = max(cells.get(cell, 0), peaks.get(island["name"], 200))
    return cells


def touched(ring: list[list[float]]) -> list[list[float]]:
    """The ring's corners and a twelfth-degree grid within it."""
    lats, lons = zip(*ring, strict=True)
    rows = range(math.floor(min(lats) * 12), math.ceil(max(lats) * 12))
    columns = range(math.floor(min(lons) * 12), math.ceil(max(lons) * 12))
    return ring + [[r / 12, c / 12] for r in rows for c in columns if inside(r / 12, c / 12, ring)]


def mora_ft(ground_ft: int) -> int:
    """Ground plus 1,000 ft, or 2,000 ft where it is above 5,000 ft, up to the next hundred."""
    return math.ceil((ground_ft + (2000 if ground_ft > 5000 else 1000)) / 100) * 100
