"""What is painted over the map in pixels of the view, and keeps its size while the map is zoomed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pyqtgraph as pg
from PySide6.QtCore import QRectF

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.gui.picture.frame import Frame
    from routecheck.gui.theme import Theme


class PixelItem(pg.GraphicsObject):  # type: ignore[misc]
    """Covers the whole view."""

    def __init__(self, frame: Callable[[], Frame], theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self._frame = frame

    def boundingRect(self) -> QRectF:  # noqa: N802
        """All of the view."""
        frame = self._frame()
        return QRectF(0, 0, frame.width, frame.height)

    def viewTransformChanged(self) -> None:  # noqa: N802
        """Follow the view."""
        self.prepareGeometryChange()
        super().viewTransformChanged()
