"""What another point of an airway can win at most, by what costs little to ask: so that few of them need be scored."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from routecheck.corrections import sphere
from routecheck.corrections.bounds import LEAST_SAVED_NM
from routecheck.corrections.pieces import end_of_airway, measured
from routecheck.corrections.plausibility import (
    MOST_OF_AIRWAY,
    TURN_FROM,
    TURN_UNIT,
    WEIGHTS,
    length_log,
    share_won,
    turning_cost,
)
from routecheck.model import PlaceKind, Via

if TYPE_CHECKING:
    from routecheck.corrections.bounds import Bounds
    from routecheck.corrections.sphere import Vector
    from routecheck.model import Airway, Place


class Moved(NamedTuple):
    """A stop, typed as a place at index `on` of a piece of airway (None = not on it), that is to be moved along it.

    The airway's other end is the stop at `step` (-1 = the one before, 1 = the one behind), at index `fixed` of the
    piece; the stop on the other side is `other`.
    """

    route_point: int
    step: int
    piece: Airway
    fixed: float
    typed: Place
    on: float | None
    other: Place

    def between(self) -> tuple[float, float]:
        """What of the piece lies between its other end and the stop as typed: lowest and highest index, both left out.

        A stop that is not on it has nothing between.
        """
        return (self.fixed, self.fixed) if self.on is None else (min(self.fixed, self.on), max(self.fixed, self.on))


class Estimate:
    """What moves of a stop win at most. Lengths are those flown, links are weighed as in scoring.

    `between` = only points between are asked of: of the turns those stay that are made before the stop is left.
    """

    def __init__(self, bounds: Bounds, moved: Moved, *, between: bool) -> None:
        index, step, line = moved.route_point, moved.step, bounds.drawn.line
        self._bounds, self._moved, self._database = bounds, moved, bounds.drawn.database
        self._piece = measured(moved.piece, self._database)
        self._way = bounds.drawn.ways[index if step < 0 else index - 1]
        self._low, self._high = moved.between()
        self._end = sphere.unit(moved.other.lat, moved.other.lon)
        along, low = self._piece.along, int(moved.fixed)
        self._start = along[low]
        if low < moved.fixed:
            self._start += (moved.fixed - low) * (along[low + 1] - along[low])
        flown = bounds.sound(index - 1, index + 1)
        self.sound = flown is not None
        self._flown = flown if flown is not None else bounds.beside_nm(index)
        start, here, end = line.at[index - 1] or 0, line.at[index] or 0, line.at[index + 1] or 0
        turns = line.turns[start : end + 1]
        self._shared = bounds.shared_nm(index, step)
        self._straightened = turning_cost(turns if not between else turns[1:] if step < 0 else turns[:-1])
        self._direct = WEIGHTS.direct / 100.0 if self._way.via in (Via.DIRECT, Via.IMPLIED) else 0.0
        self._ends = 2.0 if self._way.via is Via.AIRWAY else 1.0
        self._most_beyond = self._most_of_way()
        typed = (
            sphere.apart_nm(line.points[here], self._end),
            end_of_airway(moved.typed, self._database),
            moved.on or 0.0,
        )
        self._typed = self._links(*typed) + self._beyond(moved.typed)

    def most(self, at: int, needed: float = -math.inf) -> float:
        """What a move to the point at index `at` can win at most before its cost.

        Of a sound stretch -inf where it shortens that too little, or cannot win more than is needed.
        """
        piece = self._piece
        direct = sphere.apart_nm(piece.points[at], self._end)
        shorter = self._flown - abs(piece.along[at] - self._start) - direct
        if self.sound and shorter < LEAST_SAVED_NM:
            return -math.inf
        won = WEIGHTS.length_log * length_log(-shorter) - WEIGHTS.length * shorter / 100.0 + self._straightened
        won += self._links(direct, piece.ends[at], at) - self._typed
        if self._low < at < self._high:
            won += share_won(shorter, self._shared)
        if self.sound and won + self._most_beyond <= needed:
            return -math.inf
        most_beyond = MOST_OF_AIRWAY if self._way.via is Via.AIRWAY else 0.0
        return won + most_beyond + self._beyond(self._moved.piece.places[at])

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
        line, route_point = self._bounds.drawn.line, self._moved.route_point + self._moved.step
        return line.points[line.at[route_point] or 0]

    def _behind(self) -> list[Vector]:
        """Where the stop beyond is left for."""
        drawn, other = self._bounds.drawn, self._moved.route_point - self._moved.step
        place = drawn.after(other) if self._moved.step < 0 else drawn.before(other)
        return [] if place is None else [sphere.unit(place.lat, place.lon)]

    def _links(self, direct: float, end: float, at: float) -> float:
        """What the links beside a point at index `at` are worth by what any of them has: `end` as one of an airway."""
        steps = WEIGHTS.steps * math.log(max(1.0, abs(at - self._moved.fixed)))
        return self._direct * direct + self._ends * end + steps

    def _beyond(self, place: Place) -> float:
        """What the link beyond is worth by the place itself: a transition, or one that a procedure of the field has."""
        branches, other = self._way.branches, self._moved.other
        if branches is not None:
            return WEIGHTS.transitions * (place.ident in branches.named)
        if not self._direct or other.kind is not PlaceKind.AIRPORT:
            return 0.0
        feeders, fixes = self._database.terminal_fixes(other.ident)
        if self._moved.step > 0:
            return WEIGHTS.departures * (place.ident in fixes)
        return WEIGHTS.feeders * (place.ident in feeders) + WEIGHTS.arrivals * (place.ident in fixes)

    def _most_of_way(self) -> float:
        """What the link beyond can win at most by another place."""
        if self._way.branches is not None:
            return WEIGHTS.transitions
        if self._way.via is Via.AIRWAY:
            return MOST_OF_AIRWAY
        return WEIGHTS.feeders + WEIGHTS.arrivals if self._moved.other.kind is PlaceKind.AIRPORT else 0.0
