"""The ruler of the Picture: takes two places from the mouse or the keyboard and shows what lies between them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPointF, Qt, Signal

from routecheck.presentation.ruler import measure

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent

    from routecheck.gui.picture.chart import MapChart
    from routecheck.model import Place

_STEP_PX, _FINE_PX = 16.0, 2.0
"""How far an arrow key moves the aim; with Shift."""
_WAYS = {
    Qt.Key.Key_Left: QPointF(-1.0, 0.0),
    Qt.Key.Key_Right: QPointF(1.0, 0.0),
    Qt.Key.Key_Up: QPointF(0.0, -1.0),
    Qt.Key.Key_Down: QPointF(0.0, 1.0),
}
_SETTERS = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space})
_HOW = "Ruler: click or press Enter at the first place, then at the second; arrow keys move the aim; Esc ends it."


class Ruler(QObject):
    """While it is in use clicks pick nothing: the first sets one end, the second the other, a third begins anew."""

    ended = Signal()
    """Esc: it is put away."""

    def __init__(self, chart: MapChart) -> None:
        super().__init__(chart)
        self._chart = chart
        self._start: Place | None = None
        self._end: Place | None = None
        self._aim: Place | None = None
        self._spot, self._mouse = QPointF(), QPointF()
        self._is_in_use = False
        chart.clicked.connect(self._set_end)
        chart.hovered.connect(self._follow_mouse)
        chart.plane_changed.connect(self._draw)
        chart.installEventFilter(self)

    @property
    def lines(self) -> tuple[str, ...]:
        """What is measured, in words; () = nothing yet."""
        end = self._end or self._aim
        if self._start is None or end is None:
            return ()
        return measure(self._start, end, self._chart.date).lines

    def begin(self) -> None:
        """Take the next two clicks as the ends."""
        self._is_in_use, self._chart.picks = True, False
        self._start = self._end = None
        self._chart.viewport().setCursor(Qt.CursorShape.CrossCursor)
        self._chart.setFocus()
        self._aim_at(QPointF(self._chart.width() / 2, self._chart.height() / 2))

    def put_away(self) -> None:
        """Measure nothing any more."""
        self._is_in_use, self._chart.picks = False, True
        self._start = self._end = self._aim = None
        self._chart.viewport().unsetCursor()
        self._draw()

    def eventFilter(self, _chart: QObject, event: QEvent) -> bool:  # noqa: N802
        """Take the keys of the map while it is in use: Esc before the window does."""
        if not self._is_in_use or event.type() not in (QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress):
            return False
        key_event: QKeyEvent = event  # type: ignore[assignment]
        if event.type() == QEvent.Type.KeyPress:
            return self._take_key(Qt.Key(key_event.key()), is_fine=_has_shift(key_event))
        if key_event.key() == Qt.Key.Key_Escape:
            event.accept()
            return True
        return False

    def _take_key(self, key: Qt.Key, *, is_fine: bool) -> bool:
        if key == Qt.Key.Key_Escape:
            self.ended.emit()
        elif key in _SETTERS:
            self._set_end(self._spot)
        elif key in _WAYS:
            self._move_aim(_WAYS[key] * (_FINE_PX if is_fine else _STEP_PX))
        else:
            return False
        return True

    def _move_aim(self, by: QPointF) -> None:
        """From where it was drawn last; the map moves along where that would be out of view."""
        spot = self._spot + by
        inside = QPointF(
            min(max(spot.x(), 0.0), self._chart.width() - 1.0), min(max(spot.y(), 0.0), self._chart.height() - 1.0)
        )
        beyond, scale = spot - inside, self._chart.frame().scale
        if not beyond.isNull():
            self._chart.move_by(beyond.x() / scale, -beyond.y() / scale)
        self._aim_at(inside)

    def _follow_mouse(self, spot: QPointF) -> None:
        """A mouse that lies still leaves the aim to the keys."""
        if spot != self._mouse:
            self._mouse = spot
            self._aim_at(spot)

    def _aim_at(self, spot: QPointF) -> None:
        if self._is_in_use:
            self._spot, self._aim = spot, self._chart.place_at(spot)
            self._draw()

    def _set_end(self, spot: QPointF) -> None:
        self._aim_at(spot)
        if self._is_in_use:
            self._set(self._aim)

    def _set(self, place: Place | None) -> None:
        if place is None:
            return
        if self._start is None or self._end is not None:
            self._start, self._end = place, None
        else:
            self._end = place
        self._draw()

    def _draw(self) -> None:
        chart, end = self._chart, self._end or self._aim
        curve = None
        if self._start is not None and end is not None:
            curve = measure(self._start, end, chart.date).curve(chart.picture.projection)
        ends = [chart.spot_of(place) for place in (self._start, end) if place is not None]
        chart.marks.show_ruler(ends, curve, self.lines)
        chart.setAccessibleDescription(self._describe())

    def _describe(self) -> str:
        if not self._is_in_use:
            return self._chart.description
        return ". ".join(self.lines) or _HOW


def _has_shift(event: QKeyEvent) -> bool:
    return bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
