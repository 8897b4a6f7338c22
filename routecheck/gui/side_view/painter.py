"""Paints the Side view: room, lines, brackets and what side_layout found room for. Knows no mouse and no session."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen, QPolygonF

from routecheck.gui.side_view.labels import bar_of, heights_label
from routecheck.gui.side_view.text import HALF_BRACKET, SERIF, SideKind, SideText, line_height
from routecheck.gui.theme import blend, scale, words
from routecheck.gui.widgets.finding_badges import paint_mark
from routecheck.presentation.side_lines import AIRWAY, height_on

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from routecheck.gui.side_view.frame import SideFrame
    from routecheck.gui.side_view.labels import SideLayout
    from routecheck.gui.theme import Theme
    from routecheck.presentation.selection import Pick
    from routecheck.presentation.side_lines import Line, Step
    from routecheck.presentation.side_view import Bracket, SideView
    from routecheck.vertical.room import Corner

    Floats = NDArray[np.float64]

LEAST_LEVEL_PX = 18.0
_BREAK = 4.0
_FAR_FT = 1e6
"""What is open is taken to be so far out of view."""
_MUTED = frozenset({SideKind.MINOR, SideKind.MINIMUM, SideKind.GAP, SideKind.GROUND})
_CENTRED = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip


class SidePainter:
    """One painting of a view in a frame."""

    def __init__(self, painter: QPainter, theme: Theme, frame: SideFrame) -> None:
        self._painter, self._theme, self._frame = painter, theme, frame
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def paint(self, view: SideView, layout: SideLayout, pick: Pick | None, accepted: frozenset[int]) -> None:
        """Everything, from the ground up."""
        frame = self._frame
        self._paint_levels()
        self._painter.save()
        self._painter.setClipRect(QRect(int(frame.left), 0, int(frame.right - frame.left) + 2, int(frame.bottom) + 1))
        self._paint_picked(view, pick)
        self._paint_room(view)
        self._paint_gaps(view)
        self._paint_minima(view)
        self._paint_lines(view)
        self._painter.restore()
        self._paint_base(view)
        self._paint_grounds(view)
        self._paint_leaders(layout.texts)
        self._paint_brackets(view, frozenset(pick.points) if pick else frozenset())
        self._paint_texts(layout.texts)
        for mark in view.marks:
            if mark.index in layout.marks:
                left, top, right, bottom = layout.marks[mark.index]
                centre = QPointF((left + right) / 2, (top + bottom) / 2)
                is_accepted = mark.index in accepted
                paint_mark(self._painter, centre, mark.weight, str(mark.index + 1), self._theme, accepted=is_accepted)

    def paint_missing(self, why: str, width: float, height: float) -> None:
        """A calm sentence in place of a drawing."""
        self._painter.setPen(QColor(self._theme.muted))
        self._painter.setFont(words())
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        self._painter.drawText(QRectF(16, 0, width - 32, height), flags, why)

    def paint_hair(self, nm: float) -> None:
        """The line at the place that is read out."""
        x = self._frame.x(nm)
        self._painter.setPen(QPen(QColor(self._theme.muted), 1, Qt.PenStyle.DotLine))
        self._painter.drawLine(QPointF(x, self._frame.top - 4), QPointF(x, self._frame.bottom))

    def paint_scale_bar(self, left: float, top: float) -> None:
        """How far a round distance reaches, at the upper left."""
        painter, (nm, length) = self._painter, bar_of(self._frame)
        painter.setPen(QPen(QColor(self._theme.muted), 1.0))
        y = top + 5
        painter.drawLine(QPointF(left, y), QPointF(left + length, y))
        for x in (left, left + length):
            painter.drawLine(QPointF(x, y - 3), QPointF(x, y + 3))
        painter.setFont(words(-1.5))
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextDontClip
        painter.drawText(QRectF(left + length + 6, y - 8, 74, 16), flags, f"{nm:,} NM")

    def _paint_levels(self) -> None:
        painter, frame = self._painter, self._frame
        painter.setFont(SideKind.MINIMUM.font)
        high = line_height(SideKind.MINIMUM)
        for feet in frame.levels(LEAST_LEVEL_PX * scale()):
            y = frame.y(feet)
            painter.setPen(QPen(QColor(self._theme.graticule), 1))
            painter.drawLine(QPointF(frame.left, y), QPointF(frame.right, y))
            painter.setPen(QColor(self._theme.muted))
            box = QRectF(0, y - high / 2, frame.left - 6, high)
            painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, heights_label(feet))

    def _paint_picked(self, view: SideView, pick: Pick | None) -> None:
        """A tint over the picked legs, a line down from the picked points."""
        painter, frame = self._painter, self._frame
        for leg in pick.legs if pick else ():
            if leg + 1 < len(view.points):
                left, right = frame.x(view.points[leg].nm), frame.x(view.points[leg + 1].nm)
                box = QRectF(left, frame.top, right - left, frame.bottom - frame.top)
                painter.fillRect(box, QColor(self._theme.picked))
        painter.setPen(QPen(QColor(blend(self._theme.ink, self._theme.paper, 0.35)), 1))
        for point in pick.points if pick else ():
            if point < len(view.points):
                x = frame.x(view.points[point].nm)
                painter.drawLine(QPointF(x, frame.top), QPointF(x, frame.bottom))

    def _paint_room(self, view: SideView) -> None:
        painter, frame = self._painter, self._frame
        soft = QColor(self._theme.route)
        soft.setAlphaF(0.16 if self._theme.dark else 0.12)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(soft)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        edges: list[QLineF] = []
        for piece in view.band:
            if piece[0][0] >= frame.last_nm or piece[-1][0] <= frame.first_nm:
                continue
            rims = _rims(piece, self._frame)
            painter.drawPolygon(QPolygonF([*rims[0], *reversed(rims[1])]))
            edges += [QLineF(a, b) for rim in rims for a, b in pairwise(rim) if self._is_edge(a, b)]
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(blend(self._theme.route, self._theme.paper, 0.3)), 1.0))
        painter.drawLines(edges)
        for begins, ends in view.shut:
            weight = view.weight_between(begins, ends)
            colour = self._theme.weight(weight).name() if weight else self._theme.muted
            hatch = QBrush(QColor(blend(colour, self._theme.paper, 0.55)), Qt.BrushStyle.BDiagPattern)
            left, right = frame.x(begins), frame.x(ends)
            painter.fillRect(QRectF(left, frame.top, right - left, frame.bottom - frame.top), hatch)

    def _is_edge(self, a: QPointF, b: QPointF) -> bool:
        """Whether the room ends there, and not only the view."""
        rims = self._frame.top, self._frame.bottom
        return not any(abs(a.y() - rim) < 0.01 and abs(b.y() - rim) < 0.01 for rim in rims)

    def _spot(self, nm: float, feet: float) -> QPointF:
        return QPointF(self._frame.x(nm), self._frame.y(feet))

    def _paint_gaps(self, view: SideView) -> None:
        frame = self._frame
        ground = QColor(blend(self._theme.line, self._theme.paper, 0.35))
        for gap in view.gaps:
            left, right = frame.x(gap.begins), frame.x(gap.ends)
            self._painter.fillRect(QRectF(left, frame.top, right - left, frame.bottom - frame.top), ground)

    def _paint_minima(self, view: SideView) -> None:
        """Airway minima as a whole line, grid MORA as a dotted one."""
        ink = QColor(blend(self._theme.ink, self._theme.coast, 0.35))
        for step in view.minima:
            style = Qt.PenStyle.SolidLine if step.what == AIRWAY else Qt.PenStyle.DotLine
            self._painter.setPen(QPen(ink, 1.3, style))
            self._draw_step(step)

    def _paint_lines(self, view: SideView) -> None:
        route = QColor(self._theme.route)
        for line in view.guessed:
            self._draw(line, QPen(route, 1.4, Qt.PenStyle.DotLine))
        for line in view.profile:
            self._draw(line, QPen(route, 2.0))
        for step in view.levels:
            self._painter.setPen(QPen(route, 1.6, Qt.PenStyle.DashLine))
            self._draw_step(step)
        for line in view.tried:
            self._draw(line, QPen(QColor(self._theme.changed), 2.6, Qt.PenStyle.DotLine))
        for (a, b), weight in zip(pairwise(view.points), view.weights, strict=True):
            if weight is not None:
                colour = self._theme.weight(weight)
                for line in view.profile:
                    self._draw(_part(line, a.nm, b.nm), QPen(colour, 2.6))

    def _draw_step(self, step: Step) -> None:
        """The part in view of a level line: what is dotted costs by its length."""
        frame = self._frame
        begins, ends = max(step.begins, frame.first_nm), min(step.ends, frame.last_nm)
        if begins < ends:
            y = frame.y(step.feet)
            self._painter.drawLine(QPointF(frame.x(begins), y), QPointF(frame.x(ends), y))

    def _draw(self, whole: Line, pen: QPen) -> None:
        line = _part(whole, self._frame.first_nm, self._frame.last_nm)
        if len(line) < 2:
            return
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        self._painter.setPen(pen)
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.drawPolyline(QPolygonF([self._spot(nm, feet) for nm, feet in line]))

    def _paint_base(self, view: SideView) -> None:
        """The line under it all, broken where the length is not known."""
        painter, frame = self._painter, self._frame
        painter.setPen(QPen(QColor(self._theme.muted), 1))
        y, cut = frame.bottom, _BREAK * scale()
        spots = [(frame.x(g.begins) + frame.x(g.ends)) / 2 for g in view.gaps]
        breaks = [x for x in spots if frame.left + cut < x < frame.right - cut]
        edges = [frame.left, *(edge for x in breaks for edge in (x - cut / 2, x + cut / 2)), frame.right]
        for left, right in zip(edges[::2], edges[1::2], strict=True):
            if right > left:
                painter.drawLine(QPointF(left, y), QPointF(right, y))
        painter.setPen(QPen(QColor(self._theme.ink), 1.3))
        for x in breaks:
            for middle in (x - cut / 2, x + cut / 2):
                painter.drawLine(QPointF(middle - cut / 2, y + cut), QPointF(middle + cut / 2, y - cut))
        painter.setPen(QPen(QColor(self._theme.muted), 1))
        for point in view.points:
            if frame.sees(point.nm):
                x = frame.x(point.nm)
                painter.drawLine(QPointF(x, y), QPointF(x, y + (2 if point.minor else 4)))

    def _paint_grounds(self, view: SideView) -> None:
        """A short bar of ground at the elevation of an aerodrome."""
        wide = 16.0 * scale()
        for ground in view.grounds:
            if self._frame.sees(ground.nm):
                x, y = self._frame.x(ground.nm), self._frame.y(ground.elevation_ft)
                box = QRectF(x - (wide if ground.point else 0.0), y, wide, max(self._frame.bottom - y, 3.0))
                self._painter.fillRect(box, QColor(self._theme.coast))

    def _paint_brackets(self, view: SideView, picked: frozenset[int]) -> None:
        for bracket in view.brackets:
            if self._frame.sees(bracket.nm):
                colour = self._theme.weight(bracket.weight) if bracket.weight else QColor(self._theme.ink)
                wide = 2.4 if bracket.point in picked or bracket.weight else 1.5
                if bracket.tried:
                    colour, wide = QColor(self._theme.changed), 3.0
                style = Qt.PenStyle.DotLine if bracket.tried else Qt.PenStyle.SolidLine
                self._painter.setPen(QPen(colour, wide, style, Qt.PenCapStyle.FlatCap))
                self._painter.setBrush(Qt.BrushStyle.NoBrush)
                self._paint_bracket(bracket)

    def _paint_bracket(self, bracket: Bracket) -> None:
        """A bar with its corners toward the heights allowed: square where coded, round where somebody stated it."""
        x, half, serif = self._frame.x(bracket.nm), HALF_BRACKET * scale(), SERIF * scale()
        for feet, inward in ((bracket.low_ft, -serif), (bracket.high_ft, serif)):
            if feet is None:
                continue
            y = self._frame.y(feet)
            path = QPainterPath(QPointF(x - half, y + inward))
            if bracket.typed:
                path.cubicTo(
                    QPointF(x - half, y - inward * 0.4),
                    QPointF(x + half, y - inward * 0.4),
                    QPointF(x + half, y + inward),
                )
            else:
                for dx, dy in ((-half, 0.0), (half, 0.0), (half, inward)):
                    path.lineTo(QPointF(x + dx, y + dy))
            self._painter.drawPath(path)

    def _paint_leaders(self, texts: Iterable[SideText]) -> None:
        self._painter.setPen(QPen(QColor(blend(self._theme.muted, self._theme.paper, 0.6)), 0.8))
        for text in texts:
            if text.leader is not None and text.leader[3] - text.leader[1] != 4.0:
                x1, y1, x2, y2 = text.leader
                self._painter.drawLine(QPointF(x1, y1), QPointF(x2, y2))

    def _paint_texts(self, texts: Sequence[SideText]) -> None:
        behind = QColor(self._theme.paper)
        behind.setAlpha(190)
        for text in texts:
            left, top, right, bottom = text.rect
            box = QRectF(left, top, right - left, bottom - top)
            self._painter.fillRect(box.adjusted(-1, 1, 1, -1), behind)
            self._painter.setFont(text.kind.font)
            self._painter.setPen(self._ink(text))
            self._painter.drawText(box, _CENTRED, text.text)

    def _ink(self, text: SideText) -> QColor:
        if text.weight is not None:
            return QColor(blend(self._theme.weight(text.weight).name(), self._theme.ink, 0.6))
        if text.kind is SideKind.LEVEL:
            return QColor(self._theme.route)
        return QColor(self._theme.muted if text.kind in _MUTED else self._theme.ink)


def _part(line: Line, begins: float, ends: float) -> Line:
    """The part of a line between two distances."""
    if not line or line[-1][0] <= begins or line[0][0] >= ends:
        return ()
    first, last = max(begins, line[0][0]), min(ends, line[-1][0])
    inner = [spot for spot in line if first < spot[0] < last]
    return ((first, height_on(line, first)), *inner, (last, height_on(line, last)))


def _rims(piece: Sequence[Corner], frame: SideFrame) -> tuple[list[QPointF], list[QPointF]]:
    """The upper and lower side of a piece of the band, held within the view: what reaches far out fills slowly."""
    nm, low, high = (np.array(column) for column in zip(*piece, strict=True))
    bounds = frame.low_ft - _FAR_FT, frame.high_ft + _FAR_FT
    sides = [np.clip(side, *bounds) for side in (low, high)]
    cuts = [nm, *(_crossings(nm, side, rim) for side in sides for rim in (frame.low_ft, frame.high_ft))]
    at = np.unique(np.clip(np.concatenate(cuts), max(frame.first_nm, nm[0]), min(frame.last_nm, nm[-1])))
    xs = [frame.x(one) for one in at.tolist()]
    lower, upper = ([frame.y(feet) for feet in np.interp(at, nm, side).tolist()] for side in sides)
    return list(map(QPointF, xs, upper)), list(map(QPointF, xs, lower))


def _crossings(nm: Floats, feet: Floats, rim: float) -> Floats:
    """Where a line crosses a height."""
    over = feet - rim
    where = np.flatnonzero(over[:-1] * over[1:] < 0)
    return nm[where] + (nm[where + 1] - nm[where]) * over[where] / (over[where] - over[where + 1])
