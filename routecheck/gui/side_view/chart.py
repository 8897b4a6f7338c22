"""The drawing of the Side view: where it looks, mouse and keys, picks of the session. Painting is in side_painter."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent, QColor, QPainter, QPen
from PySide6.QtWidgets import QLabel, QWidget

from routecheck.gui.side_view.frame import SideFrame, heights_in_view
from routecheck.gui.side_view.labels import SideLayout, lay_out, name_rows, widest_label
from routecheck.gui.side_view.painter import LEAST_LEVEL_PX, SidePainter
from routecheck.gui.side_view.text import forget_side_sizes, line_height
from routecheck.gui.theme import scale, words
from routecheck.gui.widgets.finding_badges import mark_size
from routecheck.gui.widgets.grip import NOTCH, Grip
from routecheck.presentation.side_view import empty_side_view, side_view, with_trial
from routecheck.presentation.side_words import reading, spoken

if TYPE_CHECKING:
    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent, QMouseEvent, QPaintEvent, QWheelEvent

    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.model import Assessment
    from routecheck.presentation.assessment_view import Screen
    from routecheck.presentation.selection import Pick

_CLOSEST_NM = 2.0
_REACH_PX = 8.0
"""How far off a point the mouse still counts."""
_STEP = 0.15
_RIGHT_PX = 36.0
"""So much is left at the right for the last name and value."""
_Key = Qt.Key


class SideChart(QWidget):
    """Renders a SideView; zooms and moves along the route alone, heights follow what is in view."""

    looked = Signal()
    """Something else is in view, or something else found room."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self.setObjectName("sideChart")
        self.setAccessibleName("Side view")
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._session, self._theme = session, theme
        self._assessment: Assessment | None = None
        self.view = self._untried = empty_side_view()
        self._accepted: frozenset[int] = frozenset()
        self._pick: Pick | None = None
        self._seen: tuple[float, float] | None = None
        self._grip = Grip()
        self._hair: float | None = None
        self._laid_out: tuple[SideFrame, SideLayout] | None = None
        self._read_out: QLabel | None = None
        session.assessed.connect(self.show_screen)
        session.picked.connect(self.show_pick)

    @property
    def layout_now(self) -> SideLayout:
        """What is written now."""
        return self._laid_out_now()[1]

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        if self._read_out is not None:
            self._dress_read_out(self._read_out)
        self.update()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        forget_side_sizes()
        if self._read_out is not None:
            self._read_out.setFont(words(-0.5))
        self._change()

    def show_screen(self, screen: Screen) -> None:
        """Draw another assessment. What was looked at stays where the route is as long as before."""
        view = screen.side or side_view(screen.assessment)
        longer = abs(view.whole_nm - self.view.whole_nm) > 1.0
        self._assessment, self._accepted = screen.assessment, screen.accepted
        self.view = self._untried = view
        if longer:
            self._seen = None
        self._hair = None
        self.setAccessibleDescription(spoken(self.view))
        self._say("")
        self._change()

    def show_nothing(self) -> None:
        """Draw nothing, for when there is no assessment."""
        self._assessment, self._seen = None, None
        self.view = self._untried = empty_side_view("There is nothing to show.")
        self._say("")
        self._change()

    def show_pick(self, pick: Pick | None) -> None:
        """Draw attention to what is picked, and bring it into view."""
        self._pick = pick
        points = [i for i in pick.points if i < len(self.view.points)] if pick else []
        if points and self._seen is not None:
            self._bring(self.view.points[points[0]].nm, self.view.points[points[-1]].nm)
        self._change()

    def show_trial(self, then: Assessment | None) -> None:
        """Draw, dotted, what a tried correction would change of the heights; None = nothing."""
        if self._assessment is not None:
            self.view = with_trial(self._untried, side_view(then)) if then else self._untried
            self._change()

    def look(self, first_nm: float, last_nm: float) -> None:
        """Show the route from one distance to another, as far as it goes."""
        whole = self.view.whole_nm
        wide = min(max(last_nm - first_nm, min(_CLOSEST_NM, whole)), whole)
        first = min(max(first_nm, 0.0), whole - wide)
        self._seen = None if wide >= whole else (first, first + wide)
        self._change()

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
        return self._seen or (0.0, max(self.view.whole_nm, 1e-6))

    def frame(self) -> SideFrame:
        """How the drawing lies in the pane now."""
        first, last = self.seen()
        low, high = heights_in_view(self.view, first, last)
        below = name_rows(self.height()) * line_height() + 8
        frame = SideFrame(0.0, 1.0, mark_size() * 1.25 + 8, self.height() - below, first, last, low, high)
        left = widest_label(frame.levels(LEAST_LEVEL_PX * scale())) + 12
        return SideFrame(left, self.width() - _RIGHT_PX * scale(), frame.top, frame.bottom, first, last, low, high)

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
        return reading(self.view, self._assessment, nm if point is None else self.view.points[point].nm, point)

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
        """Room for heights, marks and names."""
        return QSize(400, 12 * int(line_height()))

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """The least on which it can be read."""
        return QSize(200, 6 * int(line_height()))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """Paint the drawing, or the sentence that says why there is none."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._theme.paper))
        frame, layout = self._laid_out_now()
        made = SidePainter(painter, self._theme, frame)
        if self.view.missing or not self.view.points:
            made.paint_missing(self.view.missing, self.width(), self.height())
        else:
            made.paint(self.view, layout, self._pick, self._accepted)
            made.paint_scale_bar(frame.left, 6.0)
            if self._hair is not None and frame.sees(self._hair):
                made.paint_hair(self._hair)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(QPen(QColor(self._theme.route if self.hasFocus() else self._theme.line), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """Zoom along the route about the mouse; sideways it moves along."""
        notches, aside = event.angleDelta().y() / 120.0, event.angleDelta().x() / 120.0
        if notches:
            self.zoom(NOTCH**-notches, self.frame().nm(event.position().x()))
        elif aside:
            self._move_by(-aside * _STEP)
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Grip the drawing."""
        self._grip.press(event, _along(event.position()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Drag the drawing along, else read out what lies under the mouse."""
        if not self._grip.held:
            self._hover(event.position())
        elif moved := self._grip.dragged(_along(event.position())):
            first, last = self.seen()
            by = -moved.x() / self.frame().px_nm
            self._say("")
            self.look(first + by, last + by)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Let go; where nothing was dragged it was a click."""
        if self._grip.let_go(event):
            self._pick_at(event.position())

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802
        """Put the read-out away with the mouse."""
        self._hair = None
        self._say("")
        self.update()
        super().leaveEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Put the read-out away with the keyboard."""
        self._say("")
        self.update()
        super().focusOutEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802
        """Put the read-out away with the pane."""
        self._say("")
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
            self.zoom(1 / NOTCH if key == _Key.Key_Plus else NOTCH, self._picked_nm())
        else:
            super().keyPressEvent(event)

    def _laid_out_now(self) -> tuple[SideFrame, SideLayout]:
        if self._laid_out is None:
            frame = self.frame()
            size = float(self.width()), float(self.height())
            drawn = bool(self.view.points) and not self.view.missing
            layout = lay_out(self.view, frame, size, self._pick) if drawn else SideLayout()
            self._laid_out = frame, layout
        return self._laid_out

    def resizeEvent(self, _event: object) -> None:  # noqa: N802
        """Lay everything out anew."""
        self._change()

    def _change(self) -> None:
        self._laid_out = None
        self.looked.emit()
        self.update()

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
        self._session.pick_point(point)
        nm = self.view.points[point].nm
        said = reading(self.view, self._assessment, nm, point)
        self._hair = nm
        self._say(said, self.frame().x(nm))
        self.setAccessibleDescription(said)
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))

    def _pick_at(self, spot: QPointF) -> None:
        """Pick the finding, the point or the leg that lies there; what was picked already is let go."""
        mark, point = self.mark_at(spot), self.point_at(spot)
        leg = self.view.leg_at(self.frame().nm(spot.x()))
        before = self._session.pick_now
        if mark is not None:
            self._session.pick_finding(mark)
        elif point is not None:
            self._session.pick_point(point)
        elif leg is not None:
            self._session.pick_leg(leg)
        if before is not None and before == self._session.pick_now:
            self._session.pick(None)

    def _hover(self, spot: QPointF) -> None:
        said = self.hint(spot)
        frame = self.frame()
        point = self.point_at(spot) if said else None
        nm = frame.nm(spot.x()) if point is None else self.view.points[point].nm
        self._hair = nm if said and frame.sees(nm) else None
        self._say(said, spot.x())
        self.update()

    def _say(self, text: str, x: float = 0.0) -> None:
        """Read out just above the pane, so that nothing of the drawing is covered."""
        if not text:
            if self._read_out is not None:
                self._read_out.hide()
            return
        label = self._read_out or self._make_read_out()
        label.setText(text)
        label.setWordWrap(False)
        label.setMinimumWidth(0)
        label.setMaximumWidth(16777215)
        if label.sizeHint().width() > self.width() * 3 // 4:
            label.setWordWrap(True)
            label.setFixedWidth(self.width() * 3 // 4)
        label.adjustSize()
        corner = (self.parentWidget() or self).mapTo(self.window(), QPoint(0, 0))
        left = corner.x() + min(max(int(x) - label.width() // 2, 4), self.width() - label.width() - 4)
        label.move(left, max(corner.y() - label.height() - 4, 0))
        label.show()
        label.raise_()

    def _make_read_out(self) -> QLabel:
        label = QLabel(self.window())
        label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        label.setMargin(5)
        label.setFont(words(-0.5))
        self._dress_read_out(label)
        self._read_out = label
        return label

    def _dress_read_out(self, label: QLabel) -> None:
        theme = self._theme
        label.setStyleSheet(f"background: {theme.pane}; color: {theme.ink}; border: 1px solid {theme.line};")


def _along(spot: QPointF) -> QPointF:
    """What of a spot counts here: only along the route is anything dragged."""
    return QPointF(spot.x(), 0.0)
