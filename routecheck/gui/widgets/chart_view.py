"""A pane that looks at a plane through a view box of pyqtgraph: wheel, drag, limits and history are pyqtgraph's.

What is in the plane is not known here.
"""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from routecheck.gui.widgets.touch_gestures import TouchGestures

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pyqtgraph.GraphicsScene.mouseEvents import MouseClickEvent, MouseDragEvent
    from PySide6.QtGui import QFocusEvent
    from PySide6.QtWidgets import QGraphicsSceneWheelEvent

    from routecheck.gui.theme import Theme

_SIDEWAYS = 0.15
"""Share of the view that a notch of the wheel sideways moves along."""
_NOTCH = 120.0
_FINGER = 1.9
"""With it the 11 pixels that a mouse may be off a point are a target of 42."""
_REMEMBER_MS = 600
"""A view at which somebody looks so long is kept in the history."""
_LATER_MS = 25
"""In that time lists and tables lay out and paint in several turns of the event loop."""


class LookBox(pg.ViewBox):  # type: ignore[misc]
    """pyqtgraph's view box without its menu. Turning the wheel sideways moves along."""

    def __init__(self, *, lock_aspect: bool) -> None:
        super().__init__(lockAspect=lock_aspect, enableMenu=False, defaultPadding=0.0)
        self.disableAutoRange()

    def wheelEvent(self, event: QGraphicsSceneWheelEvent, axis: int | None = None) -> None:  # noqa: N802
        """Zoom about the mouse, or move along."""
        self.updateMatrix()  # or else a second notch before the next painting zooms about another place
        if event.orientation() == Qt.Orientation.Horizontal:
            self.translateBy(x=-event.delta() / _NOTCH * _SIDEWAYS * self.viewRect().width())
            self.sigRangeChangedManually.emit(self.mouseEnabled())
            event.accept()
        else:
            super().wheelEvent(event, axis)

    def mouseDragEvent(self, event: MouseDragEvent, axis: int | None = None) -> None:  # noqa: N802
        """Show by the cursor that the plane is held."""
        if event.isFinish():
            self.unsetCursor()
        elif event.isStart():
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        super().mouseDragEvent(event, axis)

    def remember(self) -> None:
        """Make the view as it is now the newest of the history."""
        now = self.viewRect()
        if not self.axHistory or self.axHistory[self.axHistoryPointer] != now:
            self.axHistoryPointer += 1
            self.axHistory[self.axHistoryPointer :] = [now]

    def forget(self) -> None:
        """Begin the history with the view as it is now."""
        self.axHistory, self.axHistoryPointer = [self.viewRect()], 0


class ChartView(pg.GraphicsView):  # type: ignore[misc]
    """Shows one view box, and tells what the mouse does in it. Spots are pixels of the view."""

    looked = Signal()
    """It looks elsewhere, or from another distance."""
    clicked = Signal(QPointF)
    hovered = Signal(QPointF)
    departed = Signal()
    """The mouse is gone."""

    def __init__(self, box: LookBox, theme: Theme) -> None:
        super().__init__()
        self.box, self._theme, self._exporting = box, theme, False
        self.setViewportUpdateMode(self.ViewportUpdateMode.FullViewportUpdate)
        self.viewport().setMouseTracking(True)
        self._later = QTimer(self, singleShot=True, interval=_LATER_MS)
        self._later.timeout.connect(self.paint_again)
        self._looking = QTimer(self, singleShot=True, interval=_REMEMBER_MS)
        self._looking.timeout.connect(box.remember)
        box.sigRangeChanged.connect(self._take_range)
        box.sigRangeChangedManually.connect(lambda _: self._looking.start())
        self.scene().sigMouseClicked.connect(self._click)
        self.scene().sigMouseMoved.connect(self._hover)
        self._touch = TouchGestures(self.viewport())
        self._touch.pinched.connect(self._pinch)
        self._touch.held.connect(self.hovered)
        self.setBackground(theme.paper)

    @property
    def reach(self) -> float:
        """How much farther off than a mouse the last press may lie: a finger is wider."""
        return _FINGER if self._touch.is_finger else 1.0

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        self.setBackground(theme.paper)

    def look_back(self) -> None:
        """Show what was looked at before."""
        self.box.scaleHistory(-1)

    def look_forward(self) -> None:
        """Show what was looked at after that."""
        self.box.scaleHistory(1)

    def close(self) -> bool:
        """Close as any widget: pyqtgraph would take the scene apart under the items that are still in use."""
        return QWidget.close(self)

    def drawForeground(self, painter: QPainter, _rect: QRectF) -> None:  # noqa: N802
        """Paint the rim, which shows where the keys go."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        in_focus = self.hasFocus() and not self._exporting
        painter.setPen(QPen(QColor(self._theme.route if in_focus else self._theme.line), 1))
        painter.drawRect(QRectF(0, 0, self.width() - 1, self.height() - 1))

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Show that the keys go here."""
        super().focusInEvent(event)
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802
        """Show that they no longer do."""
        super().focusOutEvent(event)
        self.viewport().update()

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802
        """Tell that the mouse is gone."""
        super().leaveEvent(event)
        self.departed.emit()

    def event(self, event: QEvent) -> bool:
        """Draw anew on a screen with other pixels."""
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self.refresh_pens()
        return bool(super().event(event))

    def refresh_pens(self, ratio: float | None = None) -> None:
        """Take the width of lines from the screen (again), or for so many pixels of a device a pixel."""

    def paint_later(self) -> None:
        """Let what else changes now be painted first: this takes longer than all the rest."""
        self.viewport().setUpdatesEnabled(False)
        if not self._later.isActive():
            self._later.start()

    def paint_again(self) -> None:
        """Go on painting."""
        self.viewport().setUpdatesEnabled(True)

    def settle(self) -> None:
        """Do at once what waits until the view rests."""

    @property
    def theme(self) -> Theme:
        """The colours in use."""
        return self._theme

    @contextmanager
    def exporting(self, ratio: float) -> Iterator[None]:
        """Draw symbols as lines, and all lines for a device with so many pixels a pixel, until the end of the block."""
        self._export(True, ratio)
        try:
            yield
        finally:
            self._export(False, None)

    def _export(self, begins: bool, ratio: float | None) -> None:
        self._exporting = begins
        for item in self.box.childGroup.childItems():
            if isinstance(item, pg.ScatterPlotItem):
                item.setExportMode(begins, {"antialias": True})
        self.refresh_pens(ratio)

    def _take_range(self, *_given: object) -> None:
        self.box.updateMatrix()  # or else the painting does it and has to be done once more
        self.looked.emit()

    def _click(self, event: MouseClickEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and not event.double() and self._touch.is_tap:
            self.clicked.emit(QPointF(event.scenePos()))

    def _pinch(self, factor: float, spot: QPointF) -> None:
        """Zoom about the fingers, along those axes that may be zoomed."""
        about = self.box.mapSceneToView(self.mapToScene(spot.toPoint()))
        may_zoom = self.box.mouseEnabled()
        self.box.scaleBy([1.0 / factor if may else 1.0 for may in may_zoom], center=about)
        self.box.sigRangeChangedManually.emit(may_zoom)

    def _hover(self, spot: QPointF) -> None:
        if self.scene().dragButtons:
            self.departed.emit()
        else:
            self.hovered.emit(spot)
