"""The strip of fields over the Route text: what the text is, airports, runways, approach, date, speed, level, wind."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import TYPE_CHECKING, Any, TypeVar, cast

from PySide6.QtCore import QRegularExpression, QTimer, Signal
from PySide6.QtGui import QRegularExpressionValidator
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QLineEdit, QWidget

from routecheck.gui.theme import typewriter, words
from routecheck.gui.widgets.chooser import Chooser
from routecheck.gui.widgets.flow_layout import Flow
from routecheck.model import Role
from routecheck.reading.typed_fields import HOW_WIND_IS_WRITTEN, wind_of, wind_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from routecheck.model import AircraftSheet, RouteInput

_Value = TypeVar("_Value")
_WIND_LEAST, _WIND_MOST = 10, 25
"""The field of the wind widens for one by level."""
RUNWAYS = ("departure_runway", "destination_runway", "approach")
_FIELDS = (
    ("departure", "departure", "XVAL", 5),
    ("departure_runway", "runway", "09", 3),
    ("destination", "destination", "XVOR", 5),
    ("destination_runway", "runway", "27", 3),
    ("approach", "approach", "I27", 5),
    ("alternate", "alternate", "XVMA, several with a blank between", 5),
    ("date", "date, UTC", "2026-12-03; empty = today", 10),
    ("speed", "speed", "N0430", 6),
    ("level", "level", "F350", 5),
    ("wind", "wind, true", "280/45", _WIND_LEAST),
)
"""Name in Entry, label, an example, width in characters."""
_TOGETHER = (("departure", "departure_runway"), ("destination", "destination_runway", "approach"))
_AS_TEXT = ("departure", "departure_runway", "destination", "destination_runway", "approach", "speed", "level")
_CODE = QRegularExpression("[A-Za-z0-9/, -]*")
_DATE = QRegularExpression("[0-9-]*")
_NONE, _TYPING_MS = "none", 900
"""How long a field that is typed in may hold half a word before it is told."""


class Strip(QWidget):
    """The fields beside the text. Gives and takes an Entry; never touches its route."""

    edited = Signal()
    judged = Signal()
    """What is said of the fields may have changed without their being edited."""
    runway_settled = Signal()
    """A runway or approach was typed to its end."""

    def __init__(self, today: Callable[[], dt.date]) -> None:
        super().__init__()
        self.setObjectName("strip")
        self._today = today
        self.role, self.sheet = Chooser(), Chooser()
        self.role.setAccessibleName("the text is")
        self.sheet.setAccessibleName("Aircraft sheet")
        self.sheet.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        for role in (Role.NOT_SAID, Role.FILED, Role.CLEARED, Role.ENTERED):
            self.role.addItem(role.value, role)
        self.fields = {name: QLineEdit() for name, *_ in _FIELDS}
        self._shown: dict[str, tuple[str, object]] = {}
        self._typing = ""
        self._rest = QTimer(self, singleShot=True, interval=_TYPING_MS)
        self._rest.timeout.connect(self._settle)
        self.show_sheets(())
        self._lay_out()
        self.refresh_font()
        self.role.currentIndexChanged.connect(self.edited)
        self.sheet.currentIndexChanged.connect(self.edited)
        for name, field in self.fields.items():
            field.textEdited.connect(lambda _, name=name: self._tell(name))
            field.editingFinished.connect(self._settle)
        for name in RUNWAYS:
            self.fields[name].editingFinished.connect(self.runway_settled)

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for box in (self.role, self.sheet):
            box.setFont(typewriter())
        for name, _, _, width in _FIELDS:
            field = self.fields[name]
            field.setFont(typewriter())
            field.setFixedWidth(_wide(field, width))
        for label in self.findChildren(QLabel):
            label.setFont(words(-1))

    def show_sheets(self, sheets: Iterable[AircraftSheet]) -> None:
        """Offer these Aircraft sheets and no others; the choice stays, even of one that is gone."""
        chosen = self.sheet.currentData() or ""
        self.sheet.blockSignals(True)
        self.sheet.clear()
        self.sheet.addItem(_NONE, "")
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

    def show_entry(self, route_input: RouteInput) -> None:
        """Fill the fields from an entry without telling anybody."""
        self.blockSignals(True)
        self.role.setCurrentIndex(self.role.findData(route_input.role))
        self.choose_sheet(route_input.aircraft_sheet)
        typed = dict(route_input.typed)
        for name, field in self.fields.items():
            text = _written(getattr(route_input, name)) or typed.get(name, "")
            field.setText(text)
            field.setCursorPosition(0)
            self._shown[name] = text, getattr(route_input, name)
        self._typing = ""
        self.blockSignals(False)
        self._judge()

    def show_values(self, route_input: RouteInput, names: Iterable[str]) -> None:
        """Fill in some values of an entry as if they were typed, so that each can be undone; all else stays."""
        for name in names:
            field = self.fields.get(name)
            if field is not None:
                field.selectAll()
                field.insert(_written(getattr(route_input, name)))
                field.setCursorPosition(0)

    def applied(self, route_input: RouteInput) -> RouteInput:
        """The entry with what the fields say; what cannot be read is kept in it as typed."""
        said: dict[str, Any] = {name: self.fields[name].text().strip().upper() for name in _AS_TEXT}
        unread = {name: self._text(name) for name in self._troubles()}
        return dataclasses.replace(
            route_input,
            **said,
            role=Role(self.role.currentData()),
            aircraft_sheet=self.sheet.currentData(),
            date=self._date(),
            alternate=self._as_shown("alternate", tuple(self._text("alternate").upper().replace(",", " ").split())),
            wind=self._as_shown("wind", wind_of(self._text("wind"))[0]),
            typed=tuple(unread.items()),
        )

    def trouble(self) -> str:
        """What cannot be read, in sentences; "" where there is nothing of the kind, or it is still being typed."""
        return " ".join(why for name, why in self._troubles().items() if name != self._typing)

    def _troubles(self) -> dict[str, str]:
        """Why a field cannot be read, by the name of the field."""
        day, why = self._text("date"), wind_of(self._text("wind"))[1]
        found = {"wind": f"{why} No wind is used."} if why else {}
        if day and not self._date():
            found["date"] = f"“{day}” is not a date like {self._today().isoformat()}: today's is used."
        return found

    def _text(self, name: str) -> str:
        return self.fields[name].text().strip()

    def _as_shown(self, name: str, read: _Value) -> _Value:
        """What was read from a field, or the very value that is shown in it, which may be finer than its text."""
        text, value = self._shown.get(name, ("", None))
        return cast("_Value", value) if value and text == self.fields[name].text() else read

    def _tell(self, name: str) -> None:
        self._typing = name
        self._rest.start()
        self._judge()
        self.edited.emit()

    def _settle(self) -> None:
        self._rest.stop()
        if self._typing:
            self._typing = ""
            self.judged.emit()

    def _date(self) -> dt.date | None:
        try:
            return dt.date.fromisoformat(self._text("date"))
        except ValueError:
            return None

    def _judge(self) -> None:
        """Mark the fields that cannot be read; the whole of a long wind is told on hover."""
        troubles = self._troubles()
        for name, _, example, _ in _FIELDS:
            field = self.fields[name]
            if field.property("unread") != (name in troubles):
                field.setProperty("unread", name in troubles)
                field.style().polish(field)
            if name == "wind":
                field.setFixedWidth(_wide(field, min(max(len(field.text()), _WIND_LEAST), _WIND_MOST)))
            field.setToolTip(troubles.get(name) or _hint(name, example, self._text(name)))

    def _lay_out(self) -> None:
        flow = Flow(self, across=8, down=4)
        flow.addWidget(_labelled([("the text is", self.role)]))
        grouped = {name: group for group in _TOGETHER for name in group}
        labels = {name: label for name, label, *_ in _FIELDS}
        for name in self.fields:
            self._set_up(name)
            group = grouped.get(name, (name,))
            if name == group[0]:
                flow.addWidget(_labelled([(labels[one], self.fields[one]) for one in group]))
        flow.addWidget(_labelled([("Aircraft sheet", self.sheet)]))

    def _set_up(self, name: str) -> None:
        field = self.fields[name]
        if name == "date":
            field.setPlaceholderText(self._today().isoformat())
            field.setValidator(QRegularExpressionValidator(_DATE, field))
        elif name != "wind":
            field.setValidator(QRegularExpressionValidator(_CODE, field))
        field.setAccessibleName(name.replace("_", " "))


def _labelled(fields: list[tuple[str, QWidget]]) -> QWidget:
    """Fields that stay together, each under its label."""
    group = QWidget()
    grid = QGridLayout(group)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(8)
    grid.setVerticalSpacing(2)
    for column, (text, field) in enumerate(fields):
        label = QLabel(text)
        label.setBuddy(field)
        grid.addWidget(label, 0, column)
        grid.addWidget(field, 1, column)
    return group


def _wide(field: QLineEdit, letters: int) -> int:
    return field.fontMetrics().horizontalAdvance("0" * (letters + 1)) + 14


def _written(value: object) -> str:
    """A value of an entry as its field shows it."""
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, tuple):
        return wind_text(value) if value and not isinstance(value[0], str) else " ".join(value)
    return str(value or "")


def _hint(name: str, example: str, text: str) -> str:
    if name == "wind":
        return (
            "\n".join(part.strip() for part in text.split(","))
            if "," in text
            else f"{HOW_WIND_IS_WRITTEN}; empty = none"
        )
    return f"for example {example}"
