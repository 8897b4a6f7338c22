"""What another point of an airway can win at most, by what costs little to ask: so that few of them need be scored."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.intended import sphere
from routecheck.intended.bounds import LEAST_SAVED_NM
from routecheck.intended.pieces import end_of_airway
from routecheck.intended.plausibility import MOST_OF_AIRWAY, WEIGHTS, length_log
from routecheck.model import PlaceKind, Via

if TYPE_CHECKING:
    from routecheck.intended.bounds import Bounds
    from routecheck.intended.pieces import Piece
    from routecheck.intended.plausibility import Way
    from routecheck.model import Place


class Estimate:
    """Moves of a stop from the place `typed` along a piece of an airway; its other end is index `fixed` of the piece.

    Lengths are those flown, links are weighed as in scoring; of the turns it is taken that all of them go. `beyond` is
    the way from the stop to the place `other`.
    """

    def __init__(self, bounds: Bounds, index: int, piece: Piece, fixed: float, beyond: tuple[Way, Place]) -> None:
        self._piece, self._fixed, self._library = piece, fixed, bounds.drawn.library
        self._way, self._other = beyond
        self._end = sphere.unit(self._other.lat, self._other.lon)
        low = int(fixed)
        high = min(low + 1, len(piece.along) - 1)
        self._start = piece.along[low] + (fixed - low) * (piece.along[high] - piece.along[low])
        flown = bounds.sound(index - 1, index + 1)
        self.sound = flown is not None
        self._flown = flown if flown is not None else bounds.beside_nm(index)
        self._straightened = bounds.straightened(index - 1, index + 1)

    def typed(self, place: Place, at: float | None) -> float:
        """What the place as typed is worth, itself at index `at` of the piece (None = not on it)."""
        direct = sphere.apart_nm(sphere.unit(place.lat, place.lon), self._end)
        return self._links(place, end_of_airway(place, self._library), direct, 0.0 if at is None else at)

    def most(self, place: Place, at: int, typed: float) -> float:
        """What a move to the point at index `at` can win at most before its cost; -inf where it shortens too little."""
        direct = sphere.apart_nm(self._piece.points[at], self._end)
        shorter = self._flown - abs(self._piece.along[at] - self._start) - direct
        if self.sound and shorter < LEAST_SAVED_NM:
            return -math.inf
        won = WEIGHTS.length_log * length_log(-shorter) - WEIGHTS.length * shorter / 100.0 + self._straightened
        most_beyond = MOST_OF_AIRWAY if self._way.via is Via.AIRWAY else 0.0
        return won + most_beyond + self._links(place, self._piece.ends[at], direct, float(at)) - typed

    def _links(self, place: Place, end: float, direct: float, at: float) -> float:
        steps = WEIGHTS.steps * math.log(max(1.0, abs(at - self._fixed)))
        way = self._way
        if way.branches is not None:
            return end + steps + WEIGHTS.transitions * (place.ident in way.branches.named)
        if way.via is Via.AIRWAY:
            return 2.0 * end + steps
        if way.via not in (Via.DIRECT, Via.IMPLIED):
            return end + steps
        return end + steps + WEIGHTS.direct * direct / 100.0 + self._at_airport(place)

    def _at_airport(self, place: Place) -> float:
        """What the airport next to the stop says, arriving or departing alike: the better of the two is taken."""
        if self._other.kind is not PlaceKind.AIRPORT:
            return 0.0
        feeders, fixes = self._library.terminal_fixes(self._other.ident)
        most = max(WEIGHTS.arrivals, WEIGHTS.departures)
        return WEIGHTS.feeders * (place.ident in feeders) + most * (place.ident in fixes)
