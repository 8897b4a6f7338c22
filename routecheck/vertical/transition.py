"""From which altitude on flight levels are flown at a point of a route: by its aerodromes. No words are made here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import LEVELS_FROM_FT

if TYPE_CHECKING:
    from routecheck.model import Place, Route


def levels_from_ft(route: Route, index: int) -> float:
    """From which altitude on levels are spoken of at a point: by the aerodrome that is nearer along the route.

    Its transition level, else just above its transition altitude; where the data has neither, 18,000 ft.
    """
    lengths = [leg.least_nm or 0.0 for leg in route.legs]
    is_behind = sum(lengths[:index]) > sum(lengths[index:])
    place = route.points[-1 if is_behind else 0].place
    return (_levels_from_ft(place) if place else None) or LEVELS_FROM_FT


def _levels_from_ft(place: Place) -> float | None:
    if place.transition_level_ft is not None:
        return place.transition_level_ft
    return None if place.transition_altitude_ft is None else place.transition_altitude_ft + 1.0
