"""The list of sample routes: each with its lesson in one sentence, opened one after the other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QListWidget, QListWidgetItem, QVBoxLayout

from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import WrappingLabel
from routecheck.reading.samples import read_samples

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.model import RouteInput

_WHAT_IT_IS = "Routes of the invented demo region. Enter or a click shows one in the window; this list stays open."
_GROUPS = {"planted": "One entry error each", "clean": "In order, though some look odd"}


class SampleList(QDialog):
    """Lists the samples by group. The arrows move, Enter or a click opens."""

    opened = Signal(object)
    """The RouteInput of a sample that is to be shown."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Sample routes")
        self.samples: list[RouteInput] = []
        self.list = QListWidget()
        self.list.setAccessibleName("Sample routes")
        for folder, title in _GROUPS.items():
            self._add_group(folder, title)
        self.list.setCurrentRow(1)
        self.list.itemActivated.connect(self._open)
        self.list.itemClicked.connect(self._open)
        self.list.setMinimumSize(self.list.sizeHintForColumn(0) + 40, self.list.fontMetrics().height() * 20)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        buttons.button(QDialogButtonBox.StandardButton.Close).setAutoDefault(False)  # Enter opens a sample
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        for widget in (WrappingLabel(_WHAT_IT_IS), self.list, buttons):
            column.addWidget(widget)
        self.list.setFocus()

    def _add_group(self, folder: str, title: str) -> None:
        head = QListWidgetItem(title)
        head.setFlags(Qt.ItemFlag.NoItemFlags)
        head.setFont(text_font(bold=True))
        self.list.addItem(head)
        for name, route_input in read_samples(folder):
            row = QListWidgetItem(f"   {route_input.title or name}")
            row.setData(Qt.ItemDataRole.UserRole, len(self.samples))
            self.samples.append(route_input)
            self.list.addItem(row)

    def _open(self, row: QListWidgetItem) -> None:
        number = row.data(Qt.ItemDataRole.UserRole)
        if number is not None:
            self.opened.emit(self.samples[number])
