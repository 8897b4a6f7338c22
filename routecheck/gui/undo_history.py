"""One order of undo for the whole window: steps of the text and of what stands beside it, the last one first."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence

from routecheck.frozen_dataclass import dataclass
from routecheck.model import RouteInput

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.gui.route_text.editor import RouteText
    from routecheck.gui.route_text.flight_fields import FlightFields
    from routecheck.gui.session import Session

_MOST = 500
_BESIDE = tuple(one.name for one in dataclasses.fields(RouteInput) if one.name not in ("route", "origin", "pasted"))


@dataclass(frozen=True, slots=True)
class _Step:
    """What can be undone: a step of the text, or the values beside it that changed, as they were before."""

    before: RouteInput | None = None
    """None = a step of the text, which the text itself takes back."""
    names: frozenset[str] = frozenset()


class UndoHistory(QObject):
    """Notes every change and takes changes back in their order."""

    restored = Signal(object)
    """The RouteInput as it was beside the text."""

    def __init__(self, session: Session, text: RouteText, fields: FlightFields, parent: QObject) -> None:
        super().__init__(parent)
        self._session, self._text = session, text
        self._done: list[_Step] = []
        self._undone: list[_Step] = []
        self._last = session.route_input
        self._is_restoring = False
        session.input_changed.connect(self._note_input)
        session.input_replaced.connect(self._begin_anew)
        for widget in (text, *fields.fields.values()):
            widget.installEventFilter(self)
        text.document().undoCommandAdded.connect(self._note_text)

    def undo(self) -> None:
        """Take the last change back."""
        self._move(self._done, self._undone, self._text.undo, self._text.document().isUndoAvailable)

    def redo(self) -> None:
        """Make the change again that was taken back last."""
        self._move(self._undone, self._done, self._text.redo, self._text.document().isRedoAvailable)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Leave the keys of undo and redo to the window: a field would take back its own changes only."""
        is_key = event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent)
        if is_key and any(event.matches(key) for key in (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)):  # type: ignore[attr-defined]
            event.ignore()
            return True
        return super().eventFilter(watched, event)

    def _move(
        self, steps: list[_Step], others: list[_Step], move_text: Callable[[], None], is_possible: Callable[[], bool]
    ) -> None:
        while steps:
            step = steps.pop()
            if step.before is None:
                if not is_possible():
                    continue
                others.append(step)
                self._is_restoring = True
                move_text()
                self._is_restoring = False
                return
            now = self._session.route_input
            others.append(_Step(now, step.names))
            self._restore(dataclasses.replace(now, **{name: getattr(step.before, name) for name in step.names}))
            return

    def _restore(self, route_input: RouteInput) -> None:
        self._is_restoring = True
        self.restored.emit(route_input)
        self._is_restoring = False

    def _note_input(self, now: RouteInput) -> None:
        last, self._last = self._last, now
        if self._is_restoring or now.route != last.route:
            return
        names = frozenset(name for name in _BESIDE if getattr(now, name) != getattr(last, name))
        if names <= {"changed"}:  # the record of corrections follows what was corrected
            return
        previous = self._done[-1] if self._done else None
        if previous is None or previous.before is None or not (names - {"typed"} <= previous.names):
            self._add(_Step(last, names))
            self._text.document().setModified(False)  # else Qt joins what is typed next with what was typed before
        else:  # still the same value that is being typed
            self._done[-1] = _Step(previous.before, previous.names | names)

    def _note_text(self) -> None:
        if not self._is_restoring:
            self._add(_Step())

    def _add(self, step: _Step) -> None:
        self._undone.clear()
        self._done = [*self._done[-_MOST:], step]

    def _begin_anew(self, now: RouteInput) -> None:
        self._last = now
        self._done.clear()
        self._undone.clear()
