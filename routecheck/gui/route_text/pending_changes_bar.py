"""The line under the Route text that stands until every change made here is ticked as made elsewhere too."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from routecheck.gui.pane import Pane
from routecheck.gui.route_text.status_row import Wrapping
from routecheck.gui.theme import words
from routecheck.presentation.changes import standing_line, told

if TYPE_CHECKING:
    from routecheck.gui.route_text.correction_actions import CorrectionActions


class StandingLine(Pane, QWidget):
    """Renders the changes of the corrections; a tick is told to them. To be refreshed once it is laid out."""

    def __init__(self, corrections: CorrectionActions) -> None:
        super().__init__()
        self._corrections = corrections
        self.line = Wrapping()
        self.boxes: list[QCheckBox] = []
        self._rows: list[QWidget] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(8, 4, 8, 2)
        self._column.setSpacing(2)
        self._column.addWidget(self.line)
        corrections.changed.connect(self.refresh)
        self.refresh_font()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.line.setFont(words(-1, bold=True))
        for box in self.boxes:
            box.setFont(words(-1))

    def refresh(self) -> None:
        """Show what is left to be ticked."""
        changes = self._corrections.changes
        for row in self._rows:
            self._column.removeWidget(row)
            row.hide()
            row.deleteLater()
        left = [(i, told(change)) for i, change in enumerate(changes) if not change.ticked]
        self.boxes = [self._box(i, what) for i, what in left]
        self._rows = [self._row(i, box) for (i, _), box in zip(left, self.boxes, strict=True)]
        text = standing_line(changes)
        self.line.setText(text)
        self.setVisible(bool(text))

    def _box(self, index: int, what: str) -> QCheckBox:
        box = QCheckBox(f"{what}: corrected elsewhere too")
        box.setFont(words(-1))
        box.toggled.connect(lambda _: self._corrections.tick(index))
        return box

    def _row(self, index: int, box: QCheckBox) -> QWidget:
        """The box, and behind it the way back for what no undoing of typing reaches."""
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(box)
        if self._corrections.can_take_back(index):
            back = QPushButton("Take back")
            back.setFont(words(-1))
            back.setAutoDefault(False)
            back.setToolTip("Put back what stood there before")
            back.clicked.connect(lambda: self._corrections.take_back(index))
            line.addWidget(back)
        line.addStretch()
        self._column.addWidget(row)
        return row
