"""Accepting a finding with a reason, and withdrawing that: buttons, questions and what they change in the input."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from routecheck.presentation import acceptance

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.gui.margin.accept_dialog import AcceptDialog
    from routecheck.gui.margin.finding_actions import ButtonAction
    from routecheck.gui.session import Session


class AcceptanceActions(QObject):
    """Accepts findings through the session. `by` is who accepted last: the next question is filled in with it."""

    reported = Signal(str)
    """A sentence about why nothing was done."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self._parent = parent
        self.by = ""

    def buttons_for(self, finding: int) -> list[ButtonAction]:
        """The buttons under an open finding, by its index."""
        answer = self._session.answer
        if answer is None:
            return []
        accept: ButtonAction = ("Accept with reason…", lambda: self._select_and(finding, self.accept))
        withdraw: ButtonAction = ("Take back the acceptance", lambda: self._select_and(finding, self.withdraw))
        if finding in answer.accepted:
            return [withdraw]
        return [accept, withdraw] if finding in answer.acceptance_sentences else [accept]

    def accept(self) -> AcceptDialog | None:
        """Ask why the selected finding is accepted, and by whom."""
        from routecheck.gui.margin import accept_dialog

        index, answer = self._selected_finding(), self._session.answer
        if index is None or answer is None:
            self.reported.emit("Pick a finding first: then it can be accepted with a reason.")
            return None
        finding = answer.assessment.findings[index]
        return accept_dialog.ask_reason(self._parent, finding, index + 1, self.by, self._accept_as_read)

    def withdraw(self) -> None:
        """Withdraw the acceptance of the selected finding."""
        index, answer = self._selected_finding(), self._session.answer
        if index is None or answer is None or index not in answer.acceptance_sentences:
            self.reported.emit("The picked finding is not accepted.")
            return
        if not self._session.is_answer_current:
            self.reported.emit("Not taken back: the text is another one by now.")
            return
        self._session.change_input(acceptance.withdraw_acceptance(answer.assessment, index))

    def _select_and(self, finding: int, does: Callable[[], object]) -> None:
        """Select one of several open findings, then do something about it."""
        self._session.select_finding(finding)
        does()

    def _selected_finding(self) -> int | None:
        selection = self._session.selection
        return selection.findings[0] if selection and selection.findings else None

    def _accept_as_read(self, number: int, sentence: str, reason: str, by: str) -> None:
        """Accept the finding whose sentence was read when the question was asked, and no other in its place."""
        self.by = by
        answer = self._session.answer
        findings = answer.assessment.findings if answer else ()
        is_same = number <= len(findings) and findings[number - 1].message == sentence
        if answer is None or not is_same or not self._session.is_answer_current:
            self.reported.emit("Not accepted: the finding says something else by now.")
            return
        now = dt.datetime.now(dt.UTC)
        self._session.change_input(acceptance.accept_finding(answer.assessment, number - 1, reason, by, now))
