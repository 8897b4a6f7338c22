"""What somebody looks for or measures on the map, painted in pixels over everything else."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from routecheck.gui.picture.pixel_item import PixelItem
from routecheck.gui.theme import text_font, text_scale

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.arrays import Floats
    from routecheck.gui.picture.frame import Frame
    from routecheck.gui.theme import Theme

    Found = tuple[float, float, str, bool]

_RING, _SMALL_RING, _TICK = 13.0, 8.0, 8.0
_ROUND = ((0, -1), (0, 1), (1, 0), (-1, 0), (1, -1), (-1, -1), (1, 1), (-1, 1))
_OUT = ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0))
_CROSS, _EDGE = 9.0, 4.0


class MapMarks(PixelItem):
    """Rings around points that were found, the chosen one with ticks and its name; the ruler with what it measures."""

    def __init__(self, frame: Callable[[], Frame], theme: Theme) -> None:
        super().__init__(frame, theme)
        self.found: Sequence[Found] = ()
        """Each with its place in NM of the plane, its name, and whether it is the chosen one."""
        self.ruler: tuple[str, ...] = ()
        """What the ruler measures, in lines."""
        self._ruler_ends: Sequence[tuple[float, float]] = ()
        self._ruler_curve: Floats | None = None

    def show_found(self, found: Sequence[Found]) -> None:
        """Mark other places."""
        self.found = found
        self.update()

    def show_ruler(self, ends: Sequence[tuple[float, float]], curve: Floats | None, lines: tuple[str, ...]) -> None:
        """Lay the ruler along a curve of the plane (NM, broken by NaN); no ends = put it away."""
        self._ruler_ends, self._ruler_curve, self.ruler = ends, curve, lines
        self.update()

    def paint(self, painter: QPainter, *_given: object) -> None:
        """Paint the rings, and the ruler over them."""
        frame = self._frame()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for x, y, name, is_chosen in self.found:
            at = QPointF(*frame.pixels(np.array([(x, y)]))[0])
            if is_chosen:
                self._paint_chosen(painter, at)
                self._write(painter, frame, at, name, clear_of=())
            else:
                painter.setPen(QPen(QColor(self.theme.ink), 1.2, Qt.PenStyle.DashLine))
                painter.drawEllipse(at, _SMALL_RING * text_scale(), _SMALL_RING * text_scale())
        self._paint_ruler(painter, frame)

    def _paint_ruler(self, painter: QPainter, frame: Frame) -> None:
        pens = [QPen(QColor(self.theme.paper), 4.5), QPen(QColor(self.theme.ink), 1.4)]
        lines = [] if self._ruler_curve is None else _polygons(frame.pixels(self._ruler_curve))
        spots = [QPointF(*spot) for spot in frame.pixels(np.array(self._ruler_ends).reshape(-1, 2))]
        for pen in pens:
            painter.setPen(pen)
            for line in lines:
                painter.drawPolyline(line)
            for spot in spots:
                _paint_cross(painter, spot, _CROSS * text_scale())
        if self.ruler:
            self._write(painter, frame, spots[-1], "\n".join(self.ruler), clear_of=spots)

    def _paint_chosen(self, painter: QPainter, at: QPointF) -> None:
        ring, tick = _RING * text_scale(), _TICK * text_scale()
        for colour, width in ((self.theme.paper, 5.0), (self.theme.ink, 1.8)):
            painter.setPen(QPen(QColor(colour), width))
            painter.drawEllipse(at, ring, ring)
            for dx, dy in _OUT:
                painter.drawLine(at + QPointF(dx * ring, dy * ring), at + QPointF(dx, dy) * (ring + tick))

    def _write(self, painter: QPainter, frame: Frame, at: QPointF, text: str, *, clear_of: Sequence[QPointF]) -> None:
        """Write beside a spot on paper, where it is wholly in view and covers none of some spots, if there is room."""
        font = text_font(-0.5)
        size = QFontMetricsF(font).size(0, text) + QSizeF(2 * _EDGE, _EDGE)
        boxes = _boxes_beside(at, size, (_RING + _TICK) * text_scale())
        view = QRectF(0, 0, frame.width, frame.height)
        clear = [box for box in boxes if view.contains(box) and not any(box.contains(spot) for spot in clear_of)]
        box = clear[0] if clear else _into_view(boxes[0], view)
        painter.setFont(font)
        painter.setPen(QPen(QColor(self.theme.line), 1.0))
        painter.setBrush(QColor(self.theme.pane))
        painter.drawRect(box)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QColor(self.theme.ink))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, text)


def _boxes_beside(at: QPointF, size: QSizeF, away: float) -> list[QRectF]:
    """Boxes of a size above, below, right and left of a spot, then across its corners."""
    boxes = []
    for dx, dy in _ROUND:
        box = QRectF(QPointF(), size)
        off = QPointF(dx * (size.width() / 2 + away), dy * (size.height() / 2 + away))
        box.moveCenter(at + off)
        boxes.append(box)
    return boxes


def _into_view(box: QRectF, view: QRectF) -> QRectF:
    box.moveLeft(min(max(_EDGE, box.left()), max(_EDGE, view.width() - box.width() - _EDGE)))
    box.moveTop(min(max(_EDGE, box.top()), max(_EDGE, view.height() - box.height() - _EDGE)))
    return box


def _paint_cross(painter: QPainter, at: QPointF, reach: float) -> None:
    painter.drawLine(at - QPointF(reach, 0.0), at + QPointF(reach, 0.0))
    painter.drawLine(at - QPointF(0.0, reach), at + QPointF(0.0, reach))


def _polygons(line: Floats) -> list[QPolygonF]:
    """The unbroken pieces of a line."""
    gone = np.flatnonzero(np.isnan(line[:, 0]))
    pieces = [piece[~np.isnan(piece[:, 0])] for piece in np.split(line, gone)]
    return [QPolygonF([QPointF(x, y) for x, y in piece.tolist()]) for piece in pieces if len(piece) > 1]
