"""Finding room for words and marks on the Picture: what would cover something else is moved or left out.

Rectangles are rows (left, top, right, bottom) in pixels, y down. Candidates have the shape (n, k, 4): for each of n
things k places where it may stand, best first.
"""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from routecheck.arrays import Flags, Floats, Indices


CELL = 3
_MOST_STEPS = 2000
_MOST_STEPS_IN_ALL = 150_000
"""Where lines run to and fro without end the view is full of them: some cells are left out then."""
_PATIENCE = 50
_ROUND = np.array([(1, -1), (1, 1), (-1, -1), (-1, 1), (1, 0), (-1, 0), (0, -1), (0, 1)], dtype=np.float64)
"""Where a name may stand beside its point: x right, y down."""
_ASIDE = np.where(_ROUND[:, :1] != 0, (1.0, 0.3), (1.0, 1.0))
"""How much of the distance to the point counts in x and y at each of these places."""
_CELLS_AROUND = [(across, down) for across in (-1, 0, 1) for down in (-1, 0, 1)]
_MARK_RINGS = 3
"""A mark farther off than that is not seen to belong to its point."""
_MARK_ROUND = np.array([(0, -1), (0.8, -0.8), (-0.8, -0.8), (1, 0), (-1, 0), (0.8, 0.8), (-0.8, 0.8), (0, 1)])


class Room:
    """Which parts of a view are taken: rectangles of words and marks, and cells of some pixels that lines cross."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self._taken = np.empty((4, 256))
        self._count = 0
        self._crossed = np.zeros((int(height // CELL) + 2, int(width // CELL) + 2), dtype=bool)
        self._sums: NDArray[np.int32] | None = None

    def take(self, rects: Floats) -> None:
        """Mark rectangles, shape (n, 4), as full."""
        end = self._count + len(rects)
        if end > self._taken.shape[1]:
            self._taken = np.concatenate((self._taken, np.empty((4, end))), axis=1)
        self._taken[:, self._count : end] = rects.T
        self._count = end

    def cross(self, line: Floats) -> None:
        """Mark the cells that a polyline (shape (n, 2), pixels, NaN breaks) runs through."""
        start, reach = self._about_view(line)
        most = min(_MOST_STEPS, max(2, _MOST_STEPS_IN_ALL // max(len(reach), 1)))
        steps = np.minimum(np.abs(reach).max(axis=1, initial=0.0) / CELL + 2, most).astype(int)
        which = np.repeat(np.arange(steps.size), steps)
        share = (np.arange(which.size) - np.repeat(np.cumsum(steps) - steps, steps)) / np.repeat(steps, steps)
        self._mark_cells((start[which] + share[:, None] * reach[which]) // CELL)

    def soften(self, spots: Floats, half: float) -> None:
        """Mark what small symbols (centres, shape (n, 2)) cover as crossed: words keep off them where they can."""
        reach = np.arange(-(half // CELL), half // CELL + 1)
        square = np.dstack(np.meshgrid(reach, reach)).reshape(-1, 2)
        self._mark_cells(((spots // CELL)[:, None] + square).reshape(-1, 2))

    def place(self, candidates: Floats, *, must: bool | Flags, most: int | None = None) -> Indices:
        """For each thing, in order, which candidate it gets, taken at once; -1 = none has room.

        Where lines run through all that have room, those that `must` be shown stand across one. No more than `most`;
        after many in a row that found no room the rest is not tried, because a view that is full stays so.
        """
        chosen = np.full(len(candidates), -1)
        inside, crossed = self._lie_inside(candidates), self._lines_through(candidates)
        musts = np.broadcast_to(np.asarray(must), len(candidates))
        left, patience = len(candidates) if most is None else most, _PATIENCE
        for i in np.flatnonzero(inside.any(axis=1)):
            if left <= 0 or patience <= 0:
                break
            clear = inside[i] & ~self._covers(candidates[i])
            best = clear & ~crossed[i]
            if musts[i] and not best.any():
                best = clear
            where = int(best.argmax())
            if best[where]:
                chosen[i] = where
                self.take(candidates[i, where : where + 1])
                left, patience = left - 1, _PATIENCE
            else:
                patience -= 1
        return chosen

    def _about_view(self, line: Floats) -> tuple[Floats, Floats]:
        """Starts and reaches of the pieces of a polyline that may cross the view, cut to what lies about it."""
        start, end = line[:-1], line[1:]
        low, high = np.minimum(start, end), np.maximum(start, end)
        near = (high >= 0).all(axis=1) & (low <= (self.width, self.height)).all(axis=1)
        start, reach = start[near], end[near] - start[near]
        length = np.maximum(np.hypot(*reach.T), 1e-9)
        middle = (((self.width / 2, self.height / 2) - start) * reach).sum(axis=1) / length
        far = self.width + self.height
        first = np.clip((middle - far) / length, 0.0, 1.0)
        last = np.clip((middle + far) / length, 0.0, 1.0)
        return start + first[:, None] * reach, reach * (last - first)[:, None]

    def _mark_cells(self, cells: Floats) -> None:
        rows, columns = self._crossed.shape
        cells = cells[((cells >= 0) & (cells < (columns, rows))).all(axis=1)].astype(int)
        self._crossed[cells[:, 1], cells[:, 0]] = True
        self._sums = None

    def _lie_inside(self, rects: Floats) -> Flags:
        low = (rects[..., 0] >= 0) & (rects[..., 1] >= 0)
        return np.asarray(low & (rects[..., 2] <= self.width) & (rects[..., 3] <= self.height))

    def _covers(self, rects: Floats) -> Flags:
        """Which rectangles, shape (k, 4), lie on one that is taken."""
        left, top, right, bottom = self._taken[:, : self._count]
        across = (rects[:, :1] < right) & (rects[:, 2:3] > left)
        return np.asarray((across & (rects[:, 1:2] < bottom) & (rects[:, 3:] > top)).any(axis=1))

    def _lines_through(self, rects: Floats) -> Flags:
        """Which rectangles are crossed by a line, from sums over the cells before each."""
        rows, columns = self._crossed.shape
        if self._sums is None:
            self._sums = np.zeros((rows + 1, columns + 1), dtype=np.int32)
            np.cumsum(np.cumsum(self._crossed, axis=0, dtype=np.int32), axis=1, out=self._sums[1:, 1:])
        sums = self._sums
        cells = (rects // CELL).astype(int)
        left, right = cells[..., 0].clip(0, columns), (cells[..., 2] + 1).clip(0, columns)
        top, bottom = cells[..., 1].clip(0, rows), (cells[..., 3] + 1).clip(0, rows)
        crossed = sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left]
        return np.asarray(crossed > 0)


def keep_apart(spots: Floats, order: Sequence[int], distance: float) -> list[int]:
    """Which of some spots (shape (n, 2)) to keep so that none is nearer than that to another; the first come first."""
    kept: list[int] = []
    near: dict[tuple[int, int], list[tuple[float, float]]] = defaultdict(list)
    places, cells = spots.tolist(), (spots // distance).astype(int).tolist()
    for i in order:
        column, row = cells[i]
        if all(math.dist(places[i], other) >= distance for other in near[column, row]):
            kept.append(i)
            for across, down in _CELLS_AROUND:
                near[column + across, row + down].append(places[i])
    return kept


def candidates_beside(spots: Floats, sizes: Floats, gap: float = 10.0) -> Floats:
    """Where names of some sizes (shape (n, 2)) may stand around their points (shape (n, 2))."""
    half = sizes[:, None] / 2
    return _rects(spots[:, None] + _ROUND * (half + gap * _ASIDE), half)


def candidates_along(spots: Floats, ways: Floats, sizes: Floats, gap: float = 7.0) -> Floats:
    """Where figures may stand on both sides of their lines, given a spot and the line's unit vector there."""
    across = np.column_stack((-ways[:, 1], ways[:, 0]))
    across *= np.where(across[:, 1:] < 0, -1.0, 1.0)
    off = (np.abs(across) * sizes / 2).sum(axis=1) + gap
    aside = (across * off[:, None])[:, None] * ((1.0,), (-1.0,))
    return _rects(spots[:, None] + aside, sizes[:, None] / 2)


def candidates_around(spots: Floats, size: float, away: float) -> Floats:
    """The squares in which marks may stand beside their spots (shape (n, 2)), nearer ones before farther ones."""
    reaches = away + (size + 4) * np.arange(_MARK_RINGS)
    offsets = (reaches[:, None, None] * _MARK_ROUND).reshape(-1, 2)
    return _rects(spots[:, None] + offsets, np.full((1, 1, 2), size / 2))


def _rects(centres: Floats, half: Floats) -> Floats:
    return np.concatenate((centres - half, centres + half), axis=2)
