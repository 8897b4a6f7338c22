"""The map's curves and symbols as pyqtgraph items, in the order in which they cover one another. No mouse in here."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsPathItem

from routecheck.gui.shapes import SHAPES, SIZES
from routecheck.gui.theme import blend, scale
from routecheck.model import Weight
from routecheck.present.graticule import joined

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from numpy.typing import NDArray

    from routecheck.gui.theme import Theme
    from routecheck.present.picks import Pick
    from routecheck.present.picture import DrawnLeg, Picture, Symbol
    from routecheck.present.surroundings import Surroundings

    Floats = NDArray[np.float64]

_MINOR, _LOADED = 0.75, 0.6
"""Shares of a symbol's size: inside an airway, and of what is loaded but not on the route."""
_HALO_PX = 11
_NOTHING = np.empty((0, 2))
_STYLES: dict[str, Callable[[DrawnLeg], bool]] = {
    "gap": lambda leg: leg.is_gap,
    "calm": lambda leg: not leg.is_gap and leg.weight is None,
    "doubtful": lambda leg: not leg.is_gap and leg.weight is Weight.DOUBTFUL,
    "wrong": lambda leg: not leg.is_gap and leg.weight is Weight.WRONG,
}


class MapItems:
    """Everything on the Picture that lies in the plane."""

    def __init__(self, box: pg.ViewBox, theme: Theme) -> None:
        self._theme = theme
        self._picture: Picture | None = None
        self._surroundings: Surroundings | None = None
        self._coast: Floats | None = None
        self.land = QGraphicsPathItem()
        self.graticule, self.coast, self.airways, self.direct = (pg.PlotCurveItem(connect="finite") for _ in range(4))
        self.halo, self.legs = _wide_curve(), {style: _wide_curve() for style in _STYLES}
        self.loaded, self.others, self.points = (pg.ScatterPlotItem(pxMode=True, antialias=True) for _ in range(3))
        behind = (self.land, self.graticule, self.coast, self.airways, self.loaded, self.direct, self.halo)
        for item in (*behind, *self.legs.values(), self.others, self.points):
            box.addItem(item, ignoreBounds=True)
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        self.graticule.setPen(pg.mkPen(theme.graticule, width=1))
        self.coast.setPen(pg.mkPen(theme.coast, width=1))
        self.land.setPen(pg.mkPen(theme.coast, width=1))
        self.land.setBrush(QBrush(QColor(theme.land)))
        self.airways.setPen(pg.mkPen(theme.line, width=1))
        self.direct.setPen(pg.mkPen(theme.direct, width=1, style=Qt.PenStyle.DashLine))
        self.halo.setPen(_flat(blend(theme.route, theme.paper, 0.26), _HALO_PX))
        for style, pen in self._pens().items():
            self.legs[style].setPen(pen)
        if self._picture is not None:
            self._draw_points(self._picture)
        self.show_surroundings(self._surroundings)

    def show_picture(self, picture: Picture) -> None:
        """Draw another picture."""
        self._picture = picture
        for style, chosen in _STYLES.items():
            _set_curve(self.legs[style], joined([leg.curve for leg in picture.legs if chosen(leg)]))
        _set_curve(self.direct, picture.direct)
        self._draw_points(picture)
        self._draw_islands(picture)

    def show_pick(self, pick: Pick | None) -> None:
        """Draw attention to the picked legs, and show what else the picked points could have been."""
        picture = self._picture
        legs = [leg for leg in picture.legs if leg.is_about(pick.legs)] if picture and pick else []
        _set_curve(self.halo, joined([leg.curve for leg in legs]))
        others = [o for o in picture.others if o.point in pick.points] if picture and pick else []
        self._scatter(
            self.others, [(o.x, o.y) for o in others], [o.symbol for o in others], 1.0, pg.mkPen(self._theme.muted)
        )

    def show_surroundings(self, surroundings: Surroundings | None) -> None:
        """Draw what the data has about the route, faintly; None = nothing."""
        self._surroundings = surroundings
        pen = pg.mkPen(blend(self._theme.muted, self._theme.paper, 0.62))
        if surroundings is None:
            self.airways.clear()
            self.loaded.clear()
            return
        _set_curve(self.airways, surroundings.lines)
        self._scatter(self.loaded, surroundings.places, surroundings.symbols, _LOADED, pen)

    def show_background(self, graticule: Floats | None, coast: Floats | None) -> None:
        """Draw other lines behind the route; None = none."""
        _set_curve(self.graticule, _NOTHING if graticule is None else graticule)
        if coast is not self._coast:
            self._coast = coast
            _set_curve(self.coast, _NOTHING if coast is None else coast)

    def _scatter(
        self, item: pg.ScatterPlotItem, places: object, symbols: Iterable[Symbol], share: float, pen: QPen
    ) -> None:
        spots = np.asarray(places, dtype=np.float64).reshape(-1, 2)
        chosen = list(symbols)
        item.setData(
            x=spots[:, 0],
            y=spots[:, 1],
            symbol=[SHAPES[s] for s in chosen],
            size=np.array([SIZES[s] * scale() * share for s in chosen]),
            pen=pen,
            brush=pg.mkBrush(self._theme.paper),
        )

    def _pens(self) -> dict[str, QPen]:
        theme = self._theme
        return {
            "gap": _flat(theme.route, 1.6, Qt.PenStyle.DotLine),
            "calm": _flat(theme.route, 2.2),
            "doubtful": _flat(theme.doubtful, 2.8),
            "wrong": _flat(theme.wrong, 3.2),
        }

    def _draw_points(self, picture: Picture) -> None:
        ink, muted = pg.mkPen(self._theme.ink, width=1.3), pg.mkPen(self._theme.muted, width=1.2)
        self.points.setData(
            x=np.array([p.x for p in picture.points]),
            y=np.array([p.y for p in picture.points]),
            symbol=[SHAPES[p.symbol] for p in picture.points],
            size=np.array([SIZES[p.symbol] * scale() * (_MINOR if p.minor else 1.0) for p in picture.points]),
            pen=[muted if p.minor else ink for p in picture.points],
            brush=pg.mkBrush(self._theme.pane),
        )

    def _draw_islands(self, picture: Picture) -> None:
        path = QPainterPath()
        for ring in picture.islands:
            path.moveTo(*ring[0])
            for x, y in ring[1:]:
                path.lineTo(x, y)
            path.closeSubpath()
        self.land.setPath(path)


def _wide_curve() -> pg.PlotCurveItem:
    """A curve drawn line by line: a long zigzag as one wide path costs sixty times as much."""
    curve = pg.PlotCurveItem(connect="finite", antialias=True)
    curve.setSegmentedLineMode("on")
    return curve


def _flat(colour: str, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """A pen without round ends, which cost fifty times as much."""
    pen = QPen(QColor(colour), width, style, Qt.PenCapStyle.FlatCap)
    pen.setCosmetic(True)
    return pen


def _set_curve(item: pg.PlotCurveItem, curve: Floats) -> None:
    item.setData(curve[:, 0], curve[:, 1])
