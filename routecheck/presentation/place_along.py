"""A place along the route, the same in the Picture and in the Side view: on which leg, and how far on. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from routecheck.arrays import Floats
    from routecheck.presentation.drawn_map import Picture
    from routecheck.presentation.side_view import SideView


@dataclass(frozen=True, slots=True)
class PlaceAlong:
    """On the leg `leg` of the route, at a share of its length from 0 to 1."""

    leg: int
    share: float


class RouteLine:
    """The legs of a picture as one line to be met by the mouse, made once: moving it must be cheap."""

    def __init__(self, picture: Picture) -> None:
        legs = picture.legs
        self._fixed = {leg.index: leg.curve for leg in legs if not leg.is_gap}
        self._starts = _concatenate([leg.curve[:-1] for leg in legs])
        self._reaches = _concatenate([np.diff(leg.curve, axis=0) for leg in legs])
        self._leg_of = np.repeat([leg.index for leg in legs], [len(leg.curve) - 1 for leg in legs]).astype(int)

    def leg_at(self, spot: tuple[float, float], within_nm: float) -> int | None:
        """The leg (by its index in Route.legs) nearest to a spot of the plane; None where none is within reach."""
        piece, _ = self._nearest(spot, within_nm)
        return None if piece is None else int(self._leg_of[piece])

    def place_at(self, spot: tuple[float, float], within_nm: float) -> PlaceAlong | None:
        """The place nearest to a spot of the plane; None where none is within reach, and in a gap: it has no path."""
        piece, on = self._nearest(spot, within_nm)
        leg = None if piece is None else int(self._leg_of[piece])
        if piece is None or leg not in self._fixed:
            return None
        shares = _shares(self._fixed[leg])
        before = piece - int(np.searchsorted(self._leg_of, leg))
        return PlaceAlong(leg, float(shares[before] + on * (shares[before + 1] - shares[before])))

    def spot(self, place: PlaceAlong) -> tuple[float, float] | None:
        """Where a place is drawn, NM of the plane; None in a gap, and where nothing is drawn."""
        curve = self._fixed.get(place.leg)
        if curve is None:
            return None
        shares, known = _shares(curve), ~np.isnan(curve[:, 0])
        x, y = (np.interp(place.share, shares[known], curve[known, axis]) for axis in (0, 1))
        return float(x), float(y)

    def _nearest(self, spot: tuple[float, float], within_nm: float) -> tuple[int | None, float]:
        """The nearest piece of a leg, and at which share of it."""
        if not len(self._starts):
            return None, 0.0
        offset = spot - self._starts
        square = np.maximum((self._reaches**2).sum(axis=1), 1e-12)
        on = np.clip((offset * self._reaches).sum(axis=1) / square, 0.0, 1.0)
        away = np.hypot(*(offset - on[:, None] * self._reaches).T)
        away[np.isnan(away)] = np.inf
        nearest = int(np.argmin(away))
        return (nearest, float(on[nearest])) if away[nearest] <= within_nm else (None, 0.0)


def place_at(view: SideView, nm: float) -> PlaceAlong | None:
    """The place drawn at a distance of the Side view; None beyond the ends of the route."""
    leg = view.leg_at(nm)
    if leg is None:
        return None
    begins, ends = view.points[leg].nm, view.points[leg + 1].nm
    return PlaceAlong(leg, (nm - begins) / (ends - begins) if ends > begins else 0.0)


def distance_of(view: SideView, place: PlaceAlong) -> float | None:
    """At which distance of the Side view a place is drawn, NM; None where the view has no such leg."""
    if place.leg + 1 >= len(view.points):
        return None
    begins, ends = view.points[place.leg].nm, view.points[place.leg + 1].nm
    return begins + place.share * (ends - begins)


def _shares(curve: Floats) -> Floats:
    """How far along a curve each of its points is, 0 to 1; a break has no length."""
    lengths = np.nan_to_num(np.hypot(*np.diff(curve, axis=0).T))
    along = np.concatenate(([0.0], np.cumsum(lengths)))
    return along / along[-1] if along[-1] > 0.0 else np.linspace(0.0, 1.0, len(curve))


def _concatenate(parts: list[Floats]) -> Floats:
    return np.concatenate(parts) if parts else np.empty((0, 2))
