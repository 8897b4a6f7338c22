"""What can be done about a finding: accept it with a reason, take that back. What it means is said in present/."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from routecheck.presentation import acceptance

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.gui.margin.accept_dialog import AcceptDialog
    from routecheck.gui.margin.finding_actions import Doing
    from routecheck.gui.session import Session


class Deeds(QObject):
    """Does it, through the session. `by` is who accepted last: the next acceptance begins with it."""

    said = Signal(str)

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self._parent = parent
        self.by = ""

    def of(self, finding: int) -> list[Doing]:
        """What can be done about an open finding, as its buttons say it."""
        answer = self._session.answer
        if answer is None:
            return []
        accept: Doing = ("Accept with reason…", lambda: self._about(finding, self.accept))
        take_back: Doing = ("Take back the acceptance", lambda: self._about(finding, self.take_back))
        if finding in answer.accepted:
            return [take_back]
        return [accept, take_back] if finding in answer.said_of else [accept]

    def accept(self) -> AcceptDialog | None:
        """Ask why the picked finding is accepted, and by whom."""
        from routecheck.gui.margin import accept_dialog

        index, answer = self._picked(), self._session.answer
        if index is None or answer is None:
            self.said.emit("Pick a finding first: then it can be accepted with a reason.")
            return None
        finding = answer.assessment.findings[index]
        return accept_dialog.ask_reason(self._parent, finding, index + 1, self.by, self._accept)

    def take_back(self) -> None:
        """Take back the acceptance of the picked finding."""
        index, answer = self._picked(), self._session.answer
        if index is None or answer is None or index not in answer.said_of:
            self.said.emit("The picked finding is not accepted.")
            return
        self._session.change(acceptance.take_back(answer.assessment, index))

    def _about(self, finding: int, does: Callable[[], object]) -> None:
        """Do something about a finding that may be one of several open ones."""
        self._session.pick_finding(finding)
        does()

    def _picked(self) -> int | None:
        pick = self._session.pick_now
        return pick.findings[0] if pick and pick.findings else None

    def _accept(self, number: int, sentence: str, reason: str, by: str) -> None:
        """Accept what was read when the question was asked, and nothing that came in its place meanwhile."""
        self.by = by
        answer = self._session.answer
        findings = answer.assessment.findings if answer else ()
        if answer is None or number > len(findings) or findings[number - 1].message != sentence:
            self.said.emit("Not accepted: the finding says something else by now.")
            return
        now = dt.datetime.now(dt.UTC)
        self._session.change(acceptance.accept(answer.assessment, number - 1, reason, by, now))
