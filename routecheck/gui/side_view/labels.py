"""What is written in the Side view and where: marks, values of windows, names, minima. None covers another."""

from __future__ import annotations

from dataclasses import field
from typing import TYPE_CHECKING

import numpy as np

from routecheck import formatting
from routecheck.frozen_dataclass import dataclass
from routecheck.gui.picture.label_placement import Room
from routecheck.gui.side_view.text import HALF_BRACKET, SERIF, SideKind, SideText, line_height, text_width
from routecheck.gui.side_view.window_labels import brackets_to_label, place_values
from routecheck.gui.theme import text_scale
from routecheck.gui.widgets.finding_badges import badge_size
from routecheck.model import Weight
from routecheck.presentation.graticule import scale_bar_nm

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.arrays import Floats
    from routecheck.gui.side_view.frame import SideFrame
    from routecheck.presentation.selection import Selection
    from routecheck.presentation.side_view import SideMark, SidePoint, SideView

    Rect = tuple[float, float, float, float]

BAR_TEXT = 56.0
"""So much the words beside the scale bar take."""
_SHORTEST_STEP = 50.0
_MARK_STEPS = (0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6)


@dataclass(frozen=True, slots=True)
class SideLayout:
    """What found room, `marks` by the index of their finding; and how many values of windows and marks have none."""

    texts: tuple[SideText, ...] = ()
    marks: dict[int, Rect] = field(default_factory=dict)
    values_left_out: int = 0
    marks_left_out: int = 0


def name_rows(height: float) -> int:
    """How many lines of names stand under a drawing in a pane of that height."""
    if height < 130 * text_scale():
        return 1
    return 2 if height < 300 * text_scale() else 3


def lay_out(view: SideView, frame: SideFrame, size: tuple[float, float], pick: Selection | None) -> SideLayout:
    """Give everything its room, the more important first."""
    room = Room(*size)
    picked = frozenset(pick.points) if pick else frozenset()
    _cross_lines(view, frame, room)
    room.take(_bars(view, frame))
    bar = (0.0, 0.0, frame.left + scale_bar(frame)[1] + BAR_TEXT * text_scale(), 14.0 * text_scale())
    altitudes = (0.0, frame.top - line_height() / 2, frame.left - 2.0, frame.bottom)
    room.take(np.array([bar, altitudes]))
    marks = _place_marks(view.marks, frame, room, frozenset(pick.findings) if pick else frozenset())
    written = list(place_values(view, frame, room, picked))
    values, in_view = sum(1 for _ in brackets_to_label(view, frame)), sum(frame.sees(mark.nm) for mark in view.marks)
    texts = [
        *written,
        *_place_names(view, frame, room, picked),
        *_place_gap_texts(view, frame, room),
        *_place_step_texts(view, frame, room),
        *_place_ground_texts(view, frame, room),
    ]
    return SideLayout(tuple(texts), marks, values - len(written), in_view - len(marks))


def scale_bar(frame: SideFrame) -> tuple[int, float]:
    """The scale bar: a round distance in NM and how long it is drawn."""
    nm = scale_bar_nm((frame.right - frame.left) / frame.px_nm)
    return nm, nm * frame.px_nm


# ---- how it is done


def _cross_lines(view: SideView, frame: SideFrame, room: Room) -> None:
    for line in (*view.profile, *view.guessed):
        room.cross(np.array([(frame.x(nm), frame.y(feet)) for nm, feet in line]))
    for step in view.levels:
        room.cross(np.array([(frame.x(step.begins), frame.y(step.feet)), (frame.x(step.ends), frame.y(step.feet))]))


def _bars(view: SideView, frame: SideFrame) -> Floats:
    half, serif = HALF_BRACKET * text_scale(), SERIF * text_scale()
    found = [
        (frame.x(b.nm) - half, frame.y(feet) - serif, frame.x(b.nm) + half, frame.y(feet) + serif)
        for b in view.brackets
        if frame.sees(b.nm)
        for feet in (b.low_ft, b.high_ft)
        if feet is not None
    ]
    return np.array(found).reshape(-1, 4)


def _place_marks(marks: Sequence[SideMark], frame: SideFrame, room: Room, picked: frozenset[int]) -> dict[int, Rect]:
    """In two rows along the upper rim, each over its place or a little aside; picked and heavy ones first."""
    order = list(Weight)
    seen = [mark for mark in marks if frame.sees(mark.nm)]
    seen.sort(key=lambda mark: (mark.index not in picked, order.index(mark.weight), mark.index))
    side = badge_size() * 1.25
    aside = np.array([(step, row) for row in (0, 1) for step in _MARK_STEPS]) * (side + 2)
    lefts = np.array([frame.x(mark.nm) - side / 2 for mark in seen]).reshape(-1, 1)
    corner = np.dstack(np.broadcast_arrays(lefts + aside[:, 0], 3.0 + aside[:, 1]))
    rects = np.concatenate((corner, corner + side), axis=2)
    places = zip(seen, room.place(rects, must=True), rects, strict=True)
    return {mark.index: _rect(there[place]) for mark, place, there in places if place >= 0}


def _place_names(view: SideView, frame: SideFrame, room: Room, picked: frozenset[int]) -> Iterator[SideText]:
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
            yield SideText(
                rect, point.name, kind=kind, point=point.index, weight=None, leader=(x, frame.bottom, x, rect[1])
            )


def _name_kind(point: SidePoint, picked: frozenset[int]) -> SideKind:
    if point.index in picked:
        return SideKind.PICKED
    return SideKind.MINOR if point.minor else SideKind.NAME


def _place_gap_texts(view: SideView, frame: SideFrame, room: Room) -> Iterator[SideText]:
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
                yield SideText(_rect(rects[place]), text, kind=SideKind.GAP)
                break


def _place_step_texts(view: SideView, frame: SideFrame, room: Room) -> Iterator[SideText]:
    """At filed levels and minima, on the line, where it is long enough."""
    for steps, kind in ((view.levels, SideKind.LEVEL), (view.minima, SideKind.MINIMUM)):
        high, texts, candidates = line_height(kind), [], []
        for step in steps:
            begins, ends = max(frame.x(step.begins), frame.left), min(frame.x(step.ends), frame.right)
            if ends - begins < _SHORTEST_STEP * text_scale() or ends - begins < text_width(step.label, kind) + 12:
                continue
            wide, y = text_width(step.label, kind), frame.y(step.feet)
            lefts = [begins + share * (ends - begins - wide) for share in (0.5, 0.1, 0.9, 0.3, 0.7)]
            candidates.append([(x, top, x + wide, top + high) for top in (y - high - 1, y + 2) for x in lefts])
            texts.append(step.label)
        rects = np.array(candidates).reshape(-1, 10, 4)
        for text, place, there in zip(texts, room.place(rects, must=False), rects, strict=True):
            if place >= 0:
                yield SideText(_rect(there[place]), text, kind=kind)


def _place_ground_texts(view: SideView, frame: SideFrame, room: Room) -> Iterator[SideText]:
    for ground in view.grounds:
        if not frame.sees(ground.nm):
            continue
        text = f"elevation {ground.elevation_ft:,.0f} ft"
        wide, high = text_width(text, SideKind.GROUND), line_height(SideKind.GROUND)
        x, y = frame.x(ground.nm), frame.y(ground.elevation_ft)
        spots = [(left, top) for top in (y - high - 3, y - 2 * high - 4) for left in (x + 8, x - 8 - wide)]
        rects = np.array([(a, b, a + wide, b + high) for a, b in spots])
        if (place := int(room.place(rects[None], must=False)[0])) >= 0:
            yield SideText(_rect(rects[place]), text, kind=SideKind.GROUND, point=ground.point)


def _rect(row: Floats) -> Rect:
    left, top, right, bottom = row.tolist()
    return left, top, right, bottom


def altitude_label(feet: float, view: SideView) -> str:
    """An altitude at the left rim: a level where levels are flown all along the route."""
    return formatting.altitude(feet, view.all_levels_from_ft)


def widest_label(levels: Sequence[float], view: SideView) -> float:
    """How wide the altitudes at the left rim are."""
    return max((text_width(altitude_label(feet, view), SideKind.MINIMUM) for feet in levels), default=0.0)
