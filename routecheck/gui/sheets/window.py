"""The small window of Aircraft sheets: typical ones to read and to copy, own ones to edit. No files."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QDialogButtonBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QMessageBox,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from routecheck.gui.sheets.fields import SheetFields
from routecheck.gui.theme import words
from routecheck.settings.sheets import is_same_name

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QCloseEvent

    from routecheck.model import AircraftSheet

_TYPICAL = (
    "Typical figures of a class, replace with your manual's. To change them, copy the sheet under a name of yours."
)
_STILL_TYPICAL = (
    "Your own sheet, its figures typical: replace with your manual's. Nothing heavier than Doubtful rests on it."
)
_OWN = "Your own sheet, with your manual's figures."
_Role = QDialogButtonBox.ButtonRole
_Answer = QMessageBox.StandardButton


class SheetWindow(QDialog):
    """The list of sheets, and of the chosen one all values."""

    wants_save = Signal(object, str)
    """An AircraftSheet, and the name of the sheet of the user's that it takes the place of ("" = of none)."""
    wants_remove = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Aircraft sheets")
        self._sheets: tuple[AircraftSheet, ...] = ()
        self._own: tuple[str, ...] = ()
        self._at = -1
        self._copy: AircraftSheet | None = None
        self.list, self.name, self.fields = QListWidget(), QLineEdit(), SheetFields()
        self.list.setAccessibleName("Aircraft sheets")
        self.name.setAccessibleName("Name of the sheet")
        self.said, self.trouble = QLabel(), QLabel()
        self.manuals = QCheckBox("These are my &manual's figures")
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.save = self.buttons.addButton("&Save", _Role.ActionRole)
        self.copy = self.buttons.addButton("&Copy under a name of mine", _Role.ActionRole)
        self.remove = self.buttons.addButton("&Remove", _Role.ActionRole)
        self._connect()
        self._lay_out()
        wide = self.fontMetrics().averageCharWidth()
        self.resize(wide * 136, wide * 104)

    @property
    def sheet(self) -> AircraftSheet | None:
        """The sheet that is shown as it is saved; None = there is none."""
        return self._copy or (self._sheets[self._at] if 0 <= self._at < len(self._sheets) else None)

    @property
    def changed(self) -> bool:
        """Whether there is something to save."""
        sheet = self.sheet
        return sheet is not None and (self._copy is not None or (self._is_own(sheet) and self._read(sheet) != sheet))

    def show_sheets(self, sheets: Sequence[AircraftSheet], own: Sequence[str], name: str = "") -> None:
        """Show these sheets and open the one of that name, else the first."""
        self._sheets, self._own, self._copy = tuple(sheets), tuple(own), None
        self.list.blockSignals(True)
        self.list.clear()
        self.list.addItems([f"{s.name}  ({_kind(s, own=self._is_own(s))})" for s in self._sheets])
        self.list.blockSignals(False)
        at = next((i for i, sheet in enumerate(self._sheets) if is_same_name(sheet.name, name)), 0)
        self._mark(at)
        self._open(at)

    def say(self, text: str) -> None:
        """Say what went wrong, or what was done; "" when it is over."""
        self.trouble.setText(text)
        self.trouble.setVisible(bool(text))

    def reject(self) -> None:
        """Close, unless there is something to save and the user wants to stay."""
        if self._may_leave():
            super().reject()

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Likewise by the window's own button."""
        event.ignore()
        if self._may_leave():
            event.accept()

    def _is_own(self, sheet: AircraftSheet) -> bool:
        return any(is_same_name(sheet.name, name) for name in self._own)

    def _read(self, sheet: AircraftSheet) -> AircraftSheet:
        """The sheet as it is typed."""
        name = self.name.text().strip() or sheet.name
        return self.fields.applied(replace(sheet, name=name, typical=not self.manuals.isChecked()))

    def _open(self, at: int) -> None:
        self._at = at
        self._show(self.sheet)

    def _show(self, sheet: AircraftSheet | None) -> None:
        if sheet is None:
            return
        mine = self._copy is not None or self._is_own(sheet)
        self.name.setText(sheet.name)
        self.name.setReadOnly(not mine)
        self.manuals.setChecked(not sheet.typical)
        self.manuals.setVisible(mine)
        self.fields.show_sheet(sheet, editable=mine)
        self.copy.setEnabled(self._copy is None)
        self.remove.setEnabled(mine)
        self.remove.setText("&Discard" if self._copy else "&Remove")
        self._judge()

    def _judge(self) -> None:
        sheet = self.sheet
        if sheet is None:
            return
        good, why = self.fields.judge(), self._name_trouble()
        mine = self._copy is not None or self._is_own(sheet)
        self.said.setText((_OWN if self.manuals.isChecked() else _STILL_TYPICAL) if mine else _TYPICAL)
        self.save.setEnabled(self.changed and good and not why)
        self.say(why or ("" if good else "Not saved as long as a value is not taken: the reason stands beside it."))

    def _name_trouble(self) -> str:
        name = self.name.text().strip()
        if not name:
            return "The sheet needs a name."
        there = self._sheets[self._at].name if self._copy is None else ""
        if not is_same_name(name, there) and any(is_same_name(name, other) for other in self._own):
            return f"Another sheet of yours is called “{name}”."
        return ""

    def _choose(self, row: int) -> None:
        if row == self._row():
            return
        if self._may_leave():
            self._drop_copy()
            self._open(min(max(row, 0), len(self._sheets) - 1))
        else:
            self._mark(self._row())

    def _begin_copy(self) -> None:
        if (sheet := self.sheet) is None or not self._may_leave():
            return
        names = [other.name for other in self._sheets]
        free = (f"{sheet.name}, mine{f' {n}' if n > 1 else ''}" for n in range(1, len(names) + 2))
        name = next(name for name in free if not any(is_same_name(name, other) for other in names))
        self._copy = replace(sheet, name=name)
        self.list.blockSignals(True)
        self.list.addItem(f"{name}  (not saved)")
        self.list.blockSignals(False)
        self._mark(self._row())
        self._show(self._copy)
        self.name.setFocus()
        self.name.selectAll()

    def _row(self) -> int:
        """The row of what is shown: a copy that is not saved stands last."""
        return self._at if self._copy is None else len(self._sheets)

    def _mark(self, row: int) -> None:
        self.list.blockSignals(True)
        self.list.setCurrentRow(row)
        self.list.blockSignals(False)

    def _drop_copy(self) -> None:
        if self._copy is not None:
            self._copy = None
            self.list.blockSignals(True)
            self.list.takeItem(len(self._sheets))
            self.list.blockSignals(False)

    def _save(self) -> None:
        sheet = self.sheet
        if sheet is not None and self.save.isEnabled():
            self.wants_save.emit(self._read(sheet), "" if self._copy else sheet.name)

    def _remove(self) -> None:
        if self._copy is not None:
            self._drop_copy()
            self._mark(self._at)
            self._open(self._at)
        elif (sheet := self.sheet) and self._agrees(f"Remove your sheet “{sheet.name}”? Its file is deleted."):
            self.wants_remove.emit(sheet.name)

    def _may_leave(self) -> bool:
        """Whether nothing typed would be lost, or the user says that it may."""
        if not self.changed:
            return True
        return self._agrees(f"“{self.name.text()}” is not saved. Discard what was typed?")

    def _agrees(self, question: str) -> bool:
        asked = QMessageBox.question(
            self, "Aircraft sheets", question, _Answer.Discard | _Answer.Cancel, _Answer.Cancel
        )
        return asked == _Answer.Discard

    def _connect(self) -> None:
        self.list.currentRowChanged.connect(self._choose)
        self.name.textEdited.connect(lambda _: self._judge())
        self.manuals.toggled.connect(lambda _: self._judge())
        self.fields.edited.connect(self._judge)
        self.save.clicked.connect(self._save)
        self.copy.clicked.connect(self._begin_copy)
        self.remove.clicked.connect(self._remove)
        self.buttons.rejected.connect(self.reject)
        for button in (self.save, self.copy, self.remove):
            button.setAutoDefault(False)

    def _lay_out(self) -> None:
        for label in (self.said, self.trouble):
            label.setWordWrap(True)
        self.said.setObjectName("muted")
        self.trouble.setFont(words(bold=True))
        self.trouble.hide()
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(self.fields)
        right = QVBoxLayout()
        for widget in (self.name, self.said, self.manuals):
            right.addWidget(widget)
        right.addWidget(area, 1)
        self.list.setMaximumWidth(self.fontMetrics().averageCharWidth() * 34)
        sides = QHBoxLayout()
        sides.addWidget(self.list)
        sides.addLayout(right, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        column.addLayout(sides, 1)
        column.addWidget(self.trouble)
        column.addWidget(self.buttons)


def _kind(sheet: AircraftSheet, *, own: bool) -> str:
    if not own:
        return "typical"
    return "yours, typical figures" if sheet.typical else "yours"
