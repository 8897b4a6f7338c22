"""Another point at which a SID, STAR or its transition is left or joined, where the typed one is none. No trying."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from routecheck.checks.route_queries import spans_of_connection
from routecheck.corrections import sphere
from routecheck.corrections.branches import branches
from routecheck.corrections.candidate import Candidate, Question
from routecheck.formatting import nm
from routecheck.model import NotJoined, Via
from routecheck.resolution import airways

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.corrections.branches import Branches
    from routecheck.model import CodedProcedure, Connection, Place

NM_LONGER, NM_AWAY = 8.0, 22.0
"""So many NM longer than the shortest way, or farther from the route's point beyond, cost one.

Fitted on 535 joints of one half of the published routes: of 373 of the other half the likeliest is the one flown at
85 %, at 99 % it is among the first three; by the shortest way alone at 61 %.
"""
NOT_NAMED = 1.65
"""What it costs that a point is no transition's, fitted likewise."""
OVERSHOOT_DEG = 120.0
"""A transition at which the route would turn more than this has been overshot."""
MOST = 5


def joint_options(asked: Question) -> Iterator[Candidate]:
    """Another transition in place of the point beside a procedure, by the shortest way that does not overshoot."""
    for index, connection in enumerate(asked.route.resolved.connections):
        faults = connection.followed.faults if connection.followed else ()
        if any(isinstance(fault, NotJoined) for fault in faults) and _is_of(asked, connection):
            yield from _at(asked, index, connection)


def _is_of(asked: Question, connection: Connection) -> bool:
    return set(spans_of_connection(asked.route, connection)) <= set(asked.finding.spans)


def _at(asked: Question, index: int, connection: Connection) -> Iterator[Candidate]:
    resolved, departing = asked.route.resolved, connection.kind == "SID"
    joint = index + 1 if departing else index
    beyond = joint + 1 if departing else joint - 1
    if not 0 <= beyond < len(resolved.route_points) or resolved.route_points[joint].word is None:
        return
    outside, end = resolved.route_points[beyond].place, 0 if departing else -1
    airport, runway = resolved.route_points[end].text, resolved.runways[end]
    procedure = asked.database.procedure(airport, connection.kind, connection.airway)
    shape = branches(asked.database, airport, runway, connection.kind, connection.airway)
    field = resolved.route_points[end].place
    if outside is None or field is None or procedure is None or shape is None:
        return
    word = resolved.parsed.words[resolved.route_points[joint].word or 0]
    passed = {route_point.text for route_point in resolved.route_points}
    along = resolved.connections[joint if departing else joint - 1]
    ways = [
        _way(outside, place, shape, field)
        for place in _joints(procedure)
        if place.ident not in passed and _is_on(asked, along, place)
    ]
    for way in sorted(_fit(ways), key=lambda one: one.cost)[:MOST]:
        what = "a transition" if way.joint.ident in shape.named else "a point"
        why = f"{what} of {connection.airway}, {nm(way.away_nm)} from {resolved.route_points[beyond].text}, {way.told}"
        yield Candidate(why, way.cost, word.span, way.joint.ident)


def _joints(procedure: CodedProcedure) -> list[Place]:
    """The points at which a procedure is meant to be left or joined: the outer ends of its transitions and its rest."""
    outer = -1 if procedure.kind == "SID" else 0
    parts = (*procedure.transitions, *(procedure.common or procedure.runways))
    legs = [[leg for leg in branch.legs if leg.fix is not None] for branch in parts]
    found = {own[outer].fix_ident: own[outer].fix for own in legs if own}
    return [place for place in found.values() if place is not None]


def _is_on(asked: Question, along: Connection, place: Place) -> bool:
    """Whether a point is on the airway that the route comes or goes by; any is, off airways."""
    if along.via is not Via.AIRWAY:
        return True
    pieces = asked.database.airways(along.airway)
    return not pieces or airways.on_any(pieces, place)


@dataclass(frozen=True, slots=True)
class _Way:
    """From the route's point beyond by a joint to the field, NM and degrees; `named` = the joint is a transition's."""

    joint: Place
    length_nm: float
    away_nm: float
    turn_deg: float
    named: bool
    cost: float = 0.0
    told: str = ""


def _way(outside: Place, joint: Place, shape: Branches, field: Place) -> _Way:
    inside = shape.between(joint)
    inward = inside[::-1] if shape.departing else inside
    line = [sphere.unit(place.lat, place.lon) for place in (outside, joint, *inward, field)]
    legs, turns = sphere.measured(line)
    return _Way(joint, sum(legs), legs[0], turns[0] if turns else 0.0, joint.ident in shape.named)


def _fit(ways: list[_Way]) -> Iterator[_Way]:
    """Those that do not overshoot, with what they cost beside the shortest."""
    fit = [way for way in ways if way.turn_deg <= OVERSHOOT_DEG]
    shortest = min(fit, key=lambda way: way.length_nm, default=None)
    for way in fit:
        if shortest is not None:
            longer = way.length_nm - shortest.length_nm
            told = f"{nm(longer)} longer than by {shortest.joint.ident}" if way is not shortest else "the shortest way"
            cost = longer / NM_LONGER + way.away_nm / NM_AWAY + NOT_NAMED * (not way.named)
            yield replace(way, cost=cost, told=told)
