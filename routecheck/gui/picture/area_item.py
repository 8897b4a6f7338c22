"""Areas of the plane filled in one colour: land, lakes. The mouse goes through them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pyqtgraph as pg
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath

if TYPE_CHECKING:
    from routecheck.arrays import Floats


class AreaItem(pg.GraphicsObject):  # type: ignore[misc]
    """Closed rings, a ring inside another being a hole. Without antialias: two areas that meet show no seam."""

    def __init__(self) -> None:
        super().__init__()
        self._path = QPainterPath()
        self._colour = QColor()

    def dress(self, colour: str) -> None:
        """Use another colour."""
        self._colour = QColor(colour)
        self.update()

    def show_rings(self, rings: Floats) -> None:
        """Fill other rings, shape (n, 2), NM of the plane, with a row of NaN after each."""
        self.prepareGeometryChange()
        self._path = pg.arrayToQPath(rings[:, 0], rings[:, 1], connect="finite") if len(rings) else QPainterPath()
        self._path.setFillRule(Qt.FillRule.OddEvenFill)
        self.update()

    def boundingRect(self) -> QRectF:  # noqa: N802
        """All rings."""
        return self._path.controlPointRect()

    def shape(self) -> QPainterPath:
        """Nothing that a mouse could meet."""
        return QPainterPath()

    def paint(self, painter: QPainter, *_given: object) -> None:
        """Fill."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillPath(self._path, self._colour)
