"""Likely-intended corrections in the window: tried, taken into the text, kept on record until ticked. No widgets."""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from routecheck.gui import keeping
from routecheck.present import trying
from routecheck.present.changes import Change

if TYPE_CHECKING:
    from routecheck.gui.session import Session
    from routecheck.model import Assessment, Entry, Proposal

FILE = "changes.json"
State = tuple[str, str, str]
"""Route text, departure, destination."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A change with the route before and after it; `at` = where in the text it was made, -1 = beside it."""

    change: Change
    before: State
    after: State
    at: int


class Corrections(QObject):
    """What is tried now and what was taken. The original never goes: each change stays until it is ticked."""

    tried = Signal(object)
    """The Assessment of the corrected route, or None: nothing is tried."""
    changed = Signal()
    """Another change, one less, or one ticked."""
    to_apply = Signal(object, object)
    """Make this Proposal in the text or fields, which then read as this Entry."""
    said = Signal(str)

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self.trying: Proposal | None = None
        self.outcome = ""
        self.taken: list[Taken] = []
        self._undone: list[Taken] = []
        self._other: tuple[State, list[Taken]] | None = None
        self._state = _state(session.entry)
        self._restore()
        session.tried.connect(self._show)
        session.changed.connect(self._follow)
        session.assessed.connect(lambda _: self.end())
        session.lost.connect(lambda _: self.end())
        session.replaced.connect(self._exchange)

    @property
    def changes(self) -> tuple[Change, ...]:
        """All changes on record, ticked ones too."""
        return tuple(one.change for one in self.taken)

    @property
    def unticked(self) -> list[tuple[str, int]]:
        """What was written, and where, of the changes that are not ticked."""
        return [(one.change.new, one.at) for one in self.taken if not one.change.ticked]

    def of(self, finding: int) -> tuple[Proposal, ...]:
        """What was likely intended in place of a finding, by its index."""
        answer = self._session.answer
        findings = answer.assessment.findings if answer else ()
        return findings[finding].likely_intended if finding < len(findings) else ()

    def toggle(self, proposal: Proposal) -> None:
        """Try a correction, or end trying it. The text stays as it is."""
        again = proposal == self.trying
        self.end()
        if not again:
            self.trying = proposal
            self._session.try_out(trying.corrected(self._session.entry, proposal))

    def end(self) -> None:
        """Show the route as it is."""
        if self.trying is not None:
            self.trying, self.outcome = None, ""
            self._session.try_out(None)
            self.tried.emit(None)

    def take(self, proposal: Proposal) -> None:
        """Make a correction in this window and keep what was changed."""
        answer, entry = self._session.answer, self._session.entry
        if answer is None or _state(answer.assessment.route.entry) != _state(entry):
            self.said.emit("Not changed: the text is another one by now.")
            return
        self.end()
        then = trying.corrected(entry, proposal)
        at = proposal.span.start if proposal.span else -1
        count = len(self.taken)
        self._undone.clear()
        self.to_apply.emit(proposal, then)
        if len(self.taken) == count:  # else it only took the last change back
            one = Taken(trying.recorded(entry, proposal), _state(entry), _state(self._session.entry), at)
            self.taken.append(one)
        self._undone.clear()
        self._keep()

    def try_picked(self) -> None:
        """Try the first correction of the picked finding."""
        self._with_picked(self.toggle)

    def take_picked(self) -> None:
        """Make the first correction of the picked finding."""
        self._with_picked(self.take)

    def tick(self, index: int) -> None:
        """Take the user's word that a change is made elsewhere too."""
        one = self.taken[index]
        self.taken[index] = replace(one, change=replace(one.change, ticked=True))
        self._keep()

    def _with_picked(self, does: Any) -> None:
        pick = self._session.pick_now
        offered = self.of(pick.findings[0]) if pick and pick.findings else ()
        if offered:
            does(offered[0])
        else:
            self.said.emit("Pick a finding with a likely-intended correction first.")

    def _show(self, then: Assessment) -> None:
        if self.trying is not None:
            self.outcome = trying.outcome(then, self.trying)
            self.tried.emit(then)

    def _follow(self, entry: Entry) -> None:
        """A change that is undone is none any more; redone it is there again."""
        self.end()
        self._state = _state(entry)
        before = len(self.taken)
        while self.taken and self._state == self.taken[-1].before:
            self._undone.append(self.taken.pop())
        if before == len(self.taken) and self._undone and self._state == self._undone[-1].after:
            self.taken.append(self._undone.pop())
        if before != len(self.taken):
            self._keep()

    def _exchange(self, entry: Entry) -> None:
        """Another route has changes of its own; those of the route before come back with it."""
        self.end()
        mine, was = (self._state, self.taken), self._other
        self._state = _state(entry)
        if mine[0] == self._state:
            return
        self.taken = was[1] if was and was[0] == self._state else []
        self._other, self._undone = mine, []
        self._keep()

    def _restore(self) -> None:
        kept = keeping.read(FILE) or {}
        try:
            self.taken = [_taken(one) for one in kept.get("now", ())]
            other = kept.get("other")
            self._other = (_texts(other["state"]), [_taken(one) for one in other["taken"]]) if other else None
        except (KeyError, TypeError, ValueError):
            self.taken, self._other = [], None
        last = keeping.read_entry()
        if self.taken and last != self._session.entry:
            self._other, self.taken = (_state(last) if last else ("", "", ""), self.taken), []

    def _keep(self) -> None:
        other = self._other and {"state": self._other[0], "taken": [asdict(one) for one in self._other[1]]}
        keeping.write(FILE, {"now": [asdict(one) for one in self.taken], "other": other})
        self.changed.emit()


def _state(entry: Entry) -> State:
    return entry.route, entry.departure, entry.destination


def _texts(kept: Any) -> State:
    route, departure, destination = (str(text) for text in kept)
    return route, departure, destination


def _taken(kept: Any) -> Taken:
    change = Change(str(kept["change"]["old"]), str(kept["change"]["new"]), bool(kept["change"]["ticked"]))
    return Taken(change, _texts(kept["before"]), _texts(kept["after"]), int(kept["at"]))
