"""Likely-intended corrections in the window: tried, taken into the text, kept on record until ticked. No widgets."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from routecheck.present import changes, trying

if TYPE_CHECKING:
    from routecheck.gui.session import Session
    from routecheck.model import Assessment, Change, Entry, Proposal

State = tuple[str, str, str]
"""Route text, departure, destination."""


@dataclass(frozen=True, slots=True)
class _Step:
    """The route before and after a change; None = not known any more."""

    before: State | None
    after: State | None


class Corrections(QObject):
    """What is tried now. What was taken stands in the entry and never goes from there, unless it is undone."""

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
        self._undone: list[tuple[_Step, Change]] = []
        self._steps = _steps_back(session.entry)
        self._told = self.changes
        session.tried.connect(self._show)
        session.changed.connect(self._follow)
        session.assessed.connect(lambda _: self.end())
        session.lost.connect(lambda _: self.end())
        session.replaced.connect(self._exchange)

    @property
    def changes(self) -> tuple[Change, ...]:
        """All changes on record, ticked ones too."""
        return self._session.entry.changed

    @property
    def unticked(self) -> list[tuple[str, int]]:
        """What was written, and where, of the changes that are not ticked."""
        return [(change.new, change.at) for change in self.changes if not change.ticked]

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
        self._undone.clear()
        self.to_apply.emit(proposal, then)
        now = self._session.entry
        if len(now.changed) == len(entry.changed):  # else it only took the last change back
            self._steps.append(_Step(_state(entry), _state(now)))
            self._session.change(replace(now, changed=(*now.changed, trying.recorded(entry, proposal))))
        self._undone.clear()

    def carried(self, entry: Entry) -> Entry:
        """What was typed, with its changes: one that is undone is none any more; redone it is there again."""
        state, changed = _state(entry), list(entry.changed)
        while changed and state == self._steps[-1].before:
            self._undone.append((self._steps.pop(), changed.pop()))
        if len(changed) == len(entry.changed) and self._undone and state == self._undone[-1][0].after:
            step, change = self._undone.pop()
            self._steps.append(step)
            changed.append(change)
        return replace(entry, changed=tuple(changed))

    def try_picked(self) -> None:
        """Try the first correction of the picked finding."""
        self._with_picked(self.toggle)

    def take_picked(self) -> None:
        """Make the first correction of the picked finding."""
        self._with_picked(self.take)

    def tick(self, index: int) -> None:
        """Take the user's word that a change is made elsewhere too."""
        entry = self._session.entry
        self._session.change(replace(entry, changed=changes.ticked(entry.changed, index)))

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

    def _follow(self, _entry: Entry) -> None:
        self.end()
        if self._told != self.changes:
            self._told = self.changes
            self.changed.emit()

    def _exchange(self, entry: Entry) -> None:
        """Another route has changes of its own."""
        self._steps, self._undone = _steps_back(entry), []


def _state(entry: Entry) -> State:
    return entry.route, entry.departure, entry.destination


def _steps_back(entry: Entry) -> list[_Step]:
    """The route before and after each change of an entry from elsewhere, as far back as it still reads so."""
    steps: list[_Step] = []
    after: State | None = _state(entry)
    for change in reversed(entry.changed):
        before = _before(after, change) if after else None
        steps.insert(0, _Step(before, after))
        after = before
    return steps


def _before(after: State, change: Change) -> State | None:
    route, departure, destination = after
    if change.at >= 0:
        end = change.at + len(change.new)
        return (
            (route[: change.at] + change.old + route[end:], *after[1:])
            if route[change.at : end] == change.new
            else None
        )
    first, both, last = change.old.partition("–")
    if both and change.new == f"{departure}–{destination}":
        return route, first, last
    if not both and change.new in (departure, destination):
        return (route, change.old, destination) if change.new == departure else (route, departure, change.old)
    return None
