"""The drawing of the Side view: where it looks, what is read out and picked in it. Altitudes follow what is in view."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pyqtgraph as pg
from PySide6.QtCore import QPoint, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QGraphicsWidget

from routecheck.gui.side_view.altitude_axis import AltitudeAxis, levels
from routecheck.gui.side_view.frame import SideFrame, altitudes_in_view
from routecheck.gui.side_view.items import SideItems
from routecheck.gui.side_view.labels import SideLayout, lay_out, name_rows, widest_label
from routecheck.gui.side_view.overlay import SideOverlay
from routecheck.gui.side_view.text import LEAST_LINES, forget_side_text_sizes, line_height
from routecheck.gui.theme import text_scale
from routecheck.gui.widgets.chart_lines import pixel_pen
from routecheck.gui.widgets.chart_view import ChartView, LookBox
from routecheck.gui.widgets.finding_badges import badge_size
from routecheck.gui.widgets.read_out import ReadOut
from routecheck.presentation.place_along import distance_of, place_at
from routecheck.presentation.side_view import empty_side_view, lay_out_side_view, with_trial
from routecheck.presentation.side_words import describe_place, describe_side_view

if TYPE_CHECKING:
    from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent, QResizeEvent

    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.model import Assessment
    from routecheck.presentation.assessment_view import AssessmentView
    from routecheck.presentation.place_along import PlaceAlong
    from routecheck.presentation.selection import Selection
    from routecheck.presentation.side_view import SideView

_CLOSEST_NM = 2.0
_KEY_ZOOM = 1.3
"""How much closer the view gets by a key."""
_REACH_PX = 8.0
"""How far off a point the mouse still counts."""
_STEP = 0.15
_RIGHT_PX = 36.0
"""So much is left at the right for the last name and value."""
_Key = Qt.Key


class SideChart(ChartView):
    """Renders a SideView; zooms and moves along the route alone, altitudes follow what is in view."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__(LookBox(lock_aspect=False), theme)
        self.setObjectName("sideChart")
        self.setAccessibleName("Side view")
        self._session = session
        self._assessment: Assessment | None = None
        self.view = self._untried = empty_side_view()
        self._pick: Selection | None = None
        self._frame: SideFrame | None = None
        self._layout: SideLayout | None = None
        self.read_out: ReadOut | None = None
        self._make_items(theme)
        self._show_view(self.view)
        self.box.sigXRangeChanged.connect(lambda *_: self._change())
        self.clicked.connect(self._pick_at)
        self.hovered.connect(self._hover)
        self.departed.connect(self._leave)
        session.assessed.connect(self.show_screen)
        session.selected.connect(self.show_pick)
        session.pointed.connect(self._show_place)

    @property
    def layout_now(self) -> SideLayout:
        """What is written now."""
        if self._layout is None:
            drawn = bool(self.view.points) and not self.view.missing
            size = float(self.width()), float(self.height())
            self._layout = lay_out(self.view, self.frame(), size, self._pick) if drawn else SideLayout()
        return self._layout

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        super().set_theme(theme)
        self.overlay.theme = theme
        if self.read_out is not None:
            self.read_out.set_theme(theme)
        self.refresh_pens()

    def refresh_pens(self, ratio: float | None = None) -> None:
        """Take the width of lines from the screen (again), or for so many pixels of a device a pixel."""
        ratio = ratio or self.devicePixelRatioF()
        self.plane.dress(self._theme, ratio)
        self.altitudes.dress(self._theme, ratio)
        self.base.setPen(pixel_pen(self._theme.muted, ratio))
        self.hair.setPen(pixel_pen(self._theme.muted, ratio, Qt.PenStyle.DotLine))
        self._change()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        forget_side_text_sizes()
        if self.read_out is not None:
            self.read_out.refresh_font()
        self.refresh_pens()

    def show_screen(self, screen: AssessmentView) -> None:
        """Draw another assessment. What was looked at stays where the route is as long as before."""
        self._assessment, self.overlay.accepted = screen.assessment, screen.accepted
        self._untried = screen.side or lay_out_side_view(screen.assessment)
        self.paint_later()
        self._show_view(self._untried)
        self.setAccessibleDescription(describe_side_view(self.view))
        self._leave()

    def show_nothing(self) -> None:
        """Draw nothing, for when there is no assessment."""
        self._assessment = None
        self._untried = empty_side_view("There is nothing to show.")
        self._show_view(self._untried)
        self._leave()

    def show_pick(self, pick: Selection | None) -> None:
        """Draw attention to what is picked, and bring it into view."""
        if pick == self._pick:
            return
        self._pick = self.overlay.pick = pick
        points = [i for i in pick.points if i < len(self.view.points)] if pick else []
        if points:
            self._bring(self.view.points[points[0]].nm, self.view.points[points[-1]].nm)
        self._change()

    def show_trial(self, then: Assessment | None) -> None:
        """Draw, dotted, what a tried correction would change of the altitudes; None = nothing."""
        if self._assessment is not None:
            self._show_view(with_trial(self._untried, lay_out_side_view(then)) if then else self._untried)

    def look(self, first_nm: float, last_nm: float) -> None:
        """Show the route from one distance to another, as far as it goes."""
        self.box.setXRange(first_nm, last_nm, padding=0.0)

    def look_at_all(self) -> None:
        """Show the whole route."""
        self.look(0.0, self.view.whole_nm)

    def look_at_departure(self) -> None:
        """Show the windows after departure."""
        self.look(*self.view.departure)

    def look_at_arrival(self) -> None:
        """Show the windows before the destination."""
        self.look(*self.view.arrival)

    def zoom(self, factor: float, about_nm: float | None = None) -> None:
        """Get closer (factor below 1) or back off, keeping a distance (else the middle) where it is."""
        first, last = self.seen()
        about = (first + last) / 2 if about_nm is None else about_nm
        self.look(about - (about - first) * factor, about + (last - about) * factor)

    def seen(self) -> tuple[float, float]:
        """From which distance to which is in view, NM."""
        first, last = self.box.viewRange()[0]
        return first, last

    def frame(self) -> SideFrame:
        """How the drawing lies in the pane now."""
        if self._frame is None:
            first, last = self.seen()
            low, high = altitudes_in_view(self.view, first, last)
            top, bottom = badge_size() * 1.25 + 8, self.height() - name_rows(self.height()) * line_height() - 8
            bottom = max(bottom, top + 1.0)
            narrow = SideFrame(0.0, 1.0, top, bottom, first_nm=first, last_nm=last, low_ft=low, high_ft=high)
            left = widest_label(levels(narrow), self.view) + 12
            right = max(self.width() - _RIGHT_PX * text_scale(), left + 1.0)
            self._frame = SideFrame(left, right, top, bottom, first_nm=first, last_nm=last, low_ft=low, high_ft=high)
        return self._frame

    def hint(self, spot: QPointF) -> str:
        """What is read out at a spot: the finding of a mark, else the place along the route."""
        if self._assessment is None or self.view.missing:
            return ""
        if (mark := self.mark_at(spot)) is not None:
            return self._assessment.findings[mark].message
        frame = self.frame()
        if not frame.left - _REACH_PX <= spot.x() <= frame.right + _REACH_PX:
            return ""
        nm = min(max(frame.nm(spot.x()), frame.first_nm), frame.last_nm)
        point = self.point_at(spot)
        return describe_place(self.view, self._assessment, nm if point is None else self.view.points[point].nm, point)

    def mark_at(self, spot: QPointF) -> int | None:
        """The index of the finding whose mark lies there."""
        for index, (left, top, right, bottom) in self.layout_now.marks.items():
            if left <= spot.x() <= right and top <= spot.y() <= bottom:
                return index
        return None

    def point_at(self, spot: QPointF) -> int | None:
        """The point whose name or value lies there, else the nearest one."""
        for text in self.layout_now.texts:
            left, top, right, bottom = text.rect
            if text.point >= 0 and left <= spot.x() <= right and top <= spot.y() <= bottom:
                return text.point
        frame = self.frame()
        near = [(abs(frame.x(p.nm) - spot.x()), p.minor, p.index) for p in self.view.points if frame.sees(p.nm)]
        away, _, index = min(near, default=(_REACH_PX + 1, False, 0))
        return index if away <= _REACH_PX else None

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for altitudes, marks and names."""
        return QSize(400, 2 * LEAST_LINES * int(line_height()))

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """The least on which it can be read."""
        return QSize(200, LEAST_LINES * int(line_height()))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Lay everything out anew."""
        super().resizeEvent(event)
        if event is not None:  # pyqtgraph calls this itself while the view is made
            self._change()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Put the read-out away with the keyboard."""
        self._leave()
        super().focusOutEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802
        """Put the read-out away with the pane."""
        self._leave()
        super().hideEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Arrows go from point to point and read out, with Shift they move the view; + and − zoom."""
        key, shift = Qt.Key(event.key()), bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        steps = {_Key.Key_Left: -1, _Key.Key_Right: 1}
        if key in steps and shift:
            self._move_by(steps[key] * _STEP)
        elif key in steps:
            self._step(steps[key])
        elif key in (_Key.Key_Home, _Key.Key_End):
            self._go_to(0 if key == _Key.Key_Home else len(self.view.points) - 1)
        elif key in (_Key.Key_Plus, _Key.Key_Minus):
            self.zoom(1 / _KEY_ZOOM if key == _Key.Key_Plus else _KEY_ZOOM, self._picked_nm())
        else:
            event.ignore()

    def _make_items(self, theme: Theme) -> None:
        """The box with its two axes, and what is written over them, each where the frame puts it."""
        self.box.setMouseEnabled(x=True, y=False)
        self.altitudes = AltitudeAxis(self.box)
        self.base = pg.AxisItem("bottom", linkView=self.box, showValues=False, maxTickLength=4)
        self.base.setStyle(tickAlpha=255)
        self.plane = SideItems(self.box, theme, self.devicePixelRatioF())
        self.hair = pg.InfiniteLine(angle=90)
        self.hair.setZValue(1e3)
        self.hair.hide()
        self.box.addItem(self.hair, ignoreBounds=True)
        self.overlay = SideOverlay(lambda: (self.frame(), self.layout_now), theme)
        self.overlay.setZValue(1.0)
        whole = QGraphicsWidget()
        for item in (self.box, self.altitudes, self.base, self.overlay):
            item.setParentItem(whole)
        self.setCentralItem(whole)
        self.set_theme(theme)

    def _show_view(self, view: SideView) -> None:
        """Draw another view; all of it unless a part was looked at and it is as long as before."""
        first, last = self.seen()
        stays = abs(view.whole_nm - self.view.whole_nm) < 1.0 and last - first < self.view.whole_nm - 1e-6
        self.view = self.overlay.view = view
        drawn = bool(view.points) and not view.missing
        for item in (self.box, self.altitudes, self.base):
            item.setVisible(drawn)
        whole = max(view.whole_nm, 1e-3)
        self.box.setLimits(xMin=0.0, xMax=whole, minXRange=min(_CLOSEST_NM, whole))
        if not stays:
            self.look(0.0, whole)
        self._change()

    def _change(self) -> None:
        """Put everything where it belongs now."""
        self._frame = self._layout = None
        frame = self.frame()
        wide, high = frame.right - frame.left, frame.bottom - frame.top
        self.box.setGeometry(QRectF(frame.left, frame.top, wide, high))
        self.altitudes.setWidth(frame.left)
        self.altitudes.setGeometry(QRectF(0, frame.top, frame.left, high))
        self.base.setGeometry(QRectF(frame.left, frame.bottom, wide, max(self.height() - frame.bottom, 1.0)))
        self.box.setYRange(frame.low_ft, frame.high_ft, padding=0.0)
        self.altitudes.show_frame(frame, self.view)
        seen = [point for point in self.view.points if frame.sees(point.nm)]
        self.base.setTicks([[(p.nm, "") for p in seen if p.minor is minor] for minor in (False, True)])
        self.plane.show(self.view, frame, self._pick)
        self.overlay.set_size(self.width(), self.height())
        self.overlay.update()
        self.looked.emit()

    def _bring(self, begins: float, ends: float) -> None:
        first, last = self.seen()
        if first <= begins and ends <= last:
            return
        wide = max(last - first, (ends - begins) * 1.2)
        middle = (begins + ends) / 2
        self.look(middle - wide / 2, middle + wide / 2)

    def _move_by(self, share: float) -> None:
        first, last = self.seen()
        self.look(first + share * (last - first), last + share * (last - first))

    def _picked_nm(self) -> float | None:
        points = self._pick.points if self._pick else ()
        return self.view.points[points[0]].nm if points and points[0] < len(self.view.points) else None

    def _step(self, by: int) -> None:
        points = self._pick.points if self._pick else ()
        if points:
            self._go_to((points[-1] if by > 0 else points[0]) + by)
        else:
            self._go_to(0 if by > 0 else len(self.view.points) - 1)

    def _go_to(self, point: int) -> None:
        """Pick a point and read it out, to a screen reader too."""
        if self._assessment is None or not 0 <= point < len(self.view.points):
            return
        self._session.select_point(point)
        nm = self.view.points[point].nm
        said = describe_place(self.view, self._assessment, nm, point)
        self._mark(nm)
        self._say(said, self.frame().x(nm))
        self.setAccessibleDescription(said)
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))

    def _pick_at(self, spot: QPointF) -> None:
        """Pick the finding, the point or the leg that lies there; what was picked already is let go."""
        mark, point = self.mark_at(spot), self.point_at(spot)
        leg = self.view.leg_at(self.frame().nm(spot.x()))
        before = self._session.selection
        if mark is not None:
            self._session.select_finding(mark)
        elif point is not None:
            self._session.select_point(point)
        elif leg is not None:
            self._session.select_leg(leg)
        if before is not None and before == self._session.selection:
            self._session.select(None)

    def _hover(self, spot: QPointF) -> None:
        said = self.hint(spot)
        point = self.point_at(spot) if said else None
        nm = self.frame().nm(spot.x()) if point is None else self.view.points[point].nm
        self._mark(nm if said else None)
        self._say(said, spot.x())
        self._session.pointed.emit(place_at(self.view, nm) if said else None)

    def _show_place(self, place: PlaceAlong | None) -> None:
        """Mark where the mouse is in another view."""
        if not self.underMouse():
            self._mark(distance_of(self.view, place) if place else None)

    def _mark(self, nm: float | None) -> None:
        """A line at the place that is read out; None = none."""
        self.hair.setVisible(nm is not None)
        if nm is not None:
            self.hair.setPos(nm)

    def _leave(self) -> None:
        """Put away what is read out."""
        self._mark(None)
        self._session.pointed.emit(None)
        if self.read_out is not None:
            self.read_out.hide()

    def _say(self, text: str, x: float) -> None:
        """Read out just above the pane, so that nothing of the drawing is covered."""
        if self.read_out is None:
            self.read_out = ReadOut(self.window(), self._theme)
        label = self.read_out
        label.say(text, self.width() * 3 // 4)
        corner = (self.parentWidget() or self).mapTo(self.window(), QPoint(0, 0))
        left = corner.x() + min(max(int(x) - label.width() // 2, 4), self.width() - label.width() - 4)
        label.move(left, max(corner.y() - label.height() - 4, 0))
        label.raise_()
