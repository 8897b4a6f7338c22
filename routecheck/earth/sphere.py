"""Distances and turns on the sphere by unit vectors: quick, within 0.6 %, to compare by and never to be shown."""

from __future__ import annotations

import math
from functools import lru_cache
from math import atan2, sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import Place

EARTH_RADIUS_NM = 6371.0088 * 1000 / 1852.0
"""The mean radius (2a + b) / 3 of WGS 84, 6,371.0088 km."""
Vector = tuple[float, float, float]
_SLIGHT = math.cos(math.radians(20.0))
"""Turns of less than 20° count as none where only sharper ones matter."""
_NO_LENGTH = 1e-7
"""A leg whose sine is less has no length, and so no course."""


@lru_cache(maxsize=1 << 18)
def unit_vector(lat: float, lon: float) -> Vector:
    """A position (degrees) as a unit vector."""
    phi, lam = math.radians(lat), math.radians(lon)
    across = math.cos(phi)
    return across * math.cos(lam), across * math.sin(lam), math.sin(phi)


def vector_of(place: Place) -> Vector:
    """A place as a unit vector."""
    return unit_vector(place.lat, place.lon)


def distance_nm(a: Vector, b: Vector) -> float:
    """The great-circle distance between two unit vectors, NM: by the chord, which is exact for short ones too."""
    x, y, z = a[0] - b[0], a[1] - b[1], a[2] - b[2]
    return 2.0 * EARTH_RADIUS_NM * math.asin(min(1.0, math.sqrt(x * x + y * y + z * z) / 2.0))


def miles_and_turns(line: Sequence[Vector]) -> tuple[list[float], list[float]]:
    """For each point of a line the NM flown as far as there, and the turn there, degrees without side.

    The turn is 0 at both ends and where it is slight; between legs of no length it stands where the next leg begins.
    """
    if not line:
        return [0.0], []
    flown, turns = [0.0], [0.0] * len(line)
    total = px = py = pz = size_before = 0.0
    ax, ay, az = line[0]
    for index in range(1, len(line)):
        bx, by, bz = line[index]
        x, y, z = ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx
        size = sqrt(x * x + y * y + z * z)
        total += EARTH_RADIUS_NM * atan2(size, ax * bx + ay * by + az * bz)
        flown.append(total)
        ax, ay, az = bx, by, bz
        if size < _NO_LENGTH:
            continue
        if size_before:
            cosine = (px * x + py * y + pz * z) / (size_before * size)
            if cosine < _SLIGHT:
                turns[index - 1] = math.degrees(math.acos(max(-1.0, cosine)))
        px, py, pz, size_before = x, y, z, size
    return flown, turns


def legs_and_turns(line: Sequence[Vector]) -> tuple[list[float], list[float]]:
    """The legs of a line, NM, and the turns between them, degrees without side. Legs of no length have no turn."""
    legs: list[float] = []
    turns: list[float] = []
    px = py = pz = size_before = 0.0
    ax, ay, az = line[0] if line else (0.0, 0.0, 0.0)
    for bx, by, bz in line[1:]:
        x, y, z = ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx
        size = sqrt(x * x + y * y + z * z)
        legs.append(EARTH_RADIUS_NM * atan2(size, ax * bx + ay * by + az * bz))
        ax, ay, az = bx, by, bz
        if size < _NO_LENGTH:
            continue
        if size_before:
            cosine = (px * x + py * y + pz * z) / (size_before * size)
            turns.append(math.degrees(math.acos(max(-1.0, min(1.0, cosine)))))
        px, py, pz, size_before = x, y, z, size
    return legs, turns
