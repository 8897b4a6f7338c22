"""What is written over the Side view in pixels: brackets, marks, names, values, the ground. Labels finds their room."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from routecheck.gui.side_view.labels import SideLayout, scale_bar
from routecheck.gui.side_view.text import HALF_BRACKET, SERIF, SideKind, SideText
from routecheck.gui.theme import blend_colours, text_font, text_scale
from routecheck.gui.widgets.finding_badges import paint_badge
from routecheck.presentation.side_view import empty_side_view

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from routecheck.gui.side_view.frame import SideFrame
    from routecheck.gui.theme import Theme
    from routecheck.presentation.selection import Selection
    from routecheck.presentation.side_view import Bracket

_BREAK = 4.0
_MUTED = frozenset({SideKind.MINOR, SideKind.MINIMUM, SideKind.GAP, SideKind.GROUND})
_CENTRED = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip


class SideOverlay(pg.GraphicsObject):  # type: ignore[misc]
    """Everything that keeps its size while the view is zoomed, as one item in pixels of the pane."""

    def __init__(self, laid_out: Callable[[], tuple[SideFrame, SideLayout]], theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.view = empty_side_view()
        self.accepted: frozenset[int] = frozenset()
        self.pick: Selection | None = None
        self._laid_out = laid_out
        self._size = QRectF()

    def set_size(self, width: float, height: float) -> None:
        """Cover a pane of that size."""
        self.prepareGeometryChange()
        self._size = QRectF(0, 0, width, height)

    def boundingRect(self) -> QRectF:  # noqa: N802
        """All of the pane."""
        return self._size

    def paint(self, painter: QPainter, *_given: object) -> None:
        """Everything, from the ground up; or the sentence that says why there is nothing."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.view.missing or not self.view.points:
            self._paint_missing(painter)
            return
        frame, layout = self._laid_out()
        self._paint_breaks(painter, frame)
        self._paint_grounds(painter, frame)
        self._paint_leaders(painter, layout.texts)
        self._paint_brackets(painter, frame, frozenset(self.pick.points) if self.pick else frozenset())
        self._paint_texts(painter, layout.texts)
        for mark in self.view.marks:
            if mark.index in layout.marks:
                left, top, right, bottom = layout.marks[mark.index]
                centre = QPointF((left + right) / 2, (top + bottom) / 2)
                accepted = mark.index in self.accepted
                paint_badge(painter, centre, mark.weight, str(mark.index + 1), self.theme, accepted=accepted)
        self._paint_scale_bar(painter, frame, 6.0)

    def _paint_missing(self, painter: QPainter) -> None:
        """A calm sentence in place of a drawing."""
        painter.setPen(QColor(self.theme.muted))
        painter.setFont(text_font())
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.drawText(self._size.adjusted(16, 0, -16, 0), flags, self.view.missing)

    def _paint_breaks(self, painter: QPainter, frame: SideFrame) -> None:
        """Where the length is not known the line under it all is broken; of breaks on one another one is drawn."""
        y, cut = frame.bottom, _BREAK * text_scale()
        last = frame.left
        for gap in self.view.gaps:
            x = (frame.x(gap.begins) + frame.x(gap.ends)) / 2
            if last + cut < x < frame.right - cut:
                last = x
                painter.fillRect(QRectF(x - cut / 2, y, cut, 3.0), QColor(self.theme.paper))
                painter.setPen(QPen(QColor(self.theme.ink), 1.3))
                for middle in (x - cut / 2, x + cut / 2):
                    painter.drawLine(QPointF(middle - cut / 2, y + cut), QPointF(middle + cut / 2, y - cut))

    def _paint_grounds(self, painter: QPainter, frame: SideFrame) -> None:
        """A short bar of ground at the elevation of an aerodrome."""
        wide = 16.0 * text_scale()
        for ground in self.view.grounds:
            if frame.sees(ground.nm):
                x, y = frame.x(ground.nm), frame.y(ground.elevation_ft)
                box = QRectF(x - (wide if ground.point else 0.0), y, wide, max(frame.bottom - y, 3.0))
                painter.fillRect(box, QColor(self.theme.coast))

    def _paint_brackets(self, painter: QPainter, frame: SideFrame, picked: frozenset[int]) -> None:
        for bracket in self.view.brackets:
            if frame.sees(bracket.nm):
                colour = self.theme.weight(bracket.weight) if bracket.weight else QColor(self.theme.ink)
                wide = 2.4 if bracket.point in picked or bracket.weight else 1.5
                if bracket.tried:
                    colour, wide = QColor(self.theme.changed), 3.0
                style = Qt.PenStyle.DotLine if bracket.tried else Qt.PenStyle.SolidLine
                painter.setPen(QPen(colour, wide, style, Qt.PenCapStyle.FlatCap))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                self._paint_bracket(painter, frame, bracket)

    def _paint_bracket(self, painter: QPainter, frame: SideFrame, bracket: Bracket) -> None:
        """A bar with its corners toward the altitudes allowed: square where coded, round where somebody stated it."""
        x, half, serif = frame.x(bracket.nm), HALF_BRACKET * text_scale(), SERIF * text_scale()
        for feet, inward in ((bracket.low_ft, -serif), (bracket.high_ft, serif)):
            if feet is None:
                continue
            y = frame.y(feet)
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
            painter.drawPath(path)

    def _paint_leaders(self, painter: QPainter, texts: Iterable[SideText]) -> None:
        painter.setPen(QPen(QColor(blend_colours(self.theme.muted, self.theme.paper, 0.6)), 0.8))
        for text in texts:
            if text.leader is not None and text.leader[3] - text.leader[1] != 4.0:
                x1, y1, x2, y2 = text.leader
                painter.drawLine(QPointF(x1, y1), QPointF(x2, y2))

    def _paint_texts(self, painter: QPainter, texts: Sequence[SideText]) -> None:
        behind = QColor(self.theme.paper)
        behind.setAlpha(190)
        for text in texts:
            left, top, right, bottom = text.rect
            box = QRectF(left, top, right - left, bottom - top)
            painter.fillRect(box.adjusted(-1, 1, 1, -1), behind)
            painter.setFont(text.kind.font)
            painter.setPen(self._ink(text))
            painter.drawText(box, _CENTRED, text.text)

    def _ink(self, text: SideText) -> QColor:
        if text.weight is not None:
            return QColor(blend_colours(self.theme.weight(text.weight).name(), self.theme.ink, 0.6))
        if text.kind is SideKind.LEVEL:
            return QColor(self.theme.route)
        return QColor(self.theme.muted if text.kind in _MUTED else self.theme.ink)

    def _paint_scale_bar(self, painter: QPainter, frame: SideFrame, top: float) -> None:
        """How far a round distance reaches, at the upper left."""
        left, (nm, length) = frame.left, scale_bar(frame)
        painter.setPen(QPen(QColor(self.theme.muted), 1.0))
        y = top + 5
        painter.drawLine(QPointF(left, y), QPointF(left + length, y))
        for x in (left, left + length):
            painter.drawLine(QPointF(x, y - 3), QPointF(x, y + 3))
        painter.setFont(text_font(-1.5))
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextDontClip
        painter.drawText(QRectF(left + length + 6, y - 8, 74, 16), flags, f"{nm:,} NM")
