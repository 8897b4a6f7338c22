"""Names, marks, figures and the scale bar over the map, painted in pixels. Where all that stands is found in layout."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from routecheck.gui.picture.canvas import Frame
from routecheck.gui.picture.map_labels import Kind, Layout, Shown, lay_out
from routecheck.gui.theme import blend, scale, words
from routecheck.gui.widgets.finding_badges import paint_mark
from routecheck.presentation.graticule import scale_bar_nm

if TYPE_CHECKING:
    from routecheck.gui.picture.map_labels import Text
    from routecheck.gui.theme import Theme
    from routecheck.presentation.graticule import Graticule
    from routecheck.presentation.map_scene import DrawnLeg, Picture
    from routecheck.presentation.nearby_fixes import Surroundings
    from routecheck.presentation.selection import Pick
    from routecheck.presentation.trial import TriedLine

_BAR_HALF = 5.0
_WRITTEN = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip
NOTHING_PLACED = "The Picture appears with the first point that can be placed."
_MUTED = frozenset({Kind.MINOR, Kind.GAP, Kind.FIGURES, Kind.LOADED, Kind.EDGE, Kind.OTHER})
"""What is written in the quieter ink."""


class Overlay:
    """Everything on the Picture that keeps its size while the map is zoomed. Whoever owns it repaints."""

    def __init__(self, theme: Theme) -> None:
        self.theme = theme
        self._shown: Shown | None = None
        self.accepted: frozenset[int] = frozenset()
        self._layout = Layout(Frame(0.0, 0.0, 1.0, 0.0, 0.0))
        self._stale = True
        self._shift = QPointF()
        self.tried: TriedLine | None = None

    def show_picture(self, picture: Picture, accepted: frozenset[int] = frozenset()) -> None:
        """Write over another picture; `accepted` are the findings that somebody answers for."""
        self.accepted = accepted
        self._shown = replace(self._shown, picture=picture) if self._shown else Shown(picture)
        self._stale = True

    def show_pick(self, pick: Pick | None) -> None:
        """Draw attention to what is picked."""
        self._show(pick=pick)

    def show_graticule(self, graticule: Graticule | None) -> None:
        """Name the lines of another graticule."""
        self._show(graticule=graticule)

    def show_surroundings(self, surroundings: Surroundings | None) -> None:
        """Name what the data has about the route."""
        self._show(surroundings=surroundings)

    def refresh(self) -> None:
        """Lay everything out again at the next painting."""
        self._stale = True

    def paint(self, painter: QPainter, frame: Frame) -> None:
        """Paint what has room. What is laid out moves along while the map is dragged, until it is laid out anew."""
        if self._shown is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        picture = self._shown.picture
        if picture.box is None:
            self._paint_nothing_placed(painter, frame)
            return
        self._follow(self._shown, frame)
        self._paint_bar(painter, frame)
        self._paint_rings(painter, picture, frame)
        self._paint_open_ends(painter, picture.legs, frame)
        painter.translate(self._shift)
        self._paint_texts(painter, self._layout.texts)
        for mark in picture.marks:
            if mark.index in self._layout.marks:
                rect = self._layout.marks[mark.index]
                at = QPointF((rect[0] + rect[2]) / 2, (rect[1] + rect[3]) / 2)
                accepted = mark.index in self.accepted
                paint_mark(painter, at, mark.weight, str(mark.index + 1), self.theme, accepted=accepted)
        painter.translate(-self._shift)
        if self.tried is not None:
            self._paint_tried(painter, self.tried, frame)

    def mark_at(self, spot: QPointF) -> int | None:
        """The index of the finding whose mark lies there."""
        x, y = spot.x() - self._shift.x(), spot.y() - self._shift.y()
        for index, (left, top, right, bottom) in self.marks.items():
            if left - 2 <= x <= right + 2 and top - 2 <= y <= bottom + 2:
                return index
        return None

    @property
    def marks(self) -> dict[int, tuple[float, float, float, float]]:
        """Where the marks were last laid out, by the index of their finding."""
        return self._layout.marks

    @property
    def texts(self) -> tuple[Text, ...]:
        """What was last laid out."""
        return self._layout.texts

    def _show(self, **what: object) -> None:
        if self._shown is not None:
            self._shown = replace(self._shown, **what)  # type: ignore[arg-type]
            self._stale = True

    def _follow(self, shown: Shown, now: Frame) -> None:
        then = self._layout.frame
        as_large = abs(now.scale / then.scale - 1.0) < 1e-9 and (now.width, now.height) == (then.width, then.height)
        if self._stale or not as_large:
            self._layout, self._shift, self._stale = lay_out(shown, now), QPointF(), False
        else:
            self._shift = QPointF(now.x - then.x, now.y - then.y)

    def _paint_nothing_placed(self, painter: QPainter, frame: Frame) -> None:
        painter.setPen(QColor(self.theme.muted))
        painter.setFont(words())
        painter.drawText(QRectF(0, 0, frame.width, frame.height), Qt.AlignmentFlag.AlignCenter, NOTHING_PLACED)

    def _paint_rings(self, painter: QPainter, picture: Picture, frame: Frame) -> None:
        picked = set(self._shown.pick.points) if self._shown and self._shown.pick else set()
        spots = np.array([(p.x, p.y) for p in picture.points if p.index in picked]).reshape(-1, 2)
        painter.setPen(QPen(QColor(self.theme.ink), 1.3))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for x, y in frame.pixels(spots):
            painter.drawEllipse(QPointF(x, y), 11.0 * scale(), 11.0 * scale())

    def _paint_open_ends(self, painter: QPainter, legs: tuple[DrawnLeg, ...], frame: Frame) -> None:
        """A bar across each end of a gap's stubs: here the drawing stops, and on purpose."""
        painter.setPen(QPen(QColor(self.theme.route), 1.6))
        half = _BAR_HALF * scale()
        for end in (end for leg in legs for end in leg.ends):
            x, y = frame.pixels(np.array([(end.x, end.y)]))[0]
            across = QPointF(end.towards[1] * half, end.towards[0] * half)
            painter.drawLine(QPointF(x, y) - across, QPointF(x, y) + across)

    def _paint_texts(self, painter: QPainter, texts: tuple[Text, ...]) -> None:
        ink, muted, behind = QColor(self.theme.ink), QColor(self.theme.muted), QColor(self.theme.paper)
        behind.setAlpha(165)
        kind = None
        for text in texts:
            if text.kind is not kind:
                kind = text.kind
                painter.setFont(kind.font)
                painter.setPen(muted if kind in _MUTED else ink)
            left, top, right, bottom = text.rect
            box = QRectF(left - 2, top, right - left + 4, bottom - top)
            painter.fillRect(box, behind)
            painter.drawText(box, _WRITTEN, text.text)

    def _paint_tried(self, painter: QPainter, tried: TriedLine, frame: Frame) -> None:
        """Say beside the dotted line that it is not the route."""
        x, y = frame.pixels(np.array([(tried.x, tried.y)]))[0]
        font = words(bold=True)
        size = QFontMetricsF(font).boundingRect(tried.label).size()
        left = min(max(4.0, x + 12.0 * scale()), frame.width - size.width() - 8.0)
        box = QRectF(left, y + 4.0 * scale(), size.width() + 4, size.height())
        painter.setFont(font)
        painter.setPen(QColor(blend(self.theme.changed, self.theme.ink, 0.45)))
        painter.fillRect(box, QColor(self.theme.paper))
        painter.drawText(box, _WRITTEN, tried.label)

    def _paint_bar(self, painter: QPainter, frame: Frame) -> None:
        nm = scale_bar_nm(frame.width / frame.scale)
        length = nm * frame.scale
        x, y = 18.0, frame.height - 14.0
        painter.setPen(QPen(QColor(self.theme.ink), 1.2))
        painter.drawLine(QPointF(x, y), QPointF(x + length, y))
        for end in (x, x + length):
            painter.drawLine(QPointF(end, y - 4), QPointF(end, y + 4))
        painter.setFont(words(-1.5))
        high = QFontMetricsF(words(-1.5)).height()
        box = QRectF(x, y - high - 6, max(length, 60.0), high)
        align = Qt.AlignmentFlag.AlignHCenter if length >= 60 else Qt.AlignmentFlag.AlignLeft
        painter.drawText(box, align | Qt.AlignmentFlag.AlignVCenter, f"{nm:,} NM")
