"""Corrections that only known routes tell: the word that stands between the same two words there."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.corrections.aerodrome_edits import aerodrome_edits
from routecheck.corrections.plausibility import CandidateConnection
from routecheck.corrections.scoring import Edit, Scorer, make_edit
from routecheck.corrections.word_edits import word_edits
from routecheck.entry_errors.kinds import COST, EntryError
from routecheck.model import Via, WordRole
from routecheck.resolution import airways

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.known.known_routes import KnownRoutes
    from routecheck.known.likelihood import RouteLikelihood
    from routecheck.model import KnownUsage, Route, Word, WordUsage

PAIRS, TRIPLES, MISSED = 0.6, 0.4, 0.6
"""The weights of usage in the score: of how likely each word stands behind the one before, of three in a row, and of
how often known routes have the words beside without the one typed.

Fitted on one half of the published U.S. routes of January 2023 (part of it as collection, errors planted in the rest).
"""
LEAST_SHORTER_NM = 8.0
"""What makes the route less shorter than this, clears no contradiction and stands there in too few known routes wins
nothing by usage: a point that is new to them, a few miles behind one that is not, is no error.
"""
MOST_SHORT = 6.0
"""A correction that wins so much too little by itself is weighed by usage all the same."""
LEAST_ROUTES = 2
"""A word that stands there in fewer known routes is no evidence: a collection holds mistakes too."""
_PROCEDURES = frozenset({WordRole.SID, WordRole.STAR, WordRole.UNKNOWN_PROCEDURE, WordRole.PROCEDURE_ELSEWHERE})


def edits_by_usage(scorer: Scorer, route: Route, suspects: Sequence[int], known: KnownRoutes) -> list[Edit]:
    """All corrections of a route, each weighed by how known routes join its words, with those that only they tell.

    What wins too little by itself may win enough by usage: the thresholds are lower while corrections are made.
    """
    wider = Scorer(scorer.outline, replace(scorer.thresholds, worth_saying=scorer.thresholds.worth_saying - MOST_SHORT))
    edits = word_edits(wider, suspects) + aerodrome_edits(scorer, route.date)
    if route.usage is not None:
        edits += known_edits(wider, route.usage)
    likelihood = known.weigh(route.resolved)
    weighed = [_weigh_edit(edit, likelihood) for edit in edits]
    least = scorer.thresholds.least_gain
    return [_with_weak_evidence(edit, likelihood) for edit in weighed if edit.correction.gain > least]


def _weigh_edit(edit: Edit, likelihood: RouteLikelihood) -> Edit:
    correction = edit.correction
    change, evidence = likelihood.change(correction), likelihood.find_evidence(correction)
    won = PAIRS * change.pairs + TRIPLES * change.triples
    if correction.shorter_nm >= LEAST_SHORTER_NM:
        won += MISSED * change.missed
    elif evidence is None and correction.span is not None and not correction.defects:
        won = min(won, 0.0)
    return replace(edit, correction=replace(correction, gain=correction.gain + won, evidence=evidence))


def _with_weak_evidence(edit: Edit, likelihood: RouteLikelihood) -> Edit:
    if edit.correction.evidence is not None:
        return edit
    return replace(edit, correction=replace(edit.correction, evidence=likelihood.find_weak_evidence(edit.correction)))


def known_edits(scorer: Scorer, usage: KnownUsage) -> list[Edit]:
    """The corrections of all words that known routes never have there, by words that they have there."""
    found: list[Edit] = []
    for word in usage.words:
        if word.is_counted and not word.through and not (word.behind and word.ahead):
            found += _other_words(scorer, word)
    return found


def _other_words(scorer: Scorer, usage: WordUsage) -> Iterator[Edit]:
    resolved = scorer.outline.resolved
    word = resolved.parsed.words[usage.word]
    if resolved.roles[usage.word] in _PROCEDURES:
        return
    names = [other.text for other in usage.others if other.routes >= LEAST_ROUTES]
    index = _index_of_point(scorer, usage.word)
    if index is not None:
        for name in names:
            yield from _other_point(scorer, index, word, name)
        return
    number = _number_of_airway(scorer, usage.word)
    if number is not None:
        for name in names:
            yield from _other_airway(scorer, number, word, name)


def _index_of_point(scorer: Scorer, word: int) -> int | None:
    points = scorer.outline.route_points
    return next(
        (i for i, one in enumerate(points) if one.word == word and not one.implied and 0 < i < scorer.outline.last),
        None,
    )


def _number_of_airway(scorer: Scorer, word: int) -> int | None:
    """The connection that an airway makes which does not join its points in the data; None for any other word.

    Two airways often join the same two points: another than the known one is no error for that.
    """
    connections = scorer.outline.resolved.connections
    faulty = (i for i, one in enumerate(connections) if one.via is Via.AIRWAY and (one.is_blocked or not one.segments))
    return next((index for index in faulty if word in connections[index].words), None)


def _other_point(scorer: Scorer, index: int, word: Word, name: str) -> Iterator[Edit]:
    """The word as another point, of several of the name the one that fits best."""
    around = [scorer.outline.places[index - 1], scorer.outline.places[index + 1]]
    best: Edit | None = None
    for place in scorer.outline.database.places(name):
        if any(near is not None and airways.is_same_place(near, place) for near in around):
            continue
        scored = scorer.score_place(index, place, COST[EntryError.AS_KNOWN])
        edit = make_edit(scored, EntryError.AS_KNOWN, word.span, word.text, name, (index - 1, index + 1))
        if best is None or edit.correction.gain > best.correction.gain:
            best = edit
    if best is not None:
        yield best


def _other_airway(scorer: Scorer, number: int, word: Word, name: str) -> Iterator[Edit]:
    pieces = scorer.outline.database.airways(name)
    start, end = scorer.outline.places[number : number + 2]
    if not pieces or start is None or end is None or not airways.run_between(pieces, start, end):
        return
    other = CandidateConnection(Via.AIRWAY, name, pieces)
    scored = scorer.score_stretch(number, number + 1, [start, end], [other], COST[EntryError.AS_KNOWN])
    yield make_edit(scored, EntryError.AS_KNOWN, word.span, word.text, name, (number, number + 1))
