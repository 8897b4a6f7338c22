"""What somebody looks for or measures on the map, painted in pixels over everything else."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from routecheck.gui.theme import text_font, text_scale

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.gui.picture.frame import Frame
    from routecheck.gui.theme import Theme

    Found = tuple[float, float, str, bool]

_RING, _SMALL_RING, _TICK = 13.0, 8.0, 8.0
_OUT = ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0))
_EDGE = 4.0


class MapMarks(pg.GraphicsObject):  # type: ignore[misc]
    """Rings around points that were found, the chosen one with ticks and its name."""

    def __init__(self, frame: Callable[[], Frame], theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.found: Sequence[Found] = ()
        """Each with its place in NM of the plane, its name, and whether it is the chosen one."""
        self._frame = frame

    def show_found(self, found: Sequence[Found]) -> None:
        """Mark other places."""
        self.found = found
        self.update()

    def boundingRect(self) -> QRectF:  # noqa: N802
        """All of the view."""
        frame = self._frame()
        return QRectF(0, 0, frame.width, frame.height)

    def viewTransformChanged(self) -> None:  # noqa: N802
        """Follow the view."""
        self.prepareGeometryChange()
        super().viewTransformChanged()

    def paint(self, painter: QPainter, *_given: object) -> None:
        """Paint the rings."""
        frame = self._frame()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for x, y, name, is_chosen in self.found:
            at = QPointF(*frame.pixels(np.array([(x, y)]))[0])
            if is_chosen:
                self._paint_chosen(painter, at)
                self._write(painter, frame, at + QPointF(0.0, -(_RING + _TICK) * text_scale()), name)
            else:
                painter.setPen(QPen(QColor(self.theme.ink), 1.2, Qt.PenStyle.DashLine))
                painter.drawEllipse(at, _SMALL_RING * text_scale(), _SMALL_RING * text_scale())

    def _paint_chosen(self, painter: QPainter, at: QPointF) -> None:
        ring, tick = _RING * text_scale(), _TICK * text_scale()
        for colour, width in ((self.theme.paper, 5.0), (self.theme.ink, 1.8)):
            painter.setPen(QPen(QColor(colour), width))
            painter.drawEllipse(at, ring, ring)
            for dx, dy in _OUT:
                painter.drawLine(at + QPointF(dx * ring, dy * ring), at + QPointF(dx, dy) * (ring + tick))

    def _write(self, painter: QPainter, frame: Frame, foot: QPointF, text: str) -> None:
        """Write in bold over a spot, on paper, and wholly in view where the spot is."""
        font = text_font(bold=True)
        size = QFontMetricsF(font).boundingRect(text).size()
        box = QRectF(0, 0, size.width() + 2 * _EDGE, size.height())
        box.moveCenter(foot - QPointF(0.0, size.height() / 2 + 1))
        box.moveLeft(min(max(_EDGE, box.left()), max(_EDGE, frame.width - box.width() - _EDGE)))
        box.moveTop(max(_EDGE, box.top()))
        painter.setFont(font)
        painter.fillRect(box, QColor(self.theme.paper))
        painter.setPen(QColor(self.theme.ink))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip, text)
