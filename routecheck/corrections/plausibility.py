"""How plausible a stretch of a route is: its length, its turns and how firmly its points are joined. One table.

The form started from a trial on real routes; the weights were fitted on one half of the published U.S. routes of
January 2023, by the departure airport, and are reported on the other half (tests/bench/test_bench_intended.py).
"""

from __future__ import annotations

import itertools
import math
import operator
from dataclasses import KW_ONLY, dataclass
from typing import TYPE_CHECKING, NamedTuple

from routecheck.earth import sphere
from routecheck.earth.sphere import vector_of
from routecheck.model import NAVAIDS, Airway, Place, PlaceKind, Via
from routecheck.resolution import airways

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.corrections.outline import ProcedureShape
    from routecheck.earth.sphere import Vector
    from routecheck.navdata.database import NavDatabase


class Features(NamedTuple):
    """What is measured on a stretch, or the weight of each measure. Turns in degrees over a threshold."""

    length: float
    """Length, 100 NM."""
    length_log: float
    """Signed logarithm of the length a correction adds: ±ln(1 + |NM| / 10). Only between two stretches."""
    turns: float
    """Turns beyond 30°, in units of 90°."""
    sharp_turns: float
    """Turns beyond 100°, in units of 80°."""
    end_turns: float
    """Turns beyond 30° at a point next to an airport, in units of 90°, counted among the turns too."""
    direct: float
    """Flown direct, 100 NM."""
    unlinked: float
    """Pairs of points that nothing but DCT joins."""
    defects: float
    """Contradictions to the data: unknown, off its airway, unknown procedure."""
    transitions: float
    """Ends of a procedure that are one of its named transitions."""
    loose: float
    """Procedures that the point beside them is not on."""
    feeders: float
    """Last points before an airport at which one of its approaches begins."""
    arrivals: float
    """Last points before an airport that one of its procedures has."""
    departures: float
    """First points behind an airport that one of its procedures has."""
    navaids: float
    """Ends of airways that are navaids."""
    junctions: float
    """Ends of airways at which other airways pass too: ln(number)."""
    steps: float
    """ln(segments flown along each airway)."""
    off_points: float
    """For a typed position at which an airway is joined or left: NM to the airway's nearest own point, 2 at most."""


WEIGHTS = Features(
    length=-0.28,
    length_log=-3.35,
    turns=-2.17,
    sharp_turns=0.85,
    end_turns=0.86,
    direct=-0.65,
    unlinked=-5.20,
    defects=-24.70,
    transitions=3.40,
    loose=-7.70,
    feeders=0.70,
    arrivals=1.75,
    departures=0.70,
    navaids=1.70,
    junctions=0.17,
    steps=1.77,
    off_points=-3.80,
)

SHARE = 3.6
"""What another exit or entry of an airway wins by the share of the way it saves: for each ln(1 + saved / straight), up
to MOST_SHARE. Next to an airport nothing: there published routes overshoot the field and come back."""
MOST_SHARE = 0.5
MOST_WON_BY_SHARE = SHARE * MOST_SHARE
LEAST_STRAIGHT_NM = 5.0
TURN_FROM, TURN_UNIT = 30.0, 90.0
SHARP_FROM, SHARP_UNIT = 100.0, 80.0
LOG_SCALE_NM = 10.0
MOST_WON_BY_JUNCTIONS = 0.6
"""What another place on an airway can win at most by other airways there: ln 30 of them. By segments it wins nothing:
where the place as typed is in order, one further along the airway does not shorten the way."""


@dataclass(frozen=True, slots=True)
class CandidateConnection:
    """How two places may be joined, as far as scoring needs it. `shape` is that of a procedure that can be followed."""

    via: Via
    name: str = ""
    pieces: tuple[Airway, ...] = ()
    known: bool = True
    shape: ProcedureShape | None = None


@dataclass(frozen=True, slots=True)
class ShapeFeatures:
    """A stretch as measured: its length in NM, all its turning in degrees, and its features."""

    length_nm: float
    turning_deg: float
    features: Features


@dataclass(slots=True)
class _Sums:
    """Features summed over the connections of a stretch."""

    _: KW_ONLY
    direct_nm: float = 0.0
    unlinked: int = 0
    defects: int = 0
    transitions: int = 0
    loose: int = 0
    feeders: int = 0
    arrivals: int = 0
    departures: int = 0
    navaids: int = 0
    junctions: float = 0.0
    steps: float = 0.0
    off_points: float = 0.0


# ---- measuring a stretch


def measure_stretch(
    places: Sequence[Place | None],
    connections: Sequence[CandidateConnection],
    before: Place | None,
    after: Place | None,
    database: NavDatabase,
) -> ShapeFeatures:
    """Measure a stretch of places that connections join. `before` and `after` are the points just outside it."""
    line = [vector_of(place) for place in (before, places[0]) if place is not None]
    sums = _Sums(defects=sum(place is None for place in places[1:-1]))
    for connection, start, end in zip(connections, places, places[1:], strict=False):
        if end is not None:
            if start is not None:
                line += _add_connection(connection, start, end, sums, database)
            line.append(vector_of(end))
    if after is not None:
        line.append(vector_of(after))
    legs, turns = sphere.legs_and_turns(line)
    outside = legs[0] if before is not None and legs else 0.0
    outside += legs[-1] if after is not None and len(legs) > 1 else 0.0
    length = sum(legs) - outside
    return ShapeFeatures(length, sum(turns), _features(length, turns, sums, places))


def _features(length: float, turns: Sequence[float], sums: _Sums, places: Sequence[Place | None]) -> Features:
    over = [turn - TURN_FROM for turn in turns if turn > TURN_FROM]
    sharp = [turn - SHARP_FROM for turn in turns if turn > SHARP_FROM]
    at_ends = 0.0
    if turns:
        first = places[0] is not None and places[0].kind is PlaceKind.AIRPORT
        last = places[-1] is not None and places[-1].kind is PlaceKind.AIRPORT
        at_ends = first * max(0.0, turns[0] - TURN_FROM) + last * max(0.0, turns[-1] - TURN_FROM)
    return Features(
        length=length / 100.0,
        length_log=0.0,
        turns=sum(over) / TURN_UNIT,
        sharp_turns=sum(sharp) / SHARP_UNIT,
        end_turns=at_ends / TURN_UNIT,
        direct=sums.direct_nm / 100.0,
        unlinked=sums.unlinked,
        defects=sums.defects,
        transitions=sums.transitions,
        loose=sums.loose,
        feeders=sums.feeders,
        arrivals=sums.arrivals,
        departures=sums.departures,
        navaids=sums.navaids,
        junctions=sums.junctions,
        steps=sums.steps,
        off_points=sums.off_points,
    )


def _add_connection(
    connection: CandidateConnection, start: Place, end: Place, sums: _Sums, database: NavDatabase
) -> list[Vector]:
    """Add one connection to the sums; the places between its ends as vectors."""
    if connection.via is Via.AIRWAY:
        return _add_airway(connection, start, end, sums, database)
    if connection.shape is not None:
        return _add_procedure(connection.shape, start, end, sums)
    if connection.via is Via.PROCEDURE:
        sums.defects += not connection.known
    elif connection.via in (Via.DIRECT, Via.IMPLIED):
        sums.direct_nm += sphere.distance_nm(vector_of(start), vector_of(end))
        if PlaceKind.AIRPORT in (start.kind, end.kind):
            _add_airport(start, end, sums, database)
        else:
            sums.unlinked += 1
    return []


def _add_airport(start: Place, end: Place, sums: _Sums, database: NavDatabase) -> None:
    """Count the point next to an airport if it is one of its procedures', which are the ways in and out."""
    if end.kind is PlaceKind.AIRPORT:
        feeders, fixes = database.terminal_fixes(end.ident)
        sums.feeders += start.ident in feeders
        sums.arrivals += start.ident in fixes
    else:
        sums.departures += end.ident in database.terminal_fixes(start.ident)[1]


def _add_airway(
    connection: CandidateConnection, start: Place, end: Place, sums: _Sums, database: NavDatabase
) -> list[Vector]:
    run = airways.run_between(connection.pieces, start, end) if connection.pieces else None
    if run is None or airways.is_same_place(start, end):
        sums.defects += 1
        return []
    for place in (start, end):
        sums.navaids += place.kind in NAVAIDS
        sums.junctions += math.log(max(1, len(database.airways_through(place.ident))))
        if place.kind is PlaceKind.TYPED:
            sums.off_points += min(2.0, (airways.nearest_point(connection.pieces, place) or (2.0,))[0])
    sums.steps += math.log(len(run.inner) + 1)
    return [vector_of(place) for place in run.inner]


def _add_procedure(shape: ProcedureShape, start: Place, end: Place, sums: _Sums) -> list[Vector]:
    join = end if shape.departing else start
    sums.transitions += join.ident in shape.transition_idents
    sums.loose += not shape.has_join(join)
    # A STAR is flown no further than to where an approach takes over.
    inner = itertools.takewhile(lambda place: not airways.is_same_place(place, end), shape.inner_places(join))
    return [vector_of(place) for place in inner]


# ---- what a correction wins


def gain(before: ShapeFeatures, after: ShapeFeatures, cost: float) -> float:
    """What a correction of that cost wins: positive = the route with it is more likely what was meant."""
    changed = map(operator.sub, after.features, before.features)
    won: float = sum(map(operator.mul, WEIGHTS, changed))
    return won + WEIGHTS.length_log * length_log(after.length_nm - before.length_nm) - cost


def difference(before: ShapeFeatures, after: ShapeFeatures) -> Features:
    """What a correction changes in every measure."""
    changed = [a - b for a, b in zip(after.features, before.features, strict=True)]
    return Features(*changed)._replace(length_log=length_log(after.length_nm - before.length_nm))


def length_log(added_nm: float) -> float:
    """The signed logarithm of a length that a correction adds."""
    return math.copysign(math.log1p(abs(added_nm) / LOG_SCALE_NM), added_nm)


def won_by_share(saved_nm: float, straight_nm: float) -> float:
    """What another exit or entry wins by the share of the way that it saves; `straight_nm` inf = nothing."""
    share = math.log1p(max(0.0, saved_nm) / max(straight_nm, LEAST_STRAIGHT_NM))
    return SHARE * min(MOST_SHARE, share)


# ---- what a correction can win at most, so that what cannot win enough need not be measured


def most_won_by_length(saved_nm: float) -> float:
    """What a stretch shortened by so many NM wins at most by its length, as far as it is flown direct too."""
    if saved_nm <= 0.0:
        return WEIGHTS.length_log * math.log1p(-saved_nm / LOG_SCALE_NM)
    per_nm = (WEIGHTS.length + WEIGHTS.direct) / 100.0
    return -WEIGHTS.length_log * math.log1p(saved_nm / LOG_SCALE_NM) - per_nm * saved_nm


def turning_cost(turns: Sequence[float]) -> float:
    """What all turns of a stretch cost it: a correction wins no more by straightening it."""
    over = sharp = 0.0
    for turn in turns:
        if turn > TURN_FROM:
            over += turn - TURN_FROM
            sharp += max(0.0, turn - SHARP_FROM)
    return -WEIGHTS.turns * over / TURN_UNIT - WEIGHTS.sharp_turns * sharp / SHARP_UNIT


def most_won_by_connection(connection: CandidateConnection, start: Place, end: Place, database: NavDatabase) -> float:
    """What a connection in order as typed can win at most by another place at the end that is no airport."""
    if connection.shape is not None:
        join = end if connection.shape.departing else start
        return WEIGHTS.transitions * (join.ident not in connection.shape.transition_idents)
    if connection.via is Via.AIRWAY:
        typed = PlaceKind.TYPED in (start.kind, end.kind)
        both_navaids = start.kind in NAVAIDS and end.kind in NAVAIDS
        return MOST_WON_BY_JUNCTIONS - 2.0 * WEIGHTS.off_points * typed + WEIGHTS.navaids * (not both_navaids)
    if end.kind is PlaceKind.AIRPORT:
        feeders, fixes = database.terminal_fixes(end.ident)
        most = WEIGHTS.feeders * (start.ident not in feeders) + WEIGHTS.arrivals * (start.ident not in fixes)
        return most if fixes else 0.0
    if start.kind is PlaceKind.AIRPORT:
        fixes = database.terminal_fixes(start.ident)[1]
        return WEIGHTS.departures * (end.ident not in fixes) if fixes else 0.0
    return 0.0
