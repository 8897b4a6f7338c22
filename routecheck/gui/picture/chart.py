"""The drawing of the Picture: the map that presentation laid out, to zoom, drag, hover and pick. Makes no geometry."""

from __future__ import annotations

import datetime as dt
import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QTimer, Signal

from routecheck.gui.picture.hit_test import HitTest
from routecheck.gui.picture.map_items import MapItems
from routecheck.gui.picture.map_labels import forget_text_sizes
from routecheck.gui.picture.map_marks import MapMarks
from routecheck.gui.picture.map_view import EVERYWHERE, MapView
from routecheck.gui.picture.overlay import Overlay
from routecheck.gui.widgets.read_out import ReadOut
from routecheck.presentation.drawn_map import empty_picture, picture_of_place
from routecheck.presentation.graticule import graticule, join_boxes
from routecheck.presentation.nearby_fixes import WIDEST_NM
from routecheck.presentation.outline import NO_OUTLINE
from routecheck.presentation.ruler import typed_place
from routecheck.presentation.trial import other_line, trial_line

if TYPE_CHECKING:
    from routecheck.earth.projection import Projection
    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.model import Assessment, Place
    from routecheck.presentation.assessment_view import AssessmentView
    from routecheck.presentation.drawn_map import Picture
    from routecheck.presentation.graticule import ChartBox, Graticule
    from routecheck.presentation.nearby_fixes import NearbyFixes
    from routecheck.presentation.place_along import PlaceAlong
    from routecheck.presentation.point_search import FoundPoint
    from routecheck.presentation.selection import Selection
from routecheck.presentation.trial import TrialLine

_REST_MS = 25


class MapChart(MapView):
    """Renders a Picture and turns clicks into picks of the session."""

    plane_changed = Signal()
    """Places lie elsewhere in the plane now."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__(theme)
        self.setObjectName("mapChart")
        self.setAccessibleName("Picture")
        self.picks = True
        """Whether a click selects what lies under it."""
        self._session = session
        self._assessment: Assessment | None = None
        self.picture = self._route_picture = empty_picture()
        self.setAccessibleDescription(self.description)
        self._found: tuple[FoundPoint, ...] = ()
        self._chosen: FoundPoint | None = None
        self._other_box: ChartBox | None = None
        self.nearby: NearbyFixes | None = None
        self._pick: Selection | None = None
        self._hits = HitTest(None, self.picture, None)
        self._graticule: Graticule | None = None
        self._background_suits: tuple[Projection, ChartBox] | None = None
        self.map = MapItems(self.box, theme, self.devicePixelRatioF())
        self.overlay = Overlay(self.frame, theme)
        self.overlay.setParentItem(self.box)
        self.overlay.setZValue(1.0)
        self.marks = MapMarks(self.frame, theme)
        self.marks.setParentItem(self.box)
        self.marks.setZValue(2.0)
        self.read_out = ReadOut(self, theme)
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._connect()
        self.setCentralItem(self.box)
        self.fit_route()

    @property
    def description(self) -> str:
        """What is shown, in words."""
        way = "north up" if self.picture.projection.is_north_up else "the direct line straight across"
        return f"Map of the route, {way}. Every finding is also in the Margin as text."

    @property
    def rests(self) -> bool:
        """Whether all is drawn as it stays while nobody moves."""
        return not self._rest.isActive()

    def fit_route(self) -> None:
        """Show the whole route and the other version of it, and follow both from now on."""
        boxes = [box for box in (self.picture.box, self._other_box) if box is not None]
        self._fit(join_boxes(boxes) if boxes else EVERYWHERE)

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        super().set_theme(theme)
        self.map.dress(theme, self.devicePixelRatioF())
        self.overlay.theme = self.marks.theme = theme
        self.read_out.set_theme(theme)
        self.overlay.update()
        self.marks.update()

    def refresh_pens(self, ratio: float | None = None) -> None:
        """Take the width of lines from the screen (again), or for so many pixels of a device a pixel."""
        self.map.dress(self._theme, ratio or self.devicePixelRatioF())

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        forget_text_sizes()
        self.read_out.refresh_font()
        self.map.refresh_sizes()
        self.overlay.refresh()
        self._rest.start()

    def show_screen(self, screen: AssessmentView) -> None:
        """Draw another assessment."""
        self._assessment = screen.assessment
        self._show_picture(screen.picture, screen.accepted)
        self._show_dotted(None)

    def show_nothing(self) -> None:
        """Draw an empty picture, for when there is no assessment."""
        self._assessment = None
        self._show_dotted(None)
        self._show_picture(empty_picture(), frozenset())

    def show_pick(self, pick: Selection | None) -> None:
        """Draw attention to what is picked."""
        if pick != self._pick:
            self._pick = pick
            self.map.show_pick(pick)
            self.overlay.show_pick(pick)

    def show_trial(self, then: Assessment | None) -> None:
        """Draw, dotted, the stretch that a tried correction would change; None = nothing."""
        line = trial_line(self._assessment, then, self.picture.projection) if then and self._assessment else None
        self._show_dotted(line)
        self._look_at_trial(line.box if line else None)

    def show_found(self, found: tuple[FoundPoint, ...], chosen: FoundPoint | None) -> None:
        """Mark points that were looked for, one of them above the others; () = none any more."""
        self._found, self._chosen = found, chosen
        self._show_picture(self._route_picture, self.overlay.accepted)
        self._mark_found()

    def look_at_place(self, place: Place, width_nm: float) -> None:
        """Put a place into the middle of the view, which is then so wide."""
        self.look_at(*self.spot_of(place), width_nm)

    def spot_of(self, place: Place) -> tuple[float, float]:
        """Where a place lies in the plane, NM."""
        return self.picture.projection.place(place.lat, place.lon)

    def place_at(self, spot: QPointF) -> Place | None:
        """The point within reach of a spot of the view, else the bare position; None beyond the rim of the globe."""
        there, nm = self._in_plane(spot)
        if (point := self._hits.known_place_at(there, nm * self.reach)) is not None:
            return point
        position = self.picture.projection.back(*there)
        return typed_place(*position) if position else None

    @property
    def date(self) -> dt.date:
        """The day that magnetic courses hold on."""
        return self._assessment.route.date if self._assessment else dt.datetime.now(dt.UTC).date()

    def _show_dotted(self, tried: TrialLine | None) -> None:
        """What is tried, else the other version of the route, where there is one."""
        other = other_line(self._assessment, self.picture.projection) if self._assessment else None
        was, self._other_box = self._other_box, other.box if other else None
        if self.follows and self._other_box != was:
            self.fit_route()
        self.map.show_tried(tried or other)
        self.overlay.show_tried(tried or other)

    def hint(self, spot: QPointF) -> str:
        """What is said of what lies under the mouse."""
        mark = self.overlay.mark_at(spot, self.reach)
        if mark is not None and self._assessment is not None:
            return self._assessment.findings[mark].message
        place, nm = self._in_plane(spot)
        return self._hits.hint(place, nm * self.reach, self._pick.points if self._pick else ())

    def _connect(self) -> None:
        self._rest.timeout.connect(self.settle)
        self.plane_changed.connect(self._mark_found)
        self.plane_changed.connect(lambda: self.setAccessibleDescription(self.description))
        self.looked.connect(self._look_elsewhere)
        self.clicked.connect(self._pick_at)
        self.hovered.connect(self._hover_over)
        self.departed.connect(self._leave)
        self._session.pointed.connect(self._show_place)
        self._session.assessed.connect(self.show_screen)
        self._session.selected.connect(self.show_pick)
        self._session.nearby_found.connect(self._show_nearby)
        self._session.data_loaded.connect(lambda _: self._show_nearby(None))

    def _look_elsewhere(self) -> None:
        self._rest.start()
        if self._graticule is not None and not self._graticule.covers(self.seen()):
            self._change_background()

    # ---- what it shows

    def _show_picture(self, picture: Picture, accepted: frozenset[int]) -> None:
        """The view stays where the user put it, else it follows the route."""
        self._rest.start()
        self._route_picture = picture
        if picture.box is None and self._chosen is not None:
            picture = picture_of_place(self._chosen.place)
        self._hits = HitTest(self._assessment, picture, self.nearby)
        if picture.looks_like(self.picture) and accepted == self.overlay.accepted:
            return
        self.paint_later()
        before, self.picture = self.picture, picture
        self.map.show_picture(picture)
        self.overlay.show_picture(picture, accepted)
        moved = before.projection != picture.projection
        if self.follows:
            if moved or before.box != picture.box:
                self.fit_route()
        elif moved:
            self._keep_place(before, picture)
        if moved:
            self._show_nearby(None)
            self._change_background()
            self.plane_changed.emit()

    def _mark_found(self) -> None:
        spots = [self.spot_of(point.place) for point in self._found]
        names = [(point.place.ident, point is self._chosen) for point in self._found]
        self.marks.show_found([(*spot, *name) for spot, name in zip(spots, names, strict=True)])

    def _keep_place(self, before: Picture, now: Picture) -> None:
        west, south, east, north = self.seen()
        place = before.projection.back((west + east) / 2, (south + north) / 2)
        if place is not None:
            self.look_at(*now.projection.place(*place))

    def _look_at_trial(self, box: ChartBox | None) -> None:
        """Look at what is tried where it is not wholly in view, and back again unless somebody moved since."""
        west, south, east, north = self.seen()
        if box is None:
            self.come_back()
        elif box[0] < west or box[1] < south or box[2] > east or box[3] > north:
            self.leave_for(lambda: self._fit(box))

    def _show_nearby(self, nearby: NearbyFixes | None) -> None:
        if nearby is not None and nearby.projection != self.picture.projection:
            return
        self.nearby = nearby
        self._hits = HitTest(self._assessment, self.picture, nearby)
        self.map.show_nearby(nearby)
        self.overlay.show_nearby(nearby)

    def settle(self) -> None:
        """Once the view rests: ask what the data has there, suit the background to it, lay everything out."""
        seen = self.seen()
        if self.picture.box is not None:
            self._survey(seen)
        if self._background_suits != (self.picture.projection, seen):
            self._refresh_background()
        self._show_symbols()

    def paint_again(self) -> None:
        """Go on painting, once all suits what is in view."""
        self._rest.stop()
        self.settle()
        super().paint_again()

    def _show_symbols(self) -> None:
        """Draw the symbols of those points that have room for them at this scale."""
        points = self.picture.points
        self.map.show_symbols(tuple(points[i] for i in self.overlay.layout(self.frame()).points))

    def _change_background(self) -> None:
        """Suit the background to another view: now, or with the painting where that waits."""
        if self.viewport().updatesEnabled():
            self._refresh_background()

    def _refresh_background(self) -> None:
        """Draw graticule, coast, land and lakes for what is in view now."""
        nothing, seen = self.picture.box is None, self.seen()
        self._background_suits = self.picture.projection, seen
        self._graticule = None if nothing else graticule(self.picture.projection, seen)
        lines = self._graticule.lines if self._graticule else NO_OUTLINE.coast
        self.map.show_background(lines, NO_OUTLINE if nothing else self.picture.outline(seen))
        self.overlay.show_graticule(self._graticule)

    def _survey(self, edges: ChartBox) -> None:
        """Ask what the data has about this view, where it is close enough and not known yet."""
        too_wide = math.hypot(edges[2] - edges[0], edges[3] - edges[1]) / 2 > WIDEST_NM
        if too_wide or self._assessment is None:
            if self.nearby is not None:
                self._show_nearby(None)
        elif self.nearby is None or not self.nearby.covers(self.picture.projection, edges):
            self._session.request_nearby(self._assessment.route, self.picture.projection, edges)

    # ---- what lies under the mouse

    def _pick_at(self, spot: QPointF) -> None:
        if not self.picks:
            return
        place, nm = self._in_plane(spot)
        there = place, nm * self.reach
        for found, pick in (
            (self.overlay.mark_at(spot, self.reach), self._session.select_finding),
            (self._hits.point_at(*there), self._session.select_point),
            (self._hits.leg_at(*there), self._session.select_leg),
        ):
            if found is not None:
                pick(found)
                return
        self._session.select(None)

    def _hover_over(self, spot: QPointF) -> None:
        self._say(self.hint(spot))
        self._session.pointed.emit(self._hits.place_at(*self._in_plane(spot)))

    def _leave(self) -> None:
        self._say("")
        self._session.pointed.emit(None)

    def _show_place(self, place: PlaceAlong | None) -> None:
        """Mark where the mouse is in another view."""
        spot = self._hits.line.spot(place) if place and not self.underMouse() else None
        if spot != self.map.place:
            self.map.show_place(spot)

    def _in_plane(self, spot: QPointF) -> tuple[tuple[float, float], float]:
        """A spot of the view in NM of the plane, and NM a pixel."""
        frame = self.frame()
        return frame.place(spot), 1.0 / frame.scale

    def _say(self, text: str) -> None:
        self.read_out.say(text, self.width() // 2)
        self.read_out.move(self.width() - self.read_out.width() - 8, self.height() - self.read_out.height() - 8)
