"""Finding room for words and marks on the Picture: what would cover something else is moved or left out. Pixels only."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

CELL = 2
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
        for (x0, y0), (x1, y1) in zip(line[:-1], line[1:], strict=True):
            span = max(abs(x1 - x0), abs(y1 - y0))
            if math.isnan(span):
                continue
            share = np.linspace(0.0, 1.0, min(int(span / CELL) + 2, 2000))
            xs, ys = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
            seen = (xs >= 0) & (ys >= 0) & (xs < self.width) & (ys < self.height)
            self._crossed[(ys[seen] // CELL).astype(int), (xs[seen] // CELL).astype(int)] = True

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
        left, top, right, bottom = (max(0, int(v // CELL)) for v in rect)
        return slice(top, bottom + 1), slice(left, right + 1)


def spots(wanted: Wanted, gap: float = 10.0) -> list[Rect]:
    """The rectangles in which a text may stand, best first."""
    half_w, half_h = wanted.width / 2, wanted.height / 2
    if wanted.along is None:
        return [
            _around(wanted.x + dx * (half_w + gap * (0.7 if dy else 1.0)), wanted.y + dy * (half_h + gap * 0.5), wanted)
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
