"""How the map is painted: coast, graticule, airways, legs and symbols, in the order in which they cover one another.

Lines are kept as Qt paths and lines in NM of the plane and painted through the transform of the frame.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from math import isnan
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from PySide6.QtCore import QByteArray, QDataStream, QIODevice, QLineF, QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QImage, QPainter, QPainterPath, QPen

from routecheck.gui.picture.chart_symbols import SHAPES, SIZES
from routecheck.gui.theme import blend, scale
from routecheck.model import Weight
from routecheck.presentation.map_scene import DrawnPoint

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from numpy.typing import NDArray

    from routecheck.gui.picture.canvas import Frame
    from routecheck.gui.theme import Theme
    from routecheck.presentation.map_scene import DrawnLeg, Picture
    from routecheck.presentation.nearby_fixes import Surroundings
    from routecheck.presentation.selection import Pick
    from routecheck.presentation.symbols import Symbol
    from routecheck.presentation.trial import TriedLine

    Floats = NDArray[np.float64]

_MINOR, _LOADED = 0.75, 0.6
"""Shares of a symbol's size: inside an airway, and of what is loaded but not on the route."""
_HALO_PX = 11.0
_NOTHING = QPainterPath()
_ELEMENT = np.dtype([("kind", ">i4"), ("x", ">f8"), ("y", ">f8")])
_STYLES: dict[str, Callable[[DrawnLeg], bool]] = {
    "gap": lambda leg: leg.is_gap,
    "calm": lambda leg: not leg.is_gap and leg.weight is None,
    "doubtful": lambda leg: not leg.is_gap and leg.weight is Weight.DOUBTFUL,
    "wrong": lambda leg: not leg.is_gap and leg.weight is Weight.WRONG,
}


class MapPainter:
    """Everything on the Picture that lies in the plane."""

    def __init__(self, theme: Theme) -> None:
        self.theme = theme
        self._picture: Picture | None = None
        self._surroundings: Surroundings | None = None
        self._pick: Pick | None = None
        self._land = self._graticule = self._coast = self._airways = self._direct = _NOTHING
        self._coast_is: Floats | None = None
        self._legs: dict[str, list[QLineF]] = {style: [] for style in _STYLES}
        self.halo: list[QLineF] = []
        self.tried: TriedLine | None = None

    def show_picture(self, picture: Picture) -> None:
        """Paint another picture."""
        self._picture = picture
        for style, chosen in _STYLES.items():
            self._legs[style] = _lines(leg.curve for leg in picture.legs if chosen(leg))
        self._direct = path_of(picture.direct)
        self._land = QPainterPath()
        for ring in picture.islands:
            self._land.addPath(path_of(np.concatenate((ring, ring[:1]))))
        self.show_pick(self._pick)

    def show_pick(self, pick: Pick | None) -> None:
        """Draw attention to the picked legs, and show what else the picked points could have been."""
        self._pick = pick
        legs = [leg for leg in self._picture.legs if leg.is_about(pick.legs)] if self._picture and pick else []
        self.halo = _lines(leg.curve for leg in legs)

    def show_surroundings(self, surroundings: Surroundings | None) -> None:
        """Paint what the data has about the route, faintly; None = nothing."""
        self._surroundings = surroundings
        self._airways = path_of(surroundings.lines) if surroundings else _NOTHING

    def show_background(self, graticule: Floats | None, coast: Floats | None) -> None:
        """Paint other lines behind the route; None = none."""
        self._graticule = _NOTHING if graticule is None else path_of(graticule)
        if coast is not self._coast_is:
            self._coast_is, self._coast = coast, _NOTHING if coast is None else path_of(coast)

    @property
    def has_land(self) -> bool:
        """Whether the islands of the invented region are shown."""
        return not self._land.isEmpty()

    def paint(self, painter: QPainter, frame: Frame) -> None:
        """Paint the map."""
        painter.save()
        painter.setTransform(frame.transform(), combine=True)
        self._paint_behind(painter)
        painter.restore()
        if self._surroundings is not None:
            self._paint_loaded(painter, frame, self._surroundings)
        painter.save()
        painter.setTransform(frame.transform(), combine=True)
        self._paint_route(painter)
        painter.restore()
        if self._picture is not None:
            self._paint_symbols(painter, frame, self._picture)

    def _paint_behind(self, painter: QPainter) -> None:
        theme = self.theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(_pen(theme.coast, 1.0))
        painter.setBrush(QBrush(QColor(theme.land)))
        painter.drawPath(self._land)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for path, colour in (
            (self._graticule, theme.graticule),
            (self._coast, theme.coast),
            (self._airways, theme.line),
        ):
            painter.setPen(_pen(colour, 1.0))
            painter.drawPath(path)

    def _paint_route(self, painter: QPainter) -> None:
        """Leg by leg in straight lines: a long zigzag as one wide path costs sixty times as much."""
        theme, fine = self.theme, painter.device().devicePixelRatioF()
        painter.setPen(_pen(theme.direct, 1.0, Qt.PenStyle.DashLine))
        painter.drawPath(self._direct)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for lines, pen in (
            (self.halo, _pen(blend(theme.route, theme.paper, 0.26), _HALO_PX * fine)),
            (self._legs["gap"], _pen(theme.route, 1.6 * fine, Qt.PenStyle.DotLine)),
            (self._legs["calm"], _pen(theme.route, 2.2 * fine)),
            (self._legs["doubtful"], _pen(theme.doubtful, 2.8 * fine)),
            (self._legs["wrong"], _pen(theme.wrong, 3.2 * fine)),
        ):
            painter.setPen(pen)
            painter.drawLines(lines)
        if self.tried is not None:
            painter.setPen(_pen(theme.changed, 3.0 * fine, Qt.PenStyle.DotLine))
            for curve in self.tried.curves:
                painter.drawPath(path_of(curve))

    def _paint_loaded(self, painter: QPainter, frame: Frame, surroundings: Surroundings) -> None:
        colour = blend(self.theme.muted, self.theme.paper, 0.62)
        look = _Look(colour, self.theme.paper, 1.0, _LOADED)
        _paint_symbols(painter, frame, surroundings.places, surroundings.symbols, look)

    def _paint_symbols(self, painter: QPainter, frame: Frame, picture: Picture) -> None:
        theme = self.theme
        others = [o for o in picture.others if self._pick and o.point in self._pick.points]
        minor, major = ([p for p in picture.points if p.minor is is_minor] for is_minor in (True, False))
        for things, look in (
            (others, _Look(theme.muted, theme.paper, 1.0, 1.0)),
            (self.tried.points if self.tried else (), _Look(theme.changed, theme.pane, 1.5, 1.0)),
            (minor, _Look(theme.muted, theme.pane, 1.2, _MINOR)),
            (major, _Look(theme.ink, theme.pane, 1.3, 1.0)),
        ):
            places = np.array([(thing.x, thing.y) for thing in things]).reshape(-1, 2)
            turned = [thing.turned if isinstance(thing, DrawnPoint) else 0 for thing in things]
            _paint_symbols(painter, frame, places, [thing.symbol for thing in things], look, turned)


class _Look(NamedTuple):
    """Colour of the line, colour inside, width of the line in pixels, share of the usual size."""

    line: str
    inside: str
    width: float
    share: float


def _paint_symbols(
    painter: QPainter,
    frame: Frame,
    places: Floats,
    symbols: Sequence[Symbol],
    look: _Look,
    turned: Sequence[int] = (),
) -> None:
    spots = frame.pixels(places)
    seen = ((spots > -20) & (spots < (frame.width + 20, frame.height + 20))).all(axis=1)
    ratio, size = painter.device().devicePixelRatioF(), scale()
    for i in np.flatnonzero(seen).tolist():
        image = _symbol(symbols[i], look, size, ratio, turned[i] if turned else 0)
        half = image.width() / ratio / 2
        painter.drawImage(QPointF(spots[i, 0] - half, spots[i, 1] - half), image)


@lru_cache(maxsize=256)
def _symbol(symbol: Symbol, look: _Look, size: float, ratio: float, turned: int) -> QImage:
    """A symbol painted once, because hundreds of them are in every frame."""
    across = SIZES[symbol] * size * look.share
    side = int((across * 1.4 + 2 * look.width) * ratio) + 2
    image = QImage(side, side, QImage.Format.Format_ARGB32_Premultiplied)
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(side / ratio / 2, side / ratio / 2)
    painter.rotate(turned)
    painter.scale(across, across)
    painter.setPen(_pen(look.line, look.width * ratio))
    painter.setBrush(QColor(look.inside))
    painter.drawPath(SHAPES[symbol])
    painter.end()
    return image


def path_of(curve: Floats) -> QPainterPath:
    """A curve of shape (n, 2) with rows of NaN where it breaks, as a path. Through a stream: quick for long coasts."""
    gone = np.isnan(curve[:, 0])
    first = np.concatenate(([True], gone[:-1]))[~gone]
    elements = np.empty(len(first), dtype=_ELEMENT)
    elements["kind"] = ~first
    elements["x"], elements["y"] = curve[~gone].T
    path = QPainterPath()
    if len(elements):
        count, ends = np.array([len(elements)], dtype=">i4"), np.zeros(2, dtype=">i4")
        content = QByteArray(count.tobytes() + elements.tobytes() + ends.tobytes())
        stream = QDataStream(content, QIODevice.OpenModeFlag.ReadOnly)
        stream >> path
    return path


def _lines(curves: Iterable[Floats]) -> list[QLineF]:
    lines = []
    for curve in curves:
        rows = curve.tolist()
        lines += [QLineF(*start, *end) for start, end in pairwise(rows) if not isnan(start[0] + end[0])]
    return lines


def _pen(colour: str, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """A pen of so many pixels of the screen, without round ends, which cost fifty times as much."""
    pen = QPen(QColor(colour), width, style, Qt.PenCapStyle.FlatCap)
    pen.setCosmetic(True)
    return pen
