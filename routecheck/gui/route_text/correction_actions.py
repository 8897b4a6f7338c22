"""Likely-intended corrections in the window: trying one, applying one, and the record of applied ones. No widgets."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from routecheck.corrections import candidate
from routecheck.frozen_dataclass import dataclass
from routecheck.presentation import changes, trial

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.gui.session import Session
    from routecheck.model import Assessment, Change, Proposal, RouteInput


@dataclass(frozen=True, slots=True)
class _ChangeStep:
    """The field that a change touched, "" = it is not said, and its value before and after; None = no longer known."""

    field: str
    before: object
    after: object


class CorrectionActions(QObject):
    """Tries and applies corrections. What was applied stays on record in the input, unless it is undone."""

    trial_changed = Signal(object)
    """The Assessment of the corrected route, or None: nothing is being tried."""
    record_changed = Signal()
    """The record has one change more or less, or one is ticked."""
    apply_requested = Signal(object, object)
    """Write this Proposal into the text or fields, which then read as this RouteInput."""
    restore_requested = Signal(object, object)
    """Write this field, by name, as it is in this RouteInput."""
    reported = Signal(str)

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self.tried_proposal: Proposal | None = None
        self.outcome = ""
        self._undone: list[tuple[_ChangeStep, Change]] = []
        self._steps = _reconstruct_steps(session.route_input)
        self._shown_changes = self.changes
        session.trial_assessed.connect(self._show_outcome)
        session.input_changed.connect(self._follow_input)
        session.assessed.connect(lambda _: self.end_trial())
        session.answer_lost.connect(lambda _: self.end_trial())
        session.input_replaced.connect(self.take_record)

    @property
    def changes(self) -> tuple[Change, ...]:
        """All changes on record, ticked ones too."""
        return self._session.route_input.changed

    @property
    def unticked_words(self) -> list[tuple[str, int]]:
        """Of the changes that are not ticked: the new words, and the offset at which they were written."""
        return [(change.new, change.at) for change in self.changes if not change.ticked]

    def proposals_for(self, finding: int) -> tuple[Proposal, ...]:
        """The likely-intended corrections of a finding, by its index."""
        answer = self._session.answer
        findings = answer.assessment.findings if answer else ()
        return findings[finding].likely_intended if finding < len(findings) else ()

    def toggle_trial(self, proposal: Proposal) -> None:
        """Try a correction, or end the trial of it. The text stays as it is."""
        again = proposal == self.tried_proposal
        self.end_trial()
        if not again:
            self.tried_proposal = proposal
            self._session.request_trial(candidate.with_proposal(self._session.route_input, proposal))

    def end_trial(self) -> None:
        """Show the route as it is."""
        if self.tried_proposal is not None:
            self.tried_proposal, self.outcome = None, ""
            self._session.request_trial(None)
            self.trial_changed.emit(None)

    def apply_proposal(self, proposal: Proposal) -> None:
        """Make a correction in this window and put the change on record."""
        route_input = self._session.route_input
        if not self._session.is_answer_current:
            self.reported.emit("Not changed: the text is another one by now.")
            return
        self.end_trial()
        then = candidate.with_proposal(route_input, proposal)
        self._undone.clear()
        self.apply_requested.emit(proposal, then)
        now = self._session.route_input
        if len(now.changed) == len(route_input.changed):  # else it only took the last change back
            made = changes.make_changes(route_input, proposal)
            fields = [_touched_field(change) for change in made]
            self._steps += [_ChangeStep(field, _value(route_input, field), _value(now, field)) for field in fields]
            self._session.change_input(replace(now, changed=(*now.changed, *made)))
        self._undone.clear()

    def carry_changes(self, route_input: RouteInput) -> RouteInput:
        """What was typed, with the record of changes: an undone change leaves the record, a redone one comes back."""
        changed = list(route_input.changed)
        while (at := self._find_undone(route_input)) is not None:
            self._undone.append((self._steps.pop(at), changed.pop(at)))
        if (
            len(changed) == len(route_input.changed)
            and self._undone
            and _reads_as_after(self._undone[-1][0], route_input)
        ):
            step, change = self._undone.pop()
            self._steps.append(step)
            changed.append(change)
        return replace(route_input, changed=tuple(changed))

    def take_record(self, route_input: RouteInput) -> None:
        """Go on with the record of another route, which has one of its own."""
        self._steps, self._undone = _reconstruct_steps(route_input), []

    def can_revert(self, index: int) -> bool:
        """Whether a change was made in a field and still stands there, so that the field can be put back."""
        step = self._steps[index]
        return (
            self.changes[index].at < 0 and step.before is not None and _reads_as_after(step, self._session.route_input)
        )

    def revert_change(self, index: int) -> None:
        """Put a field back as it was before a change, which leaves the record."""
        if not self.can_revert(index):
            self.reported.emit("Not put back: it reads otherwise by now.")
        else:
            self.end_trial()
            step, route_input = self._steps[index], self._session.route_input
            before: dict[str, Any] = {step.field: step.before}
            self.restore_requested.emit(step.field, replace(route_input, **before))

    def try_selected(self) -> None:
        """Try the first correction of the selected finding."""
        self._do_with_first(self.toggle_trial)

    def apply_selected(self) -> None:
        """Make the first correction of the selected finding."""
        self._do_with_first(self.apply_proposal)

    def tick_change(self, index: int) -> None:
        """Note that the user has made a change elsewhere too."""
        route_input = self._session.route_input
        self._session.change_input(replace(route_input, changed=changes.tick_change(route_input.changed, index)))

    def _do_with_first(self, does: Callable[[Proposal], None]) -> None:
        selection = self._session.selection
        offered = self.proposals_for(selection.findings[0]) if selection and selection.findings else ()
        if offered:
            does(offered[0])
        else:
            self.reported.emit("Pick a finding with a likely-intended correction first.")

    def _find_undone(self, route_input: RouteInput) -> int | None:
        """The last change to some field that an input no longer has, by its index; None where it has them all."""
        for field, at in {step.field: at for at, step in enumerate(self._steps)}.items():
            before = self._steps[at].before
            if before is not None and before == _value(route_input, field):
                return at
        return None

    def _show_outcome(self, then: Assessment) -> None:
        if self.tried_proposal is not None:
            self.outcome = trial.trial_outcome(then, self.tried_proposal)
            self.trial_changed.emit(then)

    def _follow_input(self, _: RouteInput) -> None:
        self.end_trial()
        if self._shown_changes != self.changes:
            self._shown_changes = self.changes
            self.record_changed.emit()


def _value(route_input: RouteInput, field: str) -> object:
    """The value of a field, or what was typed there and cannot be read."""
    unread = dict(route_input.typed).get(field)
    return unread or (getattr(route_input, field) if field else None)


def _reads_as_after(step: _ChangeStep, route_input: RouteInput) -> bool:
    return step.after == _value(route_input, step.field)


def _touched_field(change: Change) -> str:
    """The field that a change touches, by its name in RouteInput."""
    return "route" if change.at >= 0 else change.field


def _reconstruct_steps(route_input: RouteInput) -> list[_ChangeStep]:
    """The steps of a record that came with its input, as far back as the values still fit."""
    steps: list[_ChangeStep] = []
    known: dict[str, object] = {}
    for change in reversed(route_input.changed):
        field = _touched_field(change)
        after = known.get(field, _value(route_input, field))
        before = known[field] = None if after is None else _value_before(after, change)
        steps.insert(0, _ChangeStep(field, before, after))
    return steps


def _value_before(after: object, change: Change) -> object:
    """The value before a change; None where the present one is not what it made."""
    if change.at < 0:
        return change.old if after == change.new else None
    route, end = str(after), change.at + len(change.new)
    return route[: change.at] + change.old + route[end:] if route[change.at : end] == change.new else None
