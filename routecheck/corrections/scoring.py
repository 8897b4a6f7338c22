"""What a correction of an outlined route wins, and what one can win at most, so that few need be measured.

Nothing is chosen here.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from routecheck.checks.airways.off_airway import AHEAD, FURTHER, off_airway
from routecheck.checks.catalogue import Limits
from routecheck.checks.names.best_edit import GAIN, best_edit
from routecheck.corrections.plausibility import (
    gain,
    most_won_by_connection,
    most_won_by_length,
    turning_cost,
)
from routecheck.earth import sphere
from routecheck.earth.sphere import EARTH_RADIUS_NM
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Correction, OffAirway, PlaceKind, Via
from routecheck.navdata.memo import cached_per_database
from routecheck.resolution import airways

if TYPE_CHECKING:
    from collections.abc import Container, Mapping, Sequence

    from routecheck.corrections.outline import Outline
    from routecheck.corrections.plausibility import CandidateConnection, ShapeFeatures
    from routecheck.earth.sphere import Vector
    from routecheck.entry_errors.kinds import EntryError
    from routecheck.model import Airway, Place, Span
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase

FAR_NM = 30.0
"""A correction that makes its stretch longer than as typed by more than this is not tried."""
LEAST_SAVED_NM = 2.0
"""Where nothing contradicts the data, a correction must shorten its stretch by this to be tried."""
UNPLACED_FAR_NM = 1000.0
"""Where the route point has no place, a correction may make the stretch this much longer."""


CLEAR_GAP = 0.5
"""A correction this far ahead of the next one at its words is named alone; of nearer ones both are named."""


@dataclass(frozen=True, slots=True)
class Thresholds:
    """What a correction must win to be said, and where an airway may have been shortened since the data was made."""

    worth_saying: float
    ahead_deg: float
    further_nm: float

    @classmethod
    def in_force(cls, changed: Mapping[str, Mapping[str, float]]) -> Thresholds:
        """The thresholds with the limits that the user has changed, by check and limit."""
        edit = Limits(best_edit.limits, changed.get(best_edit.name, {}))
        airway = Limits(off_airway.limits, changed.get(off_airway.name, {}))
        return cls(edit[GAIN], airway[AHEAD], airway[FURTHER])

    @property
    def least_gain(self) -> float:
        """A correction that wins less is dropped: it could not even stand beside one that is said."""
        return self.worth_saying - CLEAR_GAP


AS_SHIPPED = Thresholds.in_force({})


class Scored(NamedTuple):
    """What a correction wins, with the stretch as typed and as it would be."""

    gain: float
    before: ShapeFeatures
    after: ShapeFeatures


@dataclass(frozen=True, slots=True)
class Edit:
    """A correction, and the route points around the stretch that it corrects."""

    correction: Correction
    first: int
    last: int


def make_edit(scored: Scored, error: EntryError, span: Span | None, old: str, new: str, ends: tuple[int, int]) -> Edit:
    """A scored correction as a value. `ends` are the route points around its stretch."""
    correction = Correction(
        span,
        old,
        new,
        entry_error=error.value,
        gain=scored.gain,
        shorter_nm=scored.before.length_nm - scored.after.length_nm,
        straighter_deg=scored.before.turning_deg - scored.after.turning_deg,
        defects=round(scored.before.features.defects - scored.after.features.defects),
    )
    return Edit(correction, *ends)


class Scorer:
    """Scores corrections of one route, each against its stretch as typed.

    Two questions come before measuring, because they cost less: where a place may lie to win enough (`reach`), and
    whether it fits what the connections beside it say (`required_points`, `fits`). A connection is curable if it
    contradicts the data as typed and another place at an end of it may not.
    """

    def __init__(self, outline: Outline, thresholds: Thresholds) -> None:
        self.outline, self.thresholds = outline, thresholds
        connections, self._line = outline.connections, outline.line
        self._curable = frozenset([i for i in outline.faulty if connections[i].pieces or connections[i].shape])
        self._as_typed: dict[tuple[int, int], ShapeFeatures] = {}
        self._most_won: dict[int, float] = {}

    # ---- what a correction wins

    def score_place(self, index: int, place: Place, cost: float) -> Scored:
        """Score another place for one route point."""
        first, last = max(index - 1, 0), min(index + 1, self.outline.last)
        places = list(self.outline.places[first : last + 1])
        places[index - first] = place
        return self.score_stretch(first, last, places, self.outline.connections[first:last], cost)

    def score_stretch(
        self,
        first: int,
        last: int,
        places: Sequence[Place | None],
        connections: Sequence[CandidateConnection],
        cost: float,
    ) -> Scored:
        """Score other places and connections between two route points."""
        before = self.measure_as_typed(first, last)
        after = self.outline.measure_with(first, last, places, connections)
        if after.features.defects:
            again = self._read_by_airways(places, connections)
            if again != list(places):
                after = self.outline.measure_with(first, last, again, connections)
        return Scored(gain(before, after, cost), before, after)

    def measure_as_typed(self, first: int, last: int) -> ShapeFeatures:
        """Measure a stretch as typed, each only once."""
        known = self._as_typed.get((first, last))
        if known is None:
            known = self._as_typed[first, last] = self.outline.measure(first, last)
        return known

    def _read_by_airways(
        self, places: Sequence[Place | None], connections: Sequence[CandidateConnection]
    ) -> list[Place | None]:
        """The places, those whose names are there twice as the airways beside them now say."""
        found = list(places)
        for index, connection in enumerate(connections):
            for end in (index, index + 1) if connection.via is Via.AIRWAY else ():
                found[end] = namesake_on_airway(connection, found[end], self.outline.database)
        return found

    # ---- what a correction can win at most

    def reach(self, index: int, cost: float) -> Reach:
        """Where the place meant at a route point may lie. `cost` is the least that a correction costs there."""
        points = self._line.points
        start, here, end = self._line.position[index - 1 : index + 2]
        ends = [points[at] for at in (start, end) if at is not None]
        if here is None:
            return Reach(ends, (sphere.distance_nm(*ends) if len(ends) == 2 else 0.0) + UNPLACED_FAR_NM)
        if start is None or end is None or self._is_curable_beside(index):
            return Reach(ends, sum(sphere.distance_nm(one, points[here]) for one in ends) + FAR_NM)
        flown = self._line.flown_nm[end] - self._line.flown_nm[start]
        won = self.most_won_by_straightening(index - 1, index + 1)
        won += self.most_won_at(index - 1) + self.most_won_at(index)
        return Reach(ends, flown - LEAST_SAVED_NM, flown, cost + self.thresholds.least_gain - won)

    def most_won_by_straightening(self, first: int, last: int) -> float:
        """What a stretch can win at most by losing its turns, those at both its ends counted."""
        start, end = self._line.position[first] or 0, self._line.position[last] or 0
        return turning_cost(self._line.turns_deg[start : end + 1])

    def most_won_at(self, connection: int) -> float:
        """What a connection in order as typed can win at most with another place at an end of it."""
        known = self._most_won.get(connection)
        if known is None:
            start, end = self.outline.places[connection : connection + 2]
            if start is None or end is None:
                return math.inf
            found = self.outline.connections[connection]
            known = most_won_by_connection(found, start, end, self.outline.database)
            self._most_won[connection] = known
        return known

    def straight_nm(self, index: int, step: int) -> float:
        """The distance that the way saved is a share of, if a route point moves towards the one at `step` of it, NM.

        inf = the share says nothing: the point is curable, the one beyond is an airport or contradicts the data.
        """
        beyond = self.outline.places[index - step]
        connection_beyond = index + 1 if step < 0 else index - 2
        if beyond is None or beyond.kind is PlaceKind.AIRPORT or connection_beyond in self.outline.faulty:
            return math.inf
        start, here, end = self._line.position[index - 1 : index + 2]
        if start is None or here is None or end is None or self._is_curable_beside(index):
            return math.inf
        return sphere.distance_nm(self._line.points[start], self._line.points[end])

    def _is_curable_beside(self, index: int) -> bool:
        """Whether another place for a route point may cure a connection beside it."""
        return index - 1 in self._curable or index in self._curable

    # ---- what the connections say

    def may_cure(self, connection: int, place: Place) -> bool:
        """Whether a connection contradicts the data as typed and may not with that place, or a namesake, at an end."""
        if connection not in self._curable:
            return False
        found = self.outline.connections[connection]
        if found.shape is not None:
            return found.shape.has_join(place)
        return airways.is_on_airway(found.pieces, namesake_on_airway(found, place, self.outline.database) or place)

    def required_points(self, index: int) -> list[Container[PlaceKey]]:
        """The points of the airway or procedure on each side of a route point where that is in order as typed."""
        beside = self._required_by(index - 1), self._required_by(index)
        return [points for points in beside if points is not None]

    def fits(self, connection: int, place: Place) -> bool:
        """Whether a place is on the airway or procedure of a connection in order as typed; else any place does."""
        points = None if place.kind is PlaceKind.TYPED else self._required_by(connection)
        return points is None or place.key in points

    def airway_may_go_on(self, connection: int) -> bool:
        """Whether an airway ends in the data short of a point ahead of it: it may have been shortened since."""
        fault, limits = self.outline.resolved.connections[connection].fault, self.thresholds
        if not isinstance(fault, OffAirway):
            return False
        return fault.beyond_nm <= limits.further_nm and fault.beyond_turn_deg <= limits.ahead_deg

    def _required_by(self, connection: int) -> Container[PlaceKey] | None:
        found = self.outline.connections[connection]
        if connection in self.outline.faulty:
            return None
        if found.shape is not None:
            return found.shape.points
        return coded_points(found.pieces, self.outline.database) if found.via is Via.AIRWAY else None


class Reach:
    """The places for which a stretch by them is at most so long; distances are added up on the sphere.

    Of those only the ones that shorten a stretch flown so far by enough to win what is needed.
    """

    def __init__(
        self, ends: Sequence[Vector], most_nm: float, flown_nm: float = 0.0, needed: float = -math.inf
    ) -> None:
        self._ends, self._most, self._flown, self._needed = ends, most_nm, flown_nm, needed
        self._least_cosine = math.cos(min(math.pi, max(0.0, most_nm) / EARTH_RADIUS_NM)) - 1e-9
        straight = sphere.distance_nm(*ends) if len(ends) == 2 else 0.0
        self.empty = straight > most_nm or most_won_by_length(flown_nm - straight) < needed

    def holds(self, place: Vector) -> bool:
        """Whether a place is near enough; most are too far from one end already."""
        x, y, z = place
        for a, b, c in self._ends:
            if x * a + y * b + z * c < self._least_cosine:
                return False
        flown = sum([sphere.distance_nm(end, place) for end in self._ends])
        return flown <= self._most and most_won_by_length(self._flown - flown) >= self._needed


def namesake_on_airway(connection: CandidateConnection, place: Place | None, database: NavDatabase) -> Place | None:
    """The place of that name that is on an airway, where the place itself is not; itself where none is."""
    if place is None or place.kind is PlaceKind.TYPED or airways.is_on_airway(connection.pieces, place):
        return place
    others = database.places(place.ident)
    return next((other for other in others if airways.is_on_airway(connection.pieces, other)), place)


def coded_points(pieces: Sequence[Airway], database: NavDatabase) -> Container[PlaceKey]:
    """The coded points of an airway, by key: a place that only lies near its line is none of them."""
    return pieces[0].index_by_key if len(pieces) == 1 else _coded_points(database, pieces)


@cached_per_database(4_096, key=lambda pieces: pieces[0].designator if pieces else "")
def _coded_points(_: NavDatabase, pieces: Sequence[Airway]) -> frozenset[PlaceKey]:
    return frozenset(key for piece in pieces for key in piece.index_by_key)
