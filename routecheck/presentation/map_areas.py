"""Areas of the globe as rings of the plane that can be filled: led along the rim of the map, cut to a box.

A ring that leaves the map on one side and comes back on another is closed along the rim, on whichever way round; where
that fills the wrong side the rim is added as one more ring, so that what is filled turns about.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from routecheck.presentation.projected_lines import join_curves

if TYPE_CHECKING:
    from routecheck.arrays import Floats, Indices
    from routecheck.presentation.graticule import ChartBox

DRAWN_SHARE = 0.83
"""Of the way from the centre to the rim of the globe: beyond, a step on the globe is a leap across the map."""
_OPPOSITE_SHARE = 0.9999
"""From here on it is the point opposite the centre, which has no bearing: rings go by it on either side."""
_ARC_DEG = 3.0
"""A step along the rim is drawn in pieces of at most this."""


def share_of_rim(curve: Floats, rim_nm: tuple[float, float]) -> Floats:
    """How far towards the rim of the map, an ellipse about its centre, each point of the plane lies: 0 to 1."""
    return np.asarray(np.hypot(*(curve / rim_nm).T))


def project_rings(curve: Floats, rim_nm: tuple[float, float], *, has_centre: bool) -> Floats:
    """Projected rings (shape (n, 2), NM, NaN after each), none reaching beyond what is drawn.

    `has_centre` = the centre of the map lies inside them.
    """
    drawn_rim, share = np.array(rim_nm) * DRAWN_SHARE, share_of_rim(curve, rim_nm)
    starts, sizes = _find_rings(curve)
    is_far = np.fmax.reduceat(share, starts) > DRAWN_SHARE if len(starts) else np.zeros(0, dtype=bool)
    far = [
        _bring_in(curve[start : start + size], drawn_rim, share[start : start + size])
        for start, size in zip(starts[is_far], sizes[is_far], strict=True)
    ]
    rings = np.concatenate((curve[np.repeat(~is_far, sizes + 1)], join_curves([ring for ring in far if len(ring)])))
    if is_inside(rings[:, 1], rings[:, 0], 0.0, 0.0) != has_centre:
        rings = np.concatenate((rings, join_curves([_arc(0.0, 360.0, drawn_rim)])))
    return rings


def cut_rings(rings: Floats, box: ChartBox) -> Floats:
    """What of some rings lies in a box, as rings of which some run along its edges (Sutherland and Hodgman, 1974)."""
    starts, sizes = _find_rings(rings)
    if not len(starts):
        return rings
    low, high = np.fmin.reduceat(rings, starts), np.fmax.reduceat(rings, starts)
    whole = ((low >= box[:2]) & (high <= box[2:])).all(axis=1)
    partly = ((low < box[2:]) & (high > box[:2])).all(axis=1) & ~whole
    parts = [_cut(rings[start : start + size], box) for start, size in zip(starts[partly], sizes[partly], strict=True)]
    return np.concatenate((rings[np.repeat(whole, sizes + 1)], join_curves([part for part in parts if len(part)])))


def is_inside(lat: Floats, lon: Floats, at_lat: float, at_lon: float) -> bool:
    """Whether a position lies inside closed rings of a flat map, degrees, with NaN after each: by odd and even."""
    lat1, lon1, lat2, lon2 = lat[:-1], lon[:-1], lat[1:], lon[1:]
    with np.errstate(invalid="ignore", divide="ignore"):
        meets = lon1 + (at_lat - lat1) / (lat2 - lat1) * (lon2 - lon1)
    crosses = ((lat1 > at_lat) != (lat2 > at_lat)) & ~np.isnan(lat1) & ~np.isnan(lat2)
    return bool(np.count_nonzero(crosses & (meets > at_lon)) % 2)


def _find_rings(curve: Floats) -> tuple[Indices, Indices]:
    """Where each ring begins, and how many points it has."""
    ends = np.flatnonzero(np.isnan(curve[:, 0]))
    starts = np.concatenate(([0], ends[:-1] + 1)) if len(ends) else ends
    return starts, ends - starts


def _bring_in(ring: Floats, rim: Floats, share: Floats) -> Floats:
    """The ring with what lies beyond the drawn part of the map led along the rim of that part."""
    ring, share = ring[share < _OPPOSITE_SHARE], share[share < _OPPOSITE_SHARE]
    far = share > DRAWN_SHARE
    if not far.any():
        return ring
    closed = np.append(np.arange(len(ring)), 0)
    ring, share, far = ring[closed], share[closed], far[closed]
    inside = ring * np.where(far, DRAWN_SHARE / np.maximum(share, 1e-9), 1.0)[:, None]
    bearing = np.degrees(np.arctan2(ring[:, 0] / rim[0], ring[:, 1] / rim[1]))
    turns = (np.diff(bearing) + 180.0) % 360.0 - 180.0
    along_rim = np.flatnonzero(far[:-1] & far[1:] & (np.abs(turns) > _ARC_DEG))
    pieces = np.split(inside, along_rim + 1)
    joined = [pieces[0]]
    for i, piece in zip(along_rim, pieces[1:], strict=True):
        joined += [_arc(float(bearing[i]), float(turns[i]), rim), piece]
    return np.concatenate(joined)


def _arc(from_deg: float, turn_deg: float, rim: Floats) -> Floats:
    """A piece of the rim, both ends included."""
    angles = np.radians(np.linspace(from_deg, from_deg + turn_deg, int(abs(turn_deg) / _ARC_DEG) + 2))
    return np.asarray(rim * np.column_stack((np.sin(angles), np.cos(angles))))


def _cut(ring: Floats, box: ChartBox) -> Floats:
    for axis, sign, limit in ((0, 1.0, box[0]), (1, 1.0, box[1]), (0, -1.0, box[2]), (1, -1.0, box[3])):
        depth = sign * (ring[:, axis] - limit)
        if (depth < 0.0).any():
            ring = _keep_half(ring, depth)
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
