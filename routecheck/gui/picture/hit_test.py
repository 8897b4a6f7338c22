"""What lies under a spot of the Picture, in NM of the plane. Built once a picture: moving the mouse must be cheap."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from routecheck.presentation.map_scene import Picture

    Floats = NDArray[np.float64]


class Reach:
    """The points and legs of a picture, to be asked by spot and by how far off counts."""

    def __init__(self, picture: Picture) -> None:
        self._points = np.array([(p.x, p.y) for p in picture.points]).reshape(-1, 2)
        self._of_points = [p.index for p in picture.points]
        pieces = [leg.curve for leg in picture.legs]
        starts = [curve[:-1] for curve in pieces]
        self._starts = np.concatenate(starts) if starts else np.empty((0, 2))
        self._reaches = np.concatenate([np.diff(c, axis=0) for c in pieces]) if pieces else np.empty((0, 2))
        self._of_legs = np.repeat([leg.index for leg in picture.legs], [len(s) for s in starts]).astype(int)

    def point_at(self, spot: tuple[float, float], within_nm: float) -> int | None:
        """The index (in Route.points) of the nearest point."""
        nearest = nearest_of(self._points, spot, within_nm)
        return None if nearest is None else self._of_points[nearest]

    def leg_at(self, spot: tuple[float, float], within_nm: float) -> int | None:
        """The index (in Route.legs) of the nearest leg."""
        if not len(self._starts):
            return None
        offset = spot - self._starts
        square = np.maximum((self._reaches**2).sum(axis=1), 1e-12)
        share = np.clip((offset * self._reaches).sum(axis=1) / square, 0.0, 1.0)
        away = np.hypot(*(offset - share[:, None] * self._reaches).T)
        away[np.isnan(away)] = np.inf
        nearest = int(np.argmin(away))
        return int(self._of_legs[nearest]) if away[nearest] <= within_nm else None


def nearest_of(places: Floats | Sequence[tuple[float, float]], spot: tuple[float, float], within: float) -> int | None:
    """Which of some places (shape (n, 2)) is nearest to a spot; None where none is within reach."""
    places = np.asarray(places, dtype=np.float64).reshape(-1, 2)
    if not len(places):
        return None
    away = np.hypot(*(places - spot).T)
    nearest = int(np.argmin(away))
    return nearest if away[nearest] <= within else None
