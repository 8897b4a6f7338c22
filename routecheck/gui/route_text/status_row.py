"""The row under the Route text: what was recognised, the progress of a load, and messages about what went wrong."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from routecheck.gui.pane import Pane
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import PlainLabel, ShrinkingLabel

_READING = "Reading …"
_SLOW_MS = 250
"""A load that takes longer shows its progress."""


class StatusRow(Pane, QWidget):
    """Labels and buttons that are shown only while there is something to say."""

    data_wanted = Signal()
    stop_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.recognised, self.message, self.progress = ShrinkingLabel(), ShrinkingLabel(), PlainLabel()
        self._share = 1.0
        self._delay = QTimer(self, singleShot=True, interval=_SLOW_MS)
        self._delay.timeout.connect(self._write_progress)
        self.recognised.setObjectName("muted")
        self.load_button, self.stop_button = QPushButton("Load real navigation data…"), QPushButton("Stop loading")
        self.load_button.clicked.connect(self.data_wanted)
        self.stop_button.clicked.connect(self.stop_wanted)
        row = QHBoxLayout()
        row.setSpacing(10)
        row.addWidget(self.recognised, 1)
        row.addWidget(self.progress)
        self.progress.hide()
        for button in (self.load_button, self.stop_button):
            button.setFlat(True)
            button.setObjectName("link")
            button.setCursor(Qt.CursorShape.PointingHandCursor)
            button.hide()
            row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 0, 8, 0)
        column.setSpacing(2)
        column.addLayout(row)
        column.addWidget(self.message)
        self.message.hide()
        self.recognised.setText(_READING)

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for widget in (self.recognised, self.progress, self.load_button, self.stop_button):
            widget.setFont(text_font(-1))
        self.message.setFont(text_font(-1, bold=True))

    def show_nothing(self, _why: str) -> None:
        """Say of nothing that it was recognised; offer to load data."""
        self.show_recognised("", offer=self.load_button.text())

    def show_outdated(self) -> None:
        """Take back what was recognised: it is about an earlier text."""
        self.recognised.keep_height()
        self.recognised.setText(_READING)

    def show_recognised(self, text: str, *, offer: str) -> None:
        """Say what was recognised; offer other data on a button with this text, "" = none."""
        self.recognised.release_height()
        self.recognised.setText(text)
        self.load_button.setVisible(bool(offer))
        if offer:
            self.load_button.setText(offer)

    def show_progress(self, share: float) -> None:
        """Say how far the loading of navigation data is, once it takes long; 1 = done."""
        self._share = share
        if share >= 1.0:
            self._delay.stop()
            self.stop_button.hide()
            self.progress.hide()
        elif self.stop_button.isVisible():
            self._write_progress()
        elif not self._delay.isActive():
            self._delay.start()

    def show_message(self, text: str) -> None:
        """Say what went wrong or what was done; "" = nothing."""
        self.message.setText(text)
        self.message.setVisible(bool(text))

    def _write_progress(self) -> None:
        self.progress.setText(f"Loading navigation data … {self._share * 100:.0f} %")
        self.progress.show()
        self.stop_button.show()
