"""Labels that several panes use."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QLabel, QSizePolicy


class WrappingLabel(QLabel):
    """A label that wraps and may be narrow."""

    def __init__(self) -> None:
        super().__init__()
        self.setWordWrap(True)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Any width will do."""
        return QSize(40, super().minimumSizeHint().height())
