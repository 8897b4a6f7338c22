"""Which corrections are tried at which stop of a suspect stretch: one function a kind of entry error."""

from __future__ import annotations

import heapq
import itertools
import math
import operator
from typing import TYPE_CHECKING

from routecheck.intended import sphere
from routecheck.intended.branches import branches
from routecheck.intended.edits import LEAST_SAVED_NM, Edit, Scorer, edit
from routecheck.intended.names import names_off
from routecheck.intended.plausibility import Way
from routecheck.model import NAVAIDS, Place, PlaceKind, Span, Trouble, Via, WordKind
from routecheck.reckon import airways
from routecheck.reckon.links import COMPUTER_ONLY
from routecheck.slips import positions, words
from routecheck.slips.costs import COST, Slip

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.intended.sketch import Sketch
    from routecheck.intended.sphere import Vector
    from routecheck.model import Airway, Word

EXITS_TRIED = 8
LEAST_APART_NM = 3.0
"""Points nearer each other than this (a radial point beside its fix) are not said to be exchanged."""


def candidates(drawn: Sketch) -> list[Edit]:
    """All corrections tried, in no order."""
    scorer = Scorer(drawn)
    found: list[Edit] = []
    for index in sorted(drawn.suspects):
        word = _word(drawn, index)
        if word is not None and _anchored(drawn, index):
            found += _letters(scorer, index, word)
            found += _digits(scorer, index, word)
            found += _exchanged(scorer, index, word)
            found += _exits(scorer, index, word)
            found += _entries(scorer, index, word)
        if index < len(drawn.ways):
            found += _airway_number(scorer, index)
            found += _procedure_number(scorer, index)
    return found


def _anchored(drawn: Sketch, index: int) -> bool:
    """Whether the stops beside this one are placed, so that there is something to judge it by."""
    beside = drawn.nodes[index - 1], drawn.nodes[index + 1]
    return None not in beside or (drawn.nodes[index] is None and beside != (None, None))


def _word(drawn: Sketch, index: int) -> Word | None:
    stop = drawn.stops[index]
    if stop.word is None or stop.implied or not 0 < index < len(drawn.nodes) - 1:
        return None
    return drawn.resolved.parsed.words[stop.word]


def _letters(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """Another existing name one letter away."""
    if word.kind is not WordKind.NAME and not (word.kind is WordKind.UNREAD and word.text.isalnum()):
        return
    for name, slip, place in names_off(scorer.drawn.library, word.text):
        if _worth_a_try(scorer, index, place):
            yield _node_edit(scorer, index, place, slip, word, name)


def _digits(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """Another position of the same form one slip away."""
    if word.kind is not WordKind.POSITION:
        return
    for text, slip in positions.one_error_off(word.text):
        value = positions.value_of(text)
        if value is not None:
            place = Place(text, value[0], value[1], PlaceKind.TYPED)
            if _worth_a_try(scorer, index, place):
                yield _node_edit(scorer, index, place, slip, word, text)


def _exchanged(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """This point and the next one exchanged, or one of them dropped where it stands twice."""
    drawn = scorer.drawn
    following = _word(drawn, index + 1) if index + 1 < len(drawn.nodes) else None
    here = drawn.nodes[index]
    there = drawn.nodes[index + 1] if following else None
    if following is None or here is None or there is None:
        return
    first, last = index - 1, index + 2
    span = Span(word.span.start, following.span.end)
    text = drawn.resolved.parsed.entry.route
    old = text[span.start : span.end]
    if airways.same(here, there):
        nodes = [*drawn.nodes[first : index + 1], drawn.nodes[last]]
        ways = [drawn.ways[first], drawn.ways[index + 1]]
        scored = scorer.stretch(first, last, nodes, ways, COST[Slip.POINT_REPEATED])
        yield edit(scored, Slip.POINT_REPEATED, span, old, word.text, first, last)
        return
    if sphere.apart_nm(sphere.unit(here.lat, here.lon), sphere.unit(there.lat, there.lon)) < LEAST_APART_NM:
        return
    nodes = [drawn.nodes[first], there, here, drawn.nodes[last]]
    if _repeats(nodes):
        return
    scored = scorer.stretch(first, last, nodes, drawn.ways[first:last], COST[Slip.POINTS_EXCHANGED])
    new = following.text + text[word.span.end : following.span.start] + word.text
    yield edit(scored, Slip.POINTS_EXCHANGED, span, old, new, first, last)


def _repeats(nodes: list[Place | None]) -> bool:
    """Whether a point stands there twice in a row."""
    return any(a is not None and b is not None and airways.same(a, b) for a, b in itertools.pairwise(nodes))


def _may_move(drawn: Sketch, way: int, word: Word) -> bool:
    """Whether an end of a way may be another point of it: an airway's, no typed position, not where it ends short."""
    return drawn.ways[way].via is Via.AIRWAY and word.kind is not WordKind.POSITION and not drawn.ends_short(way)


def _exits(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """Another exit of the airway that leads here."""
    drawn = scorer.drawn
    way, entry, typed = drawn.ways[index - 1], drawn.nodes[index - 1], drawn.nodes[index]
    if entry is None or typed is None or not _may_move(drawn, index - 1, word):
        return
    for piece in way.pieces:
        start = airways.position_on(piece, entry)
        if start is not None:
            stop = airways.position_on(piece, typed)
            for place, at in _likely(scorer, index, piece, start, 1):
                between = stop is not None and min(start, stop) < at < max(start, stop)
                slip = Slip.EXIT_TOO_FAR if between else Slip.EXIT_TOO_EARLY
                if place.ident != word.text:
                    yield _node_edit(scorer, index, place, slip, word, place.ident)


def _entries(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """Another entry of the airway that leaves here."""
    drawn = scorer.drawn
    way, leaving, typed = drawn.ways[index], drawn.nodes[index + 1], drawn.nodes[index]
    if leaving is None or typed is None or not _may_move(drawn, index, word):
        return
    for piece in way.pieces:
        end = airways.position_on(piece, leaving)
        if end is not None:
            start = airways.position_on(piece, typed)
            for place, at in _likely(scorer, index, piece, end, -1):
                between = start is not None and min(start, end) < at < max(start, end)
                slip = Slip.ENTRY_BETWEEN if between else Slip.ENTRY_BEYOND
                if place.ident != word.text:
                    yield _node_edit(scorer, index, place, slip, word, place.ident)


def _likely(scorer: Scorer, index: int, piece: Airway, fixed: float, side: int) -> list[tuple[Place, float]]:
    """The points of a piece that are most likely the one meant, with their indices on it.

    `fixed` is the piece's other end; the stop on the other `side` (1 = after, -1 = before) is none of them: it would
    stand there twice.
    """
    drawn = scorer.drawn
    other = drawn.nodes[index + side]
    beyond = drawn.ways[index if side > 0 else index - 1]
    around = [(p, float(i)) for i, p in enumerate(piece.places) if float(i) != fixed and COMPUTER_ONLY not in p.name]
    around = _that_join(beyond, around)
    if other is None:
        return around[:EXITS_TRIED]
    anchor, typed = piece.places[round(fixed)], drawn.nodes[index]
    a, b = sphere.unit(anchor.lat, anchor.lon), sphere.unit(other.lat, other.lon)
    now = _way_round(a, typed, b) if typed is not None else math.inf
    most = now - LEAST_SAVED_NM if typed is not None and not scorer.broken(index) else math.inf
    ranked = []
    for place, at in around:
        length = _way_round(a, place, b)
        if length <= most and not airways.same(place, other):
            ranked.append((length - _firm(drawn, place, beyond, other), at, place))
    return [(place, at) for _, at, place in heapq.nsmallest(EXITS_TRIED, ranked, key=operator.itemgetter(0))]


def _that_join(beyond: Way, around: list[tuple[Place, float]]) -> list[tuple[Place, float]]:
    """Those that are on the airway or procedure that follows; all where none is, or none follows."""
    if beyond.branches is not None:
        joined = [one for one in around if beyond.branches.joined_at(one[0])]
    elif beyond.pieces:
        there = [piece.order for piece in beyond.pieces]
        joined = [(p, at) for p, at in around if any((p.ident, p.lat, p.lon) in order for order in there)]
    else:
        return around
    return joined or around


def _firm(drawn: Sketch, place: Place, beyond: Way, other: Place) -> float:
    """NM that a firmer link is worth where points of an airway are ranked."""
    worth = 8.0 * (place.kind in NAVAIDS)
    if beyond.via in (Via.DIRECT, Via.IMPLIED) and other.kind is PlaceKind.AIRPORT:
        worth += 8.0 * (place.ident in drawn.library.terminal_fixes(other.ident)[1])
    return worth


def _way_round(a: Vector, place: Place, b: Vector) -> float:
    c = sphere.unit(place.lat, place.lon)
    return sphere.apart_nm(a, c) + sphere.apart_nm(c, b)


def _airway_number(scorer: Scorer, index: int) -> Iterator[Edit]:
    """Another airway number between the same two points, where the typed one does not join them.

    Airways that differ in more than a character are not tried: one missing from the data tempts to any other.
    """
    drawn = scorer.drawn
    link, way = drawn.resolved.links[index], drawn.ways[index]
    start, end = drawn.nodes[index], drawn.nodes[index + 1]
    if way.via is not Via.AIRWAY or link.trouble is None or start is None or end is None or not link.words:
        return
    word = drawn.resolved.parsed.words[link.words[-1]]
    for name, slip in words.designators_off(way.name, drawn.library.airway_names()):
        pieces = drawn.library.airways(name)
        if airways.run_between(pieces, start, end):
            ways = [Way(Via.AIRWAY, name, pieces)]
            scored = scorer.stretch(index, index + 1, [start, end], ways, COST[slip])
            yield edit(scored, slip, word.span, word.text, name, index, index + 1)


def _procedure_number(scorer: Scorer, index: int) -> Iterator[Edit]:
    """The same procedure with another number, where the typed one is not in the data."""
    drawn = scorer.drawn
    link = drawn.resolved.links[index]
    if link.trouble is not Trouble.UNKNOWN_PROCEDURE or not link.words:
        return
    word = drawn.resolved.parsed.words[link.words[0]]
    stem, last = words.stem(word.text), len(drawn.nodes) - 2
    for at, kind in ((0, "SID"), (last, "STAR")):
        end = 0 if kind == "SID" else -1
        airport, runway = drawn.stops[end].text, drawn.resolved.runways[end]
        for name in drawn.library.procedure_names(airport, kind) if index == at else ():
            slip = Slip.PROCEDURE_NUMBER if words.stem(name) == stem else None
            if slip:
                ways = [Way(Via.PROCEDURE, name, branches=branches(drawn.library, airport, runway, kind, name))]
                scored = scorer.stretch(index, index + 1, drawn.nodes[index : index + 2], ways, COST[slip])
                yield edit(scored, slip, word.span, word.text, name, index, index + 1)


def _worth_a_try(scorer: Scorer, index: int, place: Place) -> bool:
    """Whether a place is near enough the line to be what was meant: where nothing is broken, only if it shortens it.

    The place as typed is none to try, nor is one beside it: a point would stand there twice.
    """
    ends, most = scorer.reach(index)
    c = sphere.unit(place.lat, place.lon)
    added = 0.0
    for end in ends:
        added += sphere.apart_nm(end, c)
        if added > most:
            return False
    around = scorer.drawn.nodes[index - 1 : index + 2]
    return not any(near is not None and airways.same(near, place) for near in around)


def _node_edit(scorer: Scorer, index: int, place: Place, slip: Slip, word: Word, new: str) -> Edit:
    scored = scorer.node(index, place, COST[slip])
    return edit(scored, slip, word.span, word.text, new, index - 1, index + 1)
