"""The dialog that asks which route of a message is meant, where it holds several."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QListWidget, QVBoxLayout

from routecheck.gui.widgets.labels import WrappingLabel

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.model import RouteInput


class GroupDialog(QDialog):
    """A list of the routes, the first of them chosen."""

    def __init__(self, parent: QWidget, given: RouteInput) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Which route?")
        self.list = QListWidget()
        self.list.setAccessibleName("Routes of the message")
        self.list.addItems(list(given.groups))
        self.list.setCurrentRow(0)
        self.list.itemActivated.connect(self.accept)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        column.setSpacing(10)
        what = f"{given.name}: the message" if given.name else "The message"
        question = f"{what} holds {len(given.groups)} routes. Which one is meant?"
        for widget in (WrappingLabel(question), self.list, buttons):
            column.addWidget(widget)
        self.list.setFocus()

    @property
    def chosen(self) -> str:
        """The name of the route that is chosen."""
        item = self.list.currentItem()
        return item.text() if item else ""


def ask_group(parent: QWidget, given: RouteInput, take: Callable[[str], object]) -> GroupDialog:
    """Ask; `take` is called with the name of the route."""
    dialog = GroupDialog(parent, given)
    dialog.accepted.connect(lambda: take(dialog.chosen))
    dialog.open()
    return dialog
