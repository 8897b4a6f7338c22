"""What lies in the plane of the Side view, NM and feet, as items of pyqtgraph: room, gaps, profile, levels, minima."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QTransform

from routecheck.gui.theme import blend
from routecheck.gui.widgets.chart_lines import Curves, LineStyle
from routecheck.model import Weight
from routecheck.presentation.graticule import joined
from routecheck.presentation.side_lines import AIRWAY, height_on
from routecheck.presentation.side_view import empty_side_view

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from routecheck.gui.side_view.frame import SideFrame
    from routecheck.gui.theme import Theme
    from routecheck.presentation.selection import Pick
    from routecheck.presentation.side_lines import Line, Step
    from routecheck.presentation.side_view import SideView
    from routecheck.vertical.room import Corner

    Floats = NDArray[np.float64]

_Pen = Qt.PenStyle
_FAR_FT = 1e6
"""What is open is taken to be so far out of view."""
_SQUARE = Qt.PenCapStyle.SquareCap
_MINIMUM = LineStyle(lambda theme: blend(theme.ink, theme.coast, 0.35), 1.3, smooth=True, cap=_SQUARE)
_STYLES = {
    "picked": LineStyle(lambda theme: blend(theme.ink, theme.paper, 0.35)),
    "edges": LineStyle(lambda theme: blend(theme.route, theme.paper, 0.3), smooth=True),
    "airway": _MINIMUM,
    "grid": _MINIMUM._replace(pen=_Pen.DotLine),
    "guessed": LineStyle(lambda theme: theme.route, 1.4, _Pen.DotLine, smooth=True),
    "profile": LineStyle(lambda theme: theme.route, 2.0, smooth=True),
    "levels": LineStyle(lambda theme: theme.route, 1.6, _Pen.DashLine, smooth=True, cap=_SQUARE),
    "tried": LineStyle(lambda theme: theme.changed, 2.6, _Pen.DotLine, smooth=True),
    "doubtful": LineStyle(lambda theme: theme.doubtful, 2.6, smooth=True),
    "wrong": LineStyle(lambda theme: theme.wrong, 2.6, smooth=True),
}
"""Later ones over earlier ones."""
_WEIGHTS = {"doubtful": Weight.DOUBTFUL, "wrong": Weight.WRONG}


class SideItems:
    """Everything in the Side view that lies in its plane."""

    def __init__(self, box: pg.ViewBox, theme: Theme, ratio: float) -> None:
        self._view = empty_side_view()
        self._theme = theme
        self._curves = Curves(_STYLES)
        self._upper, self._lower = (pg.PlotCurveItem(connect="finite", pen=None) for _ in range(2))
        self._band = pg.FillBetweenItem(self._upper, self._lower)
        self._picked, self._gaps, self._shut = (_bars() for _ in range(3))
        behind = (self._picked, self._upper, self._lower, self._band, self._shut, self._gaps)
        for depth, item in enumerate((*behind, *self._curves.items.values())):
            item.setZValue(depth)
            box.addItem(item, ignoreBounds=True)
        self.dress(theme, ratio)

    def dress(self, theme: Theme, ratio: float) -> None:
        """Use other colours, and lines for a screen with so many of its pixels a pixel."""
        self._theme = theme
        self._curves.dress(theme, ratio)
        soft = QColor(theme.route)
        soft.setAlphaF(0.16 if theme.dark else 0.12)
        self._band.setBrush(soft)
        self._picked.setOpts(brush=QColor(theme.picked))
        self._gaps.setOpts(brush=QColor(blend(theme.line, theme.paper, 0.35)))

    def show_view(self, view: SideView) -> None:
        """Draw another view. What is dotted or reaches far is drawn with `show_frame`."""
        self._view = view
        _set_bars(self._gaps, [(gap.begins, gap.ends) for gap in view.gaps])
        self._curves.draw("profile", [np.array(line) for line in view.profile])
        self._curves.draw("airway", [np.array(_level(step)) for step in view.minima if step.what == AIRWAY])
        for name, weight in _WEIGHTS.items():
            self._curves.draw(name, list(_flagged(view, weight)))

    def show_pick(self, pick: Pick | None) -> None:
        """Draw a tint over the picked legs, a line down from the picked points."""
        places = [point.nm for point in self._view.points]
        legs = [leg for leg in (pick.legs if pick else ()) if leg + 1 < len(places)]
        points = [point for point in (pick.points if pick else ()) if point < len(places)]
        _set_bars(self._picked, [(places[leg], places[leg + 1]) for leg in legs])
        self._curves.draw("picked", [np.array([(places[p], -_FAR_FT), (places[p], _FAR_FT)]) for p in points])

    def show_frame(self, frame: SideFrame) -> None:
        """Draw what is cut to what is in view: dotted lines cost by their length, the band by how far it reaches."""
        view, stretch = self._view, (frame.first_nm, frame.last_nm)
        grid = [_level(step) for step in view.minima if step.what != AIRWAY]
        for name, lines in (
            ("grid", grid),
            ("guessed", view.guessed),
            ("levels", [_level(step) for step in view.levels]),
            ("tried", view.tried),
        ):
            cut = [_part(line, *stretch) for line in lines]
            self._curves.draw(name, [np.array(line) for line in cut if line])
        seen = [piece for piece in view.band if piece[0][0] < frame.last_nm and piece[-1][0] > frame.first_nm]
        rims = [_rims(piece, frame) for piece in seen]
        for curve, which in ((self._upper, 1), (self._lower, 0)):
            line = joined([rim[which] for rim in rims])
            curve.setData(x=line[:, 0], y=line[:, 1])
        self._curves.draw("edges", [_edge(rim, frame) for both in rims for rim in both])
        self._show_shut(frame)

    def _show_shut(self, frame: SideFrame) -> None:
        """Hatch where there is no room. The hatch has its size in pixels."""
        brushes = []
        for begins, ends in self._view.shut:
            weight = self._view.weight_between(begins, ends)
            colour = self._theme.weight(weight).name() if weight else self._theme.muted
            brush = QBrush(QColor(blend(colour, self._theme.paper, 0.55)), Qt.BrushStyle.BDiagPattern)
            brush.setTransform(QTransform.fromScale(1.0 / frame.px_nm, -1.0 / frame.px_ft))
            brushes.append(brush)
        _set_bars(self._shut, self._view.shut, brushes=brushes)


def _bars() -> pg.BarGraphItem:
    return pg.BarGraphItem(x0=[], x1=[], y0=-_FAR_FT, y1=_FAR_FT, pen=None)


def _set_bars(bars: pg.BarGraphItem, stretches: Sequence[tuple[float, float]], **more: object) -> None:
    """From top to bottom over stretches of the route."""
    begins, ends = np.array(stretches, dtype=np.float64).reshape(-1, 2).T
    bars.setOpts(x0=begins, x1=ends, **more)


def _level(step: Step) -> Line:
    return (step.begins, step.feet), (step.ends, step.feet)


def _flagged(view: SideView, weight: Weight) -> Iterable[Floats]:
    """The parts of the profile that a finding about heights is about."""
    for (a, b), is_weight in zip(pairwise(view.points), view.weights, strict=True):
        if is_weight is weight:
            parts = (_part(line, a.nm, b.nm) for line in view.profile)
            yield from (np.array(part) for part in parts if part)


def _part(line: Line, begins: float, ends: float) -> Line:
    """The part of a line between two distances."""
    if not line or line[-1][0] <= begins or line[0][0] >= ends:
        return ()
    first, last = max(begins, line[0][0]), min(ends, line[-1][0])
    inner = [spot for spot in line if first < spot[0] < last]
    return ((first, height_on(line, first)), *inner, (last, height_on(line, last)))


def _rims(piece: Sequence[Corner], frame: SideFrame) -> tuple[Floats, Floats]:
    """The lower and upper side of a piece of the band, held within the view: what reaches far out fills slowly."""
    nm, low, high = (np.array(column) for column in zip(*piece, strict=True))
    bounds = frame.low_ft - _FAR_FT, frame.high_ft + _FAR_FT
    sides = [np.clip(side, *bounds) for side in (low, high)]
    cuts = [nm, *(_crossings(nm, side, rim) for side in sides for rim in (frame.low_ft, frame.high_ft))]
    at = np.unique(np.clip(np.concatenate(cuts), max(frame.first_nm, nm[0]), min(frame.last_nm, nm[-1])))
    heights = [np.clip(np.interp(at, nm, side), frame.low_ft, frame.high_ft) for side in sides]
    lower, upper = (np.column_stack((at, feet)) for feet in heights)
    return lower, upper


def _crossings(nm: Floats, feet: Floats, rim: float) -> Floats:
    """Where a line crosses a height."""
    over = feet - rim
    where = np.flatnonzero(over[:-1] * over[1:] < 0)
    return nm[where] + (nm[where + 1] - nm[where]) * over[where] / (over[where] - over[where + 1])


def _edge(rim: Floats, frame: SideFrame) -> Floats:
    """A side of the band where the room ends there, and not only the view."""
    at_rim = np.isclose(rim[:, 1], frame.low_ft) | np.isclose(rim[:, 1], frame.high_ft)
    along = np.flatnonzero(at_rim[:-1] & at_rim[1:])
    return np.insert(rim, along + 1, np.nan, axis=0)
