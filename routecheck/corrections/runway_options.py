"""Another runway or approach that fits: the procedure's, the approach's, one entry error off. No trying here."""

from __future__ import annotations

from string import ascii_uppercase, digits
from typing import TYPE_CHECKING

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
from routecheck.entry_errors import words
from routecheck.model import FieldChange
from routecheck.procedures.wording import runway_of_approach, serves

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Span

FIELDS = ("departure_runway", "destination_runway")
SAME_DIRECTION, SWAPPED, ONE_DIGIT, RECIPROCAL, NEARLY, UNLIKE = 1.0, 1.2, 2.0, 2.0, 2.7, 4.0
"""How unlikely it is that one runway is typed for the other. One that is unlike it is not said without a backing."""
HALF_ROUND, SAME_WIND = 18, 6
"""Tens of degrees."""
BACKED = 3.0
"""What it is worth that only this one is served, or that the approach is for it."""
OTHER_SORT = 1.5
"""What another sort of approach costs (I for R)."""
_ALPHANUMERIC = ascii_uppercase + digits


def runway_options(asked: Question) -> Iterator[Candidate]:
    """Another runway of the aerodrome, one that its procedure is for where it has branches."""
    side = DEPARTURE if asked.finding.points[:1] == (0,) else ARRIVAL
    stated = typed_runway(asked.route, side) or stated_runway(asked.route, side)
    if not stated:
        yield from _other_approaches(asked)
        return
    name, served = _served(asked, side)
    alone = len({ident[:2] for ident in served}) == 1
    for ident in served:
        cost, why = _likeness(stated, ident, known=asked.finding.check != "runway-unknown")
        if side == ARRIVAL and may_be_same_runway(runway_of_approach(stated_approach(asked.route)), ident):
            cost, why = cost - BACKED, f"the runway of approach {stated_approach(asked.route)}"
        elif name and alone:
            cost, why = cost - BACKED, f"{name} is for {'no other' if len(served) == 1 else f'{ident[:2]} only'}"
        if cost < UNLIKE:
            yield _stating(asked, side, ident, cost, why)
    yield from _exchanged(asked)


def differing_options(asked: Question) -> Iterator[Candidate]:
    """Where text, plan and approach say different runways: each changed to what another says."""
    side = DEPARTURE if asked.finding.points[:1] == (0,) else ARRIVAL
    route = asked.route
    text, plan = typed_runway(route, side), stated_runway(route, side)
    if text and plan and not may_be_same_runway(text, plan):
        yield Candidate("as the plan says", 1.0, *_in_text(asked, side, plan))
        yield Candidate("as the text says", 1.0, beside=(_in_plan(asked, side, text),))
    approach, stated = stated_approach(route), plan or text
    its = runway_of_approach(approach) if side == ARRIVAL and approach else ""
    if its and stated and not may_be_same_runway(its, stated):
        yield _stating(asked, side, its, 1.0, f"the runway of approach {approach}")
        yield from _approaches_for(asked, stated)


def approach_options(asked: Question) -> Iterator[Candidate]:
    """Another approach for one that the destination does not have: one letter off, or for the stated runway."""
    there = asked.route.resolved.other_approaches
    if there is None or asked.finding.spans:
        return
    name = asked.route_input.approach.strip().upper()
    runway = stated_runway(asked.route, ARRIVAL) or typed_runway(asked.route, ARRIVAL)
    fitting = [one for one in there if runway and may_be_same_runway(runway_of_approach(one), runway)]
    near = dict(words.one_error_off(name, set(there), _ALPHANUMERIC))
    for other in there:
        if other in near:
            backed = f", for runway {runway}" if other in fitting else ""
            yield _approach(asked, other, 1.0 - BACKED * bool(backed), near[other].value + backed)
        elif other in fitting:
            which = "the only" if len(fitting) == 1 else "an"
            sort = OTHER_SORT * (other[:1] != name[:1])
            yield _approach(asked, other, sort, f"{which} approach for runway {runway}")


def _other_approaches(asked: Question) -> Iterator[Candidate]:
    """Where only the approach says the runway: those for the runways that the procedure is for."""
    if stated_approach(asked.route):
        for ident in _served(asked, ARRIVAL)[1]:
            yield from _approaches_for(asked, ident)


def _approaches_for(asked: Question, runway: str) -> Iterator[Candidate]:
    approach = stated_approach(asked.route)
    there = asked.database.procedure_names(aerodrome_ident(asked.route, ARRIVAL), "APPROACH")
    for other in there:
        if may_be_same_runway(runway_of_approach(other), runway) and other != approach:
            sort = OTHER_SORT * (other[:1] != approach[:1] or other[3:] != approach[3:])
            yield _approach(asked, other, 1.0 + sort, f"for runway {runway}")


def _approach(asked: Question, name: str, cost: float, why: str) -> Candidate:
    return Candidate(why, cost, beside=(FieldChange("approach", asked.route_input.approach, name),))


def _served(asked: Question, side: int) -> tuple[str, list[str]]:
    """The SID or STAR that has branches for some runways and the runways it is for; "" and all where none has."""
    airport = aerodrome_ident(asked.route, side)
    there = [one.ident for one in asked.database.runways(airport)]
    for connection in asked.route.resolved.connections:
        if connection.followed is not None and connection.kind == ("SID" if side == DEPARTURE else "STAR"):
            procedure = asked.database.procedure(airport, connection.kind, connection.airway)
            branches = (*procedure.runways, *procedure.common) if procedure else ()
            special = [branch for branch in branches if branch.runway]
            if special:
                return connection.airway, [ident for ident in there if any(serves(one, ident) for one in special)]
    return "", there


def _likeness(stated: str, ident: str, *, known: bool) -> tuple[float, str]:
    """How unlikely it is that the one was stated for the other, and in words what tells them apart.

    `known` = the stated one is a runway: only then it has another direction, and that a digit is one off says nothing.
    """
    number, other = stated[:2], ident[:2]
    if number == other:
        return SAME_DIRECTION, "the same direction, another letter"
    if number == other[::-1]:
        return SWAPPED + 0.3 * (stated[2:] != ident[2:]), "two digits swapped"
    if known:
        return _by_direction(stated, ident)
    if sum(a != b for a, b in zip(number, other, strict=False)) == 1:
        return ONE_DIGIT + 0.3 * (stated[2:] != ident[2:]), "one digit away"
    return UNLIKE, "another runway"


def _by_direction(stated: str, ident: str) -> tuple[float, str]:
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


def _stating(asked: Question, side: int, ident: str, cost: float, why: str) -> Candidate:
    """The runway changed wherever it is stated: in the text, beside it, or in both."""
    changes = (_in_plan(asked, side, ident),) if stated_runway(asked.route, side) else ()
    if typed_runway_word(asked.route, side) is None:
        return Candidate(why, cost, beside=changes)
    return Candidate(why, cost, *_in_text(asked, side, ident), beside=changes)


def _in_plan(asked: Question, side: int, ident: str) -> FieldChange:
    return FieldChange(
        FIELDS[side], (asked.route_input.departure_runway, asked.route_input.destination_runway)[side], ident
    )


def _in_text(asked: Question, side: int, ident: str) -> tuple[Span | None, str]:
    word = typed_runway_word(asked.route, side)
    return (None, "") if word is None else (asked.route.parsed.words[word].span, ident)


def _exchanged(asked: Question) -> Iterator[Candidate]:
    """The runways of departure and destination, each stated for the other."""
    first, last = asked.route_input.departure_runway, asked.route_input.destination_runway
    if first and last and first != last and asked.finding.check == "runway-unknown":
        changes = FieldChange(FIELDS[DEPARTURE], first, last), FieldChange(FIELDS[ARRIVAL], last, first)
        yield Candidate("the two exchanged", SWAPPED, beside=changes)
