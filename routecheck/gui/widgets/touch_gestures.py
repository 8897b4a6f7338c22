"""Fingers on a chart: two pinch, one that stays is a long press. Qt recognises both; what they do is not known here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPointF, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QGestureEvent, QPinchGesture, QTapAndHoldGesture

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

_STARTED, _UPDATED = Qt.GestureState.GestureStarted, Qt.GestureState.GestureUpdated


class TouchGestures(QObject):
    """Watches a widget. Spots are pixels of it."""

    pinched = Signal(float, QPointF)
    """By how much the fingers went apart since last time, and about where."""
    held = Signal(QPointF)

    def __init__(self, widget: QWidget) -> None:
        super().__init__(widget)
        self._widget = widget
        self.is_finger = False
        """Whether what the widget takes for a mouse is a finger."""
        self.is_tap = True
        """Whether the finger, or the mouse, did nothing but press since it came down."""
        widget.setAttribute(Qt.WidgetAttribute.WA_AcceptTouchEvents)
        widget.grabGesture(Qt.GestureType.PinchGesture)
        widget.grabGesture(Qt.GestureType.TapAndHoldGesture)
        widget.installEventFilter(self)

    def eventFilter(self, _widget: QObject, event: QEvent) -> bool:  # noqa: N802
        """Tell of gestures; while two fingers pinch the first of them drags nothing."""
        if isinstance(event, QGestureEvent):
            self._take_gestures(event)
            return True
        if isinstance(event, QMouseEvent):
            self.is_finger = event.source() != Qt.MouseEventSource.MouseEventNotSynthesized
            if event.type() == QEvent.Type.MouseButtonPress:
                self.is_tap = True
            return event.type() == QEvent.Type.MouseMove and self.is_finger and not self.is_tap
        return False

    def _take_gestures(self, event: QGestureEvent) -> None:
        pinch, hold = event.gesture(Qt.GestureType.PinchGesture), event.gesture(Qt.GestureType.TapAndHoldGesture)
        if isinstance(pinch, QPinchGesture):
            self.is_tap = False
            if pinch.state() == _UPDATED:
                self.pinched.emit(pinch.scaleFactor(), self._in_widget(pinch.centerPoint()))
        if isinstance(hold, QTapAndHoldGesture) and hold.state() == _STARTED:
            self.is_tap = False
            self.held.emit(self._in_widget(hold.position()))

    def _in_widget(self, spot: QPointF) -> QPointF:
        return QPointF(self._widget.mapFromGlobal(spot))
