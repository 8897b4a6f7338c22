"""Positions that a plan states for its points: they tell namesakes apart, and place what the data does not have."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.earth import geo
from routecheck.model import (
    AirwayNotCovered,
    Place,
    PlaceKind,
    UnknownAirway,
    UnknownProcedure,
    WordKind,
    WordRole,
)
from routecheck.resolution.items import Item, ItemKind

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from routecheck.model import Connection, RouteInput, RoutePoint, Word
    from routecheck.navdata.database import NavDatabase

_SAME_NM = 600.0
"""Farther away a place of the same name is another place: idents are not used twice within it (ICAO Annex 11, Appendix
2). A nearer one is the same point, so that its stated position is wrong, or the data's is."""
_LIKE_UNKNOWN = (UnknownAirway, AirwayNotCovered, UnknownProcedure)


class StatedPlaces:
    """The positions stated beside a route, by the name of their point, in the order in which they are stated."""

    def __init__(self, route_input: RouteInput) -> None:
        self._places: dict[str, list[Place]] = defaultdict(list)
        for claim in route_input.claims:
            if claim.lat is not None and claim.lon is not None and abs(claim.lat) <= 90 and abs(claim.lon) <= 180:
                self._places[claim.to].append(Place(claim.to, claim.lat, claim.lon, PlaceKind.TYPED))
        self._taken: dict[str, int] = defaultdict(int)

    def __bool__(self) -> bool:
        return bool(self._places)

    def place_aerodrome(self, ident: str) -> Place | None:
        """Where the plan has an aerodrome that nothing else knows."""
        return self._places[ident][0] if ident in self._places else None

    def classify_word(self, word: Word, index: int, database: NavDatabase) -> Item | None:
        """A point where a position is stated for a name: the place of the data that is meant, or else the position."""
        if word.kind is not WordKind.NAME or word.attached or word.text not in self._places:
            return None
        stated = self._places[word.text]
        here = stated[min(self._taken[word.text], len(stated) - 1)]
        self._taken[word.text] += 1
        nearest = _find_nearest(here, database.places(word.text))
        return Item(ItemKind.POINT, index, word.text, WordRole.POINT, candidates=(nearest or here,))

    def measure_straight(
        self, connections: Iterable[Connection], route_points: Sequence[RoutePoint]
    ) -> tuple[Connection, ...]:
        """Measure straight what the data does not know, where the plan gives both ends."""
        return tuple(
            replace(connection, is_straight=True)
            if isinstance(connection.fault, _LIKE_UNKNOWN)
            and self._are_stated(route_points[i : i + 2], i == 0, i + 2 == len(route_points))
            else connection
            for i, connection in enumerate(connections)
        )

    def _are_stated(self, ends: Sequence[RoutePoint], is_first: bool, is_last: bool) -> bool:
        start, end = ends
        return (is_first or start.text in self._places) and (is_last or end.text in self._places)


def _find_nearest(here: Place, candidates: Iterable[Place]) -> Place | None:
    near = [(geo.rough_nm(here.lat, here.lon, one.lat, one.lon), one) for one in candidates]
    distance, nearest = min(near, key=lambda pair: pair[0], default=(_SAME_NM, None))
    return nearest if distance < _SAME_NM else None
