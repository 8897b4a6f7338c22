"""Moves along an airway: another exit or entry of it than the one typed. What can win nothing is left out early."""

from __future__ import annotations

import heapq
import math
import operator
from typing import TYPE_CHECKING, NamedTuple

from routecheck.corrections.bounds import LEAST_GAIN
from routecheck.corrections.estimate import Estimate, Moved
from routecheck.corrections.pieces import coded
from routecheck.entry_errors.costs import COST, Slip
from routecheck.model import Via
from routecheck.resolution import airways
from routecheck.resolution.connections import COMPUTER_ONLY

if TYPE_CHECKING:
    from collections.abc import Container, Iterator

    from routecheck.corrections.bounds import Bounds
    from routecheck.corrections.plausibility import CandidateConnection
    from routecheck.corrections.sketch import Sketch
    from routecheck.model import Place
    from routecheck.model.data import PlaceKey

EXITS_TRIED = 8


class _Side(NamedTuple):
    """The side of a stop on which the airway is that moves with it: -1 before it, 1 behind it; the slips of a move."""

    step: int
    between: Slip
    beyond: Slip

    def slip(self, moved: Moved, at: int) -> Slip:
        """The slip behind a move to that point of the piece."""
        low, high = moved.between()
        return self.between if low < at < high else self.beyond


_EXIT = _Side(-1, Slip.EXIT_TOO_FAR, Slip.EXIT_TOO_EARLY)
_ENTRY = _Side(1, Slip.ENTRY_BETWEEN, Slip.ENTRY_BEYOND)


STEPS = {Slip.EXIT_TOO_FAR: -1, Slip.ENTRY_BETWEEN: 1}
"""For the slips behind moves between: on which side of the stop the end of the airway is that stays."""


def moves(drawn: Sketch, bounds: Bounds, index: int) -> Iterator[tuple[Slip, Place]]:
    """The other exits of the airway that leads to a stop and entries of the one that leaves it, most likely first.

    No end of an airway is moved that ends short in the data of what was typed: the airway may have changed.
    """
    for side, way in ((_EXIT, index - 1), (_ENTRY, index)):
        if drawn.ways[way].via is Via.AIRWAY and not drawn.ends_short(way):
            yield from _along(drawn, bounds, index, side)


def _along(drawn: Sketch, bounds: Bounds, index: int, side: _Side) -> Iterator[tuple[Slip, Place]]:
    """Where nothing is broken points that are not between are only tried if such a move can win enough."""
    fixed, typed, other = drawn.nodes[index + side.step], drawn.nodes[index], drawn.nodes[index - side.step]
    most = math.inf if other is None else bounds.most_at(index)
    if fixed is None or typed is None:
        return
    if most < math.inf and most + bounds.more_between(index, side.step) <= COST[side.between] + LEAST_GAIN:
        return
    way, beyond = (index - 1, index) if side.step < 0 else (index, index - 1)
    farther = most > COST[side.beyond] + LEAST_GAIN
    for piece in drawn.ways[way].pieces:
        start = airways.position_on(piece, fixed)
        if start is None:
            continue
        moved = Moved(index, side.step, piece, start, typed, airways.position_on(piece, typed), other or typed)
        points = _that_join(drawn, drawn.ways[beyond], moved, _points(moved, farther=farther))
        if other is None:
            yield from ((side.slip(moved, at), piece.places[at]) for at in points[:EXITS_TRIED])
        elif points:
            yield from _likely(bounds, side, moved, points, farther=farther)


def _points(moved: Moved, *, farther: bool) -> list[int]:
    """The indices of the points of a piece that may be meant instead, those between or all of them."""
    places, fixed, typed, on = moved.piece.places, moved.fixed, moved.typed.ident, moved.on
    if farther:
        near = range(len(places))
    elif on is None:
        return []
    else:
        near = range(int(min(fixed, on)), math.ceil(max(fixed, on)))
    return [i for i in near if i != fixed and places[i].ident != typed and COMPUTER_ONLY not in places[i].name]


def _that_join(drawn: Sketch, beyond: CandidateConnection, moved: Moved, points: list[int]) -> list[int]:
    """Those that are on the airway or procedure that follows; all where no point of this one joins it, typed or not."""
    there: Container[PlaceKey]
    if beyond.branches is not None:
        there = beyond.branches.points
    elif beyond.pieces:
        there = coded(beyond.pieces, drawn.database)
    else:
        return points
    places, typed = moved.piece.places, moved.typed.key
    joined = [at for at in points if places[at].key in there]
    return joined if joined or (typed in moved.piece.order and typed in there) else points


def _likely(bounds: Bounds, side: _Side, moved: Moved, points: list[int], *, farther: bool) -> list[tuple[Slip, Place]]:
    """The points of a piece that can win most, each with the slip behind it; of a sound stretch those that can at all.

    The stop beyond is none of them: it would stand there twice.
    """
    estimate = Estimate(bounds, moved, between=not farther)
    low, high = moved.between()
    ranked = []
    for at in points:
        slip, place = side.between if low < at < high else side.beyond, moved.piece.places[at]
        needed = COST[slip] + LEAST_GAIN
        most = estimate.most(at, needed)
        if not farther and most > needed:
            most -= estimate.turned(at)
        if (most > needed or not estimate.sound) and not airways.same(place, moved.other):
            ranked.append((COST[slip] - most, at, slip, place))
    return [(slip, place) for _, _, slip, place in heapq.nsmallest(EXITS_TRIED, ranked, key=operator.itemgetter(0, 1))]
