"""What is written in the Side view and where: marks, values of windows, names, minima. None covers another."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
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
_ROWS = 7
"""A value that has no room at its bracket may stand so many lines away from it, at the end of a thin line."""
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
    found: dict[int, Rect] = {}
    for mark in seen:
        spots = [
            (frame.x(mark.nm) + step * (side + 2) - side / 2, 3.0 + row * (side + 2))
            for row in (0, 1)
            for step in _MARK_STEPS
        ]
        rects = np.array([(x, y, x + side, y + side) for x, y in spots])
        place = int(room.place(rects[None], must=True)[0])
        if place >= 0 or mark.weight is not Weight.NOTE:
            found[mark.index] = _rect(rects[max(place, 0)])
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
    written: list[SideText] = []
    for near in (True, False):
        left: list[tuple[int, Bracket]] = []
        for number, bracket in ranked:
            kind = SideKind.PICKED_VALUE if bracket.point in picked else SideKind.VALUE
            text = _value(bracket, kind, frame, room, None if near else written)
            if text is None:
                left.append((number, bracket))
            else:
                written.append(text)
        ranked = left
    yield from written


def _value(
    bracket: Bracket, kind: SideKind, frame: SideFrame, room: Room, written: Sequence[SideText] | None
) -> SideText | None:
    """A value at its bracket; else, `written` being those that stand, a little away at the end of a thin line."""
    x = frame.x(bracket.nm)
    ys = [frame.y(feet) for feet in (bracket.high_ft, bracket.low_ft) if feet is not None]
    top, bottom = min(ys), max(ys)
    wide, high = text_width(bracket.label, kind), line_height(kind)
    near = written is None
    spots = _near_spots(bracket, x, top, bottom, wide, high) if near else _far_spots(x, top, bottom, wide, high)
    found = [(a, b, a + wide, b + high) for a, b in spots if frame.left <= a and b >= 2 and b + high <= frame.bottom]
    if written is not None:
        found = [rect for rect in found if not _crosses(_leader(rect, x, top, bottom), written)]
    place = int(room.place(np.array([found]), must=False)[0]) if found else -1
    if place < 0:
        return None
    leader = None if near else _leader(found[place], x, top, bottom)
    if leader is not None:
        room.cross(np.array([leader[:2], leader[2:]]))
    return SideText(found[place], bracket.label, kind, bracket.point, bracket.weight, leader)


def _crosses(leader: Rect, written: Sequence[SideText]) -> bool:
    """Whether a thin line would run through what is written, or cross another one."""
    for text in written:
        left, top, right, bottom = text.rect
        if any(_meet(leader, line) for line in ((left, top, right, bottom), (left, bottom, right, top))):
            return True
        if text.leader is not None and _meet(leader, text.leader):
            return True
    return False


def _meet(one: Rect, other: Rect) -> bool:
    """Whether two lines, each from (x, y) to (x, y), cross."""

    def side(line: Rect, x: float, y: float) -> float:
        return (line[2] - line[0]) * (y - line[1]) - (line[3] - line[1]) * (x - line[0])

    apart = side(one, *other[:2]) * side(one, *other[2:]) > 0 or side(other, *one[:2]) * side(other, *one[2:]) > 0
    return not apart


def _near_spots(
    bracket: Bracket, x: float, top: float, bottom: float, wide: float, high: float
) -> list[tuple[float, float]]:
    away = SERIF * scale() + 1
    aside = HALF_BRACKET * scale() + _CLOSE
    above, below = (x - wide / 2, top - away - high), (x - wide / 2, bottom + away)
    middle = (top + bottom - high) / 2
    first = [below, above] if bracket.high_ft is None else [above, below]
    return [*first, (x + aside, middle), (x - aside - wide, middle)]


def _far_spots(x: float, top: float, bottom: float, wide: float, high: float) -> list[tuple[float, float]]:
    """Away from the bracket in the four ways, nearest first."""
    spots = [
        ((x + away) if right else (x - away - wide), top - (row + 1) * (high + 1) if up else bottom + row * (high + 1))
        for right, up in ((True, True), (False, False), (False, True), (True, False))
        for row in range(1, _ROWS + 1)
        for away in _AWAY_PX
    ]
    return sorted(spots, key=lambda spot: math.hypot(spot[0] + wide / 2 - x, 1.5 * (spot[1] + high / 2 - top)))


def _leader(rect: Rect, x: float, top: float, bottom: float) -> Rect:
    left, above, right, below = rect
    y = (above + below) / 2
    end = left - 2 if left > x else right + 2 if right < x else min(max(x, left), right)
    return end, y, x, top if y < top else bottom


def _names(view: SideView, frame: SideFrame, room: Room, picked: frozenset[int]) -> Iterator[SideText]:
    """Under the drawing, in lines: picked ones, the ends, points with windows, then the others well spread."""
    with_window = {bracket.point for bracket in view.brackets}
    last = len(view.points) - 1

    def rank(point: SidePoint) -> tuple[object, ...]:
        i = point.index
        return (i not in picked, i not in (0, last), i not in with_window, point.minor, -(i & -i), i)

    rows, high = name_rows(room.height), line_height()
    for point in sorted((p for p in view.points if frame.sees(p.nm)), key=rank):
        kind = SideKind.PICKED if point.index in picked else SideKind.MINOR if point.minor else SideKind.NAME
        wide, x = text_width(point.name, kind) + 4, frame.x(point.nm)
        left = min(max(x - wide / 2, 2.0), room.width - wide - 2)
        rects = np.array(
            [
                (left, frame.bottom + 4 + row * high, left + wide, frame.bottom + 4 + (row + 1) * high - 1)
                for row in range(rows)
            ]
        )
        place = int(room.place(rects[None], must=True)[0])
        if place >= 0:
            rect = _rect(rects[place])
            yield SideText(rect, point.name, kind, point.index, None, (x, frame.bottom, x, rect[1]))


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
        high = line_height(kind)
        for step in steps:
            begins, ends = (min(max(frame.x(nm), frame.left), frame.right) for nm in (step.begins, step.ends))
            text = step.label
            wide = text_width(text, kind)
            if ends - begins < wide + 12:
                continue
            y = frame.y(step.feet)
            lefts = [begins + share * (ends - begins - wide) for share in (0.5, 0.1, 0.9, 0.3, 0.7)]
            spots = [(left, y - high - 1) for left in lefts] + [(left, y + 2) for left in lefts]
            rects = np.array([(x, top, x + wide, top + high) for x, top in spots])
            if (place := int(room.place(rects[None], must=False)[0])) >= 0:
                yield SideText(_rect(rects[place]), text, kind)


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
