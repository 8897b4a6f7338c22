"""Pieces of airways as scoring asks for them: measured once for a library, which never changes. No choosing here."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.corrections import sphere
from routecheck.corrections.plausibility import WEIGHTS
from routecheck.model import NAVAIDS
from routecheck.navdata.memo import Memo

if TYPE_CHECKING:
    from collections.abc import Container, Sequence

    from routecheck.corrections.sphere import Vector
    from routecheck.model import Airway, Place
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase

_Key = tuple[str, str, str, str, int]
_coded: Memo[str, frozenset[PlaceKey]] = Memo(4_096)
_kept: Memo[_Key, Piece] = Memo(4_096)


class Piece:
    """For each point of a piece: its vector, the NM flown as far as there, what it is worth as an end of the airway."""

    __slots__ = ("along", "ends", "points")

    def __init__(self, airway: Airway, database: NavDatabase) -> None:
        self.points: list[Vector] = [sphere.unit(p.lat, p.lon) for p in airway.places]
        self.along = [0.0]
        for a, b in pairwise(self.points):
            self.along.append(self.along[-1] + sphere.distance_nm(a, b))
        self.ends = [end_of_airway(place, database) for place in airway.places]


def end_of_airway(place: Place, database: NavDatabase) -> float:
    """What a place is worth as an end of an airway: a navaid, other airways by it."""
    passing = len(database.airways_through(place.ident))
    return WEIGHTS.navaids * (place.kind in NAVAIDS) + WEIGHTS.junctions * math.log(max(1, passing))


def measured(airway: Airway, database: NavDatabase) -> Piece:
    """A piece of an airway, measured when it is first asked for."""
    known = _kept.of(database)
    places = airway.places
    key = (airway.designator, airway.area, places[0].ident, places[-1].ident, len(places))
    found = known.get(key)
    if found is None:
        found = known[key] = Piece(airway, database)
    return found


def coded(airway: Sequence[Airway], database: NavDatabase) -> Container[PlaceKey]:
    """The coded points of an airway, by key: a place that only lies near its line is none of them."""
    if len(airway) == 1:
        return airway[0].order
    known = _coded.of(database)
    name = airway[0].designator if airway else ""
    found = known.get(name)
    if found is None:
        found = known[name] = frozenset(key for piece in airway for key in piece.order)
    return found
