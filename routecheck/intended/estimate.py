"""What another point of an airway can win at most, by what costs little to ask: so that few of them need be scored."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from routecheck.intended import sphere
from routecheck.intended.bounds import LEAST_GAIN, LEAST_SAVED_NM
from routecheck.intended.pieces import end_of_airway, measured
from routecheck.intended.plausibility import (
    MOST_OF_AIRWAY,
    TURN_FROM,
    TURN_UNIT,
    WEIGHTS,
    length_log,
    length_won,
    share_won,
    turning_cost,
)
from routecheck.model import PlaceKind, Via

if TYPE_CHECKING:
    from routecheck.intended.bounds import Bounds
    from routecheck.intended.sphere import Vector
    from routecheck.model import Airway, Place


class Moved(NamedTuple):
    """A stop, typed as a place at index `on` of a piece of airway (None = not on it), that is to be moved along it.

    The airway's other end is the stop at `step` (-1 = the one before, 1 = the one behind), at index `fixed` of the
    piece; the stop on the other side is `other`.
    """

    stop: int
    step: int
    piece: Airway
    fixed: float
    typed: Place
    on: float | None
    other: Place

    def between(self, at: int) -> bool:
        """Whether a point of the piece is between its other end and the stop as typed."""
        return self.on is not None and min(self.fixed, self.on) < at < max(self.fixed, self.on)


class Estimate:
    """What moves of a stop win at most. Lengths are those flown, links are weighed as in scoring.

    `between` = only points between are asked of: of the turns those stay that are made before the stop is left.
    """

    def __init__(self, bounds: Bounds, moved: Moved, *, between: bool) -> None:
        index, step, line = moved.stop, moved.step, bounds.drawn.line
        self._bounds, self._moved, self._library = bounds, moved, bounds.drawn.library
        self._piece = measured(moved.piece, self._library)
        self._way = bounds.drawn.ways[index if step < 0 else index - 1]
        self._end = sphere.unit(moved.other.lat, moved.other.lon)
        along, low = self._piece.along, int(moved.fixed)
        self._start = along[low]
        if low < moved.fixed:
            self._start += (moved.fixed - low) * (along[low + 1] - along[low])
        flown = bounds.sound(index - 1, index + 1)
        self.sound = flown is not None
        self._flown = flown if flown is not None else bounds.beside_nm(index)
        start, end = line.at[index - 1] or 0, line.at[index + 1] or 0
        self._turns = line.turns[start : end + 1]
        if between:
            self._turns = self._turns[1:] if step < 0 else self._turns[:-1]
        self._straightened = turning_cost(self._turns)
        self._shared = bounds.shared_nm(index, step)
        self._as_typed: float | None = None

    def may_win(self, at: int, cost: float) -> bool:
        """Whether a move between to that point can win enough, by its length and the best of links.

        The nearer to the end that stays, the shorter the stretch: where one may not, none farther from it may.
        """
        shorter = self._shorter(at, sphere.apart_nm(self._piece.points[at], self._end))
        if shorter < LEAST_SAVED_NM:
            return False
        index = self._moved.stop
        links = self._bounds.link_won(index - 1) + self._bounds.link_won(index)
        return length_won(shorter) + self._straightened + links + self._share(at, shorter) > cost + LEAST_GAIN

    def most(self, at: int) -> float:
        """What a move to the point at index `at` can win at most before its cost; -inf where it shortens too little."""
        direct = sphere.apart_nm(self._piece.points[at], self._end)
        shorter = self._shorter(at, direct)
        if self.sound and shorter < LEAST_SAVED_NM:
            return -math.inf
        won = WEIGHTS.length_log * length_log(-shorter) - WEIGHTS.length * shorter / 100.0 + self._straightened
        won += self._share(at, shorter)
        most_beyond = MOST_OF_AIRWAY if self._way.via is Via.AIRWAY else 0.0
        place = self._moved.piece.places[at]
        if self._as_typed is None:
            self._as_typed = self._typed()
        return won + most_beyond + self._links(place, self._piece.ends[at], direct, float(at)) - self._as_typed

    def turned(self, at: int) -> float:
        """What the turns at a point between and at the stop beyond it cost at least, where it is flown direct to."""
        if self._way.via not in (Via.DIRECT, Via.IMPLIED):
            return 0.0
        turns = sphere.measured([self._before(at), self._piece.points[at], self._end, *self._behind()])[1]
        at_end = turns and self._moved.other.kind is PlaceKind.AIRPORT
        lighter = WEIGHTS.end_turns * max(0.0, turns[0] - TURN_FROM) / TURN_UNIT if at_end else 0.0
        return turning_cost(turns) - lighter

    def _before(self, at: int) -> Vector:
        """Where the point is come from along the airway."""
        fixed = self._moved.fixed
        if abs(at - fixed) >= 1.0:
            return self._piece.points[at - 1 if at > fixed else at + 1]
        line, stop = self._bounds.drawn.line, self._moved.stop + self._moved.step
        return line.points[line.at[stop] or 0]

    def _behind(self) -> list[Vector]:
        """Where the stop beyond is left for."""
        drawn, other = self._bounds.drawn, self._moved.stop - self._moved.step
        place = drawn.after(other) if self._moved.step < 0 else drawn.before(other)
        return [] if place is None else [sphere.unit(place.lat, place.lon)]

    def _share(self, at: int, shorter: float) -> float:
        return share_won(shorter, self._shared) if self._moved.between(at) else 0.0

    def _shorter(self, at: int, direct: float) -> float:
        return self._flown - abs(self._piece.along[at] - self._start) - direct

    def _typed(self) -> float:
        """What the links are worth with the place as typed."""
        place, on = self._moved.typed, self._moved.on
        direct = sphere.apart_nm(sphere.unit(place.lat, place.lon), self._end)
        return self._links(place, end_of_airway(place, self._library), direct, on or 0.0)

    def _links(self, place: Place, end: float, direct: float, at: float) -> float:
        steps = WEIGHTS.steps * math.log(max(1.0, abs(at - self._moved.fixed)))
        way = self._way
        if way.branches is not None:
            return end + steps + WEIGHTS.transitions * (place.ident in way.branches.named)
        if way.via is Via.AIRWAY:
            return 2.0 * end + steps
        if way.via not in (Via.DIRECT, Via.IMPLIED):
            return end + steps
        return end + steps + WEIGHTS.direct * direct / 100.0 + self._at_airport(place)

    def _at_airport(self, place: Place) -> float:
        """What an airport next to the stop says: whether one of its procedures has the place."""
        if self._moved.other.kind is not PlaceKind.AIRPORT:
            return 0.0
        feeders, fixes = self._library.terminal_fixes(self._moved.other.ident)
        if self._moved.step > 0:
            return WEIGHTS.departures * (place.ident in fixes)
        return WEIGHTS.feeders * (place.ident in feeders) + WEIGHTS.arrivals * (place.ident in fixes)
