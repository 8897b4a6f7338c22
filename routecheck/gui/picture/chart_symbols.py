"""The shapes drawn at points, after ICAO Annex 4 in words, as Qt paths. No drawing happens here."""

from __future__ import annotations

import math
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainterPath, QPolygonF, QTransform

from routecheck.presentation.symbols import Symbol


def _regular(corners: int, radius: float, first_deg: float) -> QPainterPath:
    angles = [math.radians(first_deg + 360.0 * i / corners) for i in range(corners)]
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(radius * math.cos(a), radius * math.sin(a)) for a in angles]))
    path.closeSubpath()
    return path


def _star() -> QPainterPath:
    """Four points, up, right, down and left, with curved-in sides drawn straight."""
    path = QPainterPath()
    corners = []
    for i in range(8):
        angle, radius = math.radians(45.0 * i - 90.0), 0.2 if i % 2 else 0.66
        corners.append(QPointF(radius * math.cos(angle), radius * math.sin(angle)))
    path.addPolygon(QPolygonF(corners))
    path.closeSubpath()
    return path


def _circle(radius: float) -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(QRectF(-radius, -radius, 2 * radius, 2 * radius))
    return path


def _square(half: float) -> QPainterPath:
    path = QPainterPath()
    path.addRect(QRectF(-half, -half, 2 * half, 2 * half))
    return path


def _dotted_circle() -> QPainterPath:
    path = _circle(0.08)
    for ring, dots in ((0.28, 7), (0.5, 12)):
        for i in range(dots):
            angle = 2 * math.pi * i / dots
            path.addEllipse(QPointF(ring * math.cos(angle), ring * math.sin(angle)), 0.012, 0.012)
    return path


def _airport() -> QPainterPath:
    path = _circle(0.42)
    path.moveTo(-0.66, 0.0)
    path.lineTo(0.66, 0.0)
    return path


def _runway() -> QPainterPath:
    """A bar from its threshold to the right; it is turned where it is painted."""
    path = QPainterPath()
    path.addRect(QRectF(0.0, -0.11, 0.64, 0.22))
    return path


def _hexagon_in_square() -> QPainterPath:
    path = _regular(6, 0.44, 0.0)
    path.setFillRule(Qt.FillRule.WindingFill)
    path.addPath(_square(0.5))
    path.addPath(_circle(0.06))
    return path


def _hexagon() -> QPainterPath:
    path = _regular(6, 0.5, 0.0)
    path.setFillRule(Qt.FillRule.WindingFill)
    path.addPath(_circle(0.06))
    return path


_SHAPES: dict[Symbol, QPainterPath] = {
    Symbol.TRIANGLE: _regular(3, 0.56, -90.0),
    Symbol.STAR: _star(),
    Symbol.HEXAGON: _hexagon(),
    Symbol.HEXAGON_IN_SQUARE: _hexagon_in_square(),
    Symbol.SQUARE: _square(0.42),
    Symbol.DOTTED_CIRCLE: _dotted_circle(),
    Symbol.AIRPORT: _airport(),
    Symbol.DOT: _circle(0.2),
    Symbol.RUNWAY: _runway(),
}
"""About one unit wide; some reach farther."""
_SIZES: dict[Symbol, float] = {
    Symbol.TRIANGLE: 12.0,
    Symbol.STAR: 14.0,
    Symbol.HEXAGON: 13.0,
    Symbol.HEXAGON_IN_SQUARE: 14.0,
    Symbol.SQUARE: 12.0,
    Symbol.DOTTED_CIRCLE: 17.0,
    Symbol.AIRPORT: 14.0,
    Symbol.DOT: 12.0,
    Symbol.RUNWAY: 20.0,
}
_REACH = 1.4
"""The farthest-reaching shape is so many units wide."""


@lru_cache(maxsize=1024)
def symbol_path(symbol: Symbol, turned: int) -> QPainterPath:
    """A shape that fits a square of one unit about its centre, turned by whole degrees clockwise."""
    return QTransform().rotate(turned).scale(1.0 / _REACH, 1.0 / _REACH).map(_SHAPES[symbol])


def symbol_size(symbol: Symbol) -> float:
    """The side of that square in pixels."""
    return _SIZES[symbol] * _REACH
