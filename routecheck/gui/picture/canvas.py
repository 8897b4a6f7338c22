"""A pane that shows a part of a plane in NM: where it looks, and the mouse and keys that move it. What is there is not
known here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QTransform
from PySide6.QtWidgets import QWidget

from routecheck.gui.widgets.grip import NOTCH, Grip

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from PySide6.QtGui import QKeyEvent, QMouseEvent, QResizeEvent, QWheelEvent

    from routecheck.presentation.graticule import Box

    Floats = NDArray[np.float64]

_WIDEST_NM, _CLOSEST_NM = 22000.0, 2.0
_STEP = 0.15
"""Share of the view that an arrow key moves."""
_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


@dataclass(frozen=True, slots=True)
class Frame:
    """How the plane lies in the view: where its origin is drawn, and pixels a NM. North is up, pixels count down."""

    x: float
    y: float
    scale: float
    width: float
    height: float

    def pixels(self, places: Floats) -> Floats:
        """NM of the plane, shape (n, 2), to pixels of the view."""
        return (self.x, self.y) + places * (self.scale, -self.scale)

    def place(self, spot: QPointF) -> tuple[float, float]:
        """A spot of the view in NM of the plane."""
        return (spot.x() - self.x) / self.scale, (self.y - spot.y()) / self.scale

    def transform(self) -> QTransform:
        """The same for a painter."""
        return QTransform(self.scale, 0.0, 0.0, -self.scale, self.x, self.y)


class Canvas(QWidget):
    """Looks at a plane: the wheel and Zoom get closer, dragging and the arrow keys move, a click is told."""

    looked = Signal()
    """It looks elsewhere, or from another distance."""
    clicked = Signal(QPointF)
    hovered = Signal(QPointF)

    def __init__(self) -> None:
        super().__init__()
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._centre = (0.0, 0.0)
        self._scale = 1.0
        self._box: Box | None = None
        self._room = 0.0
        self._grip = Grip()

    @property
    def follows(self) -> bool:
        """Whether it keeps a box in view, because nobody moved it since it was asked to."""
        return self._box is not None

    def frame(self) -> Frame:
        """How the plane lies in the view now."""
        x, y = self._centre
        middle_x, middle_y = self.width() / 2, self.height() / 2
        return Frame(middle_x - x * self._scale, middle_y + y * self._scale, self._scale, self.width(), self.height())

    def seen(self) -> Box:
        """What is in view: west, south, east and north edge in NM."""
        (x, y), half_x, half_y = self._centre, self.width() / 2 / self._scale, self.height() / 2 / self._scale
        return x - half_x, y - half_y, x + half_x, y + half_y

    def fit(self, box: Box, room: float = 0.0) -> None:
        """Show a box with some room around it (a share of its size), and keep it in view until somebody moves."""
        self._box, self._room = box, room
        wide, high = (box[2] - box[0]) * (1 + 2 * room), (box[3] - box[1]) * (1 + 2 * room)
        self._look(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2), min(self.width() / wide, self.height() / high))

    def look_at(self, x: float, y: float, width_nm: float | None = None) -> None:
        """Put a place into the middle of the view, which is then so wide."""
        self._box = None
        self._look((x, y), self.width() / width_nm if width_nm else self._scale)

    def zoom(self, factor: float, about: QPointF | None = None) -> None:
        """Get closer (factor below 1) or back off, keeping a spot (else the middle) where it is."""
        spot = about or QPointF(self.width() / 2, self.height() / 2)
        x, y = self.frame().place(spot)
        scale = self._bounded(self._scale / factor)
        back = self._scale / scale
        self._box = None
        self._look((x + (self._centre[0] - x) * back, y + (self._centre[1] - y) * back), scale)

    def move_by(self, dx: float, dy: float) -> None:
        """Look further east and north by so many NM."""
        self._box = None
        self._look((self._centre[0] + dx, self._centre[1] + dy), self._scale)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Keep in view what was to be kept."""
        super().resizeEvent(event)
        if self._box is not None:
            self.fit(self._box, self._room)
        else:
            self._look(self._centre, self._scale)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """Zoom about the mouse."""
        notches = event.angleDelta().y() / 120.0
        if notches:
            self.zoom(NOTCH**-notches, event.position())
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Grip the plane."""
        self._grip.press(event, event.position())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Drag the plane along, else tell where the mouse is."""
        if not self._grip.held:
            self.hovered.emit(event.position())
        elif moved := self._grip.dragged(event.position()):
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            self.move_by(-moved.x() / self._scale, moved.y() / self._scale)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Let go; where nothing was dragged it was a click."""
        was_click = self._grip.let_go(event)
        if not self._grip.held:
            self.unsetCursor()
        if was_click:
            self.clicked.emit(event.position())

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Move with the arrow keys."""
        way = _ARROWS.get(Qt.Key(event.key()))
        if way is None:
            super().keyPressEvent(event)
            return
        west, south, east, north = self.seen()
        self.move_by(way[0] * _STEP * (east - west), way[1] * _STEP * (north - south))

    def _look(self, centre: tuple[float, float], scale: float) -> None:
        self._centre, self._scale = centre, self._bounded(scale)
        self.looked.emit()
        self.update()

    def _bounded(self, scale: float) -> float:
        wide = max(1.0, float(min(self.width(), self.height())))
        return min(max(scale, wide / _WIDEST_NM), wide / _CLOSEST_NM)
