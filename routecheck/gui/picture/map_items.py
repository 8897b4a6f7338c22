"""What lies in the plane of the Picture, as items of pyqtgraph: coast, graticule, airways, legs and symbols."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainterPath, QPolygonF
from PySide6.QtWidgets import QGraphicsPathItem

from routecheck.gui.picture.area_item import AreaItem
from routecheck.gui.picture.chart_symbols import symbol_path, symbol_size
from routecheck.gui.theme import blend_colours, text_scale
from routecheck.gui.widgets.chart_lines import Curves, LineStyle, pixel_pen
from routecheck.model import Weight
from routecheck.presentation.drawn_map import DrawnPoint, empty_picture
from routecheck.presentation.outline import NO_OUTLINE
from routecheck.presentation.selection import Selection

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.arrays import Floats
    from routecheck.gui.theme import Theme
    from routecheck.presentation.drawn_map import DrawnLeg, DrawnOther, Picture
    from routecheck.presentation.nearby_fixes import NearbyFixes
    from routecheck.presentation.outline import Outline
    from routecheck.presentation.symbols import Symbol
    from routecheck.presentation.trial import TrialLine


_Pen = Qt.PenStyle
_NOTHING = np.empty((0, 2))


class _Look(NamedTuple):
    """How symbols are drawn: colour of the line and inside, width of the line in pixels, share of the usual size."""

    line: Callable[[Theme], str]
    inside: Callable[[Theme], str]
    width: float
    share: float = 1.0


_BEHIND = {
    "graticule": LineStyle(lambda theme: theme.graticule),
    "coast": LineStyle(lambda theme: theme.coast),
    "airways": LineStyle(lambda theme: theme.line),
}
_wide = partial(LineStyle, smooth=True, pieces=True)
_ROUTE = {
    "direct": LineStyle(lambda theme: theme.direct, 1.0, _Pen.DashLine),
    "halo": _wide(lambda theme: blend_colours(theme.route, theme.paper, 0.26), 11.0),
    "gap": _wide(lambda theme: theme.route, 1.6, _Pen.DotLine),
    "calm": _wide(lambda theme: theme.route, 2.2),
    "doubtful": _wide(lambda theme: theme.doubtful, 2.8),
    "wrong": _wide(lambda theme: theme.wrong, 3.2),
    "tried": _wide(lambda theme: theme.changed, 3.0, _Pen.DotLine),
}
_LOADED = {"loaded": _Look(lambda t: blend_colours(t.muted, t.paper, 0.62), lambda t: t.paper, 1.0, 0.6)}
_ON_ROUTE = {
    "others": _Look(lambda t: t.muted, lambda t: t.paper, 1.0),
    "new": _Look(lambda t: t.changed, lambda t: t.pane, 1.5),
    "minor": _Look(lambda t: t.muted, lambda t: t.pane, 1.2, 0.75),
    "major": _Look(lambda t: t.ink, lambda t: t.pane, 1.3),
}
_CROSS_PX = 12.0
_STYLES: dict[str, Callable[[DrawnLeg], bool]] = {
    "gap": lambda leg: leg.is_gap,
    "calm": lambda leg: not leg.is_gap and leg.weight is None,
    "doubtful": lambda leg: not leg.is_gap and leg.weight is Weight.DOUBTFUL,
    "wrong": lambda leg: not leg.is_gap and leg.weight is Weight.WRONG,
}


class MapItems:
    """Everything on the Picture that lies in the plane."""

    def __init__(self, box: pg.ViewBox, theme: Theme, ratio: float) -> None:
        self._picture, self._pick = empty_picture(), Selection()
        self.tried: TrialLine | None = None
        self._outline = NO_OUTLINE
        self._with_symbols: tuple[DrawnPoint, ...] | None = None
        self._land, self._lakes = AreaItem(), AreaItem()
        self._islands = QGraphicsPathItem()
        self._curves = Curves(_BEHIND | _ROUTE)
        self._scatters = {name: pg.ScatterPlotItem() for name in _LOADED | _ON_ROUTE}
        self._place = pg.ScatterPlotItem(symbol="crosshair")
        behind = (*(self._curves.items[name] for name in _BEHIND), *(self._scatters[name] for name in _LOADED))
        route = (*(self._curves.items[name] for name in _ROUTE), *(self._scatters[name] for name in _ON_ROUTE))
        for depth, item in enumerate((self._land, self._lakes, self._islands, *behind, *route, self._place)):
            item.setZValue(depth)
            box.addItem(item, ignoreBounds=True)
        self.dress(theme, ratio)

    def dress(self, theme: Theme, ratio: float) -> None:
        """Use other colours, and lines for a screen with so many of its pixels a pixel."""
        self._islands.setPen(pixel_pen(theme.coast, 1.0))
        self._islands.setBrush(QColor(theme.land))
        self._land.dress(theme.land)
        self._lakes.dress(theme.paper)
        self._curves.dress(theme, ratio)
        for name, look in (_LOADED | _ON_ROUTE).items():
            self._scatters[name].setPen(pixel_pen(look.line(theme), look.width * ratio))
            self._scatters[name].setBrush(QBrush(QColor(look.inside(theme))))
        self._place.setPen(pixel_pen(theme.ink, ratio))
        self._place.setBrush(None)

    def line(self, name: str) -> Floats:
        """What is drawn as the line of that name, shape (n, 2), NM, with rows of NaN where it breaks."""
        return self._curves.drawn(name)

    @property
    def has_land(self) -> bool:
        """Whether the islands of the invented region are shown."""
        return not self._islands.path().isEmpty()

    def show_picture(self, picture: Picture) -> None:
        """Draw another picture."""
        self._picture = picture
        for name, chosen in _STYLES.items():
            self._curves.draw(name, [leg.curve for leg in picture.legs if chosen(leg)])
        self._curves.draw("direct", [picture.direct])
        self._islands.setPath(_rings(picture.islands))
        self._with_symbols = None
        self.show_pick(self._pick)

    def show_symbols(self, points: tuple[DrawnPoint, ...]) -> None:
        """Draw the symbols of these points of the picture, and of no others."""
        if points != self._with_symbols:
            self._with_symbols = points
            self._mark("minor", [point for point in points if point.minor])
            self._mark("major", [point for point in points if not point.minor])

    def show_pick(self, pick: Selection | None) -> None:
        """Draw attention to the picked legs, and show what else the picked points could have been."""
        self._pick = pick or Selection()
        self._curves.draw("halo", [leg.curve for leg in self._picture.legs if leg.is_about(self._pick.legs)])
        self._mark("others", [other for other in self._picture.others if other.point in self._pick.points])

    def show_tried(self, tried: TrialLine | None) -> None:
        """Draw the stretch that a tried correction would change; None = nothing."""
        if tried is self.tried:
            return
        self.tried = tried
        self._curves.draw("tried", tried.curves if tried else ())
        self._mark("new", tried.points if tried else ())

    def show_nearby(self, nearby: NearbyFixes | None) -> None:
        """Draw what the data has about the route, faintly; None = nothing."""
        places, symbols = (nearby.places, nearby.symbols) if nearby else (_NOTHING, ())
        self._curves.draw("airways", [nearby.lines] if nearby else ())
        self._scatter("loaded", places, [(symbol, 0) for symbol in symbols])

    def show_place(self, spot: tuple[float, float] | None) -> None:
        """Mark a place on the route with a cross, NM of the plane; None = none."""
        x, y = ([spot[0]], [spot[1]]) if spot else ([], [])
        self._place.setData(x=x, y=y, size=_CROSS_PX * text_scale())

    @property
    def place(self) -> tuple[float, float] | None:
        """Which place is marked."""
        spots = np.column_stack(self._place.getData()).tolist()
        return (spots[0][0], spots[0][1]) if spots else None

    def show_background(self, graticule: Floats, outline: Outline) -> None:
        """Draw another graticule and another map behind the route."""
        self._curves.draw("graticule", [graticule])
        if outline is not self._outline:
            self._outline = outline
            self._curves.draw("coast", [outline.coast])
            self._land.show_rings(outline.land)
            self._lakes.show_rings(outline.lakes)

    @property
    def outline(self) -> Outline:
        """The map behind the route as it is drawn."""
        return self._outline

    def refresh_sizes(self) -> None:
        """Draw symbols as large as the system's text asks for."""
        self.show_picture(self._picture)

    def _mark(self, name: str, things: Sequence[DrawnPoint | DrawnOther]) -> None:
        places = np.array([(thing.x, thing.y) for thing in things]).reshape(-1, 2)
        turned = [thing.turned if isinstance(thing, DrawnPoint) else 0 for thing in things]
        self._scatter(name, places, list(zip((thing.symbol for thing in things), turned, strict=True)))

    def _scatter(self, name: str, places: Floats, symbols: Sequence[tuple[Symbol, int]]) -> None:
        share = (_LOADED | _ON_ROUTE)[name].share * text_scale()
        self._scatters[name].setData(
            x=places[:, 0],
            y=places[:, 1],
            symbol=[symbol_path(*symbol) for symbol in symbols],
            size=[symbol_size(symbol) * share for symbol, _ in symbols],
        )


def _rings(rings: Sequence[Floats]) -> QPainterPath:
    path = QPainterPath()
    for ring in rings:
        path.addPolygon(QPolygonF([QPointF(x, y) for x, y in ring.tolist()]))
        path.closeSubpath()
    return path
