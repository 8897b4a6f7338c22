"""What lies over the panes while they show an answer about an earlier input. No pane has to think of it by itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QRect, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QWidget

from routecheck.gui.theme import text_font

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QPaintEvent

    from routecheck.gui.session import Session

PATIENCE_MS = 120
"""An answer that comes sooner lets nothing flicker: nobody reads a finding in that time."""
_EARLIER = "About the input before"
_COVER = 165
"""How much of the paper covers what is outdated, of 255."""
_PAD = 6


class Veil(QWidget):
    """A sheet of tracing paper over one pane. It says what is under it and lets the mouse through."""

    def __init__(self, pane: QWidget) -> None:
        super().__init__(pane)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(_EARLIER)
        self.hide()
        pane.installEventFilter(self)

    def cover(self) -> None:
        """Lie over the whole pane, on top of what was added to it meanwhile."""
        pane = self.parentWidget()
        assert pane is not None
        self.setGeometry(pane.rect())
        self.raise_()
        self.show()

    def eventFilter(self, pane: QObject, event: QEvent) -> bool:  # noqa: N802
        """Follow the size of the pane."""
        if event.type() == QEvent.Type.Resize and isinstance(pane, QWidget):
            self.setGeometry(pane.rect())
        return False

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """Paint the paper, and what lies under it in words."""
        painter = QPainter(self)
        paper = QColor(self.palette().base().color())
        paper.setAlpha(_COVER)
        painter.fillRect(self.rect(), paper)
        painter.setFont(text_font(bold=True))
        words = painter.fontMetrics().boundingRect(_EARLIER)
        label = QRect(0, 0, words.width() + 4 * _PAD, words.height() + 2 * _PAD)
        label.moveCenter(self.rect().center())
        painter.fillRect(label, self.palette().base())
        painter.setPen(self.palette().text().color())
        painter.drawRect(label)
        painter.drawText(label, Qt.AlignmentFlag.AlignCenter, _EARLIER)
        painter.end()


class OutdatedVeils(QObject):
    """Covers panes as long as the answer they show is not about the input in hand."""

    covered = Signal()
    """The panes are covered now: what stands elsewhere about that answer should go too."""

    def __init__(self, session: Session, panes: Sequence[QWidget], parent: QObject) -> None:
        super().__init__(parent)
        self.veils = [Veil(pane) for pane in panes]
        self._wait = QTimer(self, singleShot=True, interval=PATIENCE_MS)
        self._wait.timeout.connect(self._cover)
        session.answer_outdated.connect(self._wait.start)
        session.assessed.connect(self._lift)
        session.answer_lost.connect(self._lift)

    def _cover(self) -> None:
        for veil in self.veils:
            veil.cover()
        self.covered.emit()

    def _lift(self, _answer: object) -> None:
        self._wait.stop()
        for veil in self.veils:
            veil.hide()
