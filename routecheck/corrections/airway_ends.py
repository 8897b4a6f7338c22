"""Another exit or entry of an airway than the one typed. What can win nothing is left out early."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.corrections.plausibility import MOST_WON_BY_SHARE, won_by_share
from routecheck.corrections.scoring import LEAST_SAVED_NM, Edit, coded_points, make_edit
from routecheck.earth import sphere
from routecheck.entry_errors.kinds import COST, EntryError
from routecheck.model import Via
from routecheck.resolution import airways
from routecheck.resolution.connections import COMPUTER_ONLY

if TYPE_CHECKING:
    from collections.abc import Container, Iterator

    from routecheck.corrections.outline import Outline
    from routecheck.corrections.plausibility import CandidateConnection
    from routecheck.corrections.scoring import Scorer
    from routecheck.model import Airway, Place, Word
    from routecheck.model.data import PlaceKey


class _Side(NamedTuple):
    """An airway beside a route point: -1 = it leads there and the point is its exit, 1 = it begins there.

    `between` is the entry error if a point between its two ends was meant, `beyond` if any other.
    """

    step: int
    between: EntryError
    beyond: EntryError


_EXIT = _Side(-1, EntryError.EXIT_TOO_FAR, EntryError.EXIT_TOO_EARLY)
_ENTRY = _Side(1, EntryError.ENTRY_BETWEEN, EntryError.ENTRY_BEYOND)
STEP_TO_FIXED_END = {side.between: side.step for side in (_EXIT, _ENTRY)}
"""For the errors that leave a point between: on which side of the route point the other end of the airway is."""


def airway_end_edits(scorer: Scorer, index: int, word: Word) -> Iterator[Edit]:
    """The corrections of a route point by another exit or entry of the airways beside it.

    One that saves next to no way where nothing contradicts the data is none: two airways by the same points.
    """
    for error, place in other_airway_ends(scorer, index):
        scored = scorer.score_place(index, place, COST[error])
        saved = scored.before.length_nm - scored.after.length_nm
        if error in STEP_TO_FIXED_END:
            share = won_by_share(saved, scorer.straight_nm(index, STEP_TO_FIXED_END[error]))
            scored = scored._replace(gain=scored.gain + share)
        if scored.gain > scorer.thresholds.least_gain and (saved >= LEAST_SAVED_NM or scored.before.features.defects):
            yield make_edit(scored, error, word.span, word.text, place.ident, (index - 1, index + 1))


def other_airway_ends(scorer: Scorer, index: int) -> Iterator[tuple[EntryError, Place]]:
    """The other exits of the airway that leads to a route point, and entries of the one from it, that may win enough.

    No end of an airway is moved that ends short in the data of what was typed: the airway may have changed.
    """
    for side, number in ((_EXIT, index - 1), (_ENTRY, index)):
        connection = scorer.outline.connections[number]
        if connection.via is not Via.AIRWAY or scorer.airway_may_go_on(number):
            continue
        reach_between = scorer.reach(index, COST[side.between] - MOST_WON_BY_SHARE)
        reach_beyond = scorer.reach(index, COST[side.beyond])
        for piece in connection.pieces if not reach_between.empty else ():
            for place, is_between in _other_points(scorer.outline, index, side.step, piece):
                if (reach_between if is_between else reach_beyond).holds(sphere.vector_of(place)):
                    yield side.between if is_between else side.beyond, place


def _other_points(outline: Outline, index: int, step: int, piece: Airway) -> Iterator[tuple[Place, bool]]:
    """The points of a piece of airway that may be meant instead, and whether each lies between its ends as typed.

    The route points beside are none of them: they would stand there twice.
    """
    fixed, typed, beyond = outline.places[index + step], outline.places[index], outline.places[index - step]
    start = None if fixed is None else airways.position_on(piece, fixed)
    if start is None or typed is None:
        return
    end = airways.position_on(piece, typed)
    low, high = (start, start) if end is None else (min(start, end), max(start, end))
    next_connection = outline.connections[index if step < 0 else index - 1]
    for at in _points_that_join(outline, piece, typed, next_connection):
        if at != start and not (beyond and airways.is_same_place(piece.places[at], beyond)):
            yield piece.places[at], low < at < high


def _points_that_join(outline: Outline, piece: Airway, typed: Place, next_connection: CandidateConnection) -> list[int]:
    """The indices of those that are on the airway or procedure that follows; all where none is, typed or not."""
    places = piece.places
    points = [i for i, place in enumerate(places) if place.ident != typed.ident and COMPUTER_ONLY not in place.name]
    there: Container[PlaceKey]
    if next_connection.shape is not None:
        there = next_connection.shape.points
    elif next_connection.pieces:
        there = coded_points(next_connection.pieces, outline.database)
    else:
        return points
    joining = [at for at in points if places[at].key in there]
    return joining if joining or (typed.key in piece.index_by_key and typed.key in there) else points
