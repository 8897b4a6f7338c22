"""The fields of an Aircraft sheet: a value with its unit, and beside it why the value is not accepted."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLineEdit, QWidget

from routecheck.formatting import as_sentence
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.chooser import ThemedComboBox
from routecheck.gui.widgets.labels import PlainLabel, WrappingLabel
from routecheck.settings.sheets import QUANTITIES, contradictions

if TYPE_CHECKING:
    from routecheck.model import AircraftSheet
    from routecheck.settings.sheets import Quantity

_FIELD_GROUPS = (
    ("Speeds", {
        "climb_cas": "Climb, calibrated airspeed",
        "climb_mach": "Climb, Mach number",
        "cruise_tas": "Cruise, true airspeed",
        "cruise_mach": "Cruise, Mach number",
        "descent_cas": "Descent, calibrated airspeed",
        "descent_mach": "Descent, Mach number",
    }),
    ("Gradients", {
        "greatest_climb": "Greatest climb",
        "greatest_descent": "Greatest descent",
        "usual_climb": "Usual climb",
        "usual_descent": "Usual descent",
    }),
    ("Turn and ceiling", {"bank": "Bank in a turn", "ceiling": "Ceiling"}),
    ("Fuel flow", {
        "climb_fuel": "Climb",
        "cruise_fuel": "Cruise",
        "descent_fuel": "Descent",
        "holding_fuel": "Holding at 1,500 ft",
    }),
    ("Limits of weight", {
        "payload": "Payload, at most",
        "zero_fuel_weight": "Without fuel, at most",
        "take_off_weight": "Take-off, at most",
        "landing_weight": "Landing, at most",
        "tank": "Tanks hold",
    }),
)  # fmt: skip


class QuantityField:
    """One value: its field, its unit, and the note beside it."""

    def __init__(self, quantity: Quantity, label: str, group: str) -> None:
        self.quantity = quantity
        self.label, self.edit, self.unit, self.note = PlainLabel(label), QLineEdit(), ThemedComboBox(), WrappingLabel()
        self.label.setBuddy(self.edit)
        self.note.setAlignment(Qt.AlignmentFlag.AlignVCenter)
        self.edit.setAccessibleName(f"{group}, {label}")
        self.edit.setPlaceholderText("not said")
        self.edit.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.unit.setAccessibleName(f"Unit of {label}")
        self.unit.addItems(list(quantity.units))
        self.unit.setEnabled(len(quantity.units) > 1)
        self.unit.setVisible(bool(quantity.unit))
        self.unit.currentTextChanged.connect(self._change_unit)
        self._shown: tuple[str, float | None] = ("", None)
        self._unit = quantity.unit

    def show(self, value: float | None) -> None:
        """Show a value in its own unit; None = the sheet does not say."""
        self.unit.setCurrentText(self.quantity.unit)
        self._write_value(value)

    def read(self) -> tuple[float | None, str]:
        """The value in its own unit, and why it is not accepted, "" = it is."""
        text, value = self._shown
        return (
            (value, "") if self.edit.text() == text else self.quantity.parse(self.edit.text(), self.unit.currentText())
        )

    def show_fault(self, why: str) -> None:
        """Say beside the field why the value is not accepted, "" = it is."""
        self.note.setText(as_sentence(why) if why else self._bounds_note())
        self.note.setObjectName("" if why else "muted")
        for widget in (self.edit, self.note):
            widget.setProperty("unread", bool(why))
            widget.style().unpolish(widget)
            widget.style().polish(widget)

    def _write_value(self, value: float | None) -> None:
        factor = self.quantity.units[self.unit.currentText()]
        text = "" if value is None else f"{value / factor:.6g}"
        self._shown = text, value
        self.edit.setText(text)

    def _change_unit(self, unit: str) -> None:
        """Show the same value in another unit. A text that is no value stays as it was typed."""
        text, value = self._shown
        now, why = (value, "") if self.edit.text() == text else self.quantity.parse(self.edit.text(), self._unit)
        self._unit = unit
        if not why:
            self._write_value(now)
        else:
            self.edit.textChanged.emit(self.edit.text())

    def _bounds_note(self) -> str:
        """What it may be, in its own unit."""
        lowest, highest = self.quantity.lowest, self.quantity.highest
        unit = self.quantity.unit if self.unit.currentText() != self.quantity.unit else ""
        return f"{lowest:,g} to {highest:,g} {unit}".rstrip()


class SheetFields(QWidget):
    """All values of a sheet under each other, in groups."""

    edited = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("strip")
        self.fields: dict[str, QuantityField] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 6, 0)
        grid.setColumnStretch(3, 1)
        quantities = {quantity.key: quantity for quantity in QUANTITIES}
        for group, labels in _FIELD_GROUPS:
            self._add_group(grid, group, labels, quantities)
        grid.setRowStretch(grid.rowCount(), 1)

    def show_sheet(self, sheet: AircraftSheet, *, editable: bool) -> None:
        """Show a sheet, to be edited or only read."""
        self.blockSignals(True)
        for field in self.fields.values():
            field.show(getattr(sheet, field.quantity.fills))
            field.edit.setReadOnly(not editable)
        self.blockSignals(False)
        self.judge()

    def judge(self) -> bool:
        """Say beside each field why its value is not accepted. Returns whether all are."""
        read = {field.quantity.fills: field.read() for field in self.fields.values()}
        contradicted = contradictions({fills: value for fills, (value, _) in read.items()})
        for field in self.fields.values():
            fills = field.quantity.fills
            against = contradicted.get(fills, "").replace("_", " ")
            field.show_fault(read[fills][1] or against)
        return not contradicted and not any(why for _, why in read.values())

    def read_sheet(self, sheet: AircraftSheet) -> AircraftSheet:
        """The sheet with the values of the fields; one that is not accepted stays as it was."""
        values = {field.quantity.fills: field.read() for field in self.fields.values()}
        return replace(sheet, **{fills: value for fills, (value, why) in values.items() if not why})  # type: ignore[arg-type]

    def _add_group(
        self, grid: QGridLayout, group: str, labels: dict[str, str], quantities: dict[str, Quantity]
    ) -> None:
        head = PlainLabel(group)
        head.setFont(text_font(bold=True))
        grid.addWidget(head, grid.rowCount(), 0, 1, 4)
        for key, label in labels.items():
            field = QuantityField(quantities[key], label, group)
            field.edit.setFixedWidth(field.edit.fontMetrics().horizontalAdvance("0" * 10) + 18)
            field.edit.textChanged.connect(lambda _: self._report_edit())
            self.fields[key] = field
            row = grid.rowCount()
            for column, widget in enumerate((field.label, field.edit, field.unit, field.note)):
                grid.addWidget(widget, row, column)

    def _report_edit(self) -> None:
        self.judge()
        self.edited.emit()
