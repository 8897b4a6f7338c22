"""The corrections and buttons in an open finding of the Margin. What they do is passed in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from routecheck.frozen_dataclass import dataclass
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.flow_layout import FlowLayout
from routecheck.gui.widgets.labels import WrappingLabel, plain_tooltip
from routecheck.presentation.trial import changes_drawing

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.gui.route_text.correction_actions import CorrectionActions
    from routecheck.model import Proposal

ButtonAction = tuple[str, "Callable[[], object]"]
"""The text of a button and what it does."""
GAP = 6


@dataclass(frozen=True, slots=True)
class _CorrectionRow:
    """One correction with its button, and the label that says what trying it came to."""

    proposal: Proposal
    try_button: QPushButton
    outcome: WrappingLabel


class FindingActions(QWidget):
    """Corrections and a row of buttons under the sentence of an open finding. Clicks beside them go to the row."""

    def __init__(
        self,
        actions: Sequence[ButtonAction],
        left: int,
        top: int,
        proposals: Sequence[Proposal] = (),
        corrections: CorrectionActions | None = None,
    ) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.buttons = [_push_button(*action) for action in actions]
        self._corrections = corrections
        self._top = top
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(left, top + GAP, 2 * GAP, 0)
        self._column.setSpacing(GAP)
        self.correction_rows = [
            self._make_row(proposal, corrections, bold=i == 0) for i, proposal in enumerate(proposals) if corrections
        ]
        row = FlowLayout(None, across=GAP, down=GAP)
        for button in self.buttons:
            row.addWidget(button)
        self._column.addLayout(row)
        self._column.addStretch()
        self.refresh_trial()

    def height_needed(self, width: int) -> int:
        """The height that this takes under the sentence of the finding, at this width."""
        return self._column.heightForWidth(width) - self._top + GAP

    def refresh_trial(self) -> None:
        """Show which correction is being tried and what it comes to."""
        for row in self.correction_rows:
            is_tried = self._corrections is not None and row.proposal == self._corrections.tried_proposal
            row.try_button.setChecked(is_tried)
            row.outcome.setText(self._corrections.outcome if self._corrections and is_tried else "")
            row.outcome.setVisible(bool(row.outcome.text()))

    def _make_row(self, proposal: Proposal, corrections: CorrectionActions, *, bold: bool) -> _CorrectionRow:
        new = " ".join(proposal.new.split()) or "without it"
        why = _wrapping_label(f"Likely intended: {proposal.why}.", bold=bold)
        try_button = _push_button("Try", lambda: corrections.toggle_trial(proposal))
        try_button.setCheckable(True)
        try_button.setAccessibleName(f"Try {new}")
        shown = f"Show the route with {new}, dotted" if changes_drawing(proposal) else f"Say what comes of {new}"
        try_button.setToolTip(plain_tooltip(f"{shown}; what stands here stays as it is"))
        change = _push_button("Change here", lambda: corrections.apply_proposal(proposal))
        change.setAccessibleName(f"Change here to {new}")
        change.setToolTip("Change what stands in this window, and nothing else")
        outcome = _wrapping_label("", bold=False)
        row = _button_row([try_button, change], outcome)
        self._column.addWidget(why)
        self._column.addLayout(row)
        return _CorrectionRow(proposal, try_button, outcome)


def _button_row(buttons: Sequence[QPushButton], label: WrappingLabel) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(GAP)
    for button in buttons:
        row.addWidget(button)
    row.addWidget(label, 1)
    row.addStretch()
    return row


def _wrapping_label(text: str, *, bold: bool) -> WrappingLabel:
    label = WrappingLabel(text)
    label.setFont(text_font(bold=bold) if bold else text_font(-1))
    label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    return label


def _push_button(text: str, does: Callable[[], object]) -> QPushButton:
    button = QPushButton(text)
    button.setFont(text_font(-1))
    button.setAutoDefault(False)
    button.clicked.connect(lambda: does())
    return button
