"""The foot of the window: the totals of the route, and the caution that every screen carries."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFrame, QHBoxLayout

from routecheck.gui.pane import NOT_CHECKED_YET, Pane
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import PlainLabel, ShrinkingLabel
from routecheck.model import CAUTION

if TYPE_CHECKING:
    from routecheck.presentation.assessment_view import AssessmentView

_BESIDE, _ABOVE = 14, 6


class Foot(Pane, QFrame):
    """One line under everything else."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("foot")
        self.totals, self.caution = ShrinkingLabel(), PlainLabel(CAUTION)
        row = QHBoxLayout(self)
        row.setContentsMargins(_BESIDE, _ABOVE, _BESIDE, _ABOVE)
        row.addWidget(self.totals, 1)
        row.addWidget(self.caution)
        self.refresh_font()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for label in (self.totals, self.caution):
            label.setFont(text_font(bold=True))

    def show_answer(self, answer: AssessmentView) -> None:
        """Show the totals of an answer."""
        self.totals.setText(answer.totals_line)

    def show_outdated(self) -> None:
        """Take the totals away: they are about an earlier input."""
        self.totals.setText(NOT_CHECKED_YET)

    def show_nothing(self, _why: str) -> None:
        """Say that there are no totals."""
        self.totals.setText("Nothing checked")
