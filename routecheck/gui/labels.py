"""Finding room for words and marks on the Picture: what would cover something else is moved or left out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

CELL = 2
_MOST_STEPS = 2000
Rect = tuple[float, float, float, float]
"""Left, top, right, bottom."""
_ROUND = ((1, -1), (1, 1), (-1, -1), (-1, 1), (1, 0), (-1, 0), (0, -1), (0, 1))
"""Where a name may stand beside its point, best first: x right, y down."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A text that wants room: around a point, or (`along` given, a unit vector) beside the middle of a line.

    `must` = shown even across a line, as long as it covers no other text.
    """

    key: int
    text: str
    x: float
    y: float
    width: float
    height: float
    must: bool = False
    along: tuple[float, float] | None = None


class Room:
    """Which parts of a view are taken, in cells of some pixels: `full` by words and marks, `crossed` by lines."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        shape = (int(height // CELL) + 2, int(width // CELL) + 2)
        self._full = np.zeros(shape, dtype=bool)
        self._crossed = np.zeros(shape, dtype=bool)

    def take(self, rect: Rect) -> None:
        """Mark a rectangle as full."""
        self._full[self._cells(rect)] = True

    def cross(self, line: Floats) -> None:
        """Mark the cells that a polyline (shape (n, 2), pixels, NaN breaks) runs through."""
        start, reach = line[:-1], np.diff(line, axis=0)
        drawn = ~np.isnan(reach[:, 0])
        start, reach = start[drawn], reach[drawn]
        steps = np.minimum(np.abs(reach).max(axis=1, initial=0.0) / CELL + 2, _MOST_STEPS).astype(int)
        which = np.repeat(np.arange(steps.size), steps)
        share = (np.arange(which.size) - np.repeat(np.cumsum(steps) - steps, steps)) / np.repeat(steps, steps)
        spots_px = start[which] + share[:, None] * reach[which]
        seen = ((spots_px >= 0) & (spots_px < (self.width, self.height))).all(axis=1)
        cells = (spots_px[seen] // CELL).astype(int)
        self._crossed[cells[:, 1], cells[:, 0]] = True

    def fits(self, rect: Rect, *, across_lines: bool) -> bool:
        """Whether a rectangle lies in view on nothing else."""
        left, top, right, bottom = rect
        if left < 0 or top < 0 or right > self.width or bottom > self.height:
            return False
        cells = self._cells(rect)
        return not self._full[cells].any() and (across_lines or not self._crossed[cells].any())

    def place(self, candidates: Iterable[Rect], *, must: bool) -> Rect | None:
        """The first candidate that fits, taken at once; with `must`, one that crosses lines before none."""
        tried = list(candidates)
        for across_lines in (False, True) if must else (False,):
            for rect in tried:
                if self.fits(rect, across_lines=across_lines):
                    self.take(rect)
                    return rect
        return None

    def _cells(self, rect: Rect) -> tuple[slice, slice]:
        left, top, right, bottom = rect
        rows = slice(max(0, int(top) // CELL), max(0, int(bottom) // CELL + 1))
        return rows, slice(max(0, int(left) // CELL), max(0, int(right) // CELL + 1))


def spots(wanted: Wanted, gap: float = 10.0) -> list[Rect]:
    """The rectangles in which a text may stand, best first."""
    half_w, half_h = wanted.width / 2, wanted.height / 2
    if wanted.along is None:
        return [
            _around(wanted.x + dx * (half_w + gap), wanted.y + dy * (half_h + gap * (0.3 if dx else 1.0)), wanted)
            for dx, dy in _ROUND
        ]
    nx, ny = -wanted.along[1], wanted.along[0]
    if ny < 0:
        nx, ny = -nx, -ny
    off = abs(nx) * half_w + abs(ny) * half_h + gap * 0.7
    return [_around(wanted.x + side * nx * off, wanted.y + side * ny * off, wanted) for side in (1, -1)]


def around(x: float, y: float, size: float, away: float) -> list[Rect]:
    """The squares in which a mark may stand beside its point, best first, nearer ones before farther ones."""
    half = size / 2
    directions = ((0, -1), (0.8, -0.8), (-0.8, -0.8), (1, 0), (-1, 0), (0.8, 0.8), (-0.8, 0.8), (0, 1))
    centres = [(x + dx * d, y + dy * d) for d in (away, away + size + 4, away + 2 * size + 8) for dx, dy in directions]
    return [(cx - half, cy - half, cx + half, cy + half) for cx, cy in centres]


def _around(x: float, y: float, wanted: Wanted) -> Rect:
    half_w, half_h = wanted.width / 2, wanted.height / 2
    return x - half_w, y - half_h, x + half_w, y + half_h
