"""Another runway, approach or transition for one that does not fit. Nothing is tried here."""

from __future__ import annotations

from dataclasses import KW_ONLY, replace
from typing import TYPE_CHECKING

from routecheck.checks.route_queries import spans_of_connection
from routecheck.checks.runways import (
    ARRIVAL,
    DEPARTURE,
    aerodrome_ident,
    may_be_same_runway,
    stated_approach,
    stated_runway,
    typed_runway,
    typed_runway_word,
)
from routecheck.corrections.candidate import Candidate, Question
from routecheck.corrections.outline import procedure_shape
from routecheck.earth import sphere
from routecheck.entry_errors.words import ALPHANUMERIC, words_one_error_away, words_two_errors_away
from routecheck.formatting import nm
from routecheck.frozen_dataclass import dataclass
from routecheck.model import FieldChange, NotJoined, Via
from routecheck.procedures.wording import branch_serves, runway_in_approach_name
from routecheck.resolution import airways

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.corrections.outline import ProcedureShape
    from routecheck.model import CodedProcedure, Connection, Place, Span

RUNWAY_FIELDS = ("departure_runway", "destination_runway")
SAME_DIRECTION, SWAPPED, ONE_DIGIT, RECIPROCAL, NEARLY, TWO_DIGITS, UNLIKE = 1.0, 1.2, 2.0, 2.0, 2.7, 4.1, 5.0
"""How unlikely it is that one runway is typed for the other. One that is unlike it is not said without a backing."""
LETTER_TOO = 1.0
"""What it costs that the letter behind the number is another as well: a second error."""
HALF_ROUND, SAME_WIND = 18, 6
"""Tens of degrees."""
BACKED = 4.0
"""What it is worth that only this one is served, or that the approach is for it."""
TWO_ERRORS = 2.5
"""What an approach costs whose name is two errors away, or has its letters in another order."""
OTHER_SORT = 1.5
"""What another sort of approach costs (I for R)."""

NM_LONGER, NM_AWAY = 8.0, 22.0
"""So many NM longer than the shortest way, or farther from the route's point beyond, cost one.

Fitted on 535 junctions of one half of the published routes: of 373 of the other half the likeliest is the one flown at
85 %, at 99 % it is among the first three; by the shortest way alone at 61 %.
"""
NOT_NAMED = 1.65
"""What it costs that a point is no transition's, fitted likewise."""
OVERSHOOT_DEG = 120.0
"""A transition at which the route would turn more than this has been overshot."""
MOST_TRANSITIONS = 5


# ---- runways


def other_runways(question: Question) -> Iterator[Candidate]:
    """Another runway of the aerodrome, one that its procedure is for where it has branches."""
    side, route = _side_of(question), question.route
    stated = typed_runway(route, side) or stated_runway(route, side)
    if not stated:
        yield from _approaches_for_served_runways(question)
        return
    name, served = _served_runways(question, side)
    is_alone = len({ident[:2] for ident in served}) == 1
    for ident in served:
        cost, why = _unlikeness(stated, ident, known=question.finding.check != "runway-unknown")
        if side == ARRIVAL and may_be_same_runway(runway_in_approach_name(stated_approach(route)), ident):
            cost, why = cost - BACKED, f"the runway of approach {stated_approach(route)}"
        elif name and is_alone:
            cost, why = cost - BACKED, f"{name} is for {'no other' if len(served) == 1 else f'{ident[:2]} only'}"
        if cost < UNLIKE:
            yield _runway_change(question, side, ident, cost, why)
    yield from _runways_exchanged(question)


def agreed_runways(question: Question) -> Iterator[Candidate]:
    """Where text, plan and approach say different runways: each changed to what another says."""
    side, route = _side_of(question), question.route
    text, plan = typed_runway(route, side), stated_runway(route, side)
    if text and plan and not may_be_same_runway(text, plan):
        yield Candidate("as the plan says", 1.0, *_in_text(question, side, plan))
        yield Candidate("as the text says", 1.0, beside=(_in_plan(question, side, text),))
    approach, stated = stated_approach(route), plan or text
    its = runway_in_approach_name(approach) if side == ARRIVAL and approach else ""
    if its and stated and not may_be_same_runway(its, stated):
        yield _runway_change(question, side, its, 1.0, f"the runway of approach {approach}")
        yield from _approaches_for(question, stated)


def _side_of(question: Question) -> int:
    return DEPARTURE if question.finding.points[:1] == (0,) else ARRIVAL


def _served_runways(question: Question, side: int) -> tuple[str, list[str]]:
    """The SID or STAR that has branches for some runways and the runways it is for; "" and all where none has."""
    airport = aerodrome_ident(question.route, side)
    there = [runway.ident for runway in question.database.runways(airport)]
    for connection in question.route.resolved.connections:
        if connection.procedure is not None and connection.procedure_kind == ("SID" if side == DEPARTURE else "STAR"):
            procedure = question.database.procedure(airport, connection.procedure_kind, connection.name)
            branches = (*procedure.runways, *procedure.common) if procedure else ()
            special = [branch for branch in branches if branch.ident.startswith("RW")]
            if special:
                return connection.name, [ident for ident in there if any(branch_serves(one, ident) for one in special)]
    return "", there


def _unlikeness(stated: str, ident: str, *, known: bool) -> tuple[float, str]:
    """How unlikely it is that the one was stated for the other, and in words what tells them apart.

    `known` = the stated one is a runway: only then it has another direction, and that a digit is one off says nothing.
    """
    number, other = stated[:2], ident[:2]
    if number == other:
        return SAME_DIRECTION, "the same direction, another letter"
    if number == other[::-1]:
        return SWAPPED + LETTER_TOO * (stated[2:] != ident[2:]), "two digits swapped"
    if known:
        return _unlikeness_by_direction(stated, ident)
    if sum(a != b for a, b in zip(number, other, strict=False)) == 1:
        return ONE_DIGIT + LETTER_TOO * (stated[2:] != ident[2:]), "one digit away"
    if stated[2:] == ident[2:] and len(number) == len(other):
        return TWO_DIGITS, "two digits away"
    return UNLIKE, "another runway"


def _unlikeness_by_direction(stated: str, ident: str) -> tuple[float, str]:
    """The same of two runways that are both there: the other direction, or one that the same wind would do for."""
    if not stated[:2].isdecimal():
        return UNLIKE, "another runway"
    apart = abs(int(stated[:2]) - int(ident[:2]))
    if apart == HALF_ROUND:
        parallel = stated[2:] and {stated[2:], ident[2:]} not in ({"L", "R"}, {"C"})
        return RECIPROCAL + 0.6 * bool(parallel), "the other direction"
    if min(apart, 2 * HALF_ROUND - apart) <= SAME_WIND:
        return NEARLY, "nearly the same direction"
    return UNLIKE, "another runway"


def _runway_change(question: Question, side: int, ident: str, cost: float, why: str) -> Candidate:
    """The runway changed wherever it is stated: in the text, beside it, or in both."""
    changes = (_in_plan(question, side, ident),) if stated_runway(question.route, side) else ()
    if typed_runway_word(question.route, side) is None:
        return Candidate(why, cost, beside=changes)
    return Candidate(why, cost, *_in_text(question, side, ident), beside=changes)


def _in_plan(question: Question, side: int, ident: str) -> FieldChange:
    route_input = question.route_input
    return FieldChange(RUNWAY_FIELDS[side], (route_input.departure_runway, route_input.destination_runway)[side], ident)


def _in_text(question: Question, side: int, ident: str) -> tuple[Span | None, str]:
    word = typed_runway_word(question.route, side)
    return (None, "") if word is None else (question.route.parsed.words[word].span, ident)


def _runways_exchanged(question: Question) -> Iterator[Candidate]:
    """The runways of departure and destination, each stated for the other."""
    first, last = question.route_input.departure_runway, question.route_input.destination_runway
    if first and last and first != last and question.finding.check == "runway-unknown":
        changes = (
            FieldChange(RUNWAY_FIELDS[DEPARTURE], first, last),
            FieldChange(RUNWAY_FIELDS[ARRIVAL], last, first),
        )
        yield Candidate("the two exchanged", SWAPPED, beside=changes)


# ---- approaches


def other_approaches(question: Question) -> Iterator[Candidate]:
    """Another approach for one that the destination does not have: one letter off, or for the stated runway."""
    there = question.route.resolved.other_approaches
    if there is None or question.finding.spans:
        return
    name = question.route_input.approach.strip().upper()
    runway = stated_runway(question.route, ARRIVAL) or typed_runway(question.route, ARRIVAL)
    fitting = [one for one in there if runway and may_be_same_runway(runway_in_approach_name(one), runway)]
    similar = dict(words_one_error_away(name, set(there), ALPHANUMERIC))
    far = dict(words_two_errors_away(name, there))
    for other in there:
        if other in far and other not in fitting:
            yield _approach_change(question, other, TWO_ERRORS, far[other].value)
        elif other in similar:
            backed = f", for runway {runway}" if other in fitting else ""
            yield _approach_change(question, other, 1.0 - BACKED * bool(backed), similar[other].value + backed)
        elif other in fitting:
            which = "the only" if len(fitting) == 1 else "an"
            cost = OTHER_SORT * (other[:1] != name[:1])
            yield _approach_change(question, other, cost, f"{which} approach for runway {runway}")


def _approaches_for_served_runways(question: Question) -> Iterator[Candidate]:
    """Where only the approach says the runway: those for the runways that the procedure is for."""
    if stated_approach(question.route):
        for ident in _served_runways(question, ARRIVAL)[1]:
            yield from _approaches_for(question, ident)


def _approaches_for(question: Question, runway: str) -> Iterator[Candidate]:
    approach = stated_approach(question.route)
    there = question.database.procedure_names(aerodrome_ident(question.route, ARRIVAL), "APPROACH")
    for other in there:
        if may_be_same_runway(runway_in_approach_name(other), runway) and other != approach:
            cost = 1.0 + OTHER_SORT * (other[:1] != approach[:1] or other[3:] != approach[3:])
            yield _approach_change(question, other, cost, f"for runway {runway}")


def _approach_change(question: Question, name: str, cost: float, why: str) -> Candidate:
    return Candidate(why, cost, beside=(FieldChange("approach", question.route_input.approach, name),))


# ---- transitions


@dataclass(frozen=True, slots=True)
class _Way:
    """From the route's point beyond by a join to the field, NM and degrees; `named` = the join is a transition's."""

    join: Place
    _: KW_ONLY
    length_nm: float
    away_nm: float
    turn_deg: float
    named: bool
    cost: float = 0.0
    longer: str = ""


def other_transitions(question: Question) -> Iterator[Candidate]:
    """Another transition in place of the point beside a procedure, by the shortest way that does not overshoot."""
    for index, connection in enumerate(question.route.resolved.connections):
        faults = connection.procedure.faults if connection.procedure else ()
        if any(isinstance(fault, NotJoined) for fault in faults):
            spans = spans_of_connection(question.route, connection)
            if set(spans) <= set(question.finding.spans):
                yield from _transitions_at(question, index, connection)


def _transitions_at(question: Question, index: int, connection: Connection) -> Iterator[Candidate]:
    resolved, departing = question.route.resolved, connection.procedure_kind == "SID"
    at = index + 1 if departing else index
    beyond = at + 1 if departing else at - 1
    if not 0 <= beyond < len(resolved.route_points) or resolved.route_points[at].word is None:
        return
    end = 0 if departing else -1
    airport, runway, field = resolved.route_points[end].text, resolved.runways[end], resolved.route_points[end].place
    procedure = question.database.procedure(airport, connection.procedure_kind, connection.name)
    shape = procedure_shape(question.database, airport, runway, connection.procedure_kind, connection.name)
    outside = resolved.route_points[beyond].place
    if outside is None or field is None or procedure is None or shape is None:
        return
    passed = {route_point.text for route_point in resolved.route_points}
    along = resolved.connections[at if departing else at - 1]
    joins = [one for one in _joins(procedure) if one.ident not in passed and _is_on_airway(question, along, one)]
    ways = _with_costs([_way(outside, join, shape, field) for join in joins])
    word = resolved.parsed.words[resolved.route_points[at].word or 0]
    for way in sorted(ways, key=lambda one: one.cost)[:MOST_TRANSITIONS]:
        what = "a transition" if way.named else "a point"
        where = f"{nm(way.away_nm)} from {resolved.route_points[beyond].text}"
        yield Candidate(f"{what} of {connection.name}, {where}, {way.longer}", way.cost, word.span, way.join.ident)


def _joins(procedure: CodedProcedure) -> list[Place]:
    """The points at which a procedure is meant to be left or joined: the outer ends of its transitions and its rest."""
    outer = -1 if procedure.kind == "SID" else 0
    branches = (*procedure.transitions, *(procedure.common or procedure.runways))
    legs = [[leg for leg in branch.legs if leg.fix is not None] for branch in branches]
    ends = {own[outer].fix_ident: own[outer].fix for own in legs if own}
    return [place for place in ends.values() if place is not None]


def _is_on_airway(question: Question, along: Connection, place: Place) -> bool:
    """Whether a point is on the airway that the route comes or goes by; any is, off airways."""
    if along.via is not Via.AIRWAY:
        return True
    pieces = question.database.airways(along.name)
    return not pieces or airways.is_on_airway(pieces, place)


def _way(outside: Place, join: Place, shape: ProcedureShape, field: Place) -> _Way:
    inner = shape.inner_places(join)
    inward = inner[::-1] if shape.departing else inner
    line = [sphere.vector_of(place) for place in (outside, join, *inward, field)]
    legs, turns = sphere.legs_and_turns(line)
    return _Way(
        join,
        length_nm=sum(legs),
        away_nm=legs[0],
        turn_deg=turns[0] if turns else 0.0,
        named=join.ident in shape.transition_idents,
    )


def _with_costs(ways: list[_Way]) -> Iterator[_Way]:
    """Those that do not overshoot, with what they cost beside the shortest."""
    fit = [way for way in ways if way.turn_deg <= OVERSHOOT_DEG]
    shortest = min(fit, key=lambda way: way.length_nm, default=None)
    for way in fit:
        if shortest is not None:
            more_nm = way.length_nm - shortest.length_nm
            than_shortest = f"{nm(more_nm)} longer than by {shortest.join.ident}"
            longer = "the shortest way" if way is shortest else than_shortest
            cost = more_nm / NM_LONGER + way.away_nm / NM_AWAY + NOT_NAMED * (not way.named)
            yield replace(way, cost=cost, longer=longer)
