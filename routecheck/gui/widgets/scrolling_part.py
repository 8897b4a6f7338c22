"""A part of the window that is shown in full where there is room for it, and scrolls where there is not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from routecheck.gui.theme import text_font

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtCore import QObject, QRect
    from PySide6.QtGui import QResizeEvent

_LEAST_LINES = 6
"""So many lines high it stays at least."""


class ScrollingPart(QScrollArea):
    """Parts one under the other, never laid over one another: what the window is too low for is scrolled to."""

    def __init__(self, parts: Sequence[QWidget], gap: int) -> None:
        super().__init__()
        self._needed = 0
        self._inside = QWidget()
        column = QVBoxLayout(self._inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(gap)
        for part in parts:
            column.addWidget(part)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self.setWidget(self._inside)
        for ground in (self.viewport(), self._inside):
            ground.setAutoFillBackground(False)
        self._inside.installEventFilter(self)

    def sizeHint(self) -> QSize:  # noqa: N802
        """As high as all of it."""
        return QSize(self._inside.sizeHint().width(), self._needed)

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """As wide as all of it must be, and some lines high."""
        least = _LEAST_LINES * QFontMetrics(text_font()).lineSpacing()
        return QSize(self._inside.minimumSizeHint().width(), min(self._needed, least))

    def reveal(self, part: QWidget, spot: QRect) -> None:
        """Scroll as little as brings a spot of one of the parts into view."""
        corner = part.mapTo(self._inside, spot.center())
        self.ensureVisible(corner.x(), corner.y(), 0, spot.height())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """See how high all of it is at the new width."""
        super().resizeEvent(event)
        self._fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """See how high all of it is when a part wants another height."""
        if watched is self._inside and event.type() == QEvent.Type.LayoutRequest:
            self._fit()
        return super().eventFilter(watched, event)

    def _fit(self) -> None:
        """Reckon without a scroll bar: else one that came would stay for the width that it takes."""
        layout = self._inside.layout()
        assert layout is not None
        needed = layout.totalHeightForWidth(self.width())
        needed = layout.totalSizeHint().height() if needed < 0 else needed
        if needed != self._needed:
            self._needed = needed
            self.setMaximumHeight(needed)
            self.updateGeometry()
