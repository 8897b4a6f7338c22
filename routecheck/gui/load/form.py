"""The form of weights and fuel: what is stated, typed into fields, and what follows from it. It judges nothing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QScrollArea, QVBoxLayout, QWidget

from routecheck.gui.load.figure_fields import FigureFields, make_load, say_unread
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.chooser import ThemedComboBox
from routecheck.gui.widgets.labels import PlainLabel, ShrinkingLabel
from routecheck.model import KG_PER_UNIT, LOAD_NAMES, RESERVE_RULES, InputKind, NotUsed
from routecheck.presentation.load_view import NOT_JUDGED, load_rows, load_sentences

if TYPE_CHECKING:
    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.model import Load, RouteInput
    from routecheck.presentation.assessment_view import AssessmentView

_PLACE = "the pane Weights and fuel"
"""Where a figure stands that cannot be read."""


class LoadForm(QScrollArea):
    """Begins with what the session has now, and follows it."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self._session, self._theme = session, theme
        self.fields, self.unit, self.rule = FigureFields(), ThemedComboBox(), ThemedComboBox()
        self.alternate_route, self.sentences = QLineEdit(), ShrinkingLabel(NOT_JUDGED)
        self._is_filling = False
        self._set_up_choosers()
        self._lay_out()
        self.refresh_font()
        self.fields.edited.connect(self._take_typing)
        self.alternate_route.textEdited.connect(self._take_typing)
        for chooser in (self.unit, self.rule):
            chooser.currentIndexChanged.connect(self._take_typing)
        session.input_changed.connect(self._show_input)
        self._show_input(session.route_input)
        if session.answer and session.is_answer_current:
            self.show_answer(session.answer)

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.fields.refresh_font()
        for widget in (self.sentences, self.unit, self.rule, self.alternate_route):
            widget.setFont(text_font(-1))

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        if self._session.answer and self._session.is_answer_current:
            self.show_answer(self._session.answer)

    def show_nothing(self) -> None:
        """Show nothing computed."""
        self.fields.show_rows({}, self._theme.wrong)
        self.sentences.setText(NOT_JUDGED)

    def show_answer(self, answer: AssessmentView) -> None:
        """Show what each figure is by the others, and what follows from them."""
        route = answer.assessment.route
        rows = {row.name: row for row in load_rows(route.route_input.load)}
        self.fields.show_rows(rows, self._theme.wrong)
        self.sentences.setText("\n".join(load_sentences(route)))

    def _show_input(self, route_input: RouteInput) -> None:
        """Show an input that somebody else changed; what is just being typed here stays as it is typed."""
        if route_input.load == self._load() and route_input.alternate_route == self.alternate_route.text():
            return
        load = route_input.load
        self._is_filling = True
        self.fields.show_load(load)
        self.unit.setCurrentIndex(max(self.unit.findData(load.unit if load else ""), 0))
        self.rule.setCurrentIndex(max(self.rule.findData(load.reserve_rule if load else ""), 0))
        if self.alternate_route.text() != route_input.alternate_route:
            self.alternate_route.setText(route_input.alternate_route)
        self._is_filling = False

    def _load(self) -> Load | None:
        return make_load(self.fields.figures(), self.unit.currentData(), self.rule.currentData())

    def _take_typing(self) -> None:
        """Give the session what stands in the fields; a text that is no figure is named as not used."""
        if self._is_filling:
            return
        now = self._session.route_input
        others = [one for one in now.not_used if one.where != _PLACE]
        unread = [
            NotUsed(InputKind.FIELD, LOAD_NAMES[name], _PLACE, say_unread(text))
            for name, text in self.fields.unread().items()
        ]
        changed = replace(
            now, load=self._load(), alternate_route=self.alternate_route.text(), not_used=(*others, *unread)
        )
        self._session.change_input(changed)

    def _set_up_choosers(self) -> None:
        for chooser, none, choices, name in (
            (self.unit, "kg or lb: not said", KG_PER_UNIT, "Unit of all weights and fuel"),
            (self.rule, "no reserve rule", RESERVE_RULES, "Rule for the reserve of fuel"),
        ):
            chooser.setAccessibleName(name)
            chooser.addItem(none, "")
            for choice in choices:
                chooser.addItem(choice, choice)
        self.alternate_route.setAccessibleName("Route from the destination to the first alternate")
        self.alternate_route.setPlaceholderText("direct")
        self.alternate_route.setMaxLength(2_000)

    def _lay_out(self) -> None:
        choices = QHBoxLayout()
        choices.setContentsMargins(0, 0, 0, 0)
        for widget in (self.unit, self.rule, PlainLabel("route to the alternate")):
            choices.addWidget(widget)
        choices.addWidget(self.alternate_route, 1)
        inside = QWidget()
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(4, 4, 4, 4)
        rows.addLayout(choices)
        rows.addWidget(self.fields)
        rows.addWidget(self.sentences)
        rows.addStretch()
        self.setWidget(inside)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
