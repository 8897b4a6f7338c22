"""The Picture pane: the map that present/picture laid out, in colour, to zoom, drag and pick. Makes no geometry."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QBrush, QColor, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsPathItem, QLabel

from routecheck import wording
from routecheck.gui.overlay import Overlay
from routecheck.gui.shapes import SHAPES, SIZES
from routecheck.gui.theme import scale, words
from routecheck.model import Weight
from routecheck.present.graticule import graticule, joined
from routecheck.present.picture import FINE_REACH_NM

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QResizeEvent

    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.present.picks import Pick
    from routecheck.present.picture import DrawnLeg, Picture
    from routecheck.present.screen import Screen

_WIDEST_NM = 22000.0
_CLOSEST_NM = 2.0
_ROOM_AROUND = 0.14
_REST_MS = 25


class PictureView(pg.GraphicsView):  # type: ignore[misc]
    """Renders a Picture and turns clicks into picks of the session."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__(background=theme.paper)
        self.setObjectName("picture")
        self.setAccessibleName("Picture")
        self.setAccessibleDescription("Map of the route, north up. Every finding is also in the Margin as text.")
        self.setMinimumSize(280, 180)
        self._session = session
        self._theme = theme
        self._picture: Picture | None = None
        self._follow = True
        self._box = pg.ViewBox(enableMenu=False, defaultPadding=0.0)
        self._box.setAspectLocked(True)
        self._box.disableAutoRange()
        self._box.setLimits(maxXRange=_WIDEST_NM, minXRange=_CLOSEST_NM, maxYRange=_WIDEST_NM, minYRange=_CLOSEST_NM)
        self.setCentralItem(self._box)
        self._build_items()
        self.overlay = Overlay(self._box, theme)
        self.read_out = QLabel(self)
        self.read_out.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.read_out.setMargin(5)
        self.read_out.hide()
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._rest.timeout.connect(self._refresh_background)
        self._box.sigRangeChanged.connect(self._range_changed)
        self._box.sigRangeChangedManually.connect(self._let_go)
        self.scene().sigMouseClicked.connect(self._clicked)
        self.scene().sigMouseMoved.connect(self._hovered)
        session.assessed.connect(self._show_screen)
        session.picked.connect(self.show_pick)
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        self.setBackground(QColor(theme.paper))
        self._graticule.setPen(pg.mkPen(theme.graticule, width=1))
        self._coast.setPen(pg.mkPen(theme.coast, width=1))
        self._land.setPen(pg.mkPen(theme.coast, width=1))
        self._land.setBrush(QBrush(QColor(theme.land)))
        self._direct.setPen(pg.mkPen(theme.direct, width=1, style=Qt.PenStyle.DashLine))
        self._halo.setPen(pg.mkPen(_see_through(theme.route, 60), width=11, capStyle=Qt.PenCapStyle.RoundCap))
        for style, pen in self._pens().items():
            self._legs[style].setPen(pen)
        self.read_out.setStyleSheet(f"background: {theme.pane}; color: {theme.ink}; border: 1px solid {theme.line};")
        self.read_out.setFont(words(-0.5))
        self.overlay.set_theme(theme)
        if self._picture is not None:
            self._draw_points(self._picture)

    def show_picture(self, picture: Picture) -> None:
        """Draw another picture; the view stays where the user put it, else it follows the route."""
        before, self._picture = self._picture, picture
        for style, chosen in _STYLES.items():
            _set_curve(self._legs[style], joined([leg.curve for leg in picture.legs if chosen(leg)]))
        _set_curve(self._direct, picture.direct)
        self._draw_points(picture)
        self._draw_islands(picture)
        self.overlay.show_picture(picture)
        if self._follow:
            if before is None or before.box != picture.box or before.projection != picture.projection:
                self.fit()
        elif before is not None and before.projection != picture.projection:
            self._keep_place(before, picture)
        self._refresh_background()

    def _show_screen(self, screen: Screen) -> None:
        self.show_picture(screen.picture)

    def show_pick(self, pick: Pick | None) -> None:
        """Draw attention to what is picked."""
        legs = self._picture.legs if self._picture and pick else ()
        _set_curve(self._halo, joined([leg.curve for leg in legs if pick and leg.index in pick.legs]))
        self.overlay.show_pick(pick)

    def fit(self) -> None:
        """Show the whole route, and follow it from now on."""
        self._follow = True
        west, south, east, north = (self._picture.box if self._picture else None) or (-600.0, -400.0, 600.0, 400.0)
        self._box.setRange(QRectF(west, south, east - west, north - south), padding=_ROOM_AROUND)

    def zoom(self, factor: float) -> None:
        """Zoom about the middle of the view; below 1 = closer."""
        self._let_go()
        self._box.scaleBy((factor, factor))

    def resizeEvent(self, event: QResizeEvent | None) -> None:  # noqa: N802
        """Keep the whole route in view where it was."""
        super().resizeEvent(event)
        if getattr(self, "_picture", None) is not None and self._follow:
            self.fit()

    def leaveEvent(self, event: object) -> None:  # noqa: N802
        """Put the read-out away with the mouse."""
        self.read_out.hide()
        super().leaveEvent(event)

    def _build_items(self) -> None:
        self._land = QGraphicsPathItem()
        self._graticule, self._coast = pg.PlotCurveItem(connect="finite"), pg.PlotCurveItem(connect="finite")
        self._direct = pg.PlotCurveItem(connect="finite")
        self._halo = pg.PlotCurveItem(connect="finite", antialias=True)
        self._legs = {style: pg.PlotCurveItem(connect="finite", antialias=True) for style in _STYLES}
        self._scatter = pg.ScatterPlotItem(pxMode=True, antialias=True)
        behind = (self._land, self._graticule, self._coast, self._direct, self._halo, *self._legs.values())
        for item in (*behind, self._scatter):
            self._box.addItem(item, ignoreBounds=True)

    def _pens(self) -> dict[str, QPen]:
        theme = self._theme
        return {
            "gap": pg.mkPen(theme.route, width=1.6, style=Qt.PenStyle.DotLine),
            "calm": pg.mkPen(theme.route, width=2.2),
            "doubtful": pg.mkPen(theme.doubtful, width=2.8),
            "wrong": pg.mkPen(theme.wrong, width=3.2),
        }

    def _draw_points(self, picture: Picture) -> None:
        ink, muted = pg.mkPen(self._theme.ink, width=1.3), pg.mkPen(self._theme.muted, width=1.2)
        self._scatter.setData(
            x=np.array([p.x for p in picture.points]),
            y=np.array([p.y for p in picture.points]),
            symbol=[SHAPES[p.symbol] for p in picture.points],
            size=np.array([SIZES[p.symbol] * scale() * (0.75 if p.minor else 1.0) for p in picture.points]),
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
        self._land.setPath(path)

    def _range_changed(self) -> None:
        self.overlay.range_changed()
        self._rest.start()

    def _refresh_background(self) -> None:
        if self._picture is None:
            return
        if self._picture.box is None:
            for item in (self._graticule, self._coast):
                item.clear()
            return
        seen = self._box.viewRect()
        edges = (seen.left(), seen.top(), seen.right(), seen.bottom())
        lines = graticule(self._picture.projection, edges)
        _set_curve(self._graticule, lines.lines)
        far = max(np.hypot(x, y) for x in edges[::2] for y in edges[1::2])
        coast = self._picture.coast_fine if far <= FINE_REACH_NM else self._picture.coast_coarse
        _set_curve(self._coast, coast)
        self.overlay.show_graticule(lines)

    def _let_go(self, *_: object) -> None:
        self._follow = False

    def _keep_place(self, before: Picture, now: Picture) -> None:
        seen = self._box.viewRect()
        place = before.projection.back(seen.center().x(), seen.center().y())
        if place is not None:
            x, y = now.projection.place(*place)
            self._box.setRange(seen.translated(QPointF(x, y) - seen.center()), padding=0)

    def _clicked(self, event: object) -> None:
        if event.button() != Qt.MouseButton.LeftButton:  # type: ignore[attr-defined]
            return
        spot = self._box.mapFromScene(event.scenePos())  # type: ignore[attr-defined]
        for found, pick in (
            (self.overlay.mark_at(spot), self._session.pick_finding),
            (self.overlay.point_at(spot), self._session.pick_point),
            (self.overlay.leg_at(spot), self._session.pick_leg),
        ):
            if found is not None:
                pick(found)
                return
        self._session.pick(None)

    def _hovered(self, scene_spot: QPointF) -> None:
        if self._picture is None or not self.viewport().rect().contains(self.mapFromScene(scene_spot)):
            self.read_out.hide()
            return
        self._say(self._hint(self._box.mapFromScene(scene_spot)))

    def _hint(self, spot: QPointF) -> str:
        """What is under the mouse: a finding's sentence, a point, a leg, or the bare position."""
        if self._picture is None:
            return ""
        for found, things in (
            (self.overlay.mark_at(spot), self._picture.marks),
            (self.overlay.point_at(spot), self._picture.points),
            (self.overlay.leg_at(spot), self._picture.legs),
        ):
            if found is not None:
                return next(thing.hint for thing in things if thing.index == found)
        place = self._box.mapToView(spot)
        position = self._picture.projection.back(place.x(), place.y())
        return wording.position(*position) if position else ""

    def _say(self, text: str) -> None:
        self.read_out.setVisible(bool(text))
        wide = self.read_out.fontMetrics().horizontalAdvance(text) > self.width() // 2
        self.read_out.setWordWrap(wide)
        self.read_out.setText(text)
        if wide:
            self.read_out.setFixedWidth(self.width() // 2)
        else:
            self.read_out.setMinimumWidth(0)
            self.read_out.setMaximumWidth(16777215)
        self.read_out.adjustSize()
        self.read_out.move(self.width() - self.read_out.width() - 8, self.height() - self.read_out.height() - 8)


_STYLES: dict[str, Callable[[DrawnLeg], bool]] = {
    "gap": lambda leg: leg.is_gap,
    "calm": lambda leg: not leg.is_gap and leg.weight is None,
    "doubtful": lambda leg: not leg.is_gap and leg.weight is Weight.DOUBTFUL,
    "wrong": lambda leg: not leg.is_gap and leg.weight is Weight.WRONG,
}


def _set_curve(item: pg.PlotCurveItem, curve: np.ndarray) -> None:
    item.setData(curve[:, 0], curve[:, 1])


def _see_through(colour: str, alpha: int) -> QColor:
    shade = QColor(colour)
    shade.setAlpha(alpha)
    return shade
