"""How the mark of a finding is painted: the same shape and number on the text, in the Margin and in the Picture."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPen, QPolygonF

from routecheck.gui.theme import scale
from routecheck.model import Weight

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

    from routecheck.gui.theme import Theme

_SIZE = 16.0


def mark_size() -> float:
    """The size of a mark in pixels, at the system's text size."""
    return _SIZE * scale()


def paint_mark(painter: QPainter, centre: QPointF, weight: Weight, text: str, theme: Theme, share: float = 1.0) -> None:
    """Paint a filled square (Wrong), a diamond (Doubtful) or an open circle (Note) with a number in it.

    `share` makes the mark smaller than usual.
    """
    size = mark_size() * share
    painter.save()
    painter.setRenderHint(painter.RenderHint.Antialiasing)
    _paint_shape(painter, centre, weight, theme, size / 2)
    painter.setPen(theme.on_weight(weight))
    font = QFont(painter.font())
    font.setBold(True)
    font.setPixelSize(max(7, round(size * (0.62 if len(text) < 2 else 0.5))))
    painter.setFont(font)
    box = QRectF(centre.x() - size, centre.y() - size, 2 * size, 2 * size)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
    painter.restore()


def _paint_shape(painter: QPainter, centre: QPointF, weight: Weight, theme: Theme, half: float) -> None:
    colour = theme.weight(weight)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    if weight is Weight.WRONG:
        painter.drawRoundedRect(QRectF(centre.x() - half, centre.y() - half, 2 * half, 2 * half), 2, 2)
    elif weight is Weight.DOUBTFUL:
        painter.drawPolygon(_diamond(centre, half * 1.3))
    else:
        painter.setPen(QPen(colour, 1.6))
        painter.setBrush(QColor(theme.pane))
        painter.drawEllipse(centre, half, half)


def _diamond(centre: QPointF, half: float) -> QPolygonF:
    x, y = centre.x(), centre.y()
    return QPolygonF([QPointF(x, y - half), QPointF(x + half, y), QPointF(x, y + half), QPointF(x - half, y)])
