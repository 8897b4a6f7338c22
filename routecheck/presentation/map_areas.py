"""Areas of the globe as rings of the plane that can be filled: brought in from the rim, cut to a box. Plain geometry.

In the plane of an azimuthal map a ring is filled on the side that does not hold the point opposite the centre. Where
that point is in an area the rim of the map is added as one more ring, so that what is filled turns about.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.arrays import Floats
    from routecheck.presentation.graticule import ChartBox

FARTHEST_NM = 9000.0
"""From the centre: beyond, a step on the globe is a leap across the map."""
_OPPOSITE_NM = 180.0 * 60.0 - 1.0
"""From here on it is the point opposite the centre, which has no bearing: rings go by it on either side."""
_ARC_DEG = 3.0
"""A step along that rim is drawn in pieces of at most this."""


def project_rings(curve: Floats, *, has_opposite: bool) -> tuple[Floats, ...]:
    """Projected rings (shape (n, 2), NM, NaN after each) one by one, none reaching beyond the rim of what is drawn.

    `has_opposite` = the point opposite the centre lies inside them.
    """
    rings = [_bring_in(ring) for ring in _split(curve)]
    return (*rings, _arc(0.0, 360.0)) if has_opposite else tuple(rings)


def cut_rings(rings: Iterable[Floats], box: ChartBox) -> list[Floats]:
    """What of some rings lies in a box, as rings of which some run along its edges (Sutherland and Hodgman, 1974)."""
    return [part for ring in rings if len(part := _cut(ring, box))]


def is_inside(lat: Floats, lon: Floats, at_lat: float, at_lon: float) -> bool:
    """Whether a position lies inside closed rings of a flat map, degrees, with NaN after each: by odd and even."""
    lat1, lon1, lat2, lon2 = lat[:-1], lon[:-1], lat[1:], lon[1:]
    with np.errstate(invalid="ignore", divide="ignore"):
        meets = lon1 + (at_lat - lat1) / (lat2 - lat1) * (lon2 - lon1)
    crosses = ((lat1 > at_lat) != (lat2 > at_lat)) & ~np.isnan(lat1) & ~np.isnan(lat2)
    return bool(np.count_nonzero(crosses & (meets > at_lon)) % 2)


def _split(curve: Floats) -> list[Floats]:
    ends = np.flatnonzero(np.isnan(curve[:, 0]))
    starts = np.concatenate(([0], ends[:-1] + 1)) if len(ends) else ends
    return [curve[start:end] for start, end in zip(starts, ends, strict=True)]


def _bring_in(ring: Floats) -> Floats:
    """The ring with what lies beyond the rim drawn along it."""
    away = np.hypot(*ring.T)
    ring, away = ring[away < _OPPOSITE_NM], away[away < _OPPOSITE_NM]
    far = away > FARTHEST_NM
    if not far.any():
        return ring
    inside = ring * np.where(far, FARTHEST_NM / np.maximum(away, 1.0), 1.0)[:, None]
    bearing = np.degrees(np.arctan2(ring[:, 0], ring[:, 1]))
    turns = (np.diff(bearing) + 180.0) % 360.0 - 180.0
    along_rim = np.flatnonzero(far[:-1] & far[1:] & (np.abs(turns) > _ARC_DEG))
    pieces = np.split(inside, along_rim + 1)
    arcs = [_arc(float(bearing[i]), float(turns[i])) for i in along_rim]
    joined = [pieces[0]]
    for arc, piece in zip(arcs, pieces[1:], strict=True):
        joined += [arc, piece]
    return np.concatenate(joined)


def _arc(from_deg: float, turn_deg: float) -> Floats:
    """A piece of the rim, both ends included."""
    angles = np.radians(np.linspace(from_deg, from_deg + turn_deg, int(abs(turn_deg) / _ARC_DEG) + 2))
    return FARTHEST_NM * np.column_stack((np.sin(angles), np.cos(angles)))


def _cut(ring: Floats, box: ChartBox) -> Floats:
    low, high = ring.min(axis=0), ring.max(axis=0)
    for axis, sign, limit in ((0, 1.0, box[0]), (1, 1.0, box[1]), (0, -1.0, box[2]), (1, -1.0, box[3])):
        nearest, farthest = (low, high) if sign > 0 else (-high, -low)
        if farthest[axis] <= sign * limit:
            return ring[:0]
        if nearest[axis] < sign * limit and len(ring):
            ring = _keep_half(ring, sign * (ring[:, axis] - limit))
    return ring


def _keep_half(ring: Floats, depth: Floats) -> Floats:
    """The part of a ring whose points have a depth of at least 0, with the points where it enters and leaves."""
    following, deep = np.roll(ring, -1, axis=0), np.roll(depth, -1)
    inside = depth >= 0.0
    crosses = inside != (deep >= 0.0)
    share = np.divide(depth, depth - deep, out=np.zeros_like(depth), where=crosses)
    both = np.stack((ring, ring + share[:, None] * (following - ring)), axis=1)
    kept = both[np.column_stack((inside, crosses))]
    return np.concatenate((kept, kept[:1]))
