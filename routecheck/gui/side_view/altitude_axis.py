"""The altitudes at the left of the Side view, with a line at each across the drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pyqtgraph as pg

from routecheck.gui.side_view.labels import altitude_label
from routecheck.gui.side_view.text import SideKind
from routecheck.gui.theme import text_scale
from routecheck.gui.widgets.chart_lines import pixel_pen

if TYPE_CHECKING:
    from PySide6.QtCore import QRectF

    from routecheck.gui.side_view.frame import SideFrame
    from routecheck.gui.theme import Theme
    from routecheck.presentation.side_view import SideView

_LEAST_LEVEL_PX = 18.0
_OPAQUE = 255
_BEYOND_PX = 15.0
"""So far a label reaches beyond the ends of the axis."""


def levels(frame: SideFrame) -> list[float]:
    """The altitudes at which there is room for a line and its label."""
    return frame.levels(_LEAST_LEVEL_PX * text_scale())


class AltitudeAxis(pg.AxisItem):  # type: ignore[misc]
    """pyqtgraph's axis with altitudes in the words of the trade."""

    def __init__(self, box: pg.ViewBox) -> None:
        super().__init__("left", linkView=box, pen=None)
        self.setStyle(tickLength=0, tickTextOffset=6, autoExpandTextSpace=False, tickAlpha=_OPAQUE)
        self.setGrid(_OPAQUE)
        self.setZValue(box.zValue() - 1.0)

    def dress(self, theme: Theme, ratio: float) -> None:
        """Use other colours, the system's text size, and lines for a screen with so many of its pixels a pixel."""
        self.setPen(None)
        self.setTickPen(pixel_pen(theme.graticule, ratio))
        self.setTextPen(theme.muted)
        self.setStyle(tickFont=SideKind.MINIMUM.font)

    def show_frame(self, frame: SideFrame, view: SideView) -> None:
        """Name the altitudes in view."""
        self.setTicks([[(feet, altitude_label(feet, view)) for feet in levels(frame)]])

    def boundingRect(self) -> QRectF:  # noqa: N802
        """With room for a label at either end."""
        usual: QRectF = super().boundingRect()
        return usual.adjusted(0, -_BEYOND_PX, 0, _BEYOND_PX)
