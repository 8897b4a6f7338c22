"""The pane of weights and fuel: a head that folds, with what is wrong in one line. Its form is made when unfolded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QToolButton, QVBoxLayout

from routecheck.gui.pane import NOT_CHECKED_YET, Pane
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import ShrinkingLabel
from routecheck.presentation.load_view import brief_load

if TYPE_CHECKING:
    from PySide6.QtGui import QAction

    from routecheck.gui.load.form import LoadForm
    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.presentation.assessment_view import AssessmentView

_MOST_HEIGHT = 330


class LoadPane(Pane, QFrame):
    """Folded one line; unfolded every figure as stated and as computed. It judges nothing."""

    go_to = ("Go to &weights and fuel", "Ctrl+Alt+G")

    def __init__(self, session: Session, theme: Theme, fold: QAction) -> None:
        super().__init__()
        self.setObjectName("load")
        self._session, self._theme, self._fold = session, theme, fold
        self.form: LoadForm | None = None
        self.fold_button, self.brief = QToolButton(), ShrinkingLabel()
        self._lay_out()
        fold.toggled.connect(self._show_folded)
        session.assessed.connect(self._show_answer)
        self._show_folded(fold.isChecked())

    def take_focus(self) -> None:
        """Unfold the form and begin with its first field."""
        self.unfold().unit.setFocus()

    def unfold(self) -> LoadForm:
        """The form, unfolded; it is made when it is first wanted: the start must not wait for it."""
        self._fold.setChecked(True)
        return self.form or self._make_form()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for widget in (self.fold_button, self.brief):
            widget.setFont(text_font(-1))
        if self.form is not None:
            self.form.refresh_font()
        self._bound_height()

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        if self.form is not None:
            self.form.set_theme(theme)

    def show_outdated(self) -> None:
        """Take away what was computed of an earlier input."""
        self.show_nothing(NOT_CHECKED_YET)

    def show_nothing(self, why: str) -> None:
        """Show nothing computed, and why."""
        self.brief.setText(why if self._session.route_input.load else "")
        if self.form is not None:
            self.form.show_nothing()

    def _show_answer(self, answer: AssessmentView) -> None:
        self.brief.setText(brief_load(answer.assessment.route.route_input.load))
        if self.form is not None:
            self.form.show_answer(answer)

    def _lay_out(self) -> None:
        self.fold_button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.fold_button.setText(self._fold.text().replace("&", ""))
        self.fold_button.clicked.connect(self._fold.toggle)
        head = QHBoxLayout()
        head.setContentsMargins(2, 0, 2, 0)
        head.addWidget(self.fold_button)
        self.brief.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        head.addWidget(self.brief, 1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addLayout(head)

    def _make_form(self) -> LoadForm:
        from routecheck.gui.load.form import LoadForm

        self.form = LoadForm(self._session, self._theme)
        self._column.addWidget(self.form)
        return self.form

    def _show_folded(self, on: bool) -> None:
        self.fold_button.setArrowType(Qt.ArrowType.DownArrow if on else Qt.ArrowType.RightArrow)
        if on and self.form is None:
            self._make_form()
        if self.form is not None:
            self.form.setVisible(on)
        self._bound_height()

    def _bound_height(self) -> None:
        self.setMaximumHeight(_MOST_HEIGHT if self._fold.isChecked() else self.fold_button.sizeHint().height())
