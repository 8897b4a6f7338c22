"""The box in the Margin that says what another runway or approach changes."""

from __future__ import annotations

import re
from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QPushButton, QSizePolicy, QVBoxLayout

from routecheck.gui.pane import Pane
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import MarkupLabel
from routecheck.presentation.runway_change import runway_change

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.gui.session import Session
    from routecheck.model import Assessment, RouteInput
    from routecheck.presentation.assessment_view import AssessmentView

_WHOLE_RUNWAY = re.compile(r"(?:RW)?\d\d[A-Z]?")


class RunwayChangeBanner(Pane, QFrame):
    """Compares each answer with the last one before the runway was changed, as long as the route stays the same."""

    def __init__(self, session: Session, is_half_typed: Callable[[], bool]) -> None:
        super().__init__()
        self.setObjectName("notice")
        self._session, self._is_half_typed = session, is_half_typed
        self._before: Assessment | None = None
        self._is_runway_typed = False
        self.text = MarkupLabel()
        self.text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.text.setAccessibleName("What the other runway changes")
        self.seen_button = QPushButton("Seen")
        self.seen_button.setToolTip("Take this away; the findings stay")
        self.seen_button.clicked.connect(self.hide)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 8)
        column.addWidget(self.text)
        column.addWidget(self.seen_button, 0, Qt.AlignmentFlag.AlignLeft)
        self.refresh_font()
        self.hide()
        session.assessed.connect(self._compare)
        session.input_replaced.connect(self._forget)
        session.answer_lost.connect(self._forget)

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for widget in (self.text, self.seen_button):
            widget.setFont(text_font(-1))

    def accept_typed_runway(self) -> None:
        """Take note that a runway was typed to its end: the next change is compared with it."""
        self._is_runway_typed = True
        answer = self._session.answer
        if answer and _input_compared(answer.assessment.route.route_input) == _input_compared(
            self._session.route_input
        ):
            self._compare(answer)

    def _compare(self, answer: AssessmentView) -> None:
        now = answer.assessment
        if self._before is None or _route_typed(self._before) != _route_typed(now):
            self._forget()
            self._before = now
            return
        if self._is_runway_typed or (not self._is_half_typed() and _is_typed_to_its_end(self._before, now)):
            self.show_sentences(runway_change(self._before, now))
        if self._is_runway_typed and _input_compared(now.route.route_input) == _input_compared(
            self._session.route_input
        ):
            self._before, self._is_runway_typed = now, False

    def show_sentences(self, sentences: tuple[str, ...]) -> None:
        """Show the sentences. Without any the box goes, unless the runway typed to its end is what it is about."""
        if sentences:
            first, *middle, last = (escape(sentence) for sentence in sentences)
            lines = (f"<b>{first}</b>", *middle, f"<b>{last}</b>")
            self.text.setText("".join(f"<p style='margin: 0 0 4px 0'>{line}</p>" for line in lines))
            self.show()
        elif not self._is_runway_typed:
            self.hide()

    def _forget(self, *_: object) -> None:
        self._before, self._is_runway_typed = None, False
        self.hide()


def _route_typed(assessment: Assessment) -> tuple[str, ...]:
    route_input = assessment.route.route_input
    return route_input.route, route_input.departure, route_input.destination


def _input_compared(route_input: RouteInput) -> tuple[str, ...]:
    return (
        route_input.route,
        route_input.departure,
        route_input.destination,
        route_input.departure_runway,
        route_input.destination_runway,
        route_input.approach,
    )


def _is_typed_to_its_end(before: Assessment, now: Assessment) -> bool:
    """Whether no runway or approach looks half typed, or was emptied to type another one."""
    was, route_input = before.route.route_input, now.route.route_input
    runways = (
        (route_input.departure_runway, was.departure_runway),
        (route_input.destination_runway, was.destination_runway),
    )
    if was.approach and not route_input.approach:
        return False
    if route_input.approach and not any(
        connection.procedure_kind == "APPROACH" for connection in now.route.resolved.connections
    ):
        return False
    return all(_WHOLE_RUNWAY.fullmatch(runway) if runway else not earlier for runway, earlier in runways)
