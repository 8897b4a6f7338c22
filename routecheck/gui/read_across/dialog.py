"""One row at a time in large type: the same, or differing with what the other display shows. Two keys, one hand."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import PlainLabel, WrappingLabel
from routecheck.model import ReadAcross, ReadMark
from routecheck.presentation.read_across import end_read_across, next_row, rows_of, set_mark

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent

    from routecheck.gui.session import Session
    from routecheck.model import Route

HOW = "Space: the same.  D: differs.  Backspace: one row back.  Esc: go on later; what was read is kept."
WHAT_TO_TYPE = "what the other display shows, for example PIKOR 097 196.6; then Enter"
_LARGE, _MIDDLE = 22, 12
_LONGEST = 80


class ReadAcrossDialog(QDialog):
    """Gives every mark to the session at once, so that an interruption loses nothing."""

    def __init__(self, parent: QWidget, session: Session, route: Route) -> None:
        super().__init__(parent)
        self._session, self._rows = session, rows_of(route)
        first = next_row(route)
        self.number = 0 if first is None else first
        self.setWindowTitle("Read across")
        self.progress, self.how = PlainLabel(), WrappingLabel(HOW)
        self.name, self.figures, self.window_line = PlainLabel(), PlainLabel(), PlainLabel()
        self.earlier = WrappingLabel()
        self.shown, self.by = QLineEdit(), (QLineEdit(), QLineEdit())
        self.same_button, self.differs_button = QPushButton("Same  (Space)"), QPushButton("Differs  (D)")
        self.end_button = QPushButton("Read by both")
        self._ending = QWidget()
        self._set_up()
        self._lay_out()
        self._show_row()
        if first is None:
            self._begin_end()

    def mark_same(self) -> None:
        """The other display shows the same."""
        self._mark(ReadMark(self._rows[self.number].text, is_same=True))

    def mark_differs(self) -> None:
        """The other display shows something else: ask what."""
        self.shown.clear()
        self.shown.show()
        self.shown.setFocus()

    def step_back(self) -> None:
        """Read the row before again."""
        if self._ending.isHidden():
            self.number = max(self.number - 1, 0)
        self._ending.hide()
        self._show_row()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Take the two keys, and the one that goes back."""
        does = {
            Qt.Key.Key_Space: self.mark_same,
            Qt.Key.Key_D: self.mark_differs,
            Qt.Key.Key_Backspace: self.step_back,
        }.get(Qt.Key(event.key()))
        if does and (self._ending.isHidden() or does == self.step_back):
            does()
        elif event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            super().keyPressEvent(event)

    def _mark(self, mark: ReadMark) -> None:
        self._session.change_input(set_mark(self._session.route_input, self._rows, self.number, mark))
        if self.number + 1 < len(self._rows):
            self.number += 1
            self._show_row()
        else:
            self._begin_end()

    def _take_shown(self) -> None:
        self._mark(ReadMark(self._rows[self.number].text, is_same=False, shown=" ".join(self.shown.text().split())))

    def _show_row(self) -> None:
        row = self._rows[self.number]
        self.progress.setText(f"{self.number + 1} of {len(self._rows)}")
        self.name.setText(row.name)
        self.figures.setText("    ".join(filter(None, (row.course, row.distance))))
        self.window_line.setText(row.window)
        read = self._session.route_input.read_across or ReadAcross()
        mark = read.find(row.text)
        differed = f"read as differing: {mark.shown or 'not said what'}" if mark else ""
        self.earlier.setText("read as the same" if mark and mark.is_same else differed)
        self.shown.hide()
        self._allow_marks(allowed=True)
        self.setFocus()

    def _allow_marks(self, *, allowed: bool) -> None:
        for button in (self.same_button, self.differs_button):
            button.setEnabled(allowed)

    def _begin_end(self) -> None:
        self.shown.hide()
        self.name.setText("All rows read")
        self.figures.setText("")
        self.window_line.setText("")
        self.progress.setText(f"{len(self._rows)} of {len(self._rows)}")
        marks = (self._session.route_input.read_across or ReadAcross()).marks
        differing = [mark.row.split()[0] for mark in marks if not mark.is_same]
        self.earlier.setText(f"differing: {', '.join(differing)}" if differing else "no row differs")
        self._allow_marks(allowed=False)
        self._ending.show()
        self.by[0].setFocus()

    def _end(self) -> None:
        names = [field.text().strip().upper() for field in self.by]
        if not all(names):
            (self.by[1] if names[0] else self.by[0]).setFocus()
            return
        now = dt.datetime.now(dt.UTC)
        self._session.change_input(end_read_across(self._session.route_input, ", ".join(names), now))
        self.accept()

    def _set_up(self) -> None:
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.name.setFont(text_font(_LARGE, bold=True))
        self.figures.setFont(text_font(_LARGE))
        self.window_line.setFont(text_font(_MIDDLE))
        self.shown.setFont(text_font(_MIDDLE))
        self.shown.setPlaceholderText(WHAT_TO_TYPE)
        self.shown.setAccessibleName("What the other display shows")
        self.shown.setMaxLength(_LONGEST)
        self.shown.returnPressed.connect(self._take_shown)
        for field, which in zip(self.by, ("first", "second"), strict=True):
            field.setAccessibleName(f"Initials of the {which} reader")
            field.setPlaceholderText("initials")
            field.setMaxLength(20)
            field.returnPressed.connect(self._end)
        for button, does in (
            (self.same_button, self.mark_same),
            (self.differs_button, self.mark_differs),
            (self.end_button, self._end),
        ):
            button.setAutoDefault(False)
            button.setMinimumHeight(44)
            button.clicked.connect(does)
        for button in (self.same_button, self.differs_button):
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def _lay_out(self) -> None:
        buttons, ending = QHBoxLayout(), QHBoxLayout(self._ending)
        buttons.addWidget(self.same_button, 1)
        buttons.addWidget(self.differs_button, 1)
        ending.setContentsMargins(0, 0, 0, 0)
        ending.addWidget(PlainLabel("Initials of both"))
        for field in self.by:
            ending.addWidget(field)
        ending.addWidget(self.end_button)
        self._ending.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 18, 24, 18)
        column.setSpacing(8)
        for widget in (
            self.progress,
            self.name,
            self.figures,
            self.window_line,
            self.earlier,
            self.shown,
            self._ending,
        ):
            column.addWidget(widget)
        column.addStretch(1)
        column.addLayout(buttons)
        column.addWidget(self.how)
        self.resize(self.fontMetrics().averageCharWidth() * 92, self.fontMetrics().height() * 22)
