"""Where the values of windows stand in the Side view: at their bracket, or near by at the end of a thin line."""

from __future__ import annotations

import math
from dataclasses import KW_ONLY, replace
from typing import TYPE_CHECKING

import numpy as np

from routecheck.frozen_dataclass import dataclass
from routecheck.gui.side_view.text import HALF_BRACKET, SERIF, SideKind, SideText, line_height, text_width
from routecheck.gui.theme import text_scale

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.arrays import Flags, Floats
    from routecheck.gui.picture.label_placement import Room
    from routecheck.gui.side_view.frame import SideFrame
    from routecheck.gui.side_view.text import Rect
    from routecheck.presentation.side_view import Bracket, SideView


_CLOSE = 3.0
_ROWS = range(1, 8)
"""A value that has no room at its bracket may stand so many lines away from it, at the end of a thin line."""
_MOST_LEADERS = 16
_NOWHERE = (-9.0, -9.0, -8.0, -8.0)
_AWAY_PX = (8.0, 26.0, 52.0, 84.0)


def brackets_to_label(view: SideView, frame: SideFrame) -> Iterator[Bracket]:
    """The brackets in view whose value is to be written: one of several that say the same at a point."""
    named = set()
    for bracket in view.brackets:
        if frame.sees(bracket.nm) and (bracket.point, bracket.label) not in named:
            named.add((bracket.point, bracket.label))
            yield bracket


def place_values(view: SideView, frame: SideFrame, room: Room, picked: frozenset[int]) -> Iterator[SideText]:
    """The values in view that find room, what stands out first."""
    ranked = sorted(
        enumerate(brackets_to_label(view, frame), start=1),
        key=lambda pair: (
            not pair[1].tried,
            pair[1].point not in picked,
            pair[1].weight is None,
            not pair[1].typed,
            -(pair[0] & -pair[0]),
            pair[0],
        ),
    )
    brackets = [bracket for _, bracket in ranked]
    kinds = [SideKind.PICKED_VALUE if bracket.point in picked else SideKind.VALUE for bracket in brackets]
    spots = [_Spot.of(bracket, kind, frame) for bracket, kind in zip(brackets, kinds, strict=True)]
    near = np.array([spot.near() for spot in spots]).reshape(-1, 4, 4)
    places = room.place(_keep_inside(near, frame), must=False)
    written = [
        spot.text(_rect(rects[place])) for spot, rects, place in zip(spots, near, places, strict=True) if place >= 0
    ]
    left = [spot for spot, place in zip(spots, places, strict=True) if place < 0][:_MOST_LEADERS]
    # What stands out first, then from the rims inward: what is crowded there has room on one side alone.
    left.sort(
        key=lambda s: (s.bracket.weight is None, s.kind is SideKind.VALUE, min(s.x - frame.left, frame.right - s.x))
    )
    yield from written
    yield from _place_at_leaders(left, written, frame, room)


def _place_at_leaders(
    spots: Sequence[_Spot], written: Sequence[SideText], frame: SideFrame, room: Room
) -> Iterator[SideText]:
    """What has no room at its bracket stands a little away, at the end of a thin line that crosses nothing."""
    diagonals = [line for text in written for line in _diagonals(text.rect)]
    for spot in spots:
        rects = _keep_inside(np.array([spot.far()]), frame)
        leaders = np.array([spot.leader(_rect(rect)) for rect in rects[0]])
        rects[0, _crossing(leaders, np.array(diagonals).reshape(-1, 4))] = _NOWHERE
        place = int(room.place(rects, must=False)[0])
        if place < 0:
            continue
        rect, leader = _rect(rects[0, place]), _rect(leaders[place])
        room.cross(np.array([leader[:2], leader[2:]]))
        diagonals += [*_diagonals(rect), leader]
        yield replace(spot.text(rect), leader=leader)


@dataclass(frozen=True, slots=True)
class _Spot:
    """A bracket in pixels and the size of its value."""

    bracket: Bracket
    kind: SideKind
    x: float
    _: KW_ONLY
    top: float
    bottom: float
    wide: float
    high: float

    @classmethod
    def of(cls, bracket: Bracket, kind: SideKind, frame: SideFrame) -> _Spot:
        ys = [frame.y(feet) for feet in (bracket.high_ft, bracket.low_ft) if feet is not None]
        wide, high = text_width(bracket.label, kind), line_height(kind)
        return cls(bracket, kind, frame.x(bracket.nm), top=min(ys), bottom=max(ys), wide=wide, high=high)

    def rank(self, frame: SideFrame) -> tuple[bool, bool, bool, float]:
        """What comes first has the smaller one."""
        to_rim = min(self.x - frame.left, frame.right - self.x)
        return not self.bracket.tried, self.kind is SideKind.VALUE, self.bracket.weight is None, to_rim

    def text(self, rect: Rect) -> SideText:
        return SideText(rect, self.bracket.label, kind=self.kind, point=self.bracket.point, weight=self.bracket.weight)

    def near(self) -> list[Rect]:
        """Above, below and on both sides of the bracket."""
        away, aside = SERIF * text_scale() + 1, HALF_BRACKET * text_scale() + _CLOSE
        left, middle = self.x - self.wide / 2, (self.top + self.bottom - self.high) / 2
        above, below = (left, self.top - away - self.high), (left, self.bottom + away)
        first = [below, above] if self.bracket.high_ft is None else [above, below]
        return [self._rect(*spot) for spot in (*first, (self.x + aside, middle), (self.x - aside - self.wide, middle))]

    def far(self) -> list[Rect]:
        """Away from the bracket in the four ways, nearest first."""
        line = self.high + 1
        ys = [y for row in _ROWS for y in (self.top - (row + 1) * line, self.bottom + row * line)]
        aside = [x for away in _AWAY_PX for x in (self.x + away, self.x - away - self.wide)]
        rects = [self._rect(x, y) for y in ys for x in (self.x - self.wide / 2, *aside)]
        return sorted(rects, key=self._distance_to_bracket)

    def leader(self, rect: Rect) -> Rect:
        """The line from a value to its bracket."""
        left, above, right, below = rect
        y = (above + below) / 2
        end = self.x
        if left > self.x:
            end = left - 2
        elif right < self.x:
            end = right + 2
        return end, y, self.x, self.top if y < self.top else self.bottom

    def _rect(self, x: float, y: float) -> Rect:
        return x, y, x + self.wide, y + self.high

    def _distance_to_bracket(self, rect: Rect) -> float:
        return math.hypot((rect[0] + rect[2]) / 2 - self.x, 1.5 * ((rect[1] + rect[3]) / 2 - self.top))


def _keep_inside(rects: Floats, frame: SideFrame) -> Floats:
    """The same, what lies over a rim of the drawing put where it cannot be."""
    rects[(rects[..., 0] < frame.left) | (rects[..., 1] < 2.0) | (rects[..., 3] > frame.bottom)] = _NOWHERE
    return rects


def _diagonals(rect: Rect) -> tuple[Rect, Rect]:
    left, top, right, bottom = rect
    return (left, top, right, bottom), (left, bottom, right, top)


def _crossing(lines: Floats, others: Floats) -> Flags:
    """Which of some lines, shape (n, 4), from (x, y) to (x, y), cross any of the others."""
    one, other = lines[:, None], others[None]

    def side(line: Floats, x: Floats, y: Floats) -> Floats:
        return np.asarray(
            (line[..., 2] - line[..., 0]) * (y - line[..., 1]) - (line[..., 3] - line[..., 1]) * (x - line[..., 0])
        )

    parted = side(one, other[..., 0], other[..., 1]) * side(one, other[..., 2], other[..., 3]) > 0
    parted |= side(other, one[..., 0], one[..., 1]) * side(other, one[..., 2], one[..., 3]) > 0
    return np.asarray((~parted).any(axis=1))


def _rect(row: Floats) -> Rect:
    left, top, right, bottom = row.tolist()
    return left, top, right, bottom
