"""The dialog before a drill: go on with the one in hand, make a new one, open one made elsewhere, see the class."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QDialog, QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout

from routecheck.gui.drill.new_drill import NewDrillForm
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import PlainLabel, ShrinkingLabel

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.drill.progress import DrillInHand


_START, _STOP = "S&tart", "S&top"


class StartDialog(QDialog):
    """Asks which drill. It makes and opens nothing itself."""

    go_on_wanted = Signal()
    new_wanted = Signal(object)
    """The drill that is wanted (DrillWish)."""
    stop_wanted = Signal()
    file_wanted = Signal()
    class_wanted = Signal()

    def __init__(self, parent: QWidget | None, in_hand: DrillInHand | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Drill")
        self.go_on_button, self.start_button = QPushButton("&Go on"), QPushButton(_START)
        self.file_button, self.class_button = QPushButton("&Open a drill…"), QPushButton("&Class…")
        self.close_button = QPushButton("Close")
        self.form, self.message = NewDrillForm(), ShrinkingLabel()
        self._is_making = False
        self._lay_out(in_hand)
        self.go_on_button.clicked.connect(self.go_on_wanted)
        self.start_button.clicked.connect(self._start_or_stop)
        self.file_button.clicked.connect(self.file_wanted)
        self.class_button.clicked.connect(self.class_wanted)
        self.close_button.clicked.connect(self.reject)
        self.form.changed.connect(self._show_lacks)
        self._show_lacks()
        if in_hand:
            self.form.name.setText(in_hand.trainee)
            self.go_on_button.setFocus()
        else:
            self.form.name.setFocus()

    def show_making(self, is_making: bool, fault: str = "") -> None:
        """Say that a drill is being made, or why none was. What starts it stops it meanwhile."""
        self._is_making = is_making
        self.start_button.setText(_STOP if is_making else _START)
        self.start_button.setEnabled(True)
        self.message.setText("Checking the routes and planting errors …" if is_making else fault)
        self.message.setVisible(bool(self.message.text()))

    def show_progress(self, done: int, of: int) -> None:
        """Say how many routes were checked so far."""
        if self._is_making:
            self.message.setText(f"Checking the routes: {done:,} of {of:,} …")

    def _start_or_stop(self) -> None:
        if self._is_making:
            self.stop_wanted.emit()
        else:
            self.new_wanted.emit(self.form.wish)

    def _show_lacks(self) -> None:
        if not self._is_making:
            self.show_making(False, self.form.lacks)
            self.start_button.setEnabled(not self.form.lacks)

    def _lay_out(self, in_hand: DrillInHand | None) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        column.setSpacing(10)
        if in_hand:
            row = QHBoxLayout()
            row.addWidget(ShrinkingLabel(_describe_in_hand(in_hand)), 1)
            row.addWidget(self.go_on_button)
            column.addLayout(row)
        head = PlainLabel("A new drill")
        head.setFont(text_font(bold=True))
        column.addWidget(head)
        scroll = QScrollArea()
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setWidget(self.form)
        scroll.setWidgetResizable(True)
        column.addWidget(scroll, 1)
        column.addWidget(self.message)
        row = QHBoxLayout()
        for button in (self.class_button, self.file_button):
            row.addWidget(button)
        row.addStretch()
        for button in (self.close_button, self.start_button):
            row.addWidget(button)
        column.addLayout(row)
        buttons = self.go_on_button, self.start_button, self.file_button, self.class_button, self.close_button
        for button in buttons:
            button.setAutoDefault(False)
        (self.go_on_button if in_hand else self.start_button).setDefault(True)
        self.go_on_button.setVisible(in_hand is not None)
        wanted = QSize(self.fontMetrics().averageCharWidth() * 92, self.fontMetrics().height() * 34)
        self.resize(wanted.boundedTo(self.screen().availableSize()))


def _describe_in_hand(drill: DrillInHand) -> str:
    who = f"{drill.trainee}: " if drill.trainee else ""
    about = f" ({drill.about})" if drill.about else ""
    return f"In hand: {who}route {len(drill.answers) + 1} of {len(drill.cases)}{about}"
