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
    Via,
    WordKind,
    WordRole,
)
from routecheck.navdata.world_airports import SOURCE as WORLD_LIST
from routecheck.resolution.items import Item, ItemKind

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Iterator, Sequence

    from routecheck.model import Claim, Connection, ParsedRoute, RoutePoint, Word
    from routecheck.navdata.database import NavDatabase

_SAME_NM = 600.0
"""Farther away a place of the same name is another place: idents are not used twice within it (ICAO Annex 11, Appendix
2). A nearer one is the same point, so that its stated position is wrong, or the data's is."""
_NAMES = frozenset({WordKind.NAME, WordKind.RADIAL})
"""A name of two letters and three digits may be a radial by its form."""
_LIKE_UNKNOWN = (UnknownAirway, AirwayNotCovered, UnknownProcedure)


class StatedPlaces:
    """The positions stated beside a route, by the name of their point, in the order in which they are stated."""

    def __init__(self, parsed: ParsedRoute) -> None:
        route_input = parsed.route_input
        self._places: dict[str, list[Place]] = defaultdict(list)
        self._taken: dict[str, int] = defaultdict(int)
        self._between: dict[tuple[str, str], tuple[Place, ...]] = {}
        if not route_input.claims:
            return
        for claim in route_input.claims:
            if claim.lat is not None and claim.lon is not None and abs(claim.lat) <= 90 and abs(claim.lon) <= 180:
                self._places[claim.to].append(Place(claim.to, claim.lat, claim.lon, PlaceKind.TYPED))
        ends = {route_input.departure.strip().upper(), route_input.destination.strip().upper()}
        self._between = dict(_find_between(route_input.claims, ends | {word.text for word in parsed.words}))

    def place_aerodrome(self, ident: str, known: Place | None) -> Place | None:
        """Where an aerodrome is: a stated position comes behind loaded data, and before the list of the world."""
        if ident not in self._places or (known and known.source != WORLD_LIST):
            return known
        here = self._places[ident][0]
        return replace(known, lat=here.lat, lon=here.lon) if known and _find_nearest(here, [known]) else known or here

    def classify_word(self, word: Word, index: int, database: NavDatabase) -> Item | None:
        """A point where a position is stated for a name: the place of the data that is meant, or else the position."""
        if word.kind not in _NAMES or word.attached or word.text not in self._places:
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
        if not self._places:
            return tuple(connections)
        last = len(route_points) - 2
        return tuple(
            self._measure_straight(connection, route_points[i : i + 2], is_first=i == 0, is_last=i == last)
            for i, connection in enumerate(connections)
        )

    def _measure_straight(
        self, connection: Connection, ends: Sequence[RoutePoint], *, is_first: bool, is_last: bool
    ) -> Connection:
        like_unknown = isinstance(connection.fault, _LIKE_UNKNOWN) and self._are_stated(ends, is_first, is_last)
        inner = self._between.get((ends[0].text, ends[1].text), ())
        if like_unknown or (inner and connection.via in (Via.DIRECT, Via.IMPLIED) and not connection.fault):
            return replace(connection, is_straight=True, inner=inner)
        return connection

    def _are_stated(self, ends: Sequence[RoutePoint], is_first: bool, is_last: bool) -> bool:
        """Whether a position is stated for both ends; an aerodrome at one end needs none."""
        stated = [end.text in self._places for end in ends]
        return any(stated) and (is_first or stated[0]) and (is_last or stated[1])


def _find_between(
    claims: Sequence[Claim], in_text: Container[str]
) -> Iterator[tuple[tuple[str, str], tuple[Place, ...]]]:
    """The places that a plan states between two points of the text and the text does not name, by these points."""
    start, inner = "", dict[str, Place]()
    for claim in claims:
        if claim.to in in_text:
            if inner:
                yield (start, claim.to), tuple(inner.values())
            start, inner = claim.to, {}
        elif claim.lat is not None and claim.lon is not None:
            inner.setdefault(claim.to, Place(claim.to, claim.lat, claim.lon, PlaceKind.TYPED))


def _find_nearest(here: Place, candidates: Iterable[Place]) -> Place | None:
    near = [(geo.rough_nm(here.lat, here.lon, one.lat, one.lon), one) for one in candidates]
    distance, nearest = min(near, key=lambda pair: pair[0], default=(_SAME_NM, None))
    return nearest if distance < _SAME_NM else None
