"""The window of Aircraft sheets: typical ones to read and to copy, own ones to edit. It writes no file."""

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
    QLineEdit,
    QListWidget,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from routecheck.gui import dialogs
from routecheck.gui.sheets.fields import SheetFields
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import WrappingLabel
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
_NOT_ACCEPTED = "Not saved as long as a value is not taken: the reason stands beside it."
_Role = QDialogButtonBox.ButtonRole


class SheetWindow(QDialog):
    """The list of sheets, and the values of the chosen one."""

    save_wanted = Signal(object, str)
    """An AircraftSheet, and the name of the own sheet that it replaces ("" = none)."""
    remove_wanted = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Aircraft sheets")
        self._sheets: tuple[AircraftSheet, ...] = ()
        self._own: tuple[str, ...] = ()
        self._index = -1
        self._unsaved_copy: AircraftSheet | None = None
        self.list, self.name, self.fields = QListWidget(), QLineEdit(), SheetFields()
        self.list.setAccessibleName("Aircraft sheets")
        self.name.setAccessibleName("Name of the sheet")
        self.kind_note, self.message = WrappingLabel(), WrappingLabel()
        self.manuals = QCheckBox("These are my &manual's figures")
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.save_button = self.buttons.addButton("&Save", _Role.ActionRole)
        self.copy_button = self.buttons.addButton("&Copy under a name of mine", _Role.ActionRole)
        self.remove_button = self.buttons.addButton("&Remove", _Role.ActionRole)
        self._connect()
        self._lay_out()
        wide = self.fontMetrics().averageCharWidth()
        self.resize(wide * 136, wide * 104)

    @property
    def sheet(self) -> AircraftSheet | None:
        """The sheet that is shown as it is saved; None = there is none."""
        return self._unsaved_copy or (self._sheets[self._index] if 0 <= self._index < len(self._sheets) else None)

    @property
    def changed(self) -> bool:
        """Whether there is something to save."""
        sheet = self.sheet
        return sheet is not None and (
            self._unsaved_copy is not None or (self._is_own(sheet) and self._read_sheet(sheet) != sheet)
        )

    def show_sheets(self, sheets: Sequence[AircraftSheet], own: Sequence[str], name: str = "") -> None:
        """Show these sheets and open the one of that name, else the first."""
        self._sheets, self._own, self._unsaved_copy = tuple(sheets), tuple(own), None
        self.list.blockSignals(True)
        self.list.clear()
        self.list.addItems([f"{s.name}  ({_sheet_kind(s, own=self._is_own(s))})" for s in self._sheets])
        self.list.blockSignals(False)
        at = next((i for i, sheet in enumerate(self._sheets) if is_same_name(sheet.name, name)), 0)
        self._mark_row(at)
        self._open_sheet(at)

    def show_message(self, text: str) -> None:
        """Say what went wrong or what was done; "" = nothing."""
        self.message.setText(text)
        self.message.setVisible(bool(text))

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

    def _read_sheet(self, sheet: AircraftSheet) -> AircraftSheet:
        """The sheet as it is typed."""
        name = self.name.text().strip() or sheet.name
        return self.fields.read_sheet(replace(sheet, name=name, typical=not self.manuals.isChecked()))

    def _open_sheet(self, index: int) -> None:
        self._index = index
        self._show_sheet(self.sheet)

    def _show_sheet(self, sheet: AircraftSheet | None) -> None:
        if sheet is None:
            return
        mine = self._unsaved_copy is not None or self._is_own(sheet)
        self.name.setText(sheet.name)
        self.name.setReadOnly(not mine)
        self.manuals.setChecked(not sheet.typical)
        self.manuals.setVisible(mine)
        self.fields.show_sheet(sheet, editable=mine)
        self.copy_button.setEnabled(self._unsaved_copy is None)
        self.remove_button.setEnabled(mine)
        self.remove_button.setText("&Discard" if self._unsaved_copy else "&Remove")
        self._judge()

    def _judge(self) -> None:
        sheet = self.sheet
        if sheet is None:
            return
        are_accepted, why = self.fields.judge(), self._name_fault()
        mine = self._unsaved_copy is not None or self._is_own(sheet)
        own_note = _OWN if self.manuals.isChecked() else _STILL_TYPICAL
        self.kind_note.setText(own_note if mine else _TYPICAL)
        self.save_button.setEnabled(self.changed and are_accepted and not why)
        self.show_message(
            why or ("" if are_accepted else "Not saved as long as a value is not taken: the reason stands beside it.")
        )

    def _name_fault(self) -> str:
        name = self.name.text().strip()
        if not name:
            return "The sheet needs a name."
        there = self._sheets[self._index].name if self._unsaved_copy is None else ""
        if not is_same_name(name, there) and any(is_same_name(name, other) for other in self._own):
            return f"Another sheet of yours is called “{name}”."
        return ""

    def _choose_row(self, row: int) -> None:
        if row == self._shown_row():
            return
        if self._may_leave():
            self._drop_copy()
            self._open_sheet(min(max(row, 0), len(self._sheets) - 1))
        else:
            self._mark_row(self._shown_row())

    def _begin_copy(self) -> None:
        if (sheet := self.sheet) is None or not self._may_leave():
            return
        names = [other.name for other in self._sheets]
        free = (f"{sheet.name}, mine{f' {n}' if n > 1 else ''}" for n in range(1, len(names) + 2))
        name = next(name for name in free if not any(is_same_name(name, other) for other in names))
        self._unsaved_copy = replace(sheet, name=name)
        self.list.blockSignals(True)
        self.list.addItem(f"{name}  (not saved)")
        self.list.blockSignals(False)
        self._mark_row(self._shown_row())
        self._show_sheet(self._unsaved_copy)
        self.name.setFocus()
        self.name.selectAll()

    def _shown_row(self) -> int:
        """The row of the sheet shown. A copy that is not saved stands last."""
        return self._index if self._unsaved_copy is None else len(self._sheets)

    def _mark_row(self, row: int) -> None:
        self.list.blockSignals(True)
        self.list.setCurrentRow(row)
        self.list.blockSignals(False)

    def _drop_copy(self) -> None:
        if self._unsaved_copy is not None:
            self._unsaved_copy = None
            self.list.blockSignals(True)
            self.list.takeItem(len(self._sheets))
            self.list.blockSignals(False)

    def _save(self) -> None:
        sheet = self.sheet
        if sheet is not None and self.save_button.isEnabled():
            self.save_wanted.emit(self._read_sheet(sheet), "" if self._unsaved_copy else sheet.name)

    def _remove(self) -> None:
        if self._unsaved_copy is not None:
            self._drop_copy()
            self._mark_row(self._index)
            self._open_sheet(self._index)
        elif (sheet := self.sheet) and self._may_discard(f"Remove your sheet “{sheet.name}”? Its file is deleted."):
            self.remove_wanted.emit(sheet.name)

    def _may_leave(self) -> bool:
        """Whether nothing typed would be lost, or the user says that it may."""
        if not self.changed:
            return True
        return self._may_discard(f"“{self.name.text()}” is not saved. Discard what was typed?")

    def _may_discard(self, question: str) -> bool:
        return dialogs.confirm_discard(self, "Aircraft sheets", question)

    def _connect(self) -> None:
        self.list.currentRowChanged.connect(self._choose_row)
        self.name.textEdited.connect(lambda _: self._judge())
        self.manuals.toggled.connect(lambda _: self._judge())
        self.fields.edited.connect(self._judge)
        self.save_button.clicked.connect(self._save)
        self.copy_button.clicked.connect(self._begin_copy)
        self.remove_button.clicked.connect(self._remove)
        self.buttons.rejected.connect(self.reject)
        for button in (self.save_button, self.copy_button, self.remove_button):
            button.setAutoDefault(False)

    def _lay_out(self) -> None:
        self.kind_note.setObjectName("muted")
        self.message.setFont(text_font(bold=True))
        self.message.hide()
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(self.fields)
        right = QVBoxLayout()
        for widget in (self.name, self.kind_note, self.manuals):
            right.addWidget(widget)
        right.addWidget(area, 1)
        self.list.setMaximumWidth(self.fontMetrics().averageCharWidth() * 34)
        sides = QHBoxLayout()
        sides.addWidget(self.list)
        sides.addLayout(right, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        column.addLayout(sides, 1)
        column.addWidget(self.message)
        column.addWidget(self.buttons)


def _sheet_kind(sheet: AircraftSheet, *, own: bool) -> str:
    if not own:
        return "typical"
    return "yours, typical figures" if sheet.typical else "yours"
