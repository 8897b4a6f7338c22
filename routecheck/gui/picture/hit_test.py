"""What lies under a spot of the Picture, in NM of the plane, and what is said of it. Built once a picture."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from routecheck.presentation import tooltips
from routecheck.presentation.place_along import RouteLine

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from routecheck.arrays import Floats
    from routecheck.model import Assessment, Place
    from routecheck.presentation.drawn_map import Picture
    from routecheck.presentation.nearby_fixes import NearbyFixes
    from routecheck.presentation.place_along import PlaceAlong

    Spot = tuple[float, float]

_REACH_POINT, _REACH_LEG, _REACH_PLACE = 11.0, 6.0, 30.0
"""How far off in pixels the mouse still counts: of a point, of a leg, of a place to be marked in the Side view."""


class HitTest:
    """What the mouse can meet: points and legs of a picture, namesakes, places of the data. `nm` is that of a pixel."""

    def __init__(self, assessment: Assessment | None, picture: Picture, nearby: NearbyFixes | None) -> None:
        self._assessment, self._picture, self._nearby = assessment, picture, nearby

    @cached_property
    def line(self) -> RouteLine:
        """The route as a line, made when it is first asked for: typing must not wait for it."""
        return RouteLine(self._picture)

    def point_at(self, spot: Spot, nm: float) -> int | None:
        """The index (in Route.points) of the nearest point within reach."""
        nearest = _nearest(self._points, spot, _REACH_POINT * nm)
        return None if nearest is None else self._picture.points[nearest].index

    def leg_at(self, spot: Spot, nm: float) -> int | None:
        """The index (in Route.legs) of the nearest leg within reach."""
        return self.line.leg_at(spot, _REACH_LEG * nm)

    def place_at(self, spot: Spot, nm: float) -> PlaceAlong | None:
        """The place along the route that is near enough to be marked elsewhere."""
        return self.line.place_at(spot, _REACH_PLACE * nm)

    def known_place_at(self, spot: Spot, nm: float) -> Place | None:
        """The nearest point within reach, of the route or else of the data that is shown, under its name there."""
        if self._assessment is not None and (index := self.point_at(spot, nm)) is not None:
            point = self._assessment.route.points[index]
            return replace(point.place, ident=point.text) if point.place and point.text else point.place
        if self._nearby is None:
            return None
        nearest = _nearest(self._nearby.places, spot, _REACH_POINT * nm)
        return None if nearest is None else self._nearby.fixes[nearest]

    def hint(self, spot: Spot, nm: float, picked: Collection[int]) -> str:
        """A point, a namesake of a picked one, a place of the data, a leg, else the position; in words."""
        if self._assessment is None or self._picture.box is None:
            return ""
        route = self._assessment.route
        if (point := self.point_at(spot, nm)) is not None:
            return tooltips.point_tooltip(route, point)
        if said := self._beside_route(spot, _REACH_POINT * nm, picked):
            return said
        if (leg := self.leg_at(spot, nm)) is not None:
            last = next(drawn.last for drawn in self._picture.legs if drawn.index == leg)
            return tooltips.leg_tooltip(route, leg, last)
        position = self._picture.projection.back(*spot)
        return tooltips.position_tooltip(route, *position) if position else ""

    @cached_property
    def _points(self) -> Floats:
        return np.array([(point.x, point.y) for point in self._picture.points]).reshape(-1, 2)

    def _beside_route(self, spot: Spot, within_nm: float, picked: Collection[int]) -> str:
        """What is said of a namesake that is shown, else of a place of the data; "" where there is none."""
        shown = [other for other in self._picture.others if other.point in picked]
        nearest = _nearest([(other.x, other.y) for other in shown], spot, within_nm)
        if nearest is not None:
            return tooltips.namesake_tooltip(shown[nearest].lost)
        if self._nearby is None:
            return ""
        nearest = _nearest(self._nearby.places, spot, within_nm)
        return "" if nearest is None else tooltips.place_tooltip(self._nearby.fixes[nearest])


def _nearest(places: Floats | Sequence[Spot], spot: Spot, within_nm: float) -> int | None:
    """Which of some places (shape (n, 2)) is nearest to a spot; None where none is within reach."""
    places = np.asarray(places, dtype=np.float64).reshape(-1, 2)
    if not len(places):
        return None
    away = np.hypot(*(places - spot).T)
    nearest = int(np.argmin(away))
    return nearest if away[nearest] <= within_nm else None
