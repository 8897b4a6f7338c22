"""What lies in the plane of the Side view, NM and feet, as items of pyqtgraph: room, gaps, profile, levels, minima."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor

from routecheck.gui.theme import blend_colours
from routecheck.gui.widgets.chart_lines import Curves, LineStyle
from routecheck.model import Weight
from routecheck.presentation.projected_lines import join_curves
from routecheck.presentation.side_lines import AIRWAY, altitude_on

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.arrays import Floats
    from routecheck.gui.side_view.frame import SideFrame
    from routecheck.gui.theme import Theme
    from routecheck.presentation.selection import Selection
    from routecheck.presentation.side_lines import Line, Step
    from routecheck.presentation.side_view import SideView
    from routecheck.vertical.room import Corner


_Pen = Qt.PenStyle
_FAR_FT = 1e6
"""What is open is taken to be so far out of view."""
_SQUARE = Qt.PenCapStyle.SquareCap
_MINIMUM = LineStyle(lambda theme: blend_colours(theme.ink, theme.coast, 0.35), 1.3, smooth=True, cap=_SQUARE)
_STYLES = {
    "picked": LineStyle(lambda theme: blend_colours(theme.ink, theme.paper, 0.35)),
    "edges": LineStyle(lambda theme: blend_colours(theme.route, theme.paper, 0.3), smooth=True),
    "shut": LineStyle(lambda theme: blend_colours(theme.muted, theme.paper, 0.55), smooth=True),
    "shut, doubtful": LineStyle(lambda theme: blend_colours(theme.doubtful, theme.paper, 0.55), smooth=True),
    "shut, wrong": LineStyle(lambda theme: blend_colours(theme.wrong, theme.paper, 0.55), smooth=True),
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
_SHUT = {"shut": None, "shut, doubtful": Weight.DOUBTFUL, "shut, wrong": Weight.WRONG}
_HATCH_PX = 8.0


class SideItems:
    """Everything in the Side view that lies in its plane."""

    def __init__(self, box: pg.ViewBox, theme: Theme, ratio: float) -> None:
        self._curves = Curves(_STYLES)
        self._upper, self._lower = (pg.PlotCurveItem(connect="finite", pen=None) for _ in range(2))
        self._band = pg.FillBetweenItem(self._upper, self._lower)
        self._picked, self._gaps = (_bars() for _ in range(2))
        behind = (self._picked, self._upper, self._lower, self._band, self._gaps)
        for depth, item in enumerate((*behind, *self._curves.items.values())):
            item.setZValue(depth)
            box.addItem(item, ignoreBounds=True)
        self.dress(theme, ratio)

    def dress(self, theme: Theme, ratio: float) -> None:
        """Use other colours, and lines for a screen with so many of its pixels a pixel."""
        self._curves.dress(theme, ratio)
        soft = QColor(theme.route)
        soft.setAlphaF(0.16 if theme.dark else 0.12)
        self._band.setBrush(soft)
        self._picked.setOpts(brush=QColor(theme.selected))
        self._gaps.setOpts(brush=QColor(blend_colours(theme.line, theme.paper, 0.35)))

    def show(self, view: SideView, frame: SideFrame, pick: Selection | None) -> None:
        """Draw what is in view of a Side view, cut to it: what reaches far out of it costs seconds a frame."""
        places = [point.nm for point in view.points]
        legs = [leg for leg in (pick.legs if pick else ()) if leg + 1 < len(places)]
        picked = [places[point] for point in (pick.points if pick else ()) if point < len(places)]
        upright = [np.array([(nm, frame.low_ft), (nm, frame.high_ft)]) for nm in picked if frame.sees(nm)]
        _set_bars(self._picked, [(places[leg], places[leg + 1]) for leg in legs], frame)
        _set_bars(self._gaps, [(gap.begins, gap.ends) for gap in view.gaps], frame)
        self._curves.draw("picked", upright)
        self._show_band(view, frame)
        lines: dict[str, Iterable[Line]] = {
            "airway": [_level(step) for step in view.minima if step.what == AIRWAY],
            "grid": [_level(step) for step in view.minima if step.what != AIRWAY],
            "guessed": view.guessed,
            "profile": view.profile,
            "levels": [_level(step) for step in view.levels],
            "tried": view.tried,
            "doubtful": _flagged_parts(view, Weight.DOUBTFUL),
            "wrong": _flagged_parts(view, Weight.WRONG),
        }
        for name, whole in lines.items():
            cut = [_part(line, frame.first_nm, frame.last_nm) for line in whole]
            self._curves.draw(name, [np.array(line) for line in cut if line])

    def _show_band(self, view: SideView, frame: SideFrame) -> None:
        """The room, and hatches where there is none."""
        seen = [piece for piece in view.band if piece[0][0] < frame.last_nm and piece[-1][0] > frame.first_nm]
        rims = [_rims(piece, frame) for piece in seen]
        for curve, which in ((self._upper, 1), (self._lower, 0)):
            line = join_curves([rim[which] for rim in rims])
            curve.setData(x=line[:, 0], y=line[:, 1])
        self._curves.draw("edges", [_edge(rim, frame) for both in rims for rim in both])
        for name, weight in _SHUT.items():
            stretches = [stretch for stretch in view.shut if view.weight_between(*stretch) is weight]
            self._curves.draw(name, [_hatch(*stretch, frame) for stretch in stretches])


def _bars() -> pg.BarGraphItem:
    return pg.BarGraphItem(x0=[], x1=[], y0=0.0, y1=1.0, pen=None)


def _set_bars(bars: pg.BarGraphItem, stretches: Sequence[tuple[float, float]], frame: SideFrame) -> None:
    """From top to bottom over stretches of the route."""
    begins, ends = np.array(stretches, dtype=np.float64).reshape(-1, 2).clip(frame.first_nm, frame.last_nm).T
    bars.setOpts(x0=begins, x1=ends, y0=frame.low_ft, y1=frame.high_ft)


def _hatch(begins: float, ends: float, frame: SideFrame) -> Floats:
    """Lines rising to the right over a stretch from top to bottom, so many pixels apart at every zoom."""
    left, right = (frame.x(min(max(nm, frame.first_nm), frame.last_nm)) for nm in (begins, ends))
    high = frame.bottom - frame.top
    at = np.arange(math.floor(left / _HATCH_PX) * _HATCH_PX, right + high, _HATCH_PX)
    xs = np.column_stack((np.maximum(at - high, left), np.minimum(at, right)))
    xs, at = xs[xs[:, 0] < xs[:, 1]], at[xs[:, 0] < xs[:, 1]]
    feet = frame.high_ft - (at[:, None] - xs) / frame.px_ft
    nm = frame.first_nm + (xs - frame.left) / frame.px_nm
    return join_curves(list(np.dstack((nm, feet))))


def _level(step: Step) -> Line:
    return (step.begins, step.feet), (step.ends, step.feet)


def _flagged_parts(view: SideView, weight: Weight) -> Iterator[Line]:
    """The parts of the profile that a finding about altitudes is about."""
    for (a, b), is_weight in zip(pairwise(view.points), view.weights, strict=True):
        if is_weight is weight:
            yield from (_part(line, a.nm, b.nm) for line in view.profile)


def _part(line: Line, begins: float, ends: float) -> Line:
    """The part of a line between two distances."""
    if not line or line[-1][0] <= begins or line[0][0] >= ends:
        return ()
    first, last = max(begins, line[0][0]), min(ends, line[-1][0])
    inner = [spot for spot in line if first < spot[0] < last]
    return ((first, altitude_on(line, first)), *inner, (last, altitude_on(line, last)))


def _rims(piece: Sequence[Corner], frame: SideFrame) -> tuple[Floats, Floats]:
    """The lower and upper side of a piece of the band, held within the view: what reaches far out fills slowly."""
    nm, low, high = (np.array(column) for column in zip(*piece, strict=True))
    bounds = frame.low_ft - _FAR_FT, frame.high_ft + _FAR_FT
    sides = [np.clip(side, *bounds) for side in (low, high)]
    cuts = [nm, *(_crossings(nm, side, rim) for side in sides for rim in (frame.low_ft, frame.high_ft))]
    at = np.unique(np.clip(np.concatenate(cuts), max(frame.first_nm, nm[0]), min(frame.last_nm, nm[-1])))
    altitudes = [np.clip(np.interp(at, nm, side), frame.low_ft, frame.high_ft) for side in sides]
    lower, upper = (np.column_stack((at, feet)) for feet in altitudes)
    return lower, upper


def _crossings(nm: Floats, feet: Floats, rim: float) -> Floats:
    """Where a line crosses an altitude."""
    over = feet - rim
    where = np.flatnonzero(over[:-1] * over[1:] < 0)
    return nm[where] + (nm[where + 1] - nm[where]) * over[where] / (over[where] - over[where + 1])


def _edge(rim: Floats, frame: SideFrame) -> Floats:
    """A side of the band where the room ends there, and not only the view."""
    at_rim = np.isclose(rim[:, 1], frame.low_ft) | np.isclose(rim[:, 1], frame.high_ft)
    along = np.flatnonzero(at_rim[:-1] & at_rim[1:])
    return np.insert(rim, along + 1, np.nan, axis=0)
