"""The fields over the Route text, one for each row of the table of input fields that has a label."""

from __future__ import annotations

import dataclasses
from itertools import groupby
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QRegularExpression, Qt, QTimer, Signal
from PySide6.QtGui import QFontMetricsF, QRegularExpressionValidator
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QLineEdit, QWidget

from routecheck.formatting import as_sentence, listing
from routecheck.gui.input_bounds import LONGEST_FIELD
from routecheck.gui.pane import Pane
from routecheck.gui.theme import fixed_font, text_font
from routecheck.gui.widgets.chooser import ThemedComboBox
from routecheck.gui.widgets.flow_layout import FlowLayout
from routecheck.gui.widgets.labels import PlainLabel, plain_tooltip
from routecheck.reading.field_kinds import OFF_BLOCK
from routecheck.reading.input_fields import INPUT_FIELDS, name_value, read_texts

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Container, Iterable

    from routecheck.model import AircraftSheet, RouteInput
    from routecheck.reading.input_fields import InputField, TextReading

_RUNWAYS = ("departure_runway", "destination_runway", "approach")
_SHOWN = tuple(field for field in INPUT_FIELDS if field.label)
_LINES = tuple(field for field in _SHOWN if field.kind.is_typed)
_CHOSEN = tuple(field for field in _SHOWN if field.kind.is_chosen)
_NEW_ROUTE_EMPTIES = "File ▸ New route (Ctrl+N) empties them first."
_APART = 1.4
"""How far fields stand apart, in characters: labels wider than their fields must not run into one another."""
_NO_SHEET, TYPING_MS = "none", 900
"""How long a field that is typed in may hold half a word before it is said that it cannot be read."""


class FlightFields(Pane, QWidget):
    """The fields beside the text. Gives and takes a RouteInput; never touches its route."""

    edited = Signal()
    unread_changed = Signal()
    """What is said of the fields may have changed without their being edited."""
    refused = Signal(str)
    """A sentence: why a text was not pasted."""
    runway_settled = Signal()
    """A runway or approach was typed to its end."""
    go_to = ("Go to the fi&elds", "Ctrl+I")

    def __init__(self, today: Callable[[], dt.date]) -> None:
        super().__init__()
        self.setObjectName("strip")
        self._today = today
        self.choosers = {field.name: ThemedComboBox() for field in _CHOSEN}
        self.fields = {field.name: QLineEdit() for field in _LINES}
        self.role, self.sheet = self.choosers["role"], self.choosers["aircraft_sheet"]
        self._shown: dict[str, tuple[str, object]] = {}
        self._typing = self._kept_sentence = ""
        self._rest = QTimer(self, singleShot=True, interval=TYPING_MS)
        self._rest.timeout.connect(self._settle)
        self._set_up_choosers()
        self._set_up_lines()
        self._lay_out()
        self.refresh_font()

    @property
    def last_field(self) -> QWidget:
        """The field after which the keyboard goes on to the text."""
        return {**self.choosers, **self.fields}[_SHOWN[-1].name]

    def take_focus(self) -> None:
        """Let the keyboard type in the first field; all of what stands there is chosen."""
        first = self.fields[_LINES[0].name]
        first.setFocus(Qt.FocusReason.ShortcutFocusReason)
        first.selectAll()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for chooser in self.choosers.values():
            chooser.setFont(fixed_font())
        for field in _LINES:
            self.fields[field.name].setFont(fixed_font())
            self._fit_width(field)
        for label in self.findChildren(QLabel):
            label.setFont(text_font(-1))
        self._flow.across = round(QFontMetricsF(text_font()).averageCharWidth() * _APART)
        for grid in self.findChildren(QGridLayout):
            grid.setHorizontalSpacing(self._flow.across)

    def show_sheets(self, sheets: Iterable[AircraftSheet]) -> None:
        """Offer these Aircraft sheets and no others; the choice stays, even of one that is gone."""
        chosen = self.sheet.currentData() or ""
        self.sheet.blockSignals(True)
        self.sheet.clear()
        self.sheet.addItem(_NO_SHEET, "")
        for sheet in sheets:
            self.sheet.addItem(f"{sheet.name} (typical)" if sheet.typical else sheet.name, sheet.name)
        self.choose_sheet(chosen)
        self.sheet.blockSignals(False)

    def choose_sheet(self, name: str) -> None:
        """Choose the sheet of that name, capitals aside; one that is not there is shown as such."""
        wanted = name.strip().casefold()
        at = next((i for i in range(self.sheet.count()) if self.sheet.itemData(i).casefold() == wanted), -1)
        if at < 0:
            self.sheet.addItem(f"{name} (not there)", name)
        self.sheet.setCurrentIndex(at if at >= 0 else self.sheet.count() - 1)

    def show_input(self, route_input: RouteInput) -> None:
        """Fill the fields from an input without telling anybody."""
        self.blockSignals(True)
        self.role.setCurrentIndex(self.role.findData(route_input.role))
        self.choose_sheet(route_input.aircraft_sheet)
        typed = dict(route_input.typed)
        for field in _LINES:
            value = getattr(route_input, field.name)
            text = field.kind.write_text(value) or typed.get(field.name, "")
            line = self.fields[field.name]
            line.setText(text)
            line.setCursorPosition(0)
            self._shown[field.name] = text, value
        self._typing = self._kept_sentence = ""
        self.blockSignals(False)
        self._mark_unread()

    def show_values(self, route_input: RouteInput, names: Iterable[str]) -> None:
        """Fill in some values of an input as if they were typed, so that each can be undone; all else stays."""
        for field in _LINES:
            if field.name in names:
                line = self.fields[field.name]
                line.selectAll()
                line.insert(field.kind.write_text(getattr(route_input, field.name)))
                line.setCursorPosition(0)

    def apply_to(self, route_input: RouteInput) -> RouteInput:
        """The input with what the fields say; what cannot be read is kept in it as typed."""
        read = self._read()
        values = {name: self._prefer_shown(name, value) for name, value in read.values.items()}
        chosen = {field.name: field.kind.restore(self.choosers[field.name].currentData()) for field in _CHOSEN}
        typed = tuple((name, self.fields[name].text().strip()) for name in read.faults)
        return dataclasses.replace(route_input, **values, **chosen, typed=typed)

    def describe_unread(self) -> str:
        """What cannot be read, or stands as before beside another text, in sentences.

        "" where there is nothing of the kind, or it is still being typed.
        """
        unread = [why for name, why in self._explain_unread().items() if name != self._typing]
        return " ".join(filter(None, (*unread, self._kept_sentence)))

    def note_kept(self, names: Container[str]) -> None:
        """Note that these fields stand as before beside a text that took the place of another, until one is edited."""
        lines = [f"{name_value(one.name)} {self._text(one)}" for one in _LINES if one.name in names and self._text(one)]
        kept = [(one, self.choosers[one.name]) for one in _CHOSEN if one.name in names]
        chosen = [f"{one.label} {chooser.currentText()}" for one, chooser in kept if chooser.currentIndex() > 0]
        stand = "stands" if len(lines + chosen) == 1 else "stand"
        what = f"Beside the new text {stand} as before: {listing(lines + chosen)}."
        self._kept_sentence = f"{what} {_NEW_ROUTE_EMPTIES}" if lines or chosen else ""

    @property
    def is_half_typed(self) -> bool:
        """Whether something is being typed that cannot be read so far."""
        return self._typing in self._explain_unread()

    def is_runway_half_typed(self) -> bool:
        """Whether the first figure of a runway was typed just now: it may become another runway than it reads as."""
        return self._typing in _RUNWAYS and len(self.fields[self._typing].text().strip()) == 1

    def _read(self) -> TextReading:
        return read_texts((field, self._text(field)) for field in _LINES)

    def _text(self, field: InputField) -> str:
        text = self.fields[field.name].text().strip()
        return text.upper() if field.kind.capitals else text

    def _prefer_shown(self, name: str, read: Any) -> Any:
        """What was read from a field, or the very value that is shown in it, which may be finer than its text."""
        text, value = self._shown.get(name, ("", None))
        return value if value and text == self.fields[name].text() else read

    def _explain_unread(self) -> dict[str, str]:
        """Why a field cannot be read and what is done instead, by the name of the field."""
        faults = self._read().faults
        read = {field: as_sentence(faults[field.name]) for field in _LINES if field.name in faults}
        return {field.name: f"{why} {field.fallback}".rstrip() for field, why in read.items()}

    def _note_typing(self, name: str) -> None:
        self._typing, self._kept_sentence = name, ""
        self._rest.start()
        self._mark_unread()
        self.edited.emit()

    def _watch_length(self, name: str) -> None:
        """See whether Qt has cut short what was pasted; it is still about to say that the text was edited."""
        if len(self.fields[name].text()) >= LONGEST_FIELD:
            QTimer.singleShot(0, self, lambda: self._take_back(name))

    def _take_back(self, name: str) -> None:
        """Take a text back of which only a part was pasted, and say so."""
        self.fields[name].undo()
        self._settle()
        label = name.replace("_", " ")
        self.refused.emit(f"Nothing was pasted: the field “{label}” takes up to {LONGEST_FIELD:,} characters.")

    def _settle(self) -> None:
        self._rest.stop()
        if self._typing:
            self._typing = ""
            self._mark_unread()
            self.unread_changed.emit()

    def _mark_unread(self) -> None:
        """Mark the fields that cannot be read, and say why when the mouse rests on them."""
        unread = {name: why for name, why in self._explain_unread().items() if name != self._typing}
        for field in _LINES:
            line = self.fields[field.name]
            if line.property("unread") != (field.name in unread):
                line.setProperty("unread", field.name in unread)
                line.style().polish(line)
                line.setFont(fixed_font())  # the style sheet gives back the font that there was before it
            self._fit_width(field)
            line.setToolTip(plain_tooltip(unread.get(field.name) or _describe(field, self._text(field))))

    def _fit_width(self, field: InputField) -> None:
        line = self.fields[field.name]
        letters = max(field.width, min(len(line.text()), field.most_width))
        line.setFixedWidth(line.fontMetrics().horizontalAdvance("0" * (letters + 1)) + 14)

    def _set_up_choosers(self) -> None:
        for field in _CHOSEN:
            chooser = self.choosers[field.name]
            chooser.setAccessibleName(field.label)
            for choice in field.kind.choices:
                chooser.addItem(choice, field.kind.restore(choice))
        self.sheet.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.show_sheets(())
        for chooser in self.choosers.values():
            chooser.currentIndexChanged.connect(self.edited)

    def _set_up_lines(self) -> None:
        for field in _LINES:
            line = self.fields[field.name]
            line.setAccessibleName(name_value(field.name))
            line.setMaxLength(LONGEST_FIELD)
            line.inputRejected.connect(lambda name=field.name: self._watch_length(name))
            if field.kind.characters:
                line.setValidator(QRegularExpressionValidator(QRegularExpression(field.kind.characters), line))
            if field.kind is OFF_BLOCK:
                line.setPlaceholderText(self._today().isoformat())
            line.textEdited.connect(lambda _, name=field.name: self._note_typing(name))
            line.editingFinished.connect(self._settle)
        for name in _RUNWAYS:
            self.fields[name].editingFinished.connect(self.runway_settled)

    def _lay_out(self) -> None:
        flow = self._flow = FlowLayout(self, across=8, down=4)
        boxes: dict[str, QWidget] = {**self.choosers, **self.fields}
        for _, group in groupby(_SHOWN, key=lambda field: field.group or field.name):
            flow.addWidget(_label_fields([(field.label, boxes[field.name]) for field in group]))


def _label_fields(fields: list[tuple[str, QWidget]]) -> QWidget:
    """Fields that stay together, each under its label."""
    group = QWidget()
    grid = QGridLayout(group)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(8)
    grid.setVerticalSpacing(2)
    for column, (text, field) in enumerate(fields):
        label = PlainLabel(text)
        label.setBuddy(field)
        grid.addWidget(label, 0, column)
        grid.addWidget(field, 1, column)
    return group


def _describe(field: InputField, text: str) -> str:
    """The parts of a long value one below the other, else how the value is written."""
    if field.most_width and "," in text:
        return "\n".join(part.strip() for part in text.split(","))
    return field.hint or f"for example {field.example}"
