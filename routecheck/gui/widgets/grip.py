"""The left button held down on a drawing: how far it drags, and whether letting go was a click. Nothing is drawn."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

if TYPE_CHECKING:
    from PySide6.QtCore import QPointF
    from PySide6.QtGui import QMouseEvent

NOTCH = 1.3
"""How much closer one notch of the wheel gets."""
_DRAG_PX = 4.0
"""What moves less is a click."""


class Grip:
    """Where a drawing is held. Spots are those of the event, or what of them counts."""

    def __init__(self) -> None:
        self._at: QPointF | None = None
        self._dragging = False

    @property
    def held(self) -> bool:
        """Whether the button is down."""
        return self._at is not None

    def press(self, event: QMouseEvent, spot: QPointF) -> None:
        """Take hold, if it is the left button."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._at, self._dragging = spot, False

    def dragged(self, spot: QPointF) -> QPointF | None:
        """How far the drawing goes along with the mouse; None while it stays where it is."""
        if self._at is None:
            return None
        moved = spot - self._at
        if not self._dragging and math.hypot(moved.x(), moved.y()) < _DRAG_PX:
            return None
        self._dragging, self._at = True, spot
        return moved

    def let_go(self, event: QMouseEvent) -> bool:
        """Let go, if it is the left button that held it; whether that was a click."""
        if event.button() != Qt.MouseButton.LeftButton or self._at is None:
            return False
        was_click, self._at, self._dragging = not self._dragging, None, False
        return was_click
