"""Likely-intended corrections in the window: tried, taken into the text, kept on record until ticked. No widgets."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from routecheck.corrections import candidate
from routecheck.presentation import changes, trial

if TYPE_CHECKING:
    from routecheck.gui.session import Session
    from routecheck.model import Assessment, Change, Proposal, RouteInput

Values = tuple[object, ...]
_ALL = ("route", *candidate.FIELD_NAMES)


@dataclass(frozen=True, slots=True)
class _Step:
    """What a change touched, by name in RouteInput, before and after it; None = not known any more."""

    fields: tuple[str, ...]
    before: Values | None
    after: Values | None


class CorrectionActions(QObject):
    """What is tried now. What was taken stands in the entry and never goes from there, unless it is undone."""

    tried = Signal(object)
    """The Assessment of the corrected route, or None: nothing is tried."""
    changed = Signal()
    """Another change, one less, or one ticked."""
    to_apply = Signal(object, object)
    """Make this Proposal in the text or fields, which then read as this RouteInput."""
    to_restore = Signal(object, object)
    """Let these fields, by name, read as in this RouteInput again."""
    said = Signal(str)

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self.trying: Proposal | None = None
        self.outcome = ""
        self._undone: list[tuple[_Step, Change]] = []
        self._steps = _steps_back(session.route_input)
        self._told = self.changes
        session.tried.connect(self._show)
        session.changed.connect(self._follow)
        session.assessed.connect(lambda _: self.end())
        session.lost.connect(lambda _: self.end())
        session.replaced.connect(self._exchange)

    @property
    def changes(self) -> tuple[Change, ...]:
        """All changes on record, ticked ones too."""
        return self._session.route_input.changed

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
            self._session.try_out(candidate.with_proposal(self._session.route_input, proposal))

    def end(self) -> None:
        """Show the route as it is."""
        if self.trying is not None:
            self.trying, self.outcome = None, ""
            self._session.try_out(None)
            self.tried.emit(None)

    def take(self, proposal: Proposal) -> None:
        """Make a correction in this window and keep what was changed."""
        answer, route_input = self._session.answer, self._session.route_input
        if answer is None or _values(answer.assessment.route.route_input, _ALL) != _values(route_input, _ALL):
            self.said.emit("Not changed: the text is another one by now.")
            return
        self.end()
        then = candidate.with_proposal(route_input, proposal)
        self._undone.clear()
        self.to_apply.emit(proposal, then)
        now = self._session.route_input
        if len(now.changed) == len(route_input.changed):  # else it only took the last change back
            made = changes.changes_of(route_input, proposal)
            touched = [_touched(change) for change in made]
            self._steps += [_Step(fields, _values(route_input, fields), _values(now, fields)) for fields in touched]
            self._session.change(replace(now, changed=(*now.changed, *made)))
        self._undone.clear()

    def carried(self, route_input: RouteInput) -> RouteInput:
        """What was typed, with its changes: one that is undone is none any more; redone it is there again."""
        changed = list(route_input.changed)
        while (at := self._undone_in(route_input)) is not None:
            self._undone.append((self._steps.pop(at), changed.pop(at)))
        if len(changed) == len(route_input.changed) and self._undone and _is_after(self._undone[-1][0], route_input):
            step, change = self._undone.pop()
            self._steps.append(step)
            changed.append(change)
        return replace(route_input, changed=tuple(changed))

    def can_take_back(self, index: int) -> bool:
        """Whether a change was made beside the text and is still there, so that it can be put back as it was."""
        step = self._steps[index]
        return self.changes[index].at < 0 and step.before is not None and _is_after(step, self._session.route_input)

    def take_back(self, index: int) -> None:
        """Put back what a change beside the text has changed; it is none any more."""
        if not self.can_take_back(index):
            self.said.emit("Not put back: it reads otherwise by now.")
        else:
            self.end()
            step, route_input = self._steps[index], self._session.route_input
            before: dict[str, Any] = dict(zip(step.fields, step.before or (), strict=True))
            self.to_restore.emit(step.fields, replace(route_input, **before))

    def try_picked(self) -> None:
        """Try the first correction of the picked finding."""
        self._with_picked(self.toggle)

    def take_picked(self) -> None:
        """Make the first correction of the picked finding."""
        self._with_picked(self.take)

    def tick(self, index: int) -> None:
        """Take the user's word that a change is made elsewhere too."""
        route_input = self._session.route_input
        self._session.change(replace(route_input, changed=changes.ticked(route_input.changed, index)))

    def _with_picked(self, does: Any) -> None:
        pick = self._session.pick_now
        offered = self.of(pick.findings[0]) if pick and pick.findings else ()
        if offered:
            does(offered[0])
        else:
            self.said.emit("Pick a finding with a likely-intended correction first.")

    def _undone_in(self, route_input: RouteInput) -> int | None:
        """The last change to the text, or to a value beside it, that an entry does not have any more."""
        last = {step.fields: at for at, step in enumerate(self._steps)}
        undone = (at for fields, at in last.items() if self._steps[at].before == _values(route_input, fields))
        return next(undone, None)

    def _show(self, then: Assessment) -> None:
        if self.trying is not None:
            self.outcome = trial.outcome(then, self.trying)
            self.tried.emit(then)

    def _follow(self, _entry: RouteInput) -> None:
        self.end()
        if self._told != self.changes:
            self._told = self.changes
            self.changed.emit()

    def _exchange(self, route_input: RouteInput) -> None:
        """Another route has changes of its own."""
        self._steps, self._undone = _steps_back(route_input), []


def _values(route_input: RouteInput, fields: tuple[str, ...]) -> Values:
    return tuple(getattr(route_input, field) for field in fields)


def _is_after(step: _Step, route_input: RouteInput) -> bool:
    return step.after == _values(route_input, step.fields)


def _touched(change: Change) -> tuple[str, ...]:
    """What a change touches: the text, one value beside it, or both aerodromes."""
    if change.at >= 0:
        return ("route",)
    return (change.field,) if change.field else ("departure", "destination")


def _steps_back(route_input: RouteInput) -> list[_Step]:
    """What stood before and after each change of an entry from elsewhere, as far back as it still reads so."""
    steps: list[_Step] = []
    known: dict[tuple[str, ...], Values | None] = {}
    for change in reversed(route_input.changed):
        fields = _touched(change)
        after = known.get(fields, _values(route_input, fields))
        before = known[fields] = None if after is None else _before(after, change)
        steps.insert(0, _Step(fields, before, after))
    return steps


def _before(after: Values, change: Change) -> Values | None:
    """What stood there before a change; None where it does not read as changed, or its words do not say it in full."""
    if change.at >= 0:
        route, end = str(after[0]), change.at + len(change.new)
        return (route[: change.at] + change.old + route[end:],) if route[change.at : end] == change.new else None
    if change.field:
        return (change.old,) if after[0] == change.new else None
    first, both, last = change.old.partition("–")
    return (first, last) if both and change.new == "–".join(map(str, after)) else None
