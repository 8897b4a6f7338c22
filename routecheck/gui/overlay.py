"""Names, marks, figures and the scale bar over the Picture: one item, painted in pixels. Where it all is comes from
present/picture; this finds room for it and knows what lies under the mouse."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPen

from routecheck.gui.labels import Room, Wanted, around, spots
from routecheck.gui.marks import mark_size, paint_mark
from routecheck.gui.theme import scale, words
from routecheck.model import Weight
from routecheck.present.graticule import joined, scale_bar_nm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray
    from PySide6.QtGui import QPainter
    from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

    from routecheck.gui.labels import Rect
    from routecheck.gui.theme import Theme
    from routecheck.present.graticule import Graticule
    from routecheck.present.picks import Pick
    from routecheck.present.picture import DrawnLeg, Picture

    Floats = NDArray[np.float64]

_SYMBOL = 6.5
_BESIDE = 10.0
_REACH_POINT = 11.0
_REACH_LEG = 6.0
_LEG_FIGURES_SHARE = 1.25
NOTHING_PLACED = "The Picture appears with the first point that can be placed."


class Overlay(pg.GraphicsObject):  # type: ignore[misc]
    """Everything on the Picture that keeps its size while the map is zoomed."""

    def __init__(self, box: pg.ViewBox, theme: Theme) -> None:
        super().__init__()
        self._box = box
        self.setParentItem(box)
        self.setZValue(1000)
        self.setAcceptedMouseButtons(Qt.MouseButton.NoButton)
        self._theme = theme
        self._picture: Picture | None = None
        self._pick: Pick | None = None
        self._graticule: Graticule | None = None
        self._stale = True
        self._marks: dict[int, Rect] = {}
        self._names: list[tuple[Rect, str, bool, bool]] = []
        self._figures: list[tuple[Rect, str]] = []
        self._edges: list[tuple[Rect, str]] = []
        self._laid_out = (0.0, 0.0, 1.0)
        self._shift = QPointF()

    def show_picture(self, picture: Picture) -> None:
        """Draw another picture."""
        self._picture = picture
        self.refresh()

    def show_pick(self, pick: Pick | None) -> None:
        """Draw attention to what is picked."""
        self._pick = pick
        self.refresh()

    def show_graticule(self, graticule: Graticule) -> None:
        """Name the lines of another graticule."""
        self._graticule = graticule
        self.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        self.refresh()

    def refresh(self) -> None:
        """Lay everything out again at the next painting."""
        self._stale = True
        self.update()

    def range_changed(self) -> None:
        """Move what is laid out along while the map is dragged; lay out anew where its scale has changed."""
        if self._stale:
            return
        x, y, scale_now = self._frame()
        x0, y0, scale_then = self._laid_out
        if abs(scale_now / scale_then - 1.0) > 1e-9:
            self.refresh()
            return
        self._shift = QPointF(x - x0, y - y0)
        self.update()

    def boundingRect(self) -> QRectF:  # noqa: N802
        """The whole view."""
        return QRectF(self._box.rect())

    def paint(self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None) -> None:
        """Paint what has room."""
        if self._picture is None:
            return
        if self._stale:
            self._lay_out(self._picture)
        painter.setRenderHint(painter.RenderHint.Antialiasing)
        if self._picture.box is None:
            self._paint_nothing_placed(painter)
            return
        self._paint_bar(painter)
        self._paint_rings(painter, self._picture)
        painter.translate(self._shift)
        self._paint_words(painter)
        for mark in self._picture.marks:
            if mark.index in self._marks:
                self._paint_mark(painter, mark.index, mark.weight)
        painter.translate(-self._shift)

    def mark_at(self, spot: QPointF) -> int | None:
        """The index of the finding whose mark lies there."""
        spot = spot - self._shift
        for index, (left, top, right, bottom) in self._marks.items():
            if left - 2 <= spot.x() <= right + 2 and top - 2 <= spot.y() <= bottom + 2:
                return index
        return None

    def point_at(self, spot: QPointF) -> int | None:
        """The index (in Route.points) of the point that lies there."""
        points = self._picture.points if self._picture else ()
        if not points:
            return None
        apart = np.hypot(*(self._pixels(np.array([(p.x, p.y) for p in points])) - (spot.x(), spot.y())).T)
        nearest = int(np.argmin(apart))
        return points[nearest].index if apart[nearest] <= _REACH_POINT else None

    def leg_at(self, spot: QPointF) -> int | None:
        """The index (in Route.legs) of the leg that runs there."""
        legs = self._picture.legs if self._picture else ()
        apart = [(_apart(self._pixels(leg.curve), spot), leg.index) for leg in legs]
        nearest = min(apart, default=(math.inf, 0))
        return nearest[1] if nearest[0] <= _REACH_LEG else None

    def _frame(self) -> tuple[float, float, float]:
        """Where the centre of the projection is drawn, in pixels, and the pixels a NM."""
        (x, y), (x1, _) = self._pixels(np.array([(0.0, 0.0), (1.0, 0.0)]))
        return float(x), float(y), float(x1 - x)

    def _pixels(self, places: Floats) -> Floats:
        """NM of the plane to pixels of the view."""
        seen, rect = self._box.viewRect(), self._box.rect()
        x = (places[:, 0] - seen.left()) / seen.width() * rect.width()
        y = rect.height() - (places[:, 1] - seen.top()) / seen.height() * rect.height()
        return np.column_stack((x, y))

    def _lay_out(self, picture: Picture) -> None:
        self._stale = False
        self._laid_out, self._shift = self._frame(), QPointF()
        rect = self._box.rect()
        room = Room(rect.width(), rect.height())
        lines = {leg.index: self._pixels(leg.curve) for leg in picture.legs}
        room.cross(self._pixels(joined([*(leg.curve for leg in picture.legs), picture.direct])))
        points = self._pixels(np.array([(p.x, p.y) for p in picture.points]).reshape(-1, 2))
        half = _SYMBOL * scale()
        for x, y in points:
            room.take((x - half, y - half, x + half, y + half))
        room.take((0, rect.height() - 44 * scale(), 150 * scale(), rect.height()))
        self._marks = dict(self._placed_marks(picture, room))
        self._names = list(self._placed_names(picture, points, room))
        self._figures = list(self._placed_figures(picture.legs, lines, room))
        self._edges = list(self._placed_edges(room))

    def _placed_marks(self, picture: Picture, room: Room) -> Iterator[tuple[int, Rect]]:
        spots_px = self._pixels(np.array([(m.x, m.y) for m in picture.marks]).reshape(-1, 2))
        for mark, (x, y) in zip(picture.marks, spots_px, strict=True):
            if not (0 <= x <= room.width and 0 <= y <= room.height):
                continue
            candidates = around(x, y, mark_size() + 4, _SYMBOL * scale() + mark_size() / 2 + 4)
            placed = room.place(candidates, must=True)
            if placed or mark.weight is not Weight.NOTE:
                yield mark.index, placed or candidates[0]

    def _placed_names(self, picture: Picture, points: Floats, room: Room) -> Iterator[tuple[Rect, str, bool, bool]]:
        picked = set(self._pick.points) if self._pick else set()
        plain, bold = QFontMetricsF(words(-0.5)), QFontMetricsF(words(-0.5, bold=True))
        ends = {picture.points[0].index, picture.points[-1].index} if picture.points else set()
        rank = [(p.index not in picked, p.index not in ends, p.minor, i) for i, p in enumerate(picture.points)]
        named: set[tuple[str, int, int]] = set()
        for *_, i in sorted(rank):
            point, (x, y) = picture.points[i], points[i]
            if (same := (point.name, round(x), round(y))) in named:
                continue
            named.add(same)
            metrics = bold if point.index in picked else plain
            size = metrics.horizontalAdvance(point.name), metrics.height() - 2
            wanted = Wanted(i, point.name, x, y, *size, must=not point.minor)
            if placed := room.place(spots(wanted, _BESIDE * scale()), must=wanted.must):
                yield placed, point.name, point.index in picked, point.minor

    def _placed_figures(
        self, legs: tuple[DrawnLeg, ...], lines: dict[int, Floats], room: Room
    ) -> Iterator[tuple[Rect, str]]:
        metrics = QFontMetricsF(words(-1.5))
        for leg in legs:
            line = lines[leg.index][~np.isnan(lines[leg.index][:, 0])]
            reach = line[-1] - line[0]
            length = float(np.hypot(*reach))
            width = metrics.horizontalAdvance(leg.figures)
            if not leg.figures or not length > width * _LEG_FIGURES_SHARE:
                continue
            x, y = (line[0] + line[-1]) / 2 if leg.is_gap or len(line) < 3 else line[len(line) // 2]
            along = (float(reach[0]) / length, float(reach[1]) / length)
            wanted = Wanted(leg.index, leg.figures, x, y, width, metrics.height() - 2, along=along)
            if placed := room.place(spots(wanted), must=False):
                yield placed, leg.figures

    def _placed_edges(self, room: Room) -> Iterator[tuple[Rect, str]]:
        names = self._graticule.names if self._graticule else ()
        metrics = QFontMetricsF(words(-2))
        for text, x, y in names:
            px, py = self._pixels(np.array([(x, y)]))[0]
            width, height = metrics.horizontalAdvance(text), metrics.height()
            left = min(max(px + 3, 4), room.width - width - 4)
            top = min(max(py - height - 1, 2), room.height - height - 3)
            if placed := room.place([(left, top, left + width, top + height)], must=False):
                yield placed, text

    def _paint_nothing_placed(self, painter: QPainter) -> None:
        painter.setPen(QColor(self._theme.muted))
        painter.setFont(words())
        painter.drawText(self.boundingRect(), Qt.AlignmentFlag.AlignCenter, NOTHING_PLACED)

    def _paint_rings(self, painter: QPainter, picture: Picture) -> None:
        picked = set(self._pick.points) if self._pick else set()
        spots_px = [(p.x, p.y) for p in picture.points if p.index in picked]
        painter.setPen(QPen(QColor(self._theme.ink), 1.3))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for x, y in self._pixels(np.array(spots_px).reshape(-1, 2)):
            painter.drawEllipse(QPointF(x, y), 11.0 * scale(), 11.0 * scale())

    def _paint_words(self, painter: QPainter) -> None:
        ink, muted = QColor(self._theme.ink), QColor(self._theme.muted)
        for rect, text in self._edges:
            _write(painter, rect, text, words(-2), muted, self._theme)
        plain, bold, small = words(-0.5), words(-0.5, bold=True), words(-1.5)
        for rect, text, is_bold, minor in self._names:
            colour = muted if minor and not is_bold else ink
            _write(painter, rect, text, bold if is_bold else plain, colour, self._theme)
        for rect, text in self._figures:
            _write(painter, rect, text, small, muted, self._theme)

    def _paint_mark(self, painter: QPainter, index: int, weight: Weight) -> None:
        left, top, right, bottom = self._marks[index]
        centre = QPointF((left + right) / 2, (top + bottom) / 2)
        paint_mark(painter, centre, weight, str(index + 1), self._theme)

    def _paint_bar(self, painter: QPainter) -> None:
        seen, rect = self._box.viewRect(), self._box.rect()
        nm = scale_bar_nm(seen.width())
        length = nm / seen.width() * rect.width()
        x, y = 18.0, rect.height() - 14.0
        painter.setPen(QPen(QColor(self._theme.ink), 1.2))
        painter.drawLine(QPointF(x, y), QPointF(x + length, y))
        for end in (x, x + length):
            painter.drawLine(QPointF(end, y - 4), QPointF(end, y + 4))
        painter.setFont(words(-1.5))
        high = QFontMetricsF(words(-1.5)).height()
        box = QRectF(x, y - high - 6, max(length, 60.0), high)
        align = Qt.AlignmentFlag.AlignHCenter if length >= 60 else Qt.AlignmentFlag.AlignLeft
        painter.drawText(box, align | Qt.AlignmentFlag.AlignVCenter, f"{nm:,} NM")


def _write(painter: QPainter, rect: Rect, text: str, font: QFont, colour: QColor, theme: Theme) -> None:
    """Write a text with a breath of the paper's colour behind it, so that lines under it do not cut it."""
    left, top, right, bottom = rect
    box = QRectF(left - 2, top, right - left + 4, bottom - top)
    behind = QColor(theme.paper)
    behind.setAlpha(150)
    painter.fillRect(box, behind)
    painter.setFont(font)
    painter.setPen(colour)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, text)


def _apart(line: Floats, spot: QPointF) -> float:
    """The distance in pixels from a spot to a polyline with NaN breaks."""
    start, reach = line[:-1], np.diff(line, axis=0)
    offset = np.array([spot.x(), spot.y()]) - start
    square = np.maximum((reach * reach).sum(axis=1), 1e-9)
    share = np.clip((offset * reach).sum(axis=1) / square, 0.0, 1.0)
    away = np.hypot(*(offset - share[:, None] * reach).T)
    good = away[~np.isnan(away)]
    return float(good.min()) if good.size else math.inf
