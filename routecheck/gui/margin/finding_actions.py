"""What lies in an open finding of the Margin: corrections and buttons. What they do is elsewhere."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from routecheck.gui.theme import words
from routecheck.presentation.trial import draws

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.gui.route_text.correction_actions import CorrectionActions
    from routecheck.model import Proposal

Doing = tuple[str, "Callable[[], object]"]
"""What a button says and does."""
SPACE = 6


@dataclass(frozen=True, slots=True)
class _Offer:
    """One correction with its button and the place where it is said what trying it came to."""

    proposal: Proposal
    attempt: QPushButton
    told: QLabel


class FindingActions(QWidget):
    """Corrections and a row of buttons under the sentence of an open finding. Clicks beside them go to the row."""

    def __init__(
        self,
        doings: Sequence[Doing],
        left: int,
        top: int,
        proposals: Sequence[Proposal] = (),
        corrections: CorrectionActions | None = None,
    ) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.buttons = [_button(*doing) for doing in doings]
        self._corrections = corrections
        self._top = top
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(left, top + SPACE, 2 * SPACE, 0)
        self._column.setSpacing(SPACE)
        self.offers = [
            self._offer(proposal, corrections, bold=i == 0) for i, proposal in enumerate(proposals) if corrections
        ]
        self._column.addLayout(_row(self.buttons))
        self._column.addStretch()
        self.refresh()

    def room(self, width: int) -> int:
        """The height that all this takes under the sentence, at this width."""
        needed = self._column.heightForWidth(width) if self.offers else self._column.minimumSize().height()
        return needed - self._top + SPACE

    def refresh(self) -> None:
        """Say what is tried now and what it comes to."""
        for offer in self.offers:
            tried = self._corrections is not None and offer.proposal == self._corrections.trying
            offer.attempt.setChecked(tried)
            offer.told.setText(self._corrections.outcome if self._corrections and tried else "")
            offer.told.setVisible(bool(offer.told.text()))

    def _offer(self, proposal: Proposal, corrections: CorrectionActions, *, bold: bool) -> _Offer:
        new = " ".join(proposal.new.split()) or "without it"
        why = _wrapping(f"Likely intended: {proposal.why}.", bold=bold)
        attempt = _button("Try", lambda: corrections.toggle(proposal))
        attempt.setCheckable(True)
        attempt.setAccessibleName(f"Try {new}")
        shown = f"Show the route with {new}, dotted" if draws(proposal) else f"Say what comes of {new}"
        attempt.setToolTip(f"{shown}; what stands here stays as it is")
        change = _button("Change here", lambda: corrections.take(proposal))
        change.setAccessibleName(f"Change here to {new}")
        change.setToolTip("Change what stands in this window, and nothing else")
        told = _wrapping("", bold=False)
        row = _row([attempt, change], told)
        self._column.addWidget(why)
        self._column.addLayout(row)
        return _Offer(proposal, attempt, told)


def _row(buttons: Sequence[QPushButton], told: QLabel | None = None) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(SPACE)
    for button in buttons:
        row.addWidget(button)
    if told is not None:
        row.addWidget(told, 1)
    row.addStretch()
    return row


def _wrapping(text: str, *, bold: bool) -> QLabel:
    label = QLabel(text)
    label.setFont(words(bold=bold) if bold else words(-1))
    label.setWordWrap(True)
    label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    return label


def _button(text: str, does: Callable[[], object]) -> QPushButton:
    button = QPushButton(text)
    button.setFont(words(-1))
    button.setAutoDefault(False)
    button.clicked.connect(lambda: does())
    return button
