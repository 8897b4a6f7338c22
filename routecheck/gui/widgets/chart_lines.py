"""How lines look in a chart, and the curves of pyqtgraph that draw them. Which lines there are is not known here."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPen

from routecheck.presentation.graticule import join_curves

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from routecheck.arrays import Floats
    from routecheck.gui.theme import Theme


_NOTHING = np.empty((0, 2))


class LineStyle(NamedTuple):
    """Colour in a theme, width in pixels, pen. `smooth` = antialiased, and so wide on every screen.

    `pieces` = drawn piece by piece: a long zigzag as one wide path costs sixty times as much.
    """

    colour: Callable[[Theme], str]
    width: float = 1.0
    pen: Qt.PenStyle = Qt.PenStyle.SolidLine
    smooth: bool = False
    pieces: bool = False
    cap: Qt.PenCapStyle = Qt.PenCapStyle.FlatCap


class Curves:
    """The lines of a chart by their names, those named first under the others."""

    def __init__(self, styles: Mapping[str, LineStyle]) -> None:
        self._styles = styles
        self.items = {name: _curve(style) for name, style in styles.items()}

    def dress(self, theme: Theme, ratio: float) -> None:
        """Use other colours, and widths for a screen with so many of its pixels a pixel."""
        for name, style in self._styles.items():
            wide = style.width * (ratio if style.smooth else 1.0)
            self.items[name].setPen(pixel_pen(style.colour(theme), wide, style.pen, style.cap))

    def draw(self, name: str, lines: Sequence[Floats]) -> None:
        """Draw lines of shape (n, 2), broken where a row is NaN."""
        line = lines[0] if len(lines) == 1 else join_curves(list(lines))
        if np.isnan(line).all():
            line = _NOTHING
        self.items[name].setData(x=line[:, 0], y=line[:, 1])

    def drawn(self, name: str) -> Floats:
        """What is drawn, shape (n, 2), with rows of NaN where it breaks."""
        return np.column_stack(self.items[name].getData())


def pixel_pen(
    colour: str,
    width: float,
    style: Qt.PenStyle = Qt.PenStyle.SolidLine,
    cap: Qt.PenCapStyle = Qt.PenCapStyle.FlatCap,
) -> QPen:
    """A pen of so many pixels of the screen. Round ends cost fifty times as much as flat ones."""
    pen = QPen(QColor(colour), width, style, cap)
    pen.setCosmetic(True)
    return pen


def _curve(style: LineStyle) -> pg.PlotCurveItem:
    mode = "on" if style.pieces else "off"
    return pg.PlotCurveItem(connect="finite", antialias=style.smooth, segmentedLineMode=mode)
