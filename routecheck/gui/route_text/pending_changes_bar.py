"""The bar under the Route text that stands until every change made here is ticked as made elsewhere too."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from routecheck.gui.pane import Pane
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import ShrinkingLabel
from routecheck.presentation.changes import change_label, pending_changes_line

if TYPE_CHECKING:
    from routecheck.gui.route_text.correction_actions import CorrectionActions


class PendingChangesBar(Pane, QWidget):
    """A sentence about the changes on record and a box to tick for each. `refresh` it once it is laid out."""

    def __init__(self, corrections: CorrectionActions) -> None:
        super().__init__()
        self._corrections = corrections
        self.line = ShrinkingLabel()
        self.boxes: list[QCheckBox] = []
        self._rows: list[QWidget] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(8, 4, 8, 2)
        self._column.setSpacing(2)
        self._column.addWidget(self.line)
        corrections.record_changed.connect(self.refresh)
        self.refresh_font()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.line.setFont(text_font(-1, bold=True))
        for box in self.boxes:
            box.setFont(text_font(-1))

    def refresh(self) -> None:
        """Show the changes that are not ticked yet."""
        changes = self._corrections.changes
        for row in self._rows:
            self._column.removeWidget(row)
            row.hide()
            row.deleteLater()
        left = [(i, change_label(change)) for i, change in enumerate(changes) if not change.ticked]
        self.boxes = [self._make_box(i, what) for i, what in left]
        self._rows = [self._make_row(i, box) for (i, _), box in zip(left, self.boxes, strict=True)]
        text = pending_changes_line(changes)
        self.line.setText(text)
        self.setVisible(bool(text))

    def _make_box(self, index: int, what: str) -> QCheckBox:
        # Qt takes & for a shortcut.
        box = QCheckBox(f"{what}: corrected elsewhere too".replace("&", "&&"))
        box.setFont(text_font(-1))
        box.toggled.connect(lambda _: self._corrections.tick_change(index))
        return box

    def _make_row(self, index: int, box: QCheckBox) -> QWidget:
        """The box, and a button to take the change back where undoing what was typed cannot."""
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(box)
        if self._corrections.can_revert(index):
            back = QPushButton("Take back")
            back.setFont(text_font(-1))
            back.setAutoDefault(False)
            back.setToolTip("Put back what stood there before")
            back.clicked.connect(lambda: self._corrections.revert_change(index))
            line.addWidget(back)
        line.addStretch()
        self._column.addWidget(row)
        return row
