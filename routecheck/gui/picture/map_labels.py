"""What stands where over the Picture: marks, names, figures, each with room of its own, in pixels. Paints nothing."""

from __future__ import annotations

from dataclasses import KW_ONLY, field, replace
from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING, Protocol

import numpy as np
from PySide6.QtGui import QFont, QFontMetricsF

from routecheck import formatting
from routecheck.frozen_dataclass import dataclass
from routecheck.gui.picture.label_placement import (
    Room,
    candidates_along,
    candidates_around,
    candidates_beside,
    keep_apart,
)
from routecheck.gui.theme import text_font, text_scale
from routecheck.gui.widgets.finding_badges import badge_size
from routecheck.model import Weight
from routecheck.presentation.graticule import scale_bar_nm
from routecheck.presentation.projected_lines import join_curves, middle_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.arrays import Flags, Floats, Indices
    from routecheck.gui.picture.frame import Frame
    from routecheck.presentation.drawn_map import DrawnLeg, Picture
    from routecheck.presentation.graticule import Graticule
    from routecheck.presentation.nearby_fixes import NearbyFixes
    from routecheck.presentation.selection import Selection
    from routecheck.presentation.trial import TrialLine

    Rect = tuple[float, float, float, float]

SYMBOL = 6.5
"""Half the size of a symbol."""
_BESIDE = 10.0
_LEG_FIGURES_SHARE = 1.25
_LEAST_GAP_PX = 60.0
_BETWEEN_EDGE_NAMES = 6.0
BAR_LEFT, BAR_FOOT = 18.0, 14.0
"""How far the scale bar stands off the corner of the rectangle that it takes."""
NORTH_WIDTH = 84.0
"""What the arrow to the north takes beside it."""
_BAR = (150.0, 44.0)
"""What the scale bar takes at least in a corner of the view."""
MOST_LOADED_NAMES = 90
_MANY_MARKS = 12
"""From so many marks in view on some may have no room."""
_LEFT_OUT = "Left out for lack of room: {}. Zoom in to see more."
_EDGE = 8.0
_CLOSE_PX_NM = 2.0
"""From so many pixels a NM on altitudes and speeds are written."""


class Kind(StrEnum):
    """What a text is, and by that its font."""

    NAME = "name"
    PICKED = "picked name"
    MINOR = "minor name"
    OTHER = "what was not chosen"
    TRIED = "what a tried correction, or the other version, would be"
    GAP = "gap"
    FIGURES = "figures"
    LOADED = "loaded data"
    LIMITS = "altitudes and speed allowed"
    EDGE = "graticule"
    LEFT_OUT = "how many marks have no room"

    @property
    def font(self) -> QFont:
        """The font of such a text."""
        return text_font(_SMALLER[self], bold=self in (Kind.PICKED, Kind.TRIED, Kind.LEFT_OUT))


_SMALLER = {
    Kind.NAME: -0.5,
    Kind.PICKED: -0.5,
    Kind.MINOR: -0.5,
    Kind.OTHER: -1.0,
    Kind.TRIED: 0.0,
    Kind.GAP: -1.5,
    Kind.FIGURES: -1.5,
    Kind.LOADED: -2.0,
    Kind.LIMITS: -1.5,
    Kind.EDGE: -2.0,
    Kind.LEFT_OUT: -1.0,
}
"""Points more than the usual text."""


@dataclass(frozen=True, slots=True)
class Text:
    """A text and the rectangle it stands in."""

    rect: Rect
    text: str
    kind: Kind


@dataclass(frozen=True, slots=True)
class Shown:
    """All that wants to be written over the map."""

    picture: Picture
    pick: Selection | None = None
    graticule: Graticule | None = None
    nearby: NearbyFixes | None = None
    tried: TrialLine | None = None


class _Placed(Protocol):
    """What has a place in the plane."""

    @property
    def x(self) -> float:
        """East, NM."""

    @property
    def y(self) -> float:
        """North, NM."""


@dataclass(frozen=True, slots=True)
class Layout:
    """What found room in a frame. `marks` by the index of their finding; `edges` stay at the edges of the view.

    `points` are those of the picture, by their place in it, whose symbols do not cover one another at this scale.
    """

    frame: Frame
    _: KW_ONLY
    marks: dict[int, Rect] = field(default_factory=dict)
    texts: tuple[Text, ...] = ()
    edges: tuple[Text, ...] = ()
    bar: Rect = (0.0, 0.0, 0.0, 0.0)
    """Where the scale bar stands: in a corner without anything of the route, if there is one."""
    points: tuple[int, ...] = ()

    def moved_to(self, frame: Frame, graticule: Graticule | None) -> Layout:
        """The same in a frame that looks elsewhere at the same scale; the graticule is named at the edges anew."""
        by = np.tile((frame.x - self.frame.x, frame.y - self.frame.y), 2)
        texts = tuple(replace(text, rect=_rect(text.rect + by)) for text in self.texts)
        marks = {index: _rect(rect + by) for index, rect in self.marks.items()}
        room = Room(frame.width, frame.height)
        room.take(np.array([self.bar, *(text.rect for text in texts), *marks.values()]).reshape(-1, 4))
        edges = tuple(_place_edge_names(graticule, frame, room))
        return replace(self, frame=frame, marks=marks, texts=texts, edges=edges)


def lay_out(shown: Shown, frame: Frame) -> Layout:
    """Give marks, names and figures their room, the more important first: none covers another."""
    picture = shown.picture
    room = Room(frame.width, frame.height)
    room.cross(frame.pixels(join_curves([*(leg.curve for leg in picture.legs), picture.direct])))
    spots, half = frame.pixels(_spots(picture.points)), SYMBOL * text_scale()
    points = keep_apart(spots, _rank_points(shown), 2 * half)
    symbols = spots[points][_in_view(spots[points], room)]
    room.take(np.hstack((symbols - half, symbols + half)))
    if shown.nearby is not None:
        room.soften(frame.pixels(shown.nearby.places), half)
    bar = _place_bar(frame, room, with_north=not picture.projection.is_north_up)
    if shown.tried is not None:
        room.cross(frame.pixels(join_curves(list(shown.tried.curves))))
    marks, sentence = _place_marks(shown, frame, room)
    texts = [
        *sentence,
        *_place_tried(shown, frame, room),
        *_place_names(shown, points, spots, room),
        *_place_others(shown, frame, room),
        *_place_limits(picture, spots, frame, room),
        *_place_gaps(picture.legs, frame, room),
        *_place_figures(picture.legs, frame, room),
    ]
    edges = tuple(_place_edge_names(shown.graticule, frame, room))
    texts += _place_loaded(shown, frame, room)
    return Layout(frame, marks=marks, texts=tuple(texts), edges=edges, bar=bar, points=tuple(points))


def _rank_points(shown: Shown) -> list[int]:
    """The points of a picture, the more important first: picked ones, both ends, those that the text names.

    Of a long route every second, fourth … point goes before those between: where not all have room they stay spread.
    """
    points, picked = shown.picture.points, set(shown.pick.points) if shown.pick else set()
    last = len(points) - 1
    rank = [(p.index not in picked, i not in (0, last), p.minor, -(i & -i), i) for i, p in enumerate(points)]
    return [i for *_, i in sorted(rank)]


def _place_bar(frame: Frame, room: Room, *, with_north: bool) -> Rect:
    """A corner for the scale bar, with the arrow to the north where that is not up.

    Lower left, unless the route runs there and not through another.
    """
    bar = scale_bar_nm(frame.width / frame.scale) * frame.scale
    width, height = max(_BAR[0] * text_scale(), bar + 2 * BAR_LEFT), _BAR[1] * text_scale()
    width += NORTH_WIDTH * text_scale() if with_north else 0.0
    right, low = frame.width - width, frame.height - height
    corners = [
        (left, top, left + width, top + height) for left, top in ((0.0, low), (right, low), (right, 0.0), (0.0, 0.0))
    ]
    chosen = int(room.place(np.array([corners]), must=True)[0])
    return corners[max(chosen, 0)]


def _place_marks(shown: Shown, frame: Frame, room: Room) -> tuple[dict[int, Rect], list[Text]]:
    """The marks in view that have room, picked ones and heavy ones first, and a sentence on those that have none."""
    spots = frame.pixels(_spots(shown.picture.marks))
    picked, weights = set(shown.pick.findings) if shown.pick else set(), list(Weight)
    seen = [(shown.picture.marks[i], spots[i]) for i in _in_view(spots, room)]
    seen.sort(key=lambda one: (one[0].index not in picked, weights.index(one[0].weight), one[0].index))
    sentence_rect = _place_sentence(room) if len(seen) > _MANY_MARKS else None
    places = np.array([spot for _, spot in seen]).reshape(-1, 2)
    candidates = candidates_around(places, badge_size() + 4, SYMBOL * text_scale() + badge_size() / 2 + 4)
    chosen = room.place(candidates, must=True)
    marks = {mark.index: _rect(candidates[i, chosen[i]]) for i, (mark, _) in enumerate(seen) if chosen[i] >= 0}
    left_out = len(seen) - len(marks)
    if sentence_rect is None or not left_out:
        return marks, []
    return marks, [Text(sentence_rect, _LEFT_OUT.format(formatting.count(left_out, "mark")), Kind.LEFT_OUT)]


def _place_sentence(room: Room) -> Rect:
    """Room at an edge of the view for a sentence on what is left out; on lines and symbols if need be."""
    size = np.array(_size(_LEFT_OUT.format("000 marks"), Kind.LEFT_OUT))
    right, low = (room.width, room.height) - size - _EDGE
    corners = np.array([(x, y) for y in (low, 2.5 * size[1], low - 1.5 * size[1]) for x in (right, right / 2, _EDGE)])
    rects = np.hstack((corners, corners + size))
    place = room.place(rects[None], must=True)[0]
    if place < 0:
        room.take(rects[:1])
    return _rect(rects[max(place, 0)])


def _place_names(shown: Shown, points: Sequence[int], spots: Floats, room: Room) -> Iterator[Text]:
    """The names of those points whose symbols are drawn, one where the route goes by a point again."""
    picture, picked = shown.picture, set(shown.pick.points) if shown.pick else set()
    seen = set(_in_view(spots, room).tolist())
    order = [i for i in points if i in seen]
    named = [picture.points[i] for i in order]
    plain = [Kind.MINOR if point.minor else Kind.NAME for point in named]
    kinds = [Kind.PICKED if point.index in picked else kind for point, kind in zip(named, plain, strict=True)]
    must = np.array([not p.minor for p in named], dtype=bool)
    yield from _place_beside([p.name for p in named], kinds, spots[order], room, must=must)


def _place_tried(shown: Shown, frame: Frame, room: Room) -> Iterator[Text]:
    """What the dotted line is: without it somebody might take it for the route."""
    if shown.tried is not None:
        spots = frame.pixels(np.array([(shown.tried.x, shown.tried.y)]))
        yield from _place_beside([shown.tried.label], [Kind.TRIED], spots, room, must=True)


def _place_others(shown: Shown, frame: Frame, room: Room) -> Iterator[Text]:
    """The names of what was not chosen, where the point is picked."""
    picked = set(shown.pick.points) if shown.pick else set()
    others = [other for other in shown.picture.others if other.point in picked]
    names = [other.name for other in others]
    yield from _place_beside(names, [Kind.OTHER] * len(others), frame.pixels(_spots(others)), room, must=True)


def _place_limits(picture: Picture, spots: Floats, frame: Frame, room: Room) -> Iterator[Text]:
    """Altitudes and speeds allowed at points, close in: there the names have found their place already."""
    if frame.scale < _CLOSE_PX_NM:
        return
    seen = [i for i in _in_view(spots, room) if picture.points[i].limits]
    texts = [picture.points[i].limits for i in seen]
    yield from _place_beside(texts, [Kind.LIMITS] * len(texts), spots[seen], room, must=False)


def _place_gaps(legs: Sequence[DrawnLeg], frame: Frame, room: Room) -> Iterator[Text]:
    """At each open end whose gap it is, where there is room between the two."""
    ends = [end for leg in legs for end in leg.ends]
    spots = frame.pixels(_spots(ends))
    length = np.hypot(*(spots[1::2] - spots[::2]).T).repeat(2)
    wide = np.flatnonzero(length >= _LEAST_GAP_PX)
    names = [ends[i].text for i in wide]
    yield from _place_beside(names, [Kind.GAP] * len(names), spots[wide], room, must=True)


def _place_figures(legs: Sequence[DrawnLeg], frame: Frame, room: Room) -> Iterator[Text]:
    """Along the legs that are long enough for them and have their middle in view."""
    with_figures = [leg for leg in legs if leg.figures]
    ends = np.array([(leg.curve[0], leg.curve[-1]) for leg in with_figures]).reshape(-1, 2, 2)
    reach = (ends[:, 1] - ends[:, 0]) * (frame.scale, -frame.scale)
    length = np.maximum(np.hypot(*reach.T), 1e-9)
    sizes = np.array([_size(leg.figures, Kind.FIGURES) for leg in with_figures]).reshape(-1, 2)
    long = np.flatnonzero(length > sizes[:, 0] * _LEG_FIGURES_SHARE)
    spots = frame.pixels(np.array([middle_of(with_figures[i].curve) for i in long]).reshape(-1, 2))
    seen = _in_view(spots, room)
    wanted = long[seen]
    candidates = candidates_along(spots[seen], reach[wanted] / length[wanted, None], sizes[wanted])
    chosen = [with_figures[i] for i in wanted]
    texts = [leg.figures for leg in chosen]
    says_why_dotted = np.array([leg.is_gap for leg in chosen], dtype=bool)
    yield from _place_texts(texts, [Kind.FIGURES] * len(texts), candidates, room, must=says_why_dotted)


def _place_edge_names(graticule: Graticule | None, frame: Frame, room: Room) -> Iterator[Text]:
    """Where the lines of the graticule meet the four edges, beside their line."""
    names = graticule.edge_names(frame.seen) if graticule else ()
    spots = frame.pixels(_spots(names))
    sizes = np.array([_size(name.text, Kind.EDGE) for name in names]).reshape(-1, 2)
    sizes[:, 0] += _BETWEEN_EDGE_NAMES
    lowest = np.array((room.width - 4.0, room.height - 5.0)) - sizes
    corner = np.maximum((4.0, 2.0), np.minimum(spots + np.array((3.0, -3.0)) - sizes * (0.0, 1.0), lowest))
    candidates = np.hstack((corner, corner + sizes))[:, None]
    yield from _place_texts([name.text for name in names], [Kind.EDGE] * len(names), candidates, room, must=False)


def _place_loaded(shown: Shown, frame: Frame, room: Room) -> Iterator[Text]:
    """Names of what the data has about the route: as many as have room, up to a number that keeps drawing quick."""
    nearby = shown.nearby
    if nearby is None:
        return
    picked = set(shown.pick.points) if shown.pick else set()
    named = {(o.lost.place.ident, round(o.x, 1), round(o.y, 1)) for o in shown.picture.others if o.point in picked}
    for names, places, most in (
        (nearby.names, nearby.places, MOST_LOADED_NAMES),
        (nearby.airways, nearby.airway_spots, MOST_LOADED_NAMES // 3),
    ):
        spots = frame.pixels(places)
        seen = [i for i in _in_view(spots, room) if (names[i], *places[i].round(1).tolist()) not in named][: 3 * most]
        chosen = [names[i] for i in seen]
        yield from _place_beside(chosen, [Kind.LOADED] * len(chosen), spots[seen], room, must=False, most=most)


def _place_beside(
    names: Sequence[str],
    kinds: Sequence[Kind],
    spots: Floats,
    room: Room,
    *,
    must: bool | Flags,
    most: int | None = None,
) -> Iterator[Text]:
    sizes = np.array([_size(name, kind) for name, kind in zip(names, kinds, strict=True)]).reshape(-1, 2)
    return _place_texts(
        names, kinds, candidates_beside(spots, sizes, _BESIDE * text_scale()), room, must=must, most=most
    )


def _place_texts(
    names: Sequence[str],
    kinds: Sequence[Kind],
    candidates: Floats,
    room: Room,
    *,
    must: bool | Flags,
    most: int | None = None,
) -> Iterator[Text]:
    for i, place in enumerate(room.place(candidates, must=must, most=most)):
        if place >= 0:
            yield Text(_rect(candidates[i, place]), names[i], kinds[i])


def _spots(things: Sequence[_Placed]) -> Floats:
    return np.array([(thing.x, thing.y) for thing in things]).reshape(-1, 2)


def _in_view(spots: Floats, room: Room) -> Indices:
    return np.flatnonzero(((spots >= 0) & (spots <= (room.width, room.height))).all(axis=1))


def _rect(row: Floats) -> Rect:
    left, top, right, bottom = row.tolist()
    return left, top, right, bottom


@lru_cache(maxsize=8192)
def _size(text: str, kind: Kind) -> tuple[float, float]:
    metrics = _metrics(kind)
    return metrics.horizontalAdvance(text), metrics.height() - 2


@lru_cache(maxsize=len(Kind))
def _metrics(kind: Kind) -> QFontMetricsF:
    return QFontMetricsF(kind.font)


def forget_text_sizes() -> None:
    """Measure texts anew: the system's text size may be another."""
    _size.cache_clear()
    _metrics.cache_clear()
