"""How lines look in a chart, and the curves of pyqtgraph that draw them. Which lines there are is not known here."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPen

from routecheck.presentation.projected_lines import join_curves

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from routecheck.arrays import Floats
    from routecheck.gui.theme import Theme


MOST_WIDE = 1_200
"""A line of more points is drawn thin, which is thirty times as quick: no route of an aircraft has so many."""
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
        self._pens: dict[str, QPen] = {}
        self._thin_pens: dict[str, QPen] = {}
        self.items = {name: _curve(style) for name, style in styles.items()}

    def dress(self, theme: Theme, ratio: float) -> None:
        """Use other colours, and widths for a screen with so many of its pixels a pixel."""
        for name, style in self._styles.items():
            wide = style.width * (ratio if style.smooth else 1.0)
            self._pens[name] = pixel_pen(style.colour(theme), wide, style.pen, style.cap)
            self._thin_pens[name] = pixel_pen(style.colour(theme), 1.0, style.pen)
            is_thin = len(self.drawn(name)) > MOST_WIDE
            self.items[name].setPen((self._thin_pens if is_thin else self._pens)[name])

    def draw(self, name: str, lines: Sequence[Floats]) -> None:
        """Draw lines of shape (n, 2), broken where a row is NaN."""
        line = lines[0] if len(lines) == 1 else join_curves(list(lines))
        if np.isnan(line).all():
            line = _NOTHING
        item, style = self.items[name], self._styles[name]
        is_thin = len(line) > MOST_WIDE
        item.opts["antialias"] = style.smooth and not is_thin
        item.setSegmentedLineMode("on" if style.pieces and not is_thin else "off")
        item.setPen(self._thin_pens[name] if is_thin else self._pens[name])
        item.setData(x=line[:, 0], y=line[:, 1])

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
