"""A layout in lines: widgets stand side by side and wrap to the next line where there is no room."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class FlowLayout(QLayout):
    """Lines of widgets, each of its preferred size. `across` and `down` are the gaps between them, pixels."""

    def __init__(self, parent: QWidget | None, across: int, down: int) -> None:
        super().__init__(parent) if parent else super().__init__()
        self._items: list[QLayoutItem] = []
        self.across, self._down = across, down
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:  # noqa: N802
        """Take one more."""
        self._items.append(item)

    def count(self) -> int:
        """How many there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:  # noqa: N802
        """One of them, None beyond the last."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:  # noqa: N802
        """Give one back."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:  # noqa: N802
        """It asks for no more room than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:  # noqa: N802
        """Narrower is higher."""
        return True

    def heightForWidth(self, width: int) -> int:  # noqa: N802
        """The height of all lines at a width."""
        return self._place_items(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:  # noqa: N802
        """Put every widget in its place."""
        super().setGeometry(rect)
        self._place_items(rect, move=True)

    def sizeHint(self) -> QSize:  # noqa: N802
        """No wider than the widest of them: the rest wraps."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:  # noqa: N802
        """Room for the widest of them."""
        sizes = [item.sizeHint() for item in self._items]
        return QSize(max((s.width() for s in sizes), default=0), max((s.height() for s in sizes), default=0))

    def _place_items(self, rect: QRect, *, move: bool) -> int:
        x, y, high = rect.x(), rect.y(), 0
        for item in self._items:
            size = item.sizeHint()
            if x > rect.x() and x + size.width() > rect.x() + rect.width():
                x, y, high = rect.x(), y + high + self._down, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x, high = x + size.width() + self.across, max(high, size.height())
        return y + high - rect.y()
