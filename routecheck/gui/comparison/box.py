"""The box in the Margin that lists what differs from the other version of the route."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFrame, QHBoxLayout, QListWidget, QPushButton, QVBoxLayout

from routecheck.gui.pane import Pane
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import WrappingLabel
from routecheck.presentation.comparison import difference_sentences, over_comparison

if TYPE_CHECKING:
    from PySide6.QtGui import QResizeEvent

    from routecheck.gui.comparison.dialog import OtherVersionDialog
    from routecheck.gui.session import Session
    from routecheck.model import Difference, RouteInput
    from routecheck.presentation.assessment_view import AssessmentView

_MOST_ROWS = 6


class ComparisonBox(Pane, QFrame):
    """Shown as long as the route has another version; what it lists is as new as the answer."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("notice")
        self._session = session
        self._differences: tuple[Difference, ...] = ()
        self.verdict = WrappingLabel()
        self.list = QListWidget()
        self.list.setAccessibleName("What differs from the other version")
        self.list.setWordWrap(True)
        self.list.setSpacing(1)
        self.list.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.currentRowChanged.connect(self._select)
        self.other_button, self.stop_button = QPushButton("Another version…"), QPushButton("Stop comparing")
        self.other_button.clicked.connect(self.ask)
        self.stop_button.clicked.connect(self.stop)
        self._lay_out()
        self.refresh_font()
        self.hide()
        session.assessed.connect(self.show_answer)

    def ask(self) -> OtherVersionDialog:
        """Ask for the other version."""
        from routecheck.gui.comparison.dialog import OtherVersionDialog

        dialog = OtherVersionDialog(self.window(), self._session, self._compare_with)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        return dialog

    def stop(self) -> None:
        """Compare with nothing any more."""
        self._session.change_input(replace(self._session.route_input, other=None))

    def show_answer(self, answer: AssessmentView) -> None:
        """List what differs."""
        comparison = answer.assessment.comparison
        self.setVisible(comparison is not None)
        self._differences = ()
        self.list.clear()
        if comparison is not None:
            self.verdict.setText(
                over_comparison(comparison, answer.assessment.other.not_used if answer.assessment.other else ())
            )
            self.list.addItems(difference_sentences(comparison))
            self._differences = comparison.differences
            QTimer.singleShot(0, self, self._fit)  # rows know how high they are once they are laid out

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Wrap the sentences anew."""
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._fit)

    def show_outdated(self) -> None:
        """List nothing that is about an earlier text."""
        if self.isVisible():
            self.verdict.setText("Not compared yet")
            self.list.setEnabled(False)

    def show_nothing(self, _why: str) -> None:
        """List nothing."""
        self.hide()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.verdict.setFont(text_font(bold=True))
        for widget in (self.list, self.other_button, self.stop_button):
            widget.setFont(text_font(-1))

    def _compare_with(self, version: RouteInput) -> None:
        self._session.change_input(replace(self._session.route_input, other=version))

    def _select(self, row: int) -> None:
        if not 0 <= row < len(self._differences) or not self._session.is_answer_current:
            return
        difference = self._differences[row]
        if difference.points:
            self._session.select_point(difference.points[0])
        elif difference.spans:
            self._session.select_words(difference.spans[0])
        else:
            self._session.select(None)

    def _fit(self) -> None:
        self.list.setEnabled(True)
        self.list.setVisible(bool(self._differences))
        if self._differences:
            self.list.doItemsLayout()
            last = self.list.item(min(len(self._differences), _MOST_ROWS) - 1)
            top, bottom = self.list.visualItemRect(self.list.item(0)).top(), self.list.visualItemRect(last).bottom()
            self.list.setFixedHeight(bottom - top + 2 * self.list.frameWidth() + 6)

    def _lay_out(self) -> None:
        column, buttons = QVBoxLayout(self), QHBoxLayout()
        column.setContentsMargins(10, 8, 10, 8)
        for button in (self.other_button, self.stop_button):
            buttons.addWidget(button)
        buttons.addStretch(1)
        column.addWidget(self.verdict)
        column.addWidget(self.list)
        column.addLayout(buttons)
