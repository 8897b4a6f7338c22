"""Likely-intended corrections in the window: trying one, applying one, and the record of applied ones. No widgets."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from routecheck.corrections import candidate
from routecheck.presentation import changes, trial

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.gui.session import Session
    from routecheck.model import Assessment, Change, Proposal, RouteInput

Values = tuple[object, ...]
_ALL = ("route", *candidate.FIELD_NAMES)


@dataclass(frozen=True, slots=True)
class _ChangeStep:
    """The fields that a change touched and their values before and after it; None = no longer known."""

    fields: tuple[str, ...]
    before: Values | None
    after: Values | None


class CorrectionActions(QObject):
    """Tries and applies corrections. What was applied stays on record in the input, unless it is undone."""

    trial_changed = Signal(object)
    """The Assessment of the corrected route, or None: nothing is being tried."""
    record_changed = Signal()
    """The record has one change more or less, or one is ticked."""
    apply_requested = Signal(object, object)
    """Write this Proposal into the text or fields, which then read as this RouteInput."""
    restore_requested = Signal(object, object)
    """Write these fields, by name, as they are in this RouteInput."""
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
        session.input_replaced.connect(self._forget_steps)

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
        answer, route_input = self._session.answer, self._session.route_input
        if answer is None or _field_values(answer.assessment.route.route_input, _ALL) != _field_values(
            route_input, _ALL
        ):
            self.reported.emit("Not changed: the text is another one by now.")
            return
        self.end_trial()
        then = candidate.with_proposal(route_input, proposal)
        self._undone.clear()
        self.apply_requested.emit(proposal, then)
        now = self._session.route_input
        if len(now.changed) == len(route_input.changed):  # else it only took the last change back
            made = changes.make_changes(route_input, proposal)
            touched = [_touched_fields(change) for change in made]
            self._steps += [
                _ChangeStep(fields, _field_values(route_input, fields), _field_values(now, fields))
                for fields in touched
            ]
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
            before: dict[str, Any] = dict(zip(step.fields, step.before or (), strict=True))
            self.restore_requested.emit(step.fields, replace(route_input, **before))

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
        """The last change to some fields that an input no longer has, by its index; None where it has them all."""
        last = {step.fields: at for at, step in enumerate(self._steps)}
        undone = (at for fields, at in last.items() if self._steps[at].before == _field_values(route_input, fields))
        return next(undone, None)

    def _show_outcome(self, then: Assessment) -> None:
        if self.tried_proposal is not None:
            self.outcome = trial.trial_outcome(then, self.tried_proposal)
            self.trial_changed.emit(then)

    def _follow_input(self, _: RouteInput) -> None:
        self.end_trial()
        if self._shown_changes != self.changes:
            self._shown_changes = self.changes
            self.record_changed.emit()

    def _forget_steps(self, route_input: RouteInput) -> None:
        """Another route has a record of its own."""
        self._steps, self._undone = _reconstruct_steps(route_input), []


def _field_values(route_input: RouteInput, fields: tuple[str, ...]) -> Values:
    return tuple(getattr(route_input, field) for field in fields)


def _reads_as_after(step: _ChangeStep, route_input: RouteInput) -> bool:
    return step.after == _field_values(route_input, step.fields)


def _touched_fields(change: Change) -> tuple[str, ...]:
    """The fields that a change touches: the text, one field beside it, or both aerodromes."""
    if change.at >= 0:
        return ("route",)
    return (change.field,) if change.field else ("departure", "destination")


def _reconstruct_steps(route_input: RouteInput) -> list[_ChangeStep]:
    """The steps of a record that came with its input, as far back as the values still fit."""
    steps: list[_ChangeStep] = []
    known: dict[tuple[str, ...], Values | None] = {}
    for change in reversed(route_input.changed):
        fields = _touched_fields(change)
        after = known.get(fields, _field_values(route_input, fields))
        before = known[fields] = None if after is None else _values_before(after, change)
        steps.insert(0, _ChangeStep(fields, before, after))
    return steps


def _values_before(after: Values, change: Change) -> Values | None:
    """The values before a change; None where the present ones are not those it made, or the record is not complete."""
    if change.at >= 0:
        route, end = str(after[0]), change.at + len(change.new)
        return (route[: change.at] + change.old + route[end:],) if route[change.at : end] == change.new else None
    if change.field:
        return (change.old,) if after[0] == change.new else None
    first, both, last = change.old.partition("–")
    return (first, last) if both and change.new == "–".join(map(str, after)) else None
