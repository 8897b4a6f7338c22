"""Lines of positions as curves of the plane: geodesics in steps, projected, broken where the map leaps. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from routecheck.earth import geo

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.arrays import Floats
    from routecheck.earth.projection import Projection
    from routecheck.model import Place

_STEP_NM = 100.0
_LEAP_NM = 20 * _STEP_NM


def geodesic(a: Place, b: Place) -> Sequence[tuple[float, float]]:
    """The positions along the geodesic from one place to another."""
    return geo.points_along(a.lat, a.lon, b.lat, b.lon, _STEP_NM)


def project_lines(along: Sequence[Sequence[tuple[float, float]]], projection: Projection) -> list[Floats]:
    """Lines of positions, projected in one call; broken where they leap.

    A leap is a step past the point opposite the centre, which is a whole circle on the map.
    """
    if not along:
        return []
    everything = projection.forward(*geo.lat_lon_columns([place for curve in along for place in curve]))
    starts = np.cumsum([len(curve) for curve in along])[:-1]
    if not (np.hypot(*np.diff(everything, axis=0).T) > _LEAP_NM).any():
        return np.split(everything, starts)
    return [break_at_leaps(curve) for curve in np.split(everything, starts)]


def break_at_leaps(curve: Floats) -> Floats:
    """A curve of shape (n, 2) with a row of NaN wherever it steps over the rim of the map."""
    leaps = np.flatnonzero(np.hypot(*np.diff(curve, axis=0).T) > _LEAP_NM) + 1
    return np.insert(curve, leaps, np.nan, axis=0)


def join_curves(pieces: list[Floats]) -> Floats:
    """Several curves of shape (n, 2) as one, with a row of NaN after each."""
    if not pieces:
        return np.empty((0, 2))
    stop = np.full((1, 2), np.nan)
    return np.concatenate([part for piece in pieces for part in (piece, stop)])


def middle_of(curve: Floats) -> Floats:
    """A place about the middle of a curve of shape (n, 2), on it where it has more points than its ends."""
    drawn = curve[~np.isnan(curve[:, 0])]
    return np.asarray((drawn[0] + drawn[-1]) / 2 if len(drawn) < 3 else drawn[len(drawn) // 2])
