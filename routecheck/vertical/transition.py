"""From which altitude on flight levels are flown at a point of a route: by its aerodromes. No words are made here."""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING

from routecheck.formatting import LEVELS_EVERYWHERE_FT
from routecheck.model import WordKind
from routecheck.vertical.levels import level_ft

if TYPE_CHECKING:
    from routecheck.model import Place, Route


def levels_along(route: Route) -> tuple[float, ...]:
    """For every point the altitude from which on flight levels are flown: that of the aerodrome nearer along the route.

    Its transition level, else just above its transition altitude. Where the data has neither, 18,000 ft, or the lowest
    flight level that is filed.
    """
    if not route.points:
        return ()
    first, last = (_levels_from_ft(route, index) for index in (0, -1))
    lengths = [leg.least_nm or 0.0 for leg in route.legs]
    whole = sum(lengths)
    passed = list(accumulate(lengths, initial=0.0))[: len(route.points)]
    return tuple(last if nm > whole - nm else first for nm in passed)


def levels_from_ft(route: Route, index: int) -> float:
    """The same at one point."""
    return levels_along(route)[index]


def transition_ft(place: Place | None) -> float | None:
    """The transition altitude of an aerodrome, else its transition level, feet; None = the data has neither."""
    if place is None:
        return None
    return place.transition_level_ft if place.transition_altitude_ft is None else place.transition_altitude_ft


def _levels_from_ft(route: Route, index: int) -> float:
    place = route.points[index].place
    if place is not None and place.transition_level_ft is not None:
        return place.transition_level_ft
    if place is not None and place.transition_altitude_ft is not None:
        return place.transition_altitude_ft + 1.0
    return min([LEVELS_EVERYWHERE_FT, *_filed_flight_levels_ft(route)])


def _filed_flight_levels_ft(route: Route) -> list[float]:
    filed = [word.level for word in route.parsed.words if word.kind is WordKind.CHANGE]
    levels = [level_ft(text) for text in (route.route_input.level.strip().upper(), *filed) if text[:1] == "F"]
    return [feet for feet in levels if feet]
