"""The dialog that shows what each column of a pasted nav log was taken for, and lets it be changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QGridLayout, QScrollArea, QVBoxLayout, QWidget

from routecheck.gui.theme import fixed_font, text_font
from routecheck.gui.widgets.chooser import ThemedComboBox
from routecheck.gui.widgets.labels import PlainLabel, WrappingLabel
from routecheck.presentation.column_choices import KIND_CHOICES, describe_reading, view_columns

if TYPE_CHECKING:
    from routecheck.gui.route_text.column_actions import ColumnActions
    from routecheck.gui.session import Session
    from routecheck.presentation.column_choices import ColumnView

_LONGEST_CELL = 24
_WIDTH_SHARE = 0.9
"""Of the window, which the dialog never outgrows."""


class ColumnsDialog(QDialog):
    """A choice for every column over the first rows of the table. Each change is read at once and can be undone."""

    def __init__(self, parent: QWidget, session: Session, columns: ColumnActions) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Columns of the pasted table")
        self._session, self._columns = session, columns
        self.choosers: list[ThemedComboBox] = []
        self.hows: list[PlainLabel] = []
        self.result_line = WrappingLabel()
        self.result_line.setAccessibleName("How the table was read")
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.undo_button = self.buttons.addButton("&Undo", QDialogButtonBox.ButtonRole.ActionRole)
        self.undo_button.clicked.connect(columns.undo)
        self.buttons.rejected.connect(self.reject)
        QShortcut(QKeySequence(QKeySequence.StandardKey.Undo), self, columns.undo)
        columns.refused.connect(self._show_refusal)
        session.input_replaced.connect(self._show)
        self._lay_out(room=parent.width())
        self._show()
        if self.choosers:
            self.choosers[0].setFocus()

    def _lay_out(self, *, room: int) -> None:
        pasted = self._session.route_input.pasted
        grid = QGridLayout()
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(4)
        for number, column in enumerate(view_columns(pasted) if pasted else ()):
            self._add_column(grid, number, column)
        area = _put_into_scroll_area(grid)
        what = WrappingLabel("What each column was taken for. A change is read at once.")
        column_of_all = QVBoxLayout(self)
        column_of_all.setContentsMargins(20, 16, 20, 14)
        column_of_all.setSpacing(10)
        for widget in (what, area, self.result_line, self.buttons):
            column_of_all.addWidget(widget)
        self.resize(min(int(room * _WIDTH_SHARE), grid.sizeHint().width() + 60), self.sizeHint().height())

    def _add_column(self, grid: QGridLayout, number: int, column: ColumnView) -> None:
        title, chooser, how = PlainLabel(column.title), ThemedComboBox(), PlainLabel()
        title.setFont(text_font(bold=True))
        title.setBuddy(chooser)
        for value, name in KIND_CHOICES:
            chooser.addItem(name, value)
        chooser.setAccessibleName(f"Column {column.title}")
        chooser.activated.connect(lambda at, number=number: self._columns.choose(number, KIND_CHOICES[at][0]))
        how.setObjectName("muted")
        self.choosers.append(chooser)
        self.hows.append(how)
        for row, widget in enumerate((title, chooser, how)):
            grid.addWidget(widget, row, number)
        for row, cell in enumerate(column.cells, start=3):
            label = PlainLabel(cell if len(cell) <= _LONGEST_CELL else f"{cell[: _LONGEST_CELL - 1]}…")
            label.setFont(fixed_font(-1))
            grid.addWidget(label, row, number)

    def _show(self) -> None:
        given = self._session.route_input
        views = view_columns(given.pasted) if given.pasted else ()
        if len(views) != len(self.choosers):
            self.reject()  # another text came in its place
            return
        for chooser, how, view in zip(self.choosers, self.hows, views, strict=True):
            chooser.setCurrentIndex(chooser.findData(view.kind))
            chooser.setAccessibleDescription(view.how)
            how.setText(view.how)
        self.result_line.setText(describe_reading(given))
        self.undo_button.setEnabled(self._columns.can_undo)

    def _show_refusal(self, why: str) -> None:
        self._show()
        self.result_line.setText(why)


def _put_into_scroll_area(grid: QGridLayout) -> QScrollArea:
    inner = QWidget()
    inner.setLayout(grid)
    area = QScrollArea()
    area.setWidget(inner)
    area.setWidgetResizable(True)
    area.setFrameShape(QScrollArea.Shape.NoFrame)
    area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setMinimumHeight(inner.sizeHint().height() + area.horizontalScrollBar().sizeHint().height())
    return area
