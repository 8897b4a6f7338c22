"""Moves along an airway: another exit or entry of it than the one typed. What can win nothing is left out early."""

from __future__ import annotations

import heapq
import math
import operator
from typing import TYPE_CHECKING, NamedTuple

from routecheck.intended.bounds import LEAST_GAIN
from routecheck.intended.estimate import Estimate
from routecheck.intended.pieces import coded, measured
from routecheck.model import Via
from routecheck.reckon import airways
from routecheck.reckon.links import COMPUTER_ONLY
from routecheck.slips.costs import COST, Slip

if TYPE_CHECKING:
    from collections.abc import Container, Iterator

    from routecheck.intended.bounds import Bounds
    from routecheck.intended.plausibility import Way
    from routecheck.intended.sketch import Sketch
    from routecheck.model import Airway, Place
    from routecheck.model.data import PlaceKey

EXITS_TRIED = 8


class Side(NamedTuple):
    """The airway that moves with a stop: its way, which side of the stop its other end is, the slips behind a move."""

    way: int
    fixed: int
    between: Slip
    beyond: Slip


def moves(drawn: Sketch, bounds: Bounds, index: int) -> Iterator[tuple[Slip, Place]]:
    """The other exits of the airway that leads to a stop and entries of the one that leaves it, most likely first.

    No end of an airway is moved that ends short in the data of what was typed: the airway may have changed.
    """
    most = bounds.most_at(index)
    if most <= min(COST[Slip.EXIT_TOO_FAR], COST[Slip.ENTRY_BETWEEN]) + LEAST_GAIN:
        return
    sides = (
        Side(index - 1, -1, Slip.EXIT_TOO_FAR, Slip.EXIT_TOO_EARLY),
        Side(index, 1, Slip.ENTRY_BETWEEN, Slip.ENTRY_BEYOND),
    )
    for side in sides:
        fixed = drawn.nodes[index + side.fixed]
        if fixed is not None and drawn.ways[side.way].via is Via.AIRWAY and not drawn.ends_short(side.way):
            yield from _along(drawn, bounds, index, side, fixed)


def _along(drawn: Sketch, bounds: Bounds, index: int, side: Side, fixed: Place) -> Iterator[tuple[Slip, Place]]:
    typed = drawn.nodes[index]
    for piece in drawn.ways[side.way].pieces if typed is not None else ():
        start = airways.position_on(piece, fixed)
        if start is not None and typed is not None:
            yield from _likely(bounds, index, side, _Stretch(piece, start, typed))


class _Stretch:
    """The piece of airway between the end that stays, at index `fixed` of the piece, and the stop as typed."""

    def __init__(self, piece: Airway, fixed: float, typed: Place) -> None:
        self.piece, self.fixed, self.typed = piece, fixed, typed
        self.stop = airways.position_on(piece, typed)
        self.low, self.high = (0.0, 0.0) if self.stop is None else (min(fixed, self.stop), max(fixed, self.stop))

    def points(self, *, beyond: bool) -> list[int]:
        """The indices of the points that may be meant instead, also beyond the stop or only up to it."""
        places, typed = self.piece.places, self.typed.ident
        near = range(len(places)) if beyond else range(int(self.low), int(self.high) + 1)
        return [i for i in near if i != self.fixed and places[i].ident != typed and COMPUTER_ONLY not in places[i].name]

    def slip(self, side: Side, at: int) -> Slip:
        """The slip behind a move to that point."""
        return side.between if self.low < at < self.high else side.beyond


def _likely(bounds: Bounds, index: int, side: Side, along: _Stretch) -> list[tuple[Slip, Place]]:
    """The points of a piece that can win most, each with the slip behind it; of a sound stretch those that can at all.

    The stop beyond is none of them: it would stand there twice.
    """
    drawn, piece = bounds.drawn, along.piece
    other = drawn.nodes[index - side.fixed]
    beyond = drawn.ways[index if side.fixed < 0 else index - 1]
    most = math.inf if other is None else bounds.most_at(index)
    around = along.points(beyond=most > COST[side.beyond] + LEAST_GAIN)
    around = _that_join(drawn, beyond, along, around)
    if other is None:
        return [(along.slip(side, at), piece.places[at]) for at in around[:EXITS_TRIED]]
    if not around:
        return []
    estimate = Estimate(bounds, index, measured(piece, drawn.library), along.fixed, (beyond, other))
    now = estimate.typed(along.typed, along.stop)
    ranked = []
    for at in around:
        slip, place = along.slip(side, at), piece.places[at]
        won = estimate.most(place, at, now) - COST[slip]
        if (won > LEAST_GAIN or not estimate.sound) and not airways.same(place, other):
            ranked.append((-won, at, slip, place))
    return [(slip, place) for _, _, slip, place in heapq.nsmallest(EXITS_TRIED, ranked, key=operator.itemgetter(0, 1))]


def _that_join(drawn: Sketch, beyond: Way, along: _Stretch, around: list[int]) -> list[int]:
    """Those that are on the airway or procedure that follows; all where no point of this one joins it, typed or not."""
    there: Container[PlaceKey]
    if beyond.branches is not None:
        there = beyond.branches.points
    elif beyond.pieces:
        there = coded(beyond.pieces, drawn.library)
    else:
        return around
    places = along.piece.places
    joined = [at for at in around if places[at].key in there]
    typed = along.typed.key
    return joined if joined or (typed in along.piece.order and typed in there) else around
