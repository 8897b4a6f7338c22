"""Names, marks, figures and the scale bar over the map, painted in pixels. Where they stand is found in map_labels."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from routecheck.gui.picture.frame import Frame
from routecheck.gui.picture.map_labels import BAR_FOOT, BAR_LEFT, NORTH_WIDTH, Kind, Layout, Shown, lay_out
from routecheck.gui.picture.pixel_item import PixelItem
from routecheck.gui.theme import blend_colours, text_font, text_scale
from routecheck.gui.widgets.finding_badges import paint_badge
from routecheck.presentation.drawn_map import empty_picture
from routecheck.presentation.graticule import scale_bar_nm

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.gui.picture.map_labels import Rect, Text
    from routecheck.gui.theme import Theme
    from routecheck.presentation.drawn_map import DrawnLeg, Picture
    from routecheck.presentation.graticule import Graticule
    from routecheck.presentation.nearby_fixes import NearbyFixes
    from routecheck.presentation.selection import Selection
    from routecheck.presentation.trial import TrialLine

_BAR_HALF, _ARROW = 5.0, 12.0
_MARK_OFF = 2.0
"""Pixels that the mouse may be off a mark."""
_WRITTEN = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip
NOTHING_PLACED = "The Picture appears with the first point that can be placed."
_MUTED = frozenset({Kind.MINOR, Kind.GAP, Kind.FIGURES, Kind.LOADED, Kind.EDGE, Kind.OTHER})
"""What is written in the quieter ink."""


class Overlay(PixelItem):
    """Everything on the Picture that keeps its size while the map is zoomed, as one item in pixels of the view."""

    def __init__(self, frame: Callable[[], Frame], theme: Theme) -> None:
        super().__init__(frame, theme)
        self.accepted: frozenset[int] = frozenset()
        self._shown = Shown(empty_picture())
        self._laid_out = self._layout = Layout(Frame(0.0, 0.0, 1.0, 0.0, 0.0))
        self._stale = True

    def show_picture(self, picture: Picture, accepted: frozenset[int] = frozenset()) -> None:
        """Write over another picture; `accepted` are the findings that somebody answers for."""
        self.accepted = accepted
        self._show(picture=picture)

    def show_pick(self, pick: Selection | None) -> None:
        """Draw attention to what is picked."""
        self._show(pick=pick)

    def show_graticule(self, graticule: Graticule | None) -> None:
        """Name the lines of another graticule."""
        self._show(graticule=graticule)

    def show_nearby(self, nearby: NearbyFixes | None) -> None:
        """Name what the data has about the route."""
        self._show(nearby=nearby)

    def show_tried(self, tried: TrialLine | None) -> None:
        """Name what a tried correction would change; None = nothing."""
        if tried is not self._shown.tried:
            self._show(tried=tried)

    def refresh(self) -> None:
        """Lay everything out again at the next painting."""
        self._stale = True
        self.update()

    def paint(self, painter: QPainter, *_given: object) -> None:
        """Paint what has room."""
        frame, picture = self._frame(), self._shown.picture
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if picture.box is None:
            self._paint_nothing_placed(painter, frame)
            return
        layout = self.layout(frame)
        self._paint_bar(painter, frame, layout.bar)
        if not picture.projection.is_north_up:
            self._paint_north(painter, picture.north, layout.bar)
        if picture.note:
            self._paint_note(painter, picture.note, frame)
        self._paint_rings(painter, picture, frame)
        self._paint_open_ends(painter, picture.legs, frame)
        self._paint_texts(painter, (*layout.texts, *layout.edges))
        for mark in picture.marks:
            if mark.index in layout.marks:
                left, top, right, bottom = layout.marks[mark.index]
                centre = QPointF((left + right) / 2, (top + bottom) / 2)
                accepted = mark.index in self.accepted
                paint_badge(painter, centre, mark.weight, str(mark.index + 1), self.theme, accepted=accepted)

    def layout(self, frame: Frame) -> Layout:
        """What stands where in a frame. What is laid out moves along while the map is dragged, until it rests."""
        then = self._laid_out.frame
        as_wide = (frame.width, frame.height) == (then.width, then.height)
        if self._stale or not as_wide or abs(frame.scale / then.scale - 1.0) > 1e-9:
            self._laid_out = self._layout = lay_out(self._shown, frame)
            self._stale = False
        elif frame != self._layout.frame:
            self._layout = self._laid_out.moved_to(frame, self._shown.graticule)
        return self._layout

    def mark_at(self, spot: QPointF, reach: float = 1.0) -> int | None:
        """The index of the finding whose mark lies there, or so many times as far off as usual."""
        off = _MARK_OFF * reach**3
        for index, (left, top, right, bottom) in self.marks.items():
            if left - off <= spot.x() <= right + off and top - off <= spot.y() <= bottom + off:
                return index
        return None

    @property
    def tried(self) -> TrialLine | None:
        """What a tried correction would change, or the other version; None = nothing is drawn dotted."""
        return self._shown.tried

    @property
    def marks(self) -> dict[int, tuple[float, float, float, float]]:
        """Where the marks stand, by the index of their finding."""
        return self.layout(self._frame()).marks

    @property
    def texts(self) -> tuple[Text, ...]:
        """What is written."""
        layout = self.layout(self._frame())
        return (*layout.texts, *layout.edges)

    def _show(self, **what: object) -> None:
        self._shown = replace(self._shown, **what)  # type: ignore[arg-type]
        self.refresh()

    def _paint_nothing_placed(self, painter: QPainter, frame: Frame) -> None:
        painter.setPen(QColor(self.theme.muted))
        painter.setFont(text_font())
        painter.drawText(QRectF(0, 0, frame.width, frame.height), Qt.AlignmentFlag.AlignCenter, NOTHING_PLACED)

    def _paint_rings(self, painter: QPainter, picture: Picture, frame: Frame) -> None:
        picked = set(self._shown.pick.points) if self._shown.pick else set()
        spots = np.array([(p.x, p.y) for p in picture.points if p.index in picked]).reshape(-1, 2)
        painter.setPen(QPen(QColor(self.theme.ink), 1.3))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for x, y in frame.pixels(spots):
            painter.drawEllipse(QPointF(x, y), 11.0 * text_scale(), 11.0 * text_scale())

    def _paint_open_ends(self, painter: QPainter, legs: tuple[DrawnLeg, ...], frame: Frame) -> None:
        """A bar across each end of a gap's stubs: here the drawing stops, and on purpose."""
        painter.setPen(QPen(QColor(self.theme.route), 1.6))
        half = _BAR_HALF * text_scale()
        ends = [(end.x, end.y, end.towards[1] * half, end.towards[0] * half) for leg in legs for end in leg.ends]
        columns = np.array(ends).reshape(-1, 4)
        spots, across = frame.pixels(columns[:, :2]), columns[:, 2:]
        seen = ((spots >= -half) & (spots <= (frame.width + half, frame.height + half))).all(axis=1)
        bars = np.hstack((spots - across, spots + across))[seen].tolist()
        painter.drawLines([QLineF(*bar) for bar in bars])

    def _paint_texts(self, painter: QPainter, texts: tuple[Text, ...]) -> None:
        behind = QColor(self.theme.paper)
        behind.setAlpha(165)
        kind = None
        for text in texts:
            if text.kind is not kind:
                kind = text.kind
                painter.setFont(kind.font)
                painter.setPen(self._ink(kind))
            left, top, right, bottom = text.rect
            box = QRectF(left - 2, top, right - left + 4, bottom - top)
            painter.fillRect(box, behind)
            painter.drawText(box, _WRITTEN, text.text)

    def _ink(self, kind: Kind) -> QColor:
        if kind is Kind.TRIED:
            return QColor(blend_colours(self.theme.changed, self.theme.ink, 0.45))
        return QColor(self.theme.muted if kind in _MUTED else self.theme.ink)

    def _paint_north(self, painter: QPainter, north_deg: float, room: Rect) -> None:
        """An arrow to the north beside the scale bar, where north is not up."""
        painter.save()
        left = room[2] - NORTH_WIDTH * text_scale()
        painter.translate(left + _ARROW * text_scale(), room[3] - BAR_FOOT - _ARROW * text_scale())
        painter.rotate(north_deg)
        painter.scale(text_scale(), text_scale())
        painter.setPen(QPen(QColor(self.theme.ink), 1.4))
        painter.drawLine(QPointF(0, _ARROW), QPointF(0, -_ARROW))
        painter.drawPolyline([QPointF(-4, 6 - _ARROW), QPointF(0, -_ARROW), QPointF(4, 6 - _ARROW)])
        painter.restore()
        painter.setFont(text_font(-1.5))
        painter.setPen(QColor(self.theme.ink))
        box = QRectF(left + 2.4 * _ARROW * text_scale(), room[3] - BAR_FOOT - 2 * _ARROW * text_scale(), 60.0, 30.0)
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextDontClip, "north")

    def _paint_note(self, painter: QPainter, note: str, frame: Frame) -> None:
        """Say at the top, in the middle, why the map is not as it was asked for."""
        font = text_font(bold=True)
        size = QFontMetricsF(font).size(0, note)
        box = QRectF((frame.width - size.width()) / 2 - 6, 2 * size.height(), size.width() + 12, size.height() + 6)
        painter.setFont(font)
        painter.fillRect(box, QColor(self.theme.paper))
        painter.setPen(QColor(self.theme.ink))
        painter.drawText(box, _WRITTEN, note)

    def _paint_bar(self, painter: QPainter, frame: Frame, room: Rect) -> None:
        nm = scale_bar_nm(frame.width / frame.scale)
        length = nm * frame.scale
        x, y = room[0] + BAR_LEFT, room[3] - BAR_FOOT
        painter.setPen(QPen(QColor(self.theme.ink), 1.2))
        painter.drawLine(QPointF(x, y), QPointF(x + length, y))
        for end in (x, x + length):
            painter.drawLine(QPointF(end, y - 4), QPointF(end, y + 4))
        painter.setFont(text_font(-1.5))
        high = QFontMetricsF(text_font(-1.5)).height()
        box = QRectF(x, y - high - 6, max(length, 60.0), high)
        align = Qt.AlignmentFlag.AlignHCenter if length >= 60 else Qt.AlignmentFlag.AlignLeft
        painter.drawText(box, align | Qt.AlignmentFlag.AlignVCenter, f"{nm:,} NM")
