"""The box in the Margin that says at once what another runway changes, in the words of present/runway_change."""

from __future__ import annotations

import re
from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QSizePolicy, QVBoxLayout

from routecheck.gui.pane import Pane
from routecheck.gui.theme import words
from routecheck.presentation.runway_change import runway_change

if TYPE_CHECKING:
    from routecheck.gui.session import Session
    from routecheck.model import Assessment, RouteInput
    from routecheck.presentation.assessment_view import Screen

_WHOLE = re.compile(r"(?:RW)?\d\d[A-Z]?")


class RunwayNotice(Pane, QFrame):
    """Compares each answer with the last one before the runway was touched, as long as the route stays the same."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("notice")
        self._session = session
        self._base: Assessment | None = None
        self._settled = False
        self.text = QLabel()
        self.text.setWordWrap(True)
        self.text.setTextFormat(Qt.TextFormat.RichText)
        self.text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.text.setAccessibleName("What the other runway changes")
        self.seen = QPushButton("Seen")
        self.seen.setToolTip("Take this away; the findings stay")
        self.seen.clicked.connect(self.hide)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 8)
        column.addWidget(self.text)
        column.addWidget(self.seen, 0, Qt.AlignmentFlag.AlignLeft)
        self.refresh_font()
        self.hide()
        session.assessed.connect(self._compare)
        session.replaced.connect(self._forget)
        session.lost.connect(self._forget)

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for widget in (self.text, self.seen):
            widget.setFont(words(-1))

    def settle(self) -> None:
        """A runway was typed to its end: what is there counts, and the next change counts from it."""
        self._settled = True
        answer = self._session.answer
        if answer and _stated(answer.assessment.route.route_input) == _stated(self._session.route_input):
            self._compare(answer)

    def _compare(self, screen: Screen) -> None:
        now = screen.assessment
        if self._base is None or _route(self._base) != _route(now):
            self._forget()
            self._base = now
            return
        if self._settled or _is_whole(self._base, now):
            self._say(runway_change(self._base, now))
        if self._settled and _stated(now.route.route_input) == _stated(self._session.route_input):
            self._base, self._settled = now, False

    def _say(self, sentences: tuple[str, ...]) -> None:
        """Show the sentences; none = what was shown stays only if it is still so."""
        if sentences:
            first, *middle, last = (escape(sentence) for sentence in sentences)
            lines = (f"<b>{first}</b>", *middle, f"<b>{last}</b>")
            self.text.setText("".join(f"<p style='margin: 0 0 4px 0'>{line}</p>" for line in lines))
            self.show()
        elif not self._settled:
            self.hide()

    def _forget(self, *_: object) -> None:
        self._base, self._settled = None, False
        self.hide()


def _route(assessment: Assessment) -> tuple[str, ...]:
    route_input = assessment.route.route_input
    return route_input.route, route_input.departure, route_input.destination


def _stated(route_input: RouteInput) -> tuple[str, ...]:
    return (
        route_input.route,
        route_input.departure,
        route_input.destination,
        route_input.departure_runway,
        route_input.destination_runway,
        route_input.approach,
    )


def _is_whole(before: Assessment, now: Assessment) -> bool:
    """Whether no runway or approach looks half typed, or cleared to type another."""
    was, route_input = before.route.route_input, now.route.route_input
    runways = (
        (route_input.departure_runway, was.departure_runway),
        (route_input.destination_runway, was.destination_runway),
    )
    if was.approach and not route_input.approach:
        return False
    if route_input.approach and not any(connection.kind == "APPROACH" for connection in now.route.resolved.connections):
        return False
    return all(_WHOLE.fullmatch(runway) if runway else not earlier for runway, earlier in runways)
