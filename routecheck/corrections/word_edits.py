"""Corrections of the words at suspect route points: one function for each kind of entry error."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.corrections.airway_ends import airway_end_edits
from routecheck.corrections.outline import procedure_shape
from routecheck.corrections.plausibility import CandidateConnection, most_won_by_length
from routecheck.corrections.scoring import Edit, make_edit
from routecheck.earth import sphere
from routecheck.entry_errors.kinds import COST, EntryError
from routecheck.entry_errors.positions import position_of, positions_one_error_away
from routecheck.entry_errors.similar_names import similar_airways, similar_names
from routecheck.entry_errors.words import words_two_errors_away
from routecheck.model import Place, PlaceKind, Span, UnknownProcedure, Via, WordKind
from routecheck.procedures.wording import procedure_stem
from routecheck.resolution import airways

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.corrections.outline import Outline, ProcedureShape
    from routecheck.corrections.scoring import Scorer
    from routecheck.entry_errors.similar_names import SimilarName
    from routecheck.model import Word

_LEAST_LETTER_COST = min(
    COST[error]
    for error in (
        EntryError.LETTER_CHANGED,
        EntryError.LETTERS_SWAPPED,
        EntryError.LETTER_ADDED,
        EntryError.LETTER_DROPPED,
    )
)
_LEAST_DIGIT_COST = min(
    COST[error]
    for error in (
        EntryError.DIGIT_CHANGED,
        EntryError.DIGITS_SWAPPED,
        EntryError.HEMISPHERE,
        EntryError.HALF_DEGREE,
    )
)
DIRECT = frozenset({Via.DIRECT, Via.IMPLIED})
LEAST_APART_NM = 3.0
"""Points nearer each other than this (a radial point beside its fix) are not said to be exchanged."""


def word_edits(scorer: Scorer, suspects: Iterable[int]) -> list[Edit]:
    """All corrections at the suspect route points that win enough, in no order."""
    outline = scorer.outline
    found: list[Edit] = []
    for index in suspects:
        word = _word_of(outline, index)
        if word is not None and _can_be_judged(outline, index):
            found += _exchanged_or_repeated(scorer, index, word)
            found += _without_second_visit(scorer, index, word)
            if word.kind is WordKind.POSITION:
                found += _other_positions(scorer, index, word)
            else:
                found += _other_names(scorer, index, word)
                found += airway_end_edits(scorer, index, word)
        if index < outline.last and outline.resolved.connections[index].fault is not None:
            found += _other_airways(scorer, index)
            found += _other_procedure_numbers(scorer, index)
    return found


def _word_of(outline: Outline, index: int) -> Word | None:
    """The word that names a route point between the aerodromes; None where none does."""
    route_point = outline.route_points[index]
    if route_point.word is None or route_point.implied or not 0 < index < outline.last:
        return None
    return outline.resolved.parsed.words[route_point.word]


def _can_be_judged(outline: Outline, index: int) -> bool:
    """Whether the route points beside this one are placed: both, or one of them if this one is not placed itself."""
    beside = outline.places[index - 1], outline.places[index + 1]
    return None not in beside or (outline.places[index] is None and beside != (None, None))


# ---- another point


def _other_names(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """Another existing name one letter away, on the airways beside the point and near enough the line."""
    if word.kind is not WordKind.NAME and not (
        word.kind is WordKind.UNREAD and word.text.isalnum() and not word.attached
    ):
        return
    yield from _names_in_closed_lists(scorer, index, word)
    reach = scorer.reach(index, _LEAST_LETTER_COST)
    if reach.empty:
        return
    similar: Sequence[SimilarName] = similar_names(scorer.outline.database, word.text)
    for points in scorer.required_points(index):
        similar = [one for one in similar if one.key in points]
    for one in similar:
        if reach.holds(one.vector) and _is_credible(scorer.outline, index, one.place):
            yield from _place_edit(scorer, index, one.place, one.error, word, one.name)


def _names_in_closed_lists(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """A point of the procedure or airway beside a name that is unknown or not on it, two errors away or mixed up.

    There the candidates are few: such an error of any name in the data would prove nothing.
    """
    outline = scorer.outline
    beside = [i for i in (index - 1, index) if outline.resolved.connections[i].procedure_kind != "APPROACH"]
    if outline.places[index] is not None and outline.faulty.isdisjoint(beside):
        return
    listed = {place.ident: place for i in beside for place in _listed_places(outline.connections[i])}
    for name, error in words_two_errors_away(word.text, listed):
        yield from _place_edit(scorer, index, listed[name], error, word, name)


def _listed_places(connection: CandidateConnection) -> Iterable[Place]:
    """The points of a procedure or airway."""
    if connection.shape is not None:
        return connection.shape.points.values()
    return [place for piece in connection.pieces for place in piece.places]


def _is_credible(outline: Outline, index: int, place: Place) -> bool:
    """Whether another name may be meant there: where the data is not complete the typed one may well exist.

    There it must lie on an airway or a procedure of the data beside the point.
    """
    route_point = outline.route_points[index]
    if route_point.covered or not route_point.unknown:
        return True
    beside = outline.connections[index - 1 : index + 1]
    return any(airways.is_on_airway(one.pieces, place) or (one.shape and one.shape.has_join(place)) for one in beside)


def _other_positions(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """Another position of the same form one entry error away."""
    reach = scorer.reach(index, _LEAST_DIGIT_COST)
    if reach.empty:
        return
    for text, error in positions_one_error_away(word.text):
        position = position_of(text)
        if position is not None and reach.holds(sphere.unit_vector(*position)):
            yield from _place_edit(scorer, index, Place(text, *position, PlaceKind.TYPED), error, word, text)


def _place_edit(scorer: Scorer, index: int, place: Place, error: EntryError, word: Word, new: str) -> Iterator[Edit]:
    """The correction of a word by another place, where it wins enough and makes no point stand twice in a row."""
    around = scorer.outline.places[index - 1 : index + 2]
    if any(near is not None and airways.is_same_place(near, place) for near in around):
        return
    scored = scorer.score_place(index, place, COST[error])
    if scored.gain > scorer.thresholds.least_gain:
        yield make_edit(scored, error, word.span, word.text, new, (index - 1, index + 1))


# ---- two points


def _exchanged_or_repeated(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """This point and the next one exchanged, or one of them dropped where it stands twice."""
    here, there = scorer.outline.places[index : index + 2]
    following = _word_of(scorer.outline, index + 1)
    if following is None or here is None or there is None:
        return
    if airways.is_same_place(here, there):
        yield _without_repeat(scorer, index, word, following)
    elif _is_worth_exchanging(scorer, index - 1, here, there):
        yield from _exchange_words(scorer, index, word, following)


def _without_repeat(scorer: Scorer, index: int, word: Word, following: Word) -> Edit:
    outline, first, last = scorer.outline, index - 1, index + 2
    places = [outline.places[first], outline.places[index], outline.places[last]]
    connections = [outline.connections[first], outline.connections[index + 1]]
    error = EntryError.POINT_REPEATED
    scored = scorer.score_stretch(first, last, places, connections, COST[error])
    span = Span(word.span.start, following.span.end)
    return make_edit(scored, error, span, _text_at(outline, span), word.text, (first, last))


def _without_second_visit(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """A point left out that stands elsewhere in the route too, where it is flown direct to it and on from it."""
    outline = scorer.outline
    before, here, after = outline.places[index - 1 : index + 2]
    kept = _text_before(outline, index)
    if kept is None or here is None or not _stands_elsewhere(outline, index, here):
        return
    error = EntryError.POINT_AGAIN
    direct = CandidateConnection(Via.DIRECT)
    scored = scorer.score_stretch(index - 1, index + 1, [before, after], [direct], COST[error])
    span = Span(kept.start, word.span.end)
    yield make_edit(scored, error, span, _text_at(outline, span), _text_at(outline, kept), (index - 1, index + 1))


def _stands_elsewhere(outline: Outline, index: int, here: Place) -> bool:
    """Whether a place is that of another point of the route too, and of none beside this one."""
    same = [i for i, place in enumerate(outline.places) if place is not None and airways.is_same_place(place, here)]
    return len(same) > 1 and not {index - 1, index + 1} & set(same) and {0, outline.last}.isdisjoint(same)


def _text_before(outline: Outline, index: int) -> Span | None:
    """The words from the point before to the last one that is no DCT; None where more than that leads there or on."""
    words, before = outline.resolved.parsed.words, _word_of(outline, index - 1)
    here = outline.route_points[index].word
    if before is None or here is None or any(c.via not in DIRECT for c in outline.connections[index - 1 : index + 1]):
        return None
    if here + 1 < len(words) and words[here + 1].attached:
        return None
    last = next(word for word in reversed(words[:here]) if word.kind is not WordKind.DIRECT)
    return Span(before.span.start, last.span.end)


def _exchange_words(scorer: Scorer, index: int, word: Word, following: Word) -> Iterator[Edit]:
    outline, first, last = scorer.outline, index - 1, index + 2
    before, here, there, after = outline.places[first : last + 1]
    error = EntryError.POINTS_EXCHANGED
    connections = outline.connections[first:last]
    scored = scorer.score_stretch(first, last, [before, there, here, after], connections, COST[error])
    if scored.gain > scorer.thresholds.least_gain:
        span = Span(word.span.start, following.span.end)
        new = following.text + _text_at(outline, Span(word.span.end, following.span.start)) + word.text
        yield make_edit(scored, error, span, _text_at(outline, span), new, (first, last))


def _text_at(outline: Outline, span: Span) -> str:
    return outline.resolved.parsed.route_input.route[span.start : span.end]


def _is_worth_exchanging(scorer: Scorer, first: int, here: Place, there: Place) -> bool:
    """Whether the two places behind a route point are apart and may win enough when they are exchanged."""
    outline, last = scorer.outline, first + 3
    if sphere.distance_nm(sphere.vector_of(here), sphere.vector_of(there)) < LEAST_APART_NM:
        return False
    before, after = outline.places[first], outline.places[last]
    cures = None in (before, after) or scorer.may_cure(first, there) or scorer.may_cure(last - 1, here)
    if not cures and not _may_win_by_exchange(scorer, first):
        return False
    if (before is not None and airways.is_same_place(before, there)) or (
        after is not None and airways.is_same_place(here, after)
    ):
        return False
    return cures or (scorer.fits(first, there) and scorer.fits(last - 1, here))


def _may_win_by_exchange(scorer: Scorer, first: int) -> bool:
    """Whether exchanging the two placed points behind a route point can win enough, where it cures nothing.

    The lengths are those straight through the points; the connection between the two stays.
    """
    line, last = scorer.outline.line, first + 3
    start, here, there, end = (at or 0 for at in line.position[first : last + 1])
    before, one, two, after = (line.points[at] for at in (start, here, there, end))
    exchanged = (before, two), (two, one), (one, after)
    saved = line.flown_nm[end] - line.flown_nm[start]
    saved -= sum(sphere.distance_nm(a, b) for a, b in exchanged)
    most = most_won_by_length(saved) + scorer.most_won_by_straightening(first, last)
    most += scorer.most_won_at(first) + scorer.most_won_at(last - 1)
    return most > COST[EntryError.POINTS_EXCHANGED] + scorer.thresholds.least_gain


# ---- another airway or procedure


def _other_airways(scorer: Scorer, index: int) -> Iterator[Edit]:
    """Another airway number between the same two points, where the typed one does not join them.

    Airways that differ in more than a character are not tried: one missing from the data tempts to any other.
    """
    outline = scorer.outline
    words, connection = outline.resolved.connections[index].words, outline.connections[index]
    start, end = outline.places[index : index + 2]
    if connection.via is not Via.AIRWAY or start is None or end is None or not words:
        return
    word = outline.resolved.parsed.words[words[-1]]
    for name, error in similar_airways(outline.database, connection.name):
        pieces = outline.database.airways(name)
        if airways.run_between(pieces, start, end):
            other = CandidateConnection(Via.AIRWAY, name, pieces)
            scored = scorer.score_stretch(index, index + 1, [start, end], [other], COST[error])
            yield make_edit(scored, error, word.span, word.text, name, (index, index + 1))


def _other_procedure_numbers(scorer: Scorer, index: int) -> Iterator[Edit]:
    """The same procedure with another number, where the typed one is not in the data."""
    outline, error = scorer.outline, EntryError.PROCEDURE_NUMBER
    as_typed = outline.resolved.connections[index]
    if not isinstance(as_typed.fault, UnknownProcedure) or not as_typed.words:
        return
    word = outline.resolved.parsed.words[as_typed.words[0]]
    for name, shape in _procedures_of_stem(outline, index, procedure_stem(word.text)):
        other = CandidateConnection(Via.PROCEDURE, name, shape=shape)
        places = outline.places[index : index + 2]
        scored = scorer.score_stretch(index, index + 1, places, [other], COST[error])
        yield make_edit(scored, error, word.span, word.text, name, (index, index + 1))


def _procedures_of_stem(outline: Outline, index: int, stem: str) -> Iterator[tuple[str, ProcedureShape | None]]:
    """The SIDs of the departure, of the first connection, and the STARs of the destination, of the last, of a stem."""
    for at, end, kind in ((0, 0, "SID"), (outline.last - 1, -1, "STAR")):
        airport, runway = outline.route_points[end].text, outline.resolved.runways[end]
        for name in outline.database.procedure_names(airport, kind) if index == at else ():
            if procedure_stem(name) == stem:
                yield name, procedure_shape(outline.database, airport, runway, kind, name)
