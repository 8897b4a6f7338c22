"""A combo box with an arrow in the colour of the theme."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPalette
from PySide6.QtWidgets import QComboBox

if TYPE_CHECKING:
    from PySide6.QtGui import QPaintEvent, QWheelEvent

_HALF, _HIGH, _FROM_EDGE = 4.0, 4.5, 11.0


class ThemedComboBox(QComboBox):
    """A combo box whose arrow is painted: a style sheet would need a picture for it."""

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the box, and the arrow where there is something to choose."""
        super().paintEvent(event)
        if self.isEnabled():
            x, y = self.width() - _FROM_EDGE, self.height() / 2.0 - _HIGH / 2.0
            painter = QPainter(self)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            ink = self.palette().color(QPalette.ColorRole.PlaceholderText)
            painter.setPen(ink)
            painter.setBrush(ink)
            painter.drawPolygon([QPointF(x - _HALF, y), QPointF(x + _HALF, y), QPointF(x, y + _HIGH)])

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802
        """Ignore the wheel: scrolling past the box must not change it."""
        event.ignore()
