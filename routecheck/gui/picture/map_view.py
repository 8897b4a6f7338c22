"""Where the Picture looks: fit, zoom, move, the arrow keys, the limits of a view. What it shows is not known here."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QRectF, Qt

from routecheck.gui.picture.frame import Frame
from routecheck.gui.widgets.chart_view import ChartView, LookBox

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QKeyEvent

    from routecheck.gui.theme import Theme
    from routecheck.presentation.graticule import ChartBox

_ROOM_AROUND = 0.14
EVERYWHERE: ChartBox = (-600.0, -400.0, 600.0, 400.0)
_WIDEST_NM, _CLOSEST_NM = 22000.0, 2.0
"""Of the shorter side of the view."""
_STEP = 0.15
"""Share of the view that an arrow key moves."""
_SAME_SHARE = 0.01
"""Of its width: a view whose middle has moved by less is the same, in a pane of whatever size."""
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


class Look(NamedTuple):
    """A view to go back to: the box that it follows (None = none), and what is in view."""

    followed: ChartBox | None
    seen: ChartBox


class MapView(ChartView):
    """A plane in NM, locked in aspect, that keeps a box in view until somebody moves."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(LookBox(lock_aspect=True), theme)
        self._followed: ChartBox | None = EVERYWHERE
        self._detour: tuple[Look, Look] | None = None
        self.box.sigRangeChangedManually.connect(lambda _: self._let_go())
        self.box.sigResized.connect(lambda _: self._fit_pane())

    @property
    def follows(self) -> bool:
        """Whether it keeps the route in view, because nobody moved it since it was asked to."""
        return self._followed is not None

    def frame(self) -> Frame:
        """How the plane lies in the view now."""
        (west, east), (_, north) = self.box.viewRange()
        width, height = max(self.box.width(), 1.0), max(self.box.height(), 1.0)
        scale = width / (east - west)
        return Frame(-west * scale, north * scale, scale, width, height)

    def seen(self) -> ChartBox:
        """What is in view: west, south, east and north edge in NM."""
        return self.frame().seen

    def look_at(self, x: float, y: float, width_nm: float | None = None) -> None:
        """Put a place into the middle of the view, which is then so wide."""
        frame = self.frame()
        half_x = (width_nm or frame.width / frame.scale) / 2
        half_y = half_x * frame.height / frame.width
        self._look((x - half_x, y - half_y, x + half_x, y + half_y))
        self._keep_looking()

    def zoom(self, factor: float) -> None:
        """Get closer (factor below 1) or back off, keeping the middle where it is."""
        self.box.scaleBy((factor, factor))
        self._keep_looking()

    def move_by(self, dx: float, dy: float) -> None:
        """Look further east and north by so many NM."""
        self.box.translateBy(x=dx, y=dy)
        self._keep_looking()

    def leave_for(self, look: Callable[[], None]) -> None:
        """Look elsewhere for a while: `come_back` ends it. From there on to a third place the way back stays."""
        origin = self._detour[0] if self._detour and self._is_at(self._detour[1]) else self._current_look()
        look()
        self._detour = origin, self._current_look()

    def come_back(self) -> None:
        """Look again at what was in view before, unless somebody moved since."""
        detour, self._detour = self._detour, None
        if detour is None or not self._is_at(detour[1]):
            return
        before = detour[0]
        if before.followed is not None:
            self._fit(before.followed)
        else:
            self._look(before.seen)
            self._let_go()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Move with the arrow keys."""
        way = _ARROWS.get(Qt.Key(event.key()))
        if way is None:
            event.ignore()
            return
        west, south, east, north = self.seen()
        self.move_by(way[0] * _STEP * (east - west), way[1] * _STEP * (north - south))

    def _fit(self, box: ChartBox) -> None:
        """Show a box with some room around it, and keep it in view until somebody moves."""
        self._followed = box
        self._look(box, _ROOM_AROUND)
        self.box.forget()

    def _look(self, box: ChartBox, room: float = 0.0) -> None:
        west, south, east, north = box
        self.box.setRange(QRectF(west, south, east - west, north - south), padding=room)

    def _let_go(self) -> None:
        self._followed = None

    def _keep_looking(self) -> None:
        """As after a move with the mouse: it no longer follows the route, and the view joins the history."""
        self.box.sigRangeChangedManually.emit(self.box.mouseEnabled())

    def _fit_pane(self) -> None:
        """In a pane of any size the globe is never lost from view, and there is a closest and a widest view."""
        side = max(min(self.box.width(), self.box.height()), 1.0)
        wide, high = self.box.width() / side, self.box.height() / side
        far = _WIDEST_NM / 2
        self.box.setLimits(
            xMin=-far * wide,
            xMax=far * wide,
            yMin=-far * high,
            yMax=far * high,
            minXRange=_CLOSEST_NM * wide,
            minYRange=_CLOSEST_NM * high,
        )
        if self.follows:
            self.box.forget()

    def _current_look(self) -> Look:
        return Look(self._followed, self.seen())

    def _is_at(self, look: Look) -> bool:
        if self._followed is not None or look.followed is not None:
            return self._followed == look.followed
        west, south, east, north = self.seen()
        there = look.seen
        off = math.hypot(west + east - there[0] - there[2], south + north - there[1] - there[3]) / 2
        return off < _SAME_SHARE * (east - west)
