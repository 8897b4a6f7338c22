"""A small window with a list, what is to be said of the chosen row beside it, and buttons to add and to remove."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QListWidget, QSplitter, QTextBrowser, QVBoxLayout

from routecheck.gui.widgets.labels import WrappingLabel

if TYPE_CHECKING:
    from PySide6.QtGui import QShowEvent
    from PySide6.QtWidgets import QPushButton, QWidget

_LIST_SHARE, _ABOUT_SHARE = 230, 430
_WIDE, _LINES = 110, 20
"""How wide it begins, average characters, and how many lines the list and the text beside it are high at least."""


class ListDialog(QDialog):
    """What it lists, and what is said of a row, is filled in by what is made of it."""

    add_wanted = Signal()
    remove_wanted = Signal(str)
    stop_wanted = Signal()

    def __init__(self, parent: QWidget, *, title: str, introduction: str, about_name: str, stop: str) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.list, self.about = QListWidget(), QTextBrowser()
        self.list.setAccessibleName(title)
        self.about.setAccessibleName(about_name)
        self.progress, self.message = WrappingLabel(), WrappingLabel()
        self.progress.hide()
        self.message.hide()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.buttons.rejected.connect(self.reject)
        self.add_button, self.remove_button, self.stop_button = map(self.make_button, ("Add…", "Remove", stop))
        self.add_button.clicked.connect(self.add_wanted)
        self.stop_button.clicked.connect(self.stop_wanted)
        self.stop_button.hide()
        self._lay_out(introduction)

    def make_button(self, text: str) -> QPushButton:
        """Make one more button."""
        return self.buttons.addButton(text, QDialogButtonBox.ButtonRole.ActionRole)

    def show_message(self, text: str) -> None:
        """Say what went wrong; "" when it is over."""
        self.message.setText(text)
        self.message.setVisible(bool(text))
        if text and self.isVisible():
            self._make_room()

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for a cycle's dates on one line. How high it is says the layout, at this width."""
        wide = self.fontMetrics().averageCharWidth() * _WIDE
        return QSize(wide, self._column.totalHeightForWidth(wide))

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """The letters of the style are known only now."""
        super().showEvent(event)
        self._make_room()

    def _make_room(self) -> None:
        """Be as high as all that is shown needs at this width: a layout of texts that wrap does not see to that."""
        self._column.activate()
        needed = self._column.totalMinimumHeightForWidth(self.width())
        if needed > self.height():
            self.resize(self.width(), needed)

    def _lay_out(self, introduction: str) -> None:
        over = WrappingLabel(introduction)
        over.setObjectName("muted")
        split = QSplitter(Qt.Orientation.Horizontal)
        split.addWidget(self.list)
        split.addWidget(self.about)
        split.setSizes([_LIST_SHARE, _ABOUT_SHARE])
        split.setMinimumHeight(self.fontMetrics().lineSpacing() * _LINES)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        column.addWidget(over)
        column.addWidget(split, 1)
        for widget in (self.progress, self.message, self.buttons):
            column.addWidget(widget)
