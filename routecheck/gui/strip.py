"""The strip of fields over the Route text: what the text is, the airports and runways, date, speed, level."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import TYPE_CHECKING

from PySide6.QtCore import QRegularExpression, Signal
from PySide6.QtGui import QRegularExpressionValidator
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QLineEdit, QWidget

from routecheck.gui.theme import typewriter, words
from routecheck.model import Role

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.model import Entry

_FIELDS = (
    ("departure", "departure", "XVAL", 7),
    ("departure_runway", "runway", "09", 4),
    ("destination", "destination", "XVOR", 7),
    ("destination_runway", "runway", "27", 4),
    ("date", "date, UTC", "", 10),
    ("speed", "speed", "N0430", 6),
    ("level", "level", "F350", 6),
)
"""Name in Entry, label, an example, width in characters."""
_CODE = QRegularExpression("[A-Za-z0-9/ ]*")
_DATE = QRegularExpression("[0-9-]*")


class Strip(QWidget):
    """The fields beside the text. Gives and takes an Entry; never touches its route."""

    edited = Signal()

    def __init__(self, today: Callable[[], dt.date]) -> None:
        super().__init__()
        self.setObjectName("strip")
        self._today = today
        self.role = QComboBox()
        self.role.setAccessibleName("the text is")
        for role in (Role.NOT_SAID, Role.FILED, Role.CLEARED, Role.ENTERED):
            self.role.addItem(role.value, role)
        self.fields = {name: QLineEdit() for name, *_ in _FIELDS}
        self._lay_out()
        self.refresh_font()
        self.role.currentIndexChanged.connect(self.edited)
        for field in self.fields.values():
            field.textEdited.connect(self._tell)

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.role.setFont(typewriter())
        for name, _, _, width in _FIELDS:
            field = self.fields[name]
            field.setFont(typewriter())
            field.setFixedWidth(field.fontMetrics().horizontalAdvance("0" * (width + 1)) + 18)
        for label in self.findChildren(QLabel):
            label.setFont(words(-1))

    def show_entry(self, entry: Entry) -> None:
        """Fill the fields from an entry without telling anybody."""
        self.blockSignals(True)
        self.role.setCurrentIndex(self.role.findData(entry.role))
        for name, field in self.fields.items():
            value = getattr(entry, name)
            field.setText(value.isoformat() if isinstance(value, dt.date) else value)
        self.blockSignals(False)
        self._judge_date()

    def applied(self, entry: Entry) -> Entry:
        """The entry with what the fields say."""
        said = {name: field.text().strip().upper() for name, field in self.fields.items()}
        return dataclasses.replace(
            entry,
            role=Role(self.role.currentData()),
            date=self._date(),
            departure=said["departure"],
            departure_runway=said["departure_runway"],
            destination=said["destination"],
            destination_runway=said["destination_runway"],
            speed=said["speed"],
            level=said["level"],
        )

    def trouble(self) -> str:
        """A sentence where the date cannot be read; "" else."""
        text = self.fields["date"].text().strip()
        if not text or self._date():
            return ""
        return f"“{text}” is not a date like {self._today().isoformat()}: today's is used."

    def _tell(self) -> None:
        self._judge_date()
        self.edited.emit()

    def _date(self) -> dt.date | None:
        try:
            return dt.date.fromisoformat(self.fields["date"].text().strip())
        except ValueError:
            return None

    def _judge_date(self) -> None:
        field = self.fields["date"]
        unread = bool(self.trouble())
        if field.property("unread") != unread:
            field.setProperty("unread", unread)
            field.style().polish(field)
        field.setToolTip(self.trouble() or "as 2026-12-03; empty = today")

    def _lay_out(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(2)
        _put(grid, 0, "the text is", self.role)
        for column, (name, label, example, _) in enumerate(_FIELDS, 1):
            field = self.fields[name]
            if name == "date":
                field.setPlaceholderText(self._today().isoformat())
            else:
                field.setToolTip(f"for example {example}")
            field.setValidator(QRegularExpressionValidator(_DATE if name == "date" else _CODE, field))
            field.setAccessibleName(_spoken(name))
            _put(grid, column, label, field)
        grid.setColumnStretch(len(_FIELDS) + 1, 1)


def _put(grid: QGridLayout, column: int, text: str, field: QWidget) -> None:
    label = QLabel(text)
    label.setBuddy(field)
    grid.addWidget(label, 0, column)
    grid.addWidget(field, 1, column)


def _spoken(name: str) -> str:
    return name.replace("_", " ")
