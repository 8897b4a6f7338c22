"""Labels and tooltips that show text as it is: what comes from files and from the keyboard is never read as markup.

Qt guesses from the text whether it is HTML. Every label of the window is made here, so that it never guesses.
"""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget


class PlainLabel(QLabel):
    """A label of plain text."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setText(text)


class WrappingLabel(PlainLabel):
    """A label of plain text that wraps and may be selected."""

    def __init__(self, text: str = "") -> None:
        super().__init__(text)
        self.setWordWrap(True)
        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)

    def keep_height(self) -> None:
        """Stay as high as now whatever is said meanwhile, so that nothing below moves."""
        self.setMinimumHeight(self.height() if self.isVisible() else 0)

    def release_height(self) -> None:
        """Be as high as the text needs again."""
        self.setMinimumHeight(0)


class ShrinkingLabel(WrappingLabel):
    """A label that wraps at any width, however narrow."""

    def __init__(self, text: str = "") -> None:
        super().__init__(text)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Any width will do."""
        return QSize(40, super().minimumSizeHint().height())


class MarkupLabel(QLabel):
    """A label of HTML that wraps. Whoever sets its text has escaped what is not ours."""

    def __init__(self, html: str = "") -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setWordWrap(True)
        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.setText(html)


def plain_tooltip(text: str) -> str:
    """A tooltip that shows the text as it is. Qt has no format for tooltips: what looks like markup is escaped."""
    return Qt.convertFromPlainText(text) if Qt.mightBeRichText(text) else text
