"""The line under the Route text: what was recognised, what went wrong, and the progress of long work."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from routecheck.gui.pane import Pane
from routecheck.gui.theme import words

_SLOW_MS = 250


class StatusRow(Pane, QWidget):
    """Labels and buttons that come and go with what there is to say."""

    wants_data = Signal()
    wants_stop = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.recognised, self.trouble, self.loading = Wrapping(), Wrapping(), QLabel()
        self._share = 1.0
        self._slow = QTimer(self, singleShot=True, interval=_SLOW_MS)
        self._slow.timeout.connect(self._say_share)
        self.recognised.setObjectName("muted")
        self.load, self.stop = QPushButton("Load real navigation data…"), QPushButton("Stop loading")
        self.load.clicked.connect(self.wants_data)
        self.stop.clicked.connect(self.wants_stop)
        row = QHBoxLayout()
        row.setSpacing(10)
        row.addWidget(self.recognised, 1)
        row.addWidget(self.loading)
        self.loading.hide()
        for button in (self.load, self.stop):
            button.setFlat(True)
            button.setObjectName("link")
            button.setCursor(Qt.CursorShape.PointingHandCursor)
            button.hide()
            row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 0, 8, 0)
        column.setSpacing(2)
        column.addLayout(row)
        column.addWidget(self.trouble)
        self.trouble.hide()
        self.recognised.setText("Reading …")

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for widget in (self.recognised, self.loading, self.load, self.stop):
            widget.setFont(words(-1))
        self.trouble.setFont(words(-1, bold=True))

    def show_nothing(self, _why: str) -> None:
        """Say of nothing that it was recognised; offer to load data."""
        self.show_recognised("", offer_data=True)

    def show_recognised(self, text: str, *, offer_data: bool) -> None:
        """Say what was recognised; offer to load data where only the invented region is there."""
        self.recognised.setText(text)
        self.load.setVisible(offer_data)

    def show_progress(self, share: float) -> None:
        """Say how far the loading of navigation data is, once it takes long; 1 = done."""
        self._share = share
        if share >= 1.0:
            self._slow.stop()
            self.stop.hide()
            self.loading.hide()
        elif self.stop.isVisible():
            self._say_share()
        elif not self._slow.isActive():
            self._slow.start()

    def _say_share(self) -> None:
        self.loading.setText(f"Loading navigation data … {self._share * 100:.0f} %")
        self.loading.show()
        self.stop.show()

    def say(self, text: str) -> None:
        """Say what went wrong; "" when it is over."""
        self.trouble.setText(text)
        self.trouble.setVisible(bool(text))


class Wrapping(QLabel):
    """A label that wraps and may be narrow."""

    def __init__(self) -> None:
        super().__init__()
        self.setWordWrap(True)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Any width will do."""
        return QSize(40, super().minimumSizeHint().height())
