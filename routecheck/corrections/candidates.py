"""Which corrections are tried at which stop of a suspect stretch: one function a kind of entry error."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.corrections import sphere
from routecheck.corrections.bounds import LEAST_SAVED_NM
from routecheck.corrections.branches import branches
from routecheck.corrections.edits import Edit, edit
from routecheck.corrections.moves import STEPS, moves
from routecheck.corrections.names import airways_off, names_off
from routecheck.corrections.plausibility import CandidateConnection, length_won, share_won
from routecheck.entry_errors import positions, words
from routecheck.entry_errors.costs import COST, Slip
from routecheck.model import Place, PlaceKind, Span, UnknownProcedure, Via, WordKind
from routecheck.resolution import airways

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.corrections.edits import Scorer
    from routecheck.corrections.names import Near
    from routecheck.corrections.sketch import Sketch
    from routecheck.model import Word

_LEAST_LETTER = min(
    COST[s] for s in (Slip.LETTER_CHANGED, Slip.LETTERS_SWAPPED, Slip.LETTER_ADDED, Slip.LETTER_DROPPED)
)
_LEAST_DIGIT = min(COST[s] for s in (Slip.DIGIT_CHANGED, Slip.DIGITS_SWAPPED, Slip.HEMISPHERE, Slip.HALF_DEGREE))
LEAST_APART_NM = 3.0
"""Points nearer each other than this (a radial point beside its fix) are not said to be exchanged."""


def candidates(scorer: Scorer, suspects: Iterable[int]) -> list[Edit]:
    """All corrections at the suspect stops that win enough, in no order."""
    drawn = scorer.drawn
    found: list[Edit] = []
    for index in suspects:
        word = _word(drawn, index)
        if word is not None and _anchored(drawn, index):
            found += _exchanged(scorer, index, word)
            if word.kind is WordKind.POSITION:
                found += _digits(scorer, index, word)
            else:
                found += _letters(scorer, index, word)
                found += _moves(scorer, index, word)
        if index < len(drawn.ways) and drawn.resolved.connections[index].fault is not None:
            found += _airway_number(scorer, index)
            found += _procedure_number(scorer, index)
    return found


def _anchored(drawn: Sketch, index: int) -> bool:
    """Whether the stops beside this one are placed, so that there is something to judge it by."""
    beside = drawn.nodes[index - 1], drawn.nodes[index + 1]
    return None not in beside or (drawn.nodes[index] is None and beside != (None, None))


def _word(drawn: Sketch, index: int) -> Word | None:
    route_point = drawn.route_points[index]
    if route_point.word is None or route_point.implied or not 0 < index < len(drawn.nodes) - 1:
        return None
    return drawn.resolved.parsed.words[route_point.word]


def _letters(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """Another existing name one letter away, on the airways beside the stop and near enough the line."""
    if word.kind is not WordKind.NAME and not (word.kind is WordKind.UNREAD and word.text.isalnum()):
        return
    reach = scorer.bounds.reach(index, _LEAST_LETTER)
    if reach.empty:
        return
    near: Sequence[Near] = names_off(scorer.drawn.database, word.text)
    for points in scorer.bounds.holding(index):
        near = [one for one in near if one.key in points]
    for one in near:
        if reach.holds(one.vector) and not _stands(scorer.drawn, index, one.place):
            yield from _node_edits(scorer, index, one.place, one.slip, word, one.name)


def _digits(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """Another position of the same form one slip away."""
    reach = scorer.bounds.reach(index, _LEAST_DIGIT)
    for text, slip in positions.one_error_off(word.text) if not reach.empty else ():
        value = positions.value_of(text)
        if value is not None and reach.holds(sphere.unit(*value)):
            place = Place(text, value[0], value[1], PlaceKind.TYPED)
            if not _stands(scorer.drawn, index, place):
                yield from _node_edits(scorer, index, place, slip, word, text)


def _stands(drawn: Sketch, index: int, place: Place) -> bool:
    """Whether a place is the one as typed, or one beside it: a point would stand there twice."""
    return any(near is not None and airways.same(near, place) for near in drawn.nodes[index - 1 : index + 2])


def _exchanged(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """This point and the next one exchanged, or one of them dropped where it stands twice."""
    drawn = scorer.drawn
    here, there = drawn.nodes[index : index + 2]
    following = _word(drawn, index + 1)
    if following is None or here is None or there is None:
        return
    first, last = index - 1, index + 2
    twice = airways.same(here, there)
    if not twice and not _worth_exchanging(scorer, first, here, there):
        return
    span = Span(word.span.start, following.span.end)
    text = drawn.resolved.parsed.route_input.route
    old = text[span.start : span.end]
    if twice:
        nodes, ways = [*drawn.nodes[first : index + 1], drawn.nodes[last]], [drawn.ways[first], drawn.ways[index + 1]]
        scored = scorer.stretch(first, last, nodes, ways, COST[Slip.POINT_REPEATED])
        yield edit(scored, Slip.POINT_REPEATED, span, old, word.text, first, last)
    else:
        nodes = [drawn.nodes[first], there, here, drawn.nodes[last]]
        scored = scorer.stretch(first, last, nodes, drawn.ways[first:last], COST[Slip.POINTS_EXCHANGED])
        if scored[0] <= scorer.thresholds.least_gain:
            return
        new = following.text + text[word.span.end : following.span.start] + word.text
        yield edit(scored, Slip.POINTS_EXCHANGED, span, old, new, first, last)


def _worth_exchanging(scorer: Scorer, first: int, one: Place, two: Place) -> bool:
    """Whether the two points behind a stop are apart, and exchanged can win enough.

    Where nothing is cured by it that is asked by the lengths straight through them, with the best of links on both
    sides; the one between them stays.
    """
    drawn, bounds, last = scorer.drawn, scorer.bounds, first + 3
    points, (start, here, there, end) = drawn.line.points, drawn.line.at[first : last + 1]
    if here is None or there is None:
        return False
    b, c = points[here], points[there]
    between = sphere.apart_nm(b, c)
    if between < LEAST_APART_NM:
        return False
    before, after = drawn.nodes[first], drawn.nodes[last]
    cured = start is None or end is None or bounds.may_cure(first, two) or bounds.may_cure(last - 1, one)
    if not cured:
        a, d = points[start or 0], points[end or 0]
        shorter = drawn.line.along[end or 0] - drawn.line.along[start or 0]
        shorter -= sphere.apart_nm(a, c) + between + sphere.apart_nm(b, d)
        most = length_won(shorter) + bounds.straightened(first, last)
        if most + bounds.link_won(first) + bounds.link_won(last - 1) <= COST[Slip.POINTS_EXCHANGED] + bounds.least_gain:
            return False
    twice = (before is not None and airways.same(before, two)) or (after is not None and airways.same(one, after))
    return not twice and (cured or (bounds.fits(first, two) and bounds.fits(last - 1, one)))


def _moves(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """Another exit of the airway that leads here, or another entry of the one that leaves here.

    One that saves next to no way where nothing contradicts the data is none: two airways by the same points.
    """
    for slip, place in moves(scorer, index):
        won, before, after = scorer.node(index, place, COST[slip])
        saved = before.length_nm - after.length_nm
        if slip in STEPS:
            won += share_won(saved, scorer.bounds.shared_nm(index, STEPS[slip]))
        if won > scorer.thresholds.least_gain and (saved >= LEAST_SAVED_NM or before.features.defects):
            yield edit((won, before, after), slip, word.span, word.text, place.ident, index - 1, index + 1)


def _airway_number(scorer: Scorer, index: int) -> Iterator[Edit]:
    """Another airway number between the same two points, where the typed one does not join them.

    Airways that differ in more than a character are not tried: one missing from the data tempts to any other.
    """
    drawn = scorer.drawn
    connection, way = drawn.resolved.connections[index], drawn.ways[index]
    start, end = drawn.nodes[index], drawn.nodes[index + 1]
    if way.via is not Via.AIRWAY or start is None or end is None or not connection.words:
        return
    word = drawn.resolved.parsed.words[connection.words[-1]]
    for name, slip in airways_off(drawn.database, way.name):
        pieces = drawn.database.airways(name)
        if airways.run_between(pieces, start, end):
            ways = [CandidateConnection(Via.AIRWAY, name, pieces)]
            scored = scorer.stretch(index, index + 1, [start, end], ways, COST[slip])
            yield edit(scored, slip, word.span, word.text, name, index, index + 1)


def _procedure_number(scorer: Scorer, index: int) -> Iterator[Edit]:
    """The same procedure with another number, where the typed one is not in the data."""
    drawn = scorer.drawn
    connection = drawn.resolved.connections[index]
    if not isinstance(connection.fault, UnknownProcedure) or not connection.words:
        return
    word = drawn.resolved.parsed.words[connection.words[0]]
    stem, last = words.stem(word.text), len(drawn.nodes) - 2
    for at, kind in ((0, "SID"), (last, "STAR")):
        end = 0 if kind == "SID" else -1
        airport, runway = drawn.route_points[end].text, drawn.resolved.runways[end]
        for name in drawn.database.procedure_names(airport, kind) if index == at else ():
            slip = Slip.PROCEDURE_NUMBER if words.stem(name) == stem else None
            if slip:
                ways = [
                    CandidateConnection(
                        Via.PROCEDURE, name, branches=branches(drawn.database, airport, runway, kind, name)
                    )
                ]
                scored = scorer.stretch(index, index + 1, drawn.nodes[index : index + 2], ways, COST[slip])
                yield edit(scored, slip, word.span, word.text, name, index, index + 1)


def _node_edits(scorer: Scorer, index: int, place: Place, slip: Slip, word: Word, new: str) -> Iterator[Edit]:
    """The correction of a word at a stop, where it wins enough."""
    scored = scorer.node(index, place, COST[slip])
    if scored[0] > scorer.thresholds.least_gain:
        yield edit(scored, slip, word.span, word.text, new, index - 1, index + 1)
