"""The Picture pane: the map that present/picture laid out, to zoom, drag, hover and pick. Makes no geometry."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QLabel

from routecheck.gui.map_items import MapItems
from routecheck.gui.overlay import Overlay
from routecheck.gui.reach import Reach, nearest_of
from routecheck.gui.theme import words
from routecheck.present import hints
from routecheck.present.graticule import graticule
from routecheck.present.picture import FINE_REACH_NM, empty_picture
from routecheck.present.surroundings import WIDEST_NM

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.model import Assessment
    from routecheck.present.graticule import Box
    from routecheck.present.picks import Pick
    from routecheck.present.picture import DrawnLeg, Picture
    from routecheck.present.screen import Screen
    from routecheck.present.surroundings import Surroundings

_WIDEST_NM = 22000.0
_CLOSEST_NM = 2.0
_ROOM_AROUND = 0.14
_REST_MS = 25
_REACH_POINT, _REACH_LEG = 11.0, 6.0
"""How far off in pixels the mouse still counts."""
_EVERYWHERE: Box = (-600.0, -400.0, 600.0, 400.0)


class PictureView(pg.GraphicsView):  # type: ignore[misc]
    """Renders a Picture and turns clicks into picks of the session."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__(background=theme.paper)
        self.setObjectName("picture")
        self.setAccessibleName("Picture")
        self.setAccessibleDescription("Map of the route, north up. Every finding is also in the Margin as text.")
        self.setMinimumSize(280, 180)
        self._session = session
        self._assessment: Assessment | None = None
        self._picture = empty_picture()
        self._surroundings: Surroundings | None = None
        self._reach = Reach(self._picture)
        self._follow = True
        self._box = pg.ViewBox(enableMenu=False, defaultPadding=0.0)
        self._box.setAspectLocked(True)
        self._box.disableAutoRange()
        self._box.setLimits(maxXRange=_WIDEST_NM, minXRange=_CLOSEST_NM, maxYRange=_WIDEST_NM, minYRange=_CLOSEST_NM)
        self.setCentralItem(self._box)
        self.items_in_plane = MapItems(self._box, theme)
        self.overlay = Overlay(self._box, theme)
        self.read_out = QLabel(self)
        self.read_out.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.read_out.setMargin(5)
        self.read_out.hide()
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._connect()
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self.setBackground(QColor(theme.paper))
        self.items_in_plane.set_theme(theme)
        self.read_out.setStyleSheet(f"background: {theme.pane}; color: {theme.ink}; border: 1px solid {theme.line};")
        self.read_out.setFont(words(-0.5))
        self.overlay.set_theme(theme)

    def show_screen(self, screen: Screen) -> None:
        """Draw another assessment."""
        self._assessment = screen.assessment
        self._show_picture(screen.picture, frozenset(screen.accepted))

    def show_nothing(self) -> None:
        """Draw an empty picture, for when there is no assessment."""
        self._assessment = None
        self._show_picture(empty_picture(), frozenset())

    def show_pick(self, pick: Pick | None) -> None:
        """Draw attention to what is picked."""
        self.items_in_plane.show_pick(pick)
        self.overlay.show_pick(pick)

    def fit(self) -> None:
        """Show the whole route, and follow it from now on."""
        self._follow = True
        west, south, east, north = self._picture.box or _EVERYWHERE
        self._box.setRange(QRectF(west, south, east - west, north - south), padding=_ROOM_AROUND)

    def zoom(self, factor: float) -> None:
        """Zoom about the middle of the view; below 1 = closer."""
        self._let_go()
        self._box.scaleBy((factor, factor))

    def resizeEvent(self, event: QResizeEvent | None) -> None:  # noqa: N802
        """Keep the whole route in view where it was."""
        super().resizeEvent(event)
        if getattr(self, "_follow", False) and hasattr(self, "_rest"):
            self.fit()

    def leaveEvent(self, event: object) -> None:  # noqa: N802
        """Put the read-out away with the mouse."""
        self.read_out.hide()
        super().leaveEvent(event)

    def _connect(self) -> None:
        self._rest.timeout.connect(self._refresh_background)
        self._box.sigRangeChanged.connect(self._range_changed)
        self._box.sigRangeChangedManually.connect(self._let_go)
        self.scene().sigMouseClicked.connect(self._clicked)
        self.scene().sigMouseMoved.connect(self._hovered)
        self._session.assessed.connect(self.show_screen)
        self._session.picked.connect(self.show_pick)
        self._session.surveyed.connect(self._show_surroundings)
        self._session.loaded.connect(lambda _: self._show_surroundings(None))

    def _show_picture(self, picture: Picture, accepted: frozenset[int]) -> None:
        """The view stays where the user put it, else it follows the route."""
        before, self._picture = self._picture, picture
        self._reach = Reach(picture)
        self.items_in_plane.show_picture(picture)
        self.overlay.show_picture(picture, accepted)
        if self._follow:
            if before.box != picture.box or before.projection != picture.projection:
                self.fit()
        elif before.projection != picture.projection:
            self._keep_place(before, picture)
        if self._surroundings is not None and self._surroundings.projection != picture.projection:
            self._show_surroundings(None)
        self._rest.start()

    def _show_surroundings(self, surroundings: Surroundings | None) -> None:
        if surroundings is not None and surroundings.projection != self._picture.projection:
            return
        self._surroundings = surroundings
        self.items_in_plane.show_surroundings(surroundings)
        self.overlay.show_surroundings(surroundings)

    def _range_changed(self) -> None:
        self.overlay.range_changed()
        self._rest.start()

    def _refresh_background(self) -> None:
        if self._picture.box is None:
            self.items_in_plane.show_background(None, None)
            self.overlay.show_graticule(None)
            return
        edges = self._edges()
        lines = graticule(self._picture.projection, edges)
        far = max(np.hypot(x, y) for x in edges[::2] for y in edges[1::2])
        coast = self._picture.coast_fine if far <= FINE_REACH_NM else self._picture.coast_coarse
        self.items_in_plane.show_background(lines.lines, coast)
        self.overlay.show_graticule(lines)
        self._survey(edges)

    def _survey(self, edges: Box) -> None:
        """Ask what the data has about this view, where it is close enough and not known yet."""
        too_wide = np.hypot(edges[2] - edges[0], edges[3] - edges[1]) / 2 > WIDEST_NM
        if too_wide or self._assessment is None:
            if self._surroundings is not None:
                self._show_surroundings(None)
        elif self._surroundings is None or not self._surroundings.holds(self._picture.projection, edges):
            self._session.survey(self._assessment.route, self._picture.projection, edges)

    def _edges(self) -> Box:
        seen = self._box.viewRect()
        return seen.left(), seen.top(), seen.right(), seen.bottom()

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
        place, nm = self._in_plane(spot)
        for found, pick in (
            (self.overlay.mark_at(spot), self._session.pick_finding),
            (self._reach.point_at(place, _REACH_POINT * nm), self._session.pick_point),
            (self._reach.leg_at(place, _REACH_LEG * nm), self._session.pick_leg),
        ):
            if found is not None:
                pick(found)
                return
        self._session.pick(None)

    def _hovered(self, scene_spot: QPointF) -> None:
        if not self.viewport().rect().contains(self.mapFromScene(scene_spot)):
            self.read_out.hide()
            return
        self._say(self._hint(self._box.mapFromScene(scene_spot)))

    def _hint(self, spot: QPointF) -> str:
        """What is under the mouse: a finding, a point, a namesake, a place of the data, a leg, else the position."""
        if self._assessment is None or self._picture.box is None:
            return ""
        route, (place, nm) = self._assessment.route, self._in_plane(spot)
        mark = self.overlay.mark_at(spot)
        if mark is not None:
            return self._assessment.findings[mark].message
        point = self._reach.point_at(place, _REACH_POINT * nm)
        if point is not None:
            return hints.point_hint(route, point)
        if said := self._beside_route(place, _REACH_POINT * nm):
            return said
        leg = self._reach.leg_at(place, _REACH_LEG * nm)
        if leg is not None:
            return hints.leg_hint(route, leg, self._leg(leg).last)
        position = self._picture.projection.back(*place)
        return hints.position_hint(route, *position) if position else ""

    def _beside_route(self, place: tuple[float, float], within: float) -> str:
        """What is said of a namesake that is shown, else of a place of the data; "" where there is none."""
        picked = set(self._session.pick_now.points) if self._session.pick_now else set()
        shown = [other for other in self._picture.others if other.point in picked]
        nearest = nearest_of([(o.x, o.y) for o in shown], place, within)
        if nearest is not None:
            return hints.other_hint(shown[nearest].lost)
        if self._surroundings is None:
            return ""
        nearest = nearest_of(self._surroundings.places, place, within)
        return "" if nearest is None else hints.place_hint(self._surroundings.of[nearest])

    def _leg(self, index: int) -> DrawnLeg:
        return next(leg for leg in self._picture.legs if leg.index == index)

    def _in_plane(self, spot: QPointF) -> tuple[tuple[float, float], float]:
        """A spot of the view in NM of the plane, and NM a pixel."""
        place = self._box.mapToView(spot)
        return (place.x(), place.y()), 1.0 / self.overlay.frame().scale

    def _say(self, text: str) -> None:
        self.read_out.setVisible(bool(text))
        widest = max(map(self.read_out.fontMetrics().horizontalAdvance, text.split("\n")))
        wide = widest > self.width() // 2
        self.read_out.setWordWrap(wide)
        self.read_out.setText(text)
        if wide:
            self.read_out.setFixedWidth(self.width() // 2)
        else:
            self.read_out.setMinimumWidth(0)
            self.read_out.setMaximumWidth(16777215)
        self.read_out.adjustSize()
        self.read_out.move(self.width() - self.read_out.width() - 8, self.height() - self.read_out.height() - 8)
