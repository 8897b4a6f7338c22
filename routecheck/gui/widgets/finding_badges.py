"""Paints the badge of a finding: the same shape and number on the text, in the Margin and in the Picture."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QImage, QPaintEngine, QPainter, QPen, QPolygonF

from routecheck.gui.theme import text_scale
from routecheck.model import Weight

if TYPE_CHECKING:
    from routecheck.gui.theme import Theme

_SIZE = 16.0
_ROUND_IT = 1.6
"""An image is so much larger than the badge in it: the corners of the diamond reach out."""


def badge_size() -> float:
    """The size of a badge in pixels, at the system's text size."""
    return _SIZE * text_scale()


def paint_badge(
    painter: QPainter,
    centre: QPointF,
    weight: Weight,
    text: str,
    theme: Theme,
    share: float = 1.0,
    *,
    accepted: bool = False,
) -> None:
    """Paint a filled square (Wrong), a diamond (Doubtful) or an open circle (Note) with a number in it.

    `share` makes the badge smaller. That of an accepted finding keeps its shape and number, but is not filled.
    """
    size = badge_size() * share
    ratio = painter.device().devicePixelRatioF()
    family = painter.font().family()
    if painter.paintEngine().type() is QPaintEngine.Type.SVG:
        _paint_whole(painter, centre, weight, text, theme, size, family, accepted=accepted)
        return
    image = _image(weight, text, theme, size, ratio, accepted, family)
    half = image.width() / ratio / 2
    painter.drawImage(QPointF(centre.x() - half, centre.y() - half), image)


@lru_cache(maxsize=2048)
def _image(weight: Weight, text: str, theme: Theme, size: float, ratio: float, accepted: bool, family: str) -> QImage:
    """Cached, because a route may show hundreds of badges in every frame."""
    side = int(size * _ROUND_IT * ratio) + 2
    image = QImage(side, side, QImage.Format.Format_ARGB32_Premultiplied)
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    middle = QPointF(side / ratio / 2, side / ratio / 2)
    _paint_whole(painter, middle, weight, text, theme, size, family, accepted=accepted)
    painter.end()
    return image


def _paint_whole(
    painter: QPainter,
    middle: QPointF,
    weight: Weight,
    text: str,
    theme: Theme,
    size: float,
    family: str,
    *,
    accepted: bool,
) -> None:
    _paint_shape(painter, middle, weight, theme, size / 2, accepted=accepted)
    painter.setPen(QColor(theme.ink) if accepted else theme.on_weight(weight))
    font = QFont(family)
    font.setBold(True)
    font.setPixelSize(max(7, round(size * (0.62 if len(text) < 2 else 0.5))))
    painter.setFont(font)
    box = QRectF(middle.x() - size, middle.y() - size, 2 * size, 2 * size)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def _paint_shape(
    painter: QPainter, centre: QPointF, weight: Weight, theme: Theme, half: float, *, accepted: bool
) -> None:
    colour = theme.weight(weight)
    is_open = accepted or weight is Weight.NOTE
    painter.setPen(QPen(colour, 1.6) if is_open else Qt.PenStyle.NoPen)
    if accepted and weight is Weight.NOTE:
        painter.setPen(QPen(colour, 1.6, Qt.PenStyle.DotLine))
    painter.setBrush(QColor(theme.pane) if is_open else colour)
    if is_open:
        half -= 0.8
    if weight is Weight.WRONG:
        painter.drawRoundedRect(QRectF(centre.x() - half, centre.y() - half, 2 * half, 2 * half), 2, 2)
    elif weight is Weight.DOUBTFUL:
        painter.drawPolygon(_diamond(centre, half * 1.3))
    else:
        painter.drawEllipse(centre, half, half)


def _diamond(centre: QPointF, half: float) -> QPolygonF:
    x, y = centre.x(), centre.y()
    return QPolygonF([QPointF(x, y - half), QPointF(x + half, y), QPointF(x, y + half), QPointF(x - half, y)])
