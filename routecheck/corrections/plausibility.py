"""How plausible a stretch of a route is: its length, its turns and how firmly its points are linked. One table.

The form started from a trial on real routes; the weights were fitted on one half of the published U.S. routes of
January 2023, by the departure airport, and are reported on the other half (tests/bench/test_bench_intended.py).
"""

from __future__ import annotations

import itertools
import math
import operator
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from routecheck.corrections import sphere
from routecheck.model import NAVAIDS, Airway, Place, PlaceKind, Via
from routecheck.model.value import value
from routecheck.resolution import airways

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.corrections.branches import Branches
    from routecheck.corrections.sphere import Vector
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
MOST_BY_SHARE = SHARE * MOST_SHARE
LEAST_STRAIGHT_NM = 5.0
TURN_FROM, TURN_UNIT = 30.0, 90.0
SHARP_FROM, SHARP_UNIT = 100.0, 80.0
LOG_SCALE_NM = 10.0
MOST_OF_AIRWAY = 0.6
"""What another place on an airway can win at most by other airways there: ln 30 of them. By segments it wins nothing:
where the place as typed is in order, one further along the airway does not shorten the way."""


@value
class CandidateConnection:
    """How two nodes are joined, as far as scoring needs it. `branches`: of a procedure that can be followed."""

    via: Via
    name: str = ""
    pieces: tuple[Airway, ...] = ()
    known: bool = True
    branches: Branches | None = None


@value
class ShapeFeatures:
    """What a stretch looks like: its length in NM, all its turning in degrees, and what is measured on it."""

    length_nm: float
    turning_deg: float
    features: Features


@dataclass(slots=True)
class _Links:
    """Sums over the ways of a stretch."""

    direct: float = 0.0
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


def looks(
    nodes: Sequence[Place | None],
    ways: Sequence[CandidateConnection],
    lead: Place | None,
    trail: Place | None,
    database: NavDatabase,
) -> ShapeFeatures:
    """Measure a stretch of nodes joined by ways. `lead` and `trail` are the points of the line just outside it."""
    line = [_vector(place) for place in (lead, nodes[0]) if place is not None]
    connections = _Links(defects=sum(node is None for node in nodes[1:-1]))
    for way, start, end in zip(ways, nodes, nodes[1:], strict=False):
        if end is not None:
            if start is not None:
                line += _link(way, start, end, connections, database)
            line.append(_vector(end))
    if trail is not None:
        line.append(_vector(trail))
    legs, turns = sphere.measured(line)
    outer = (legs[0] if lead is not None and legs else 0.0) + (legs[-1] if trail is not None and len(legs) > 1 else 0.0)
    length = sum(legs) - outer
    return ShapeFeatures(length, sum(turns), _features(length, turns, connections, nodes))


def difference(before: ShapeFeatures, after: ShapeFeatures) -> Features:
    """What a correction changes in every measure."""
    added = after.length_nm - before.length_nm
    signed_log = length_log(added)
    changed = [a - b for a, b in zip(after.features, before.features, strict=True)]
    return Features(*changed)._replace(length_log=signed_log)


def gain(before: ShapeFeatures, after: ShapeFeatures, cost: float) -> float:
    """What a correction of that cost wins: positive = the route with it is more likely what was meant."""
    changed = map(operator.sub, after.features, before.features)
    won: float = sum(map(operator.mul, WEIGHTS, changed))
    return won + WEIGHTS.length_log * length_log(after.length_nm - before.length_nm) - cost


def length_log(added_nm: float) -> float:
    """The signed logarithm of a length that a correction adds."""
    return math.copysign(math.log1p(abs(added_nm) / LOG_SCALE_NM), added_nm)


# Bounds: what a correction can win at most, so that what cannot win enough need not be scored


def length_won(shorter_nm: float) -> float:
    """What a stretch shortened by so many NM wins at most by its length, as far as it is flown direct too."""
    if shorter_nm <= 0.0:
        return WEIGHTS.length_log * math.log1p(-shorter_nm / LOG_SCALE_NM)
    per_nm = (WEIGHTS.length + WEIGHTS.direct) / 100.0
    return -WEIGHTS.length_log * math.log1p(shorter_nm / LOG_SCALE_NM) - per_nm * shorter_nm


def share_won(shorter_nm: float, straight_nm: float) -> float:
    """What a move between wins by the share of the way that it saves; `straight_nm` inf = nothing."""
    share = math.log1p(max(0.0, shorter_nm) / max(straight_nm, LEAST_STRAIGHT_NM))
    return SHARE * min(MOST_SHARE, share)


def turning_cost(turns: Sequence[float]) -> float:
    """What all turns of a stretch cost it: a correction wins no more by straightening it."""
    over = sharp = 0.0
    for turn in turns:
        if turn > TURN_FROM:
            over += turn - TURN_FROM
            sharp += max(0.0, turn - SHARP_FROM)
    return -WEIGHTS.turns * over / TURN_UNIT - WEIGHTS.sharp_turns * sharp / SHARP_UNIT


def most_of_link(way: CandidateConnection, start: Place, end: Place, database: NavDatabase) -> float:
    """What a link in order as typed can win at most by another place at the end that is no airport."""
    if way.branches is not None:
        join = end if way.branches.departing else start
        return WEIGHTS.transitions * (join.ident not in way.branches.named)
    if way.via is Via.AIRWAY:
        free = PlaceKind.TYPED in (start.kind, end.kind)
        navaids = start.kind in NAVAIDS and end.kind in NAVAIDS
        return MOST_OF_AIRWAY - 2.0 * WEIGHTS.off_points * free + WEIGHTS.navaids * (not navaids)
    if end.kind is PlaceKind.AIRPORT:
        feeders, fixes = database.terminal_fixes(end.ident)
        most = WEIGHTS.feeders * (start.ident not in feeders) + WEIGHTS.arrivals * (start.ident not in fixes)
        return most if fixes else 0.0
    if start.kind is PlaceKind.AIRPORT:
        fixes = database.terminal_fixes(start.ident)[1]
        return WEIGHTS.departures * (end.ident not in fixes) if fixes else 0.0
    return 0.0


def _features(length: float, turns: Sequence[float], connections: _Links, nodes: Sequence[Place | None]) -> Features:
    over = [turn - TURN_FROM for turn in turns if turn > TURN_FROM]
    sharp = [turn - SHARP_FROM for turn in turns if turn > SHARP_FROM]
    at_ends = 0.0
    if turns:
        first = nodes[0] is not None and nodes[0].kind is PlaceKind.AIRPORT
        last = nodes[-1] is not None and nodes[-1].kind is PlaceKind.AIRPORT
        at_ends = first * max(0.0, turns[0] - TURN_FROM) + last * max(0.0, turns[-1] - TURN_FROM)
    return Features(
        length=length / 100.0,
        length_log=0.0,
        turns=sum(over) / TURN_UNIT,
        sharp_turns=sum(sharp) / SHARP_UNIT,
        end_turns=at_ends / TURN_UNIT,
        direct=connections.direct / 100.0,
        unlinked=connections.unlinked,
        defects=connections.defects,
        transitions=connections.transitions,
        loose=connections.loose,
        feeders=connections.feeders,
        arrivals=connections.arrivals,
        departures=connections.departures,
        navaids=connections.navaids,
        junctions=connections.junctions,
        steps=connections.steps,
        off_points=connections.off_points,
    )


def _link(
    way: CandidateConnection, start: Place, end: Place, connections: _Links, database: NavDatabase
) -> list[Vector]:
    """Add one way between two placed nodes to the sums; the places between them as vectors."""
    if way.via is Via.AIRWAY:
        return _along_airway(way, start, end, connections, database)
    if way.branches is not None:
        return _along_procedure(way.branches, start, end, connections)
    if way.via is Via.PROCEDURE:
        connections.defects += not way.known
    elif way.via in (Via.DIRECT, Via.IMPLIED):
        connections.direct += sphere.distance_nm(_vector(start), _vector(end))
        if PlaceKind.AIRPORT in (start.kind, end.kind):
            _at_airport(start, end, connections, database)
        else:
            connections.unlinked += 1
    return []


def _at_airport(start: Place, end: Place, connections: _Links, database: NavDatabase) -> None:
    """Whether the point next to an airport is one of its procedures', which are the ways in and out that there are."""
    if end.kind is PlaceKind.AIRPORT:
        feeders, fixes = database.terminal_fixes(end.ident)
        connections.feeders += start.ident in feeders
        connections.arrivals += start.ident in fixes
    else:
        connections.departures += end.ident in database.terminal_fixes(start.ident)[1]


def _along_airway(
    way: CandidateConnection, start: Place, end: Place, connections: _Links, database: NavDatabase
) -> list[Vector]:
    run = airways.run_between(way.pieces, start, end) if way.pieces else None
    if run is None or airways.same(start, end):
        connections.defects += 1
        return []
    for place in (start, end):
        connections.navaids += place.kind in NAVAIDS
        connections.junctions += math.log(max(1, len(database.airways_through(place.ident))))
        if place.kind is PlaceKind.TYPED:
            connections.off_points += min(2.0, airways.nearest_to(way.pieces, place)[0])
    connections.steps += math.log(len(run.inner) + 1)
    return [_vector(place) for place in run.inner]


def _along_procedure(branches: Branches, start: Place, end: Place, connections: _Links) -> list[Vector]:
    join = end if branches.departing else start
    connections.transitions += join.ident in branches.named
    connections.loose += not branches.joined_at(join)
    between = itertools.takewhile(lambda place: not airways.same(place, end), branches.between(join))
    return [_vector(place) for place in between]  # of a STAR no further than where an approach takes over


def _vector(place: Place) -> Vector:
    return sphere.unit(place.lat, place.lon)
