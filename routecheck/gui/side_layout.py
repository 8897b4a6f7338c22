"""What is written in the Side view and where: marks, values of windows, names, minima. None covers another."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from enum import Enum
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtGui import QFont, QFontMetricsF

from routecheck import wording
from routecheck.gui.labels import Room
from routecheck.gui.marks import mark_size
from routecheck.gui.theme import scale, words
from routecheck.model import Weight
from routecheck.present.graticule import scale_bar_nm

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from routecheck.gui.side_frame import SideFrame
    from routecheck.present.picks import Pick
    from routecheck.present.side_view import Bracket, SideMark, SidePoint, SideView

    Floats = NDArray[np.float64]
    Rect = tuple[float, float, float, float]

HALF_BRACKET, SERIF = 6.0, 4.0
BAR_TEXT = 56.0
"""So much the words beside the scale bar take."""
_CLOSE = 3.0
_ROWS = range(1, 8)
"""A value that has no room at its bracket may stand so many lines away from it, at the end of a thin line."""
_MOST_LEADERS = 16
_NOWHERE = (-9.0, -9.0, -8.0, -8.0)
_SHORTEST_STEP = 50.0
_AWAY_PX = (8.0, 26.0, 52.0, 84.0)
_MARK_STEPS = (0, 1, -1, 2, -2, 3, -3, 4, -4)


class SideKind(Enum):
    """What a text is, and by that its font and ink."""

    NAME = "name"
    PICKED = "picked name"
    MINOR = "minor name"
    VALUE = "value of a window"
    PICKED_VALUE = "picked value"
    LEVEL = "filed level"
    MINIMUM = "minimum"
    GAP = "gap"
    GROUND = "elevation"

    @property
    def font(self) -> QFont:
        """The font of such a text."""
        smaller = -1.0 if self in (SideKind.NAME, SideKind.PICKED, SideKind.MINOR) else -1.5
        return words(smaller, bold=self in (SideKind.PICKED, SideKind.PICKED_VALUE))


@dataclass(frozen=True, slots=True)
class SideText:
    """A text in its rectangle; `leader` = a line from (x, y) to (x, y) to what it belongs to, None = it stands there.

    `point` is the point it belongs to, -1 = none; `weight` that of the bracket.
    """

    rect: Rect
    text: str
    kind: SideKind
    point: int = -1
    weight: Weight | None = None
    leader: Rect | None = None


@dataclass(frozen=True, slots=True)
class SideLayout:
    """What found room. `marks` by the index of their finding; `left_out` = windows in view whose value has none."""

    texts: tuple[SideText, ...] = ()
    marks: dict[int, Rect] = field(default_factory=dict)
    left_out: int = 0


def name_rows(height: float) -> int:
    """How many lines of names stand under a drawing in a pane of that height."""
    return 1 if height < 130 * scale() else 2 if height < 300 * scale() else 3


def line_height(kind: SideKind = SideKind.NAME) -> float:
    """How high a line of such texts is."""
    return _metrics(kind).height()


def text_width(text: str, kind: SideKind) -> float:
    """How wide a text of that kind is."""
    return _metrics(kind).horizontalAdvance(text)


def lay_out(view: SideView, frame: SideFrame, size: tuple[float, float], pick: Pick | None) -> SideLayout:
    """Give everything its room, the more important first."""
    room = Room(*size)
    picked = frozenset(pick.points) if pick else frozenset()
    _cross_lines(view, frame, room)
    room.take(_bars(view, frame))
    room.take(np.array([(0.0, 0.0, frame.left + bar_of(frame)[1] + BAR_TEXT * scale(), 14.0 * scale())]))
    marks = _marks(view.marks, frame, room, frozenset(pick.findings) if pick else frozenset())
    values = list(_values(view, frame, room, picked))
    wanted = sum(1 for bracket in _wanted(view, frame))
    texts = [
        *values,
        *_names(view, frame, room, picked),
        *_gap_texts(view, frame, room),
        *_step_texts(view, frame, room),
        *_ground_texts(view, frame, room),
    ]
    return SideLayout(tuple(texts), marks, wanted - len(values))


def bar_of(frame: SideFrame) -> tuple[int, float]:
    """The scale bar: a round distance in NM and how long it is drawn."""
    nm = scale_bar_nm((frame.right - frame.left) / frame.px_nm)
    return nm, nm * frame.px_nm


def forget_side_sizes() -> None:
    """Measure texts anew: the system's text size may be another."""
    _metrics.cache_clear()


# ---- how it is done


def _cross_lines(view: SideView, frame: SideFrame, room: Room) -> None:
    for line in (*view.profile, *view.guessed):
        room.cross(np.array([(frame.x(nm), frame.y(feet)) for nm, feet in line]))
    for step in view.levels:
        room.cross(np.array([(frame.x(step.begins), frame.y(step.feet)), (frame.x(step.ends), frame.y(step.feet))]))


def _bars(view: SideView, frame: SideFrame) -> Floats:
    half, serif = HALF_BRACKET * scale(), SERIF * scale()
    found = [
        (frame.x(b.nm) - half, frame.y(feet) - serif, frame.x(b.nm) + half, frame.y(feet) + serif)
        for b in view.brackets
        if frame.sees(b.nm)
        for feet in (b.low_ft, b.high_ft)
        if feet is not None
    ]
    return np.array(found).reshape(-1, 4)


def _marks(marks: Sequence[SideMark], frame: SideFrame, room: Room, picked: frozenset[int]) -> dict[int, Rect]:
    """In a row along the upper rim, each over its place or a little aside; Notes only where there is room."""
    order = list(Weight)
    seen = [mark for mark in marks if frame.sees(mark.nm)]
    seen.sort(key=lambda mark: (mark.index not in picked, order.index(mark.weight), mark.index))
    side = mark_size() * 1.25
    aside = np.array([(step, row) for row in (0, 1) for step in _MARK_STEPS]) * (side + 2)
    lefts = np.array([frame.x(mark.nm) - side / 2 for mark in seen]).reshape(-1, 1)
    corner = np.dstack(np.broadcast_arrays(lefts + aside[:, 0], 3.0 + aside[:, 1]))
    rects = np.concatenate((corner, corner + side), axis=2)
    found: dict[int, Rect] = {}
    for mark, place, there in zip(seen, room.place(rects, must=True), rects, strict=True):
        if place >= 0 or mark.weight is not Weight.NOTE:
            found[mark.index] = _rect(there[max(place, 0)])
    return found


def _wanted(view: SideView, frame: SideFrame) -> Iterator[Bracket]:
    """The brackets in view whose value is to be written: one of several that say the same at a point."""
    told = set()
    for bracket in view.brackets:
        if frame.sees(bracket.nm) and (bracket.point, bracket.label) not in told:
            told.add((bracket.point, bracket.label))
            yield bracket


def _values(view: SideView, frame: SideFrame, room: Room, picked: frozenset[int]) -> Iterator[SideText]:
    ranked = sorted(
        enumerate(_wanted(view, frame), start=1),
        key=lambda pair: (
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
    places = room.place(_inside(near, frame), must=False)
    written = [
        spot.text(_rect(rects[place])) for spot, rects, place in zip(spots, near, places, strict=True) if place >= 0
    ]
    left = [spot for spot, place in zip(spots, places, strict=True) if place < 0]
    yield from written
    yield from _at_leaders(left[:_MOST_LEADERS], written, frame, room)


def _at_leaders(
    spots: Sequence[_Spot], written: Sequence[SideText], frame: SideFrame, room: Room
) -> Iterator[SideText]:
    """What has no room at its bracket stands a little away, at the end of a thin line that crosses nothing."""
    diagonals = [line for text in written for line in _diagonals(text.rect)]
    for spot in spots:
        rects = _inside(np.array([spot.far()]), frame)
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
    top: float
    bottom: float
    wide: float
    high: float

    @classmethod
    def of(cls, bracket: Bracket, kind: SideKind, frame: SideFrame) -> _Spot:
        ys = [frame.y(feet) for feet in (bracket.high_ft, bracket.low_ft) if feet is not None]
        size = text_width(bracket.label, kind), line_height(kind)
        return cls(bracket, kind, frame.x(bracket.nm), min(ys), max(ys), *size)

    def text(self, rect: Rect) -> SideText:
        return SideText(rect, self.bracket.label, self.kind, self.bracket.point, self.bracket.weight)

    def near(self) -> list[Rect]:
        """Above, below and on both sides of the bracket."""
        away, aside = SERIF * scale() + 1, HALF_BRACKET * scale() + _CLOSE
        left, middle = self.x - self.wide / 2, (self.top + self.bottom - self.high) / 2
        above, below = (left, self.top - away - self.high), (left, self.bottom + away)
        first = [below, above] if self.bracket.high_ft is None else [above, below]
        return [self._rect(*spot) for spot in (*first, (self.x + aside, middle), (self.x - aside - self.wide, middle))]

    def far(self) -> list[Rect]:
        """Away from the bracket in the four ways, nearest first."""
        ys = [(self.top - (row + 1) * (self.high + 1), self.bottom + row * (self.high + 1)) for row in _ROWS]
        xs = [(self.x + away, self.x - away - self.wide) for away in _AWAY_PX]
        rects = [self._rect(x, y) for two in ys for y in two for both in xs for x in both]
        return sorted(rects, key=self._away)

    def leader(self, rect: Rect) -> Rect:
        """The line from a value to its bracket."""
        left, above, right, below = rect
        y = (above + below) / 2
        end = left - 2 if left > self.x else right + 2 if right < self.x else min(max(self.x, left), right)
        return end, y, self.x, self.top if y < self.top else self.bottom

    def _rect(self, x: float, y: float) -> Rect:
        return x, y, x + self.wide, y + self.high

    def _away(self, rect: Rect) -> float:
        return math.hypot((rect[0] + rect[2]) / 2 - self.x, 1.5 * ((rect[1] + rect[3]) / 2 - self.top))


def _inside(rects: Floats, frame: SideFrame) -> Floats:
    """The same, what lies over a rim of the drawing put where it cannot be."""
    rects[(rects[..., 0] < frame.left) | (rects[..., 1] < 2.0) | (rects[..., 3] > frame.bottom)] = _NOWHERE
    return rects


def _diagonals(rect: Rect) -> tuple[Rect, Rect]:
    left, top, right, bottom = rect
    return (left, top, right, bottom), (left, bottom, right, top)


def _crossing(lines: Floats, others: Floats) -> NDArray[np.bool_]:
    """Which of some lines, shape (n, 4), from (x, y) to (x, y), cross any of the others."""
    one, other = lines[:, None], others[None]

    def side(line: Floats, x: Floats, y: Floats) -> Floats:
        return np.asarray(
            (line[..., 2] - line[..., 0]) * (y - line[..., 1]) - (line[..., 3] - line[..., 1]) * (x - line[..., 0])
        )

    parted = side(one, other[..., 0], other[..., 1]) * side(one, other[..., 2], other[..., 3]) > 0
    parted |= side(other, one[..., 0], one[..., 1]) * side(other, one[..., 2], one[..., 3]) > 0
    return np.asarray((~parted).any(axis=1))


def _names(view: SideView, frame: SideFrame, room: Room, picked: frozenset[int]) -> Iterator[SideText]:
    """Under the drawing, in lines: picked ones, the ends, points with windows, then the others well spread."""
    with_window = {bracket.point for bracket in view.brackets}
    last = len(view.points) - 1

    def rank(point: SidePoint) -> tuple[object, ...]:
        i = point.index
        return (i not in picked, i not in (0, last), i not in with_window, point.minor, -(i & -i), i)

    seen = sorted((p for p in view.points if frame.sees(p.nm)), key=rank)
    if not seen:
        return
    kinds = [_name_kind(point, picked) for point in seen]
    xs = np.array([frame.x(point.nm) for point in seen])
    wide = np.array([text_width(p.name, kind) + 4 for p, kind in zip(seen, kinds, strict=True)])
    lefts = np.minimum(np.maximum(xs - wide / 2, 2.0), room.width - wide - 2)
    high = line_height()
    tops = frame.bottom + 4 + np.arange(name_rows(room.height)) * high
    rects = np.dstack(np.broadcast_arrays(lefts[:, None], tops[None], (lefts + wide)[:, None], (tops + high - 1)[None]))
    for point, kind, place, there in zip(seen, kinds, room.place(rects, must=True), rects, strict=True):
        if place >= 0:
            rect, x = _rect(there[place]), frame.x(point.nm)
            yield SideText(rect, point.name, kind, point.index, None, (x, frame.bottom, x, rect[1]))


def _name_kind(point: SidePoint, picked: frozenset[int]) -> SideKind:
    if point.index in picked:
        return SideKind.PICKED
    return SideKind.MINOR if point.minor else SideKind.NAME


def _gap_texts(view: SideView, frame: SideFrame, room: Room) -> Iterator[SideText]:
    high = line_height(SideKind.GAP)
    for gap in view.gaps:
        begins, ends = (min(max(frame.x(nm), frame.left), frame.right) for nm in (gap.begins, gap.ends))
        for text in (gap.label, "gap"):
            wide = text_width(text, SideKind.GAP)
            if ends - begins < wide + 6:
                continue
            left = (begins + ends - wide) / 2
            tops = [frame.bottom - (row + 1) * (high + 2) - 8 for row in range(3)]
            rects = np.array([(left, top, left + wide, top + high) for top in tops])
            if (place := int(room.place(rects[None], must=True)[0])) >= 0:
                yield SideText(_rect(rects[place]), text, SideKind.GAP)
                break


def _step_texts(view: SideView, frame: SideFrame, room: Room) -> Iterator[SideText]:
    """At filed levels and minima, on the line, where it is long enough."""
    for steps, kind in ((view.levels, SideKind.LEVEL), (view.minima, SideKind.MINIMUM)):
        high, texts, candidates = line_height(kind), [], []
        for step in steps:
            begins, ends = max(frame.x(step.begins), frame.left), min(frame.x(step.ends), frame.right)
            if ends - begins < _SHORTEST_STEP * scale() or ends - begins < text_width(step.label, kind) + 12:
                continue
            wide, y = text_width(step.label, kind), frame.y(step.feet)
            lefts = [begins + share * (ends - begins - wide) for share in (0.5, 0.1, 0.9, 0.3, 0.7)]
            candidates.append([(x, top, x + wide, top + high) for top in (y - high - 1, y + 2) for x in lefts])
            texts.append(step.label)
        rects = np.array(candidates).reshape(-1, 10, 4)
        for text, place, there in zip(texts, room.place(rects, must=False), rects, strict=True):
            if place >= 0:
                yield SideText(_rect(there[place]), text, kind)


def _ground_texts(view: SideView, frame: SideFrame, room: Room) -> Iterator[SideText]:
    for ground in view.grounds:
        if not frame.sees(ground.nm):
            continue
        text = f"elevation {ground.elevation_ft:,.0f} ft"
        wide, high = text_width(text, SideKind.GROUND), line_height(SideKind.GROUND)
        x, y = frame.x(ground.nm), frame.y(ground.elevation_ft)
        spots = [(left, top) for top in (y - high - 3, y - 2 * high - 4) for left in (x + 8, x - 8 - wide)]
        rects = np.array([(a, b, a + wide, b + high) for a, b in spots])
        if (place := int(room.place(rects[None], must=False)[0])) >= 0:
            yield SideText(_rect(rects[place]), text, SideKind.GROUND, ground.point)


def _rect(row: Floats) -> Rect:
    left, top, right, bottom = row.tolist()
    return left, top, right, bottom


@lru_cache(maxsize=len(SideKind))
def _metrics(kind: SideKind) -> QFontMetricsF:
    return QFontMetricsF(kind.font)


def heights_label(feet: float) -> str:
    """A height at the left rim."""
    return wording.height(feet)


def widest_label(levels: Sequence[float]) -> float:
    """How wide the heights at the left rim are."""
    return max((text_width(heights_label(feet), SideKind.MINIMUM) for feet in levels), default=0.0)
