"""The fields of weights and fuel: each figure as stated, beside it what the others make of it. No judging here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLineEdit, QWidget

from routecheck.formatting import quote
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.flow_layout import FlowLayout
from routecheck.gui.widgets.labels import PlainLabel, plain_tooltip
from routecheck.model import LOAD_NAMES, Load, half_digit
from routecheck.presentation.load_view import write_figure
from routecheck.reading.load_text import read_figure

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.presentation.load_view import LoadRow

_GROUPS = (
    (
        "basic_operating_weight", "crew_weight", "passengers", "passenger_weight", "baggage", "payload",
        "zero_fuel_weight", "take_off_weight", "landing_weight",
    ),
    (
        "taxi_fuel", "trip_fuel", "contingency_fuel", "alternate_fuel", "final_reserve_fuel", "extra_fuel",
        "block_fuel", "landing_fuel",
    ),
    (
        "v1_kt", "vr_kt", "v2_kt", "zero_fuel_weight_entered", "take_off_weight_entered", "alternate_min",
        "final_reserve_min",
    ),
)  # fmt: skip
_LETTERS = 9
_LONGEST = 12
_ACROSS = 14


class FigureFields(QWidget):
    """Three columns of fields, read down each."""

    edited = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.fields = {name: QLineEdit() for name in LOAD_NAMES}
        self.computed = {name: PlainLabel() for name in LOAD_NAMES}
        self._flow = FlowLayout(self, across=_ACROSS, down=8)
        for group in _GROUPS:
            self._flow.addWidget(self._make_group(group))
        policy = self.sizePolicy()
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_load(self, load: Load | None) -> None:
        """Fill the fields without telling anybody; a field that reads as the figure already stays as it is typed."""
        for name, field in self.fields.items():
            figure = load.get(name) if load else None
            if read_figure(field.text()) != (None if load is None or figure is None else (figure, load.half(name))):
                field.setText("" if load is None or figure is None else write_figure(figure, load.half(name)))
            self._mark(name)

    def figures(self) -> dict[str, tuple[float, float]]:
        """Every figure that can be read, with half of its last digit."""
        read = {name: read_figure(field.text()) for name, field in self.fields.items()}
        return {name: figure for name, figure in read.items() if figure is not None}

    def unread(self) -> dict[str, str]:
        """What is typed and is no figure, by the name of its field."""
        texts = {name: field.text().strip() for name, field in self.fields.items()}
        return {name: text for name, text in texts.items() if text and read_figure(text) is None}

    def show_rows(self, rows: Mapping[str, LoadRow], wrong: str) -> None:
        """Show what every figure is by the others; one that is off carries the mark and the colour of Wrong."""
        for name, label in self.computed.items():
            row = rows.get(name)
            text = f"= {row.computed}" if row and row.computed else ""
            if row and row.stated and row.lacks:
                text = f"needs {row.lacks}"
            if row and row.is_off:
                text = f"■ {text or 'too little'}"
            label.setText(text)
            label.setStyleSheet(f"color: {wrong}; font-weight: bold" if row and row.is_off else "")
            differs = f"; differs {row.differs}" if row and row.is_off and row.differs else ""
            label.setToolTip(plain_tooltip(f"{row.made_of}{differs}" if row else ""))
            verdict = ", differs" if row and row.is_off else ""
            said = f", computed {row.computed or 'not known'}{verdict}" if row else ""
            self.fields[name].setAccessibleDescription(f"{LOAD_NAMES[name]}{said}")

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for field in self.fields.values():
            field.setFont(text_font())
            field.setFixedWidth(field.fontMetrics().horizontalAdvance("0" * _LETTERS) + 14)
        for label in self.findChildren(PlainLabel):
            label.setFont(text_font(-1))
            if label in self.computed.values():
                label.setMinimumWidth(label.fontMetrics().horizontalAdvance("■ = 100,000"))

    def _make_group(self, names: tuple[str, ...]) -> QWidget:
        group = QWidget()
        grid = QGridLayout(group)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(3)
        for row, name in enumerate(names):
            label, field = PlainLabel(LOAD_NAMES[name]), self.fields[name]
            label.setBuddy(field)
            field.setAccessibleName(LOAD_NAMES[name])
            field.setAlignment(Qt.AlignmentFlag.AlignRight)
            field.setMaxLength(_LONGEST)
            field.textEdited.connect(lambda _, name=name: self._take(name))
            grid.addWidget(label, row, 0)
            grid.addWidget(field, row, 1)
            grid.addWidget(self.computed[name], row, 2)
        return group

    def _take(self, name: str) -> None:
        self._mark(name)
        self.edited.emit()

    def _mark(self, name: str) -> None:
        field = self.fields[name]
        is_unread = name in self.unread()
        if field.property("unread") != is_unread:
            field.setProperty("unread", is_unread)
            field.style().polish(field)
            field.setFont(text_font())  # the style sheet gives back the font that there was before it
            why = say_unread(field.text()) if is_unread else ""
            field.setToolTip(plain_tooltip(why))


def say_unread(text: str) -> str:
    """Why a text is no figure."""
    return f"{quote(text, 20)} is no figure: written 54200, 54,200 or 84.5"


def make_load(figures: Mapping[str, tuple[float, float]], unit: str, rule: str) -> Load | None:
    """The figures as a value; None where there is nothing."""
    if not figures and not unit and not rule:
        return None
    halves = tuple((name, half) for name, (figure, half) in figures.items() if half != half_digit(figure))
    values = {name: figure for name, (figure, _) in figures.items()}
    return Load(unit, reserve_rule=rule, halves=halves, **values)
