"""The field over the Picture in which a point is looked for, and the list of what was found. It searches nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QListWidget, QListWidgetItem, QPushButton, QVBoxLayout

from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import PlainLabel
from routecheck.presentation.point_search import describe_search

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtCore import QObject
    from PySide6.QtGui import QKeyEvent
    from PySide6.QtWidgets import QWidget

    from routecheck.presentation.point_search import FoundPoint

_MOST_ROWS = 5
_EDGE, _ABOVE_LIST = 8, 110
_WIDEST = 560
_LEAST_TARGET = 40
"""Pixels a side: what a finger hits."""


class FindBar(QFrame):
    """Enter looks for what is typed; up and down choose among several; Esc is left to whoever owns it."""

    chosen = Signal(object)
    """The FoundPoint to look at."""
    listed = Signal()
    """What is found is another list, which may be empty."""
    ended = Signal()
    """Esc or the button: nothing is looked for any more."""

    def __init__(self, parent: QWidget, search: Callable[[str], tuple[FoundPoint, ...]]) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self.setAccessibleName("Find a point")
        self._pane, self._search = parent, search
        self.found: tuple[FoundPoint, ...] = ()
        self._searched = ""
        self.field = QLineEdit()
        self.field.setAccessibleName("Name or position of the point to find")
        self.field.setPlaceholderText("Name or position, then Enter")
        self.said = PlainLabel()
        self.said.setWordWrap(True)
        self.list = QListWidget()
        self.list.setAccessibleName("Points of that name")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.end_button = QPushButton("Back")
        self.end_button.setAccessibleName("Back to the view before")
        self.end_button.setToolTip("Back to the view before (Esc)")
        self._lay_out()
        self.refresh_font()
        self.field.returnPressed.connect(self.search)
        self.list.currentRowChanged.connect(self._choose)
        self.end_button.clicked.connect(self.ended)
        self.field.installEventFilter(self)
        parent.installEventFilter(self)
        self.hide()

    def begin(self) -> None:
        """Show the field, ready to be typed over."""
        self.show()
        self.raise_()
        self._fit()
        self.field.setFocus()
        self.field.selectAll()

    @property
    def current(self) -> FoundPoint | None:
        """The point that is chosen in the list."""
        row = self.list.currentRow()
        return self.found[row] if 0 <= row < len(self.found) else None

    def search(self) -> None:
        """Look for what is typed and go to the first that is found."""
        self._searched = self.field.text().strip()
        if self._searched:
            self._list(self._search(self._searched), 0)
            if self.current is not None:
                self.chosen.emit(self.current)

    def renew(self) -> None:
        """Look for the same again, in other data or beside another route, and go nowhere."""
        if self._searched:
            self._list(self._search(self._searched), max(self.list.currentRow(), 0))

    def forget(self) -> None:
        """List nothing: nobody looks at it any more."""
        self._searched = ""
        self._list((), -1)

    def _list(self, found: tuple[FoundPoint, ...], row: int) -> None:
        self.found = found
        self.said.setText(describe_search(self._searched, found) if self._searched else "")
        self.list.blockSignals(True)
        self.list.clear()
        for point in found:
            item = QListWidgetItem(point.label, self.list)
            item.setSizeHint(QSize(0, _LEAST_TARGET))
        self.list.setCurrentRow(min(row, len(found) - 1))
        self.list.blockSignals(False)
        self.listed.emit()
        self._fit()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for widget in (self.field, self.end_button):
            widget.setFont(text_font())
            widget.setMinimumHeight(_LEAST_TARGET)
        self.list.setFont(text_font(-0.5))
        self.said.setFont(text_font(-0.5))
        self._fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Take Esc from field and map before the window does, the arrows from the field; follow the pane's size."""
        if watched is self._pane:
            if event.type() == QEvent.Type.Resize:
                self._fit()
            return False
        if self.isHidden():
            return False
        if event.type() == QEvent.Type.ShortcutOverride and _key(event) == Qt.Key.Key_Escape:
            event.accept()
            return True
        return event.type() == QEvent.Type.KeyPress and self._take_key(_key(event), moves=watched is self.field)

    def _take_key(self, key: Qt.Key, *, moves: bool) -> bool:
        if key == Qt.Key.Key_Escape:
            self.ended.emit()
            return True
        step = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(key)
        if step is None or not self.found or not moves:
            return False
        self.list.setCurrentRow((self.list.currentRow() + step) % len(self.found))
        return True

    def _choose(self, row: int) -> None:
        if 0 <= row < len(self.found):
            self.chosen.emit(self.found[row])

    def _fit(self) -> None:
        """In the upper left of the pane, no higher than what it lists."""
        pane = self._pane
        width = min(_WIDEST, pane.width() - 2 * _EDGE)
        self.said.setVisible(bool(self.said.text()))
        self.list.setVisible(bool(self.found))
        self.setFixedWidth(max(width, 120))
        if self.found:
            high = _LEAST_TARGET * min(len(self.found), _MOST_ROWS) + 2 * self.list.frameWidth()
            self.list.setFixedHeight(max(_LEAST_TARGET, min(high, pane.height() - _ABOVE_LIST)))
        self.adjustSize()
        self.move(_EDGE, _EDGE)

    def _lay_out(self) -> None:
        column, row = QVBoxLayout(self), QHBoxLayout()
        column.setContentsMargins(_EDGE, _EDGE, _EDGE, _EDGE)
        row.addWidget(self.field, 1)
        row.addWidget(self.end_button)
        column.addLayout(row)
        column.addWidget(self.said)
        column.addWidget(self.list)


def _key(event: QEvent) -> Qt.Key:
    key_event: QKeyEvent = event  # type: ignore[assignment]
    return Qt.Key(key_event.key())
