"""Moves along an airway: another exit or entry of it than the one typed. What can win nothing is left out early."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.corrections import sphere
from routecheck.corrections.pieces import coded
from routecheck.corrections.plausibility import MOST_BY_SHARE
from routecheck.entry_errors.costs import COST, Slip
from routecheck.model import Via
from routecheck.resolution import airways
from routecheck.resolution.connections import COMPUTER_ONLY

if TYPE_CHECKING:
    from collections.abc import Container, Iterator

    from routecheck.corrections.edits import Scorer
    from routecheck.corrections.plausibility import CandidateConnection
    from routecheck.corrections.sketch import Sketch
    from routecheck.model import Airway, Place
    from routecheck.model.data import PlaceKey


class _Side(NamedTuple):
    """The side of a stop on which the airway is that moves with it: -1 before it, 1 behind it; the slips of a move."""

    step: int
    between: Slip
    beyond: Slip


_EXIT = _Side(-1, Slip.EXIT_TOO_FAR, Slip.EXIT_TOO_EARLY)
_ENTRY = _Side(1, Slip.ENTRY_BETWEEN, Slip.ENTRY_BEYOND)
STEPS = {Slip.EXIT_TOO_FAR: -1, Slip.ENTRY_BETWEEN: 1}
"""For the slips behind moves between: on which side of the stop the end of the airway is that stays."""


def moves(scorer: Scorer, index: int) -> Iterator[tuple[Slip, Place]]:
    """The other exits of the airway that leads to a stop and entries of the one that leaves it that may win enough.

    No end of an airway is moved that ends short in the data of what was typed: the airway may have changed.
    """
    drawn, bounds = scorer.drawn, scorer.bounds
    for side, way in ((_EXIT, index - 1), (_ENTRY, index)):
        if drawn.ways[way].via is Via.AIRWAY and not scorer.ends_short(way):
            between = bounds.reach(index, COST[side.between] - MOST_BY_SHARE)
            beyond = bounds.reach(index, COST[side.beyond])
            for piece in drawn.ways[way].pieces if not between.empty else ():
                for place, is_between in _other_points(drawn, index, side.step, piece):
                    if (between if is_between else beyond).holds(sphere.unit(place.lat, place.lon)):
                        yield side.between if is_between else side.beyond, place


def _other_points(drawn: Sketch, index: int, step: int, piece: Airway) -> Iterator[tuple[Place, bool]]:
    """The points of a piece of airway that may be meant instead, and whether each lies between its ends as typed.

    The stops beside are none of them: they would stand there twice.
    """
    fixed, typed, other = drawn.nodes[index + step], drawn.nodes[index], drawn.nodes[index - step]
    start = None if fixed is None else airways.position_on(piece, fixed)
    if start is None or typed is None:
        return
    end = airways.position_on(piece, typed)
    low, high = (start, start) if end is None else (min(start, end), max(start, end))
    for at in _that_join(drawn, piece, typed, drawn.ways[index if step < 0 else index - 1]):
        if at != start and not (other and airways.same(piece.places[at], other)):
            yield piece.places[at], low < at < high


def _that_join(drawn: Sketch, piece: Airway, typed: Place, beyond: CandidateConnection) -> list[int]:
    """Those that are on the airway or procedure that follows; all where no point of this one joins it, typed or not."""
    places = piece.places
    points = [i for i, place in enumerate(places) if place.ident != typed.ident and COMPUTER_ONLY not in place.name]
    there: Container[PlaceKey]
    if beyond.branches is not None:
        there = beyond.branches.points
    elif beyond.pieces:
        there = coded(beyond.pieces, drawn.database)
    else:
        return points
    joined = [at for at in points if places[at].key in there]
    return joined if joined or (typed.key in piece.index_by_key and typed.key in there) else points
