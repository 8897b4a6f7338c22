"""Where stations of names that the data does not cover may lie, by an undated list of the world. Hints, no places."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.earth import geo
from routecheck.navdata.world_stations import world_stations
from routecheck.resolution.coverage import nearest_placed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import Place
    from routecheck.resolution.chain import PendingPoint

_MOST_TIMES, _MOST_NM = 1.3, 100.0
"""The way by a station is no longer than so many times that between its neighbours and so much: our choice."""


def station_hints(
    points: Sequence[PendingPoint], places: Sequence[Place | None], covered: Sequence[bool]
) -> list[Place | None]:
    """For every point a station of its name near the way, where it has no place and its name is not covered.

    A station of which a hint was given counts as a neighbour of the next one. The aerodromes are no stations.
    """
    hints: list[Place | None] = [None] * len(points)
    if all(covered):
        return hints
    before = places[0]
    for index, (_, after) in enumerate(nearest_placed(places)[1:-1], start=1):
        if points[index].unknown and not covered[index] and before is not None and after is not None:
            hints[index] = _nearest_station(points[index].text, before, after)
        before = places[index] or hints[index] or before
    return hints


def _nearest_station(name: str, before: Place, after: Place) -> Place | None:
    most = _MOST_TIMES * _distance(before, after) + _MOST_NM
    ways = [(_distance(before, one) + _distance(one, after), one) for one in world_stations(name)]
    way, station = min(ways, key=lambda pair: pair[0], default=(most, None))
    return station if way < most else None


def _distance(a: Place, b: Place) -> float:
    return geo.rough_nm(a.lat, a.lon, b.lat, b.lon)
