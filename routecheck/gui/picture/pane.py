"""The Picture pane: the map that present/picture laid out, to zoom, drag, hover and pick. Makes no geometry."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt, QTimer
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QLabel

from routecheck.gui.picture.canvas import Canvas
from routecheck.gui.picture.hit_test import Reach, nearest_of
from routecheck.gui.picture.map_labels import forget_sizes
from routecheck.gui.picture.map_painter import MapPainter
from routecheck.gui.picture.overlay import Overlay
from routecheck.gui.theme import words
from routecheck.presentation import tooltips
from routecheck.presentation.graticule import graticule
from routecheck.presentation.map_scene import empty_picture
from routecheck.presentation.nearby_fixes import WIDEST_NM
from routecheck.presentation.trial import tried_line

if TYPE_CHECKING:
    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QPaintEvent

    from routecheck.earth.projection import Projection
    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.model import Assessment
    from routecheck.presentation.assessment_view import Screen
    from routecheck.presentation.graticule import Box
    from routecheck.presentation.map_scene import DrawnLeg, Picture
    from routecheck.presentation.nearby_fixes import Surroundings
    from routecheck.presentation.selection import Pick

_ROOM_AROUND = 0.14
_REST_MS = 25
_REACH_POINT, _REACH_LEG = 11.0, 6.0
"""How far off in pixels the mouse still counts."""
_EVERYWHERE: Box = (-600.0, -400.0, 600.0, 400.0)


class PictureView(Canvas):
    """Renders a Picture and turns clicks into picks of the session."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self.setObjectName("picture")
        self.setAccessibleName("Picture")
        self.setAccessibleDescription("Map of the route, north up. Every finding is also in the Margin as text.")
        self.setMinimumSize(280, 150)
        self._session = session
        self._assessment: Assessment | None = None
        self._picture = empty_picture()
        self._pick: Pick | None = None
        self._surroundings: Surroundings | None = None
        self._reach: Reach | None = None
        self._behind: tuple[Projection, Box] | None = None
        self.map = MapPainter(theme)
        self.overlay = Overlay(theme)
        self.read_out = QLabel(self)
        self.read_out.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.read_out.setMargin(5)
        self.read_out.hide()
        self._trial: tuple[Box, tuple[Box | None, float, tuple[float, float, float]]] | None = None
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._connect()
        self.fit_route()
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = self.map.theme = self.overlay.theme = theme
        self.read_out.setStyleSheet(f"background: {theme.pane}; color: {theme.ink}; border: 1px solid {theme.line};")
        self.update()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        forget_sizes()
        self.read_out.setFont(words(-0.5))
        self.overlay.refresh()
        self.update()

    def show_screen(self, screen: Screen) -> None:
        """Draw another assessment."""
        self._assessment = screen.assessment
        self._show_picture(screen.picture, screen.accepted)

    def show_nothing(self) -> None:
        """Draw an empty picture, for when there is no assessment."""
        self._assessment = None
        self._show_picture(empty_picture(), frozenset())

    def show_pick(self, pick: Pick | None) -> None:
        """Draw attention to what is picked."""
        if pick == self._pick:
            return
        self._pick = pick
        self.map.show_pick(pick)
        self.overlay.show_pick(pick)
        self.update()

    def show_trial(self, then: Assessment | None) -> None:
        """Draw, dotted, the stretch that a tried correction would change; None = nothing."""
        line = tried_line(self._assessment, then, self._picture.projection) if then and self._assessment else None
        self.map.tried = line
        self.overlay.tried = line
        self._look_at_trial(line.box if line else None)
        self.update()

    def fit_route(self) -> None:
        """Show the whole route, and follow it from now on."""
        self.fit(self._picture.box or _EVERYWHERE, _ROOM_AROUND)

    def _look_at_trial(self, box: Box | None) -> None:
        """Look at what is tried where it is not wholly in view, and back again unless somebody moved since."""
        west, south, east, north = self.seen()
        if box is not None and (box[0] < west or box[1] < south or box[2] > east or box[3] > north):
            seen = self._box, self._room, ((west + east) / 2, (south + north) / 2, east - west)
            self.fit(box, _ROOM_AROUND)
            self._trial = box, seen
        elif box is None and self._trial is not None:
            (shown, (before, room, place)), self._trial = self._trial, None
            if self._box == shown:
                self.look_at(*place) if before is None else self.fit(before, room)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """Paint the map, what is written over it, and the rim."""
        painter, frame = QPainter(self), self.frame()
        painter.fillRect(self.rect(), QColor(self._theme.paper))
        if self._picture.box is not None:
            self.map.paint(painter, frame)
        self.overlay.paint(painter, frame)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(QPen(QColor(self._theme.route if self.hasFocus() else self._theme.line), 1))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802
        """Put the read-out away with the mouse."""
        self.read_out.hide()
        super().leaveEvent(event)

    def _connect(self) -> None:
        self._rest.timeout.connect(self._refresh_background)
        self.looked.connect(self._rest.start)
        self.clicked.connect(self._pick_at)
        self.hovered.connect(lambda spot: self._say(self.hint(spot)))
        self._session.assessed.connect(self.show_screen)
        self._session.picked.connect(self.show_pick)
        self._session.surveyed.connect(self._show_surroundings)
        self._session.loaded.connect(lambda _: self._show_surroundings(None))

    def _show_picture(self, picture: Picture, accepted: frozenset[int]) -> None:
        """The view stays where the user put it, else it follows the route."""
        self._rest.start()
        if picture.looks_like(self._picture) and accepted == self.overlay.accepted:
            return
        before, self._picture, self._reach = self._picture, picture, None
        self.map.show_picture(picture)
        self.overlay.show_picture(picture, accepted)
        moved = before.projection != picture.projection
        if self.follows:
            if moved or before.box != picture.box:
                self.fit_route()
        elif moved:
            self._keep_place(before, picture)
        if moved and self._surroundings is not None:
            self._show_surroundings(None)
        self.update()

    def _show_surroundings(self, surroundings: Surroundings | None) -> None:
        if surroundings is not None and surroundings.projection != self._picture.projection:
            return
        self._surroundings = surroundings
        self.map.show_surroundings(surroundings)
        self.overlay.show_surroundings(surroundings)
        self.update()

    def _refresh_background(self) -> None:
        """Draw graticule and coast for what is in view now, where that is not what they were drawn for."""
        edges = self.seen()
        if self._picture.box is not None:
            self._survey(edges)
        behind = (self._picture.projection, edges) if self._picture.box is not None else None
        if behind == self._behind:
            return
        self._behind = behind
        lines = graticule(*behind) if behind else None
        far = max(math.hypot(x, y) for x in edges[::2] for y in edges[1::2])
        coast = self._picture.coast(far) if behind else None
        self.map.show_background(lines.lines if lines else None, coast)
        self.overlay.show_graticule(lines)
        self.update()

    def _survey(self, edges: Box) -> None:
        """Ask what the data has about this view, where it is close enough and not known yet."""
        too_wide = math.hypot(edges[2] - edges[0], edges[3] - edges[1]) / 2 > WIDEST_NM
        if too_wide or self._assessment is None:
            if self._surroundings is not None:
                self._show_surroundings(None)
        elif self._surroundings is None or not self._surroundings.holds(self._picture.projection, edges):
            self._session.survey(self._assessment.route, self._picture.projection, edges)

    def _keep_place(self, before: Picture, now: Picture) -> None:
        west, south, east, north = self.seen()
        place = before.projection.back((west + east) / 2, (south + north) / 2)
        if place is not None:
            self.look_at(*now.projection.place(*place))

    def _pick_at(self, spot: QPointF) -> None:
        place, nm = self._in_plane(spot)
        for found, pick in (
            (self.overlay.mark_at(spot), self._session.pick_finding),
            (self._reached().point_at(place, _REACH_POINT * nm), self._session.pick_point),
            (self._reached().leg_at(place, _REACH_LEG * nm), self._session.pick_leg),
        ):
            if found is not None:
                pick(found)
                return
        self._session.pick(None)

    def hint(self, spot: QPointF) -> str:
        """What is under the mouse: a finding, a point, a namesake, a place of the data, a leg, else the position."""
        if self._assessment is None or self._picture.box is None:
            return ""
        route, (place, nm) = self._assessment.route, self._in_plane(spot)
        mark = self.overlay.mark_at(spot)
        if mark is not None:
            return self._assessment.findings[mark].message
        point = self._reached().point_at(place, _REACH_POINT * nm)
        if point is not None:
            return tooltips.point_hint(route, point)
        if said := self._beside_route(place, _REACH_POINT * nm):
            return said
        leg = self._reached().leg_at(place, _REACH_LEG * nm)
        if leg is not None:
            return tooltips.leg_hint(route, leg, self._leg(leg).last)
        position = self._picture.projection.back(*place)
        return tooltips.position_hint(route, *position) if position else ""

    def _reached(self) -> Reach:
        """What the mouse can meet, made when it is first asked for: typing must not wait for it."""
        if self._reach is None:
            self._reach = Reach(self._picture)
        return self._reach

    def _beside_route(self, place: tuple[float, float], within: float) -> str:
        """What is said of a namesake that is shown, else of a place of the data; "" where there is none."""
        picked = set(self._session.pick_now.points) if self._session.pick_now else set()
        shown = [other for other in self._picture.others if other.point in picked]
        nearest = nearest_of([(o.x, o.y) for o in shown], place, within)
        if nearest is not None:
            return tooltips.other_hint(shown[nearest].lost)
        if self._surroundings is None:
            return ""
        nearest = nearest_of(self._surroundings.places, place, within)
        return "" if nearest is None else tooltips.place_hint(self._surroundings.of[nearest])

    def _leg(self, index: int) -> DrawnLeg:
        return next(leg for leg in self._picture.legs if leg.index == index)

    def _in_plane(self, spot: QPointF) -> tuple[tuple[float, float], float]:
        """A spot of the view in NM of the plane, and NM a pixel."""
        frame = self.frame()
        return frame.place(spot), 1.0 / frame.scale

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
