"""The form for a new drill: whose, of what routes, how many, how hard, which kinds of error, from which seed."""

from __future__ import annotations

import random
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QSpinBox,
    QWidget,
)

from routecheck.drill.difficulty import DIFFICULTIES, USUAL_DIFFICULTY, Difficulty
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.drill.making import CLEAN_SHARE, DrillOrder
from routecheck.formatting import listing
from routecheck.gui import dialogs
from routecheck.gui.drill.making import DrillWish
from routecheck.gui.widgets.labels import PlainLabel, ShrinkingLabel

if TYPE_CHECKING:
    from collections.abc import Mapping

_MOST, _LARGEST_SEED = 1000, 2**31 - 1
_SEEDS = 10_000
"""Seeds that are made up are below this: short enough to be read out to a class."""
_KIND_ROWS = 6
_DEMO, _FILES = "the demo region", "files of your own, on the data that is loaded"


class NewDrillForm(QWidget):
    """Asks for a drill."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.name, self.origin, self.files = QLineEdit(), QComboBox(), ShrinkingLabel()
        self.name.setPlaceholderText("of the trainee; it stays on this computer")
        self.origin.addItems([_DEMO, _FILES])
        self.files_button = QPushButton("&Files…")
        self.count, self.difficulty = QSpinBox(minimum=1, maximum=_MOST, value=20), QComboBox()
        self.summary = ShrinkingLabel()
        self.summary.setObjectName("muted")
        self.difficulty.addItems([str(number) for number in DIFFICULTIES])
        self.difficulty.currentIndexChanged.connect(self._show_summary)
        self.difficulty.setCurrentIndex(list(DIFFICULTIES).index(USUAL_DIFFICULTY))
        self.kinds, self.clean = _make_kind_list(), QSpinBox(maximum=100, value=round(100 * CLEAN_SHARE), suffix=" %")
        self.seed = QSpinBox(maximum=_LARGEST_SEED, value=_make_up_seed())
        self.seed_button = QPushButton("A&nother")
        self.paths: tuple[str, ...] = ()
        self._lay_out()
        self.files_button.clicked.connect(self._ask_for_files)
        self.seed_button.clicked.connect(lambda: self.seed.setValue(_make_up_seed()))
        self.origin.currentIndexChanged.connect(self._show_files)
        self.kinds.itemChanged.connect(self.changed)
        self.clean.valueChanged.connect(self.changed)
        self._show_files()

    @property
    def wish(self) -> DrillWish:
        """What is asked for."""
        order = DrillOrder(
            seed=self.seed.value(),
            count=self.count.value(),
            difficulty=self._difficulty().number,
            mix=self._mix(),
        )
        return DrillWish(order, self.paths if self.origin.currentIndex() else (), self.name.text().strip())

    @property
    def lacks(self) -> str:
        """What is missing before a drill can be made; "" = nothing."""
        if self.origin.currentIndex() and not self.paths:
            return "Choose files with routes, or with cases of your own (drill.toml)."
        if not self._chosen_kinds() and self.clean.value() < _WHOLE:
            return "Choose a kind of error."
        return ""

    def show_order(self, order: DrillOrder) -> None:
        """Show what is asked for by a drill.toml."""
        self.seed.setValue(order.seed)
        self.count.setValue(order.count)
        self.difficulty.setCurrentIndex(list(DIFFICULTIES).index(order.difficulty))
        self._show_mix(order.mix)

    def choose_files(self, paths: list[str]) -> None:
        """Make it of these files."""
        self.paths = tuple(paths)
        self.origin.setCurrentIndex(1)
        self._show_files()

    def _show_mix(self, mix: Mapping[str, float]) -> None:
        errors = sum(weight for kind, weight in mix.items() if kind != CLEAN)
        whole = errors + mix.get(CLEAN, 0.0)
        self.clean.setValue(round(_WHOLE * mix.get(CLEAN, 0.0) / whole) if whole else round(_WHOLE * CLEAN_SHARE))
        for row, kind in enumerate(ERROR_KINDS):
            is_chosen = not mix or mix.get(kind, 0.0) > 0
            self.kinds.item(row).setCheckState(Qt.CheckState.Checked if is_chosen else Qt.CheckState.Unchecked)

    def _mix(self) -> dict[str, float]:
        """Weights in whole numbers, as the command line takes them; {} = the usual."""
        chosen, clean = self._chosen_kinds(), self.clean.value()
        if len(chosen) == len(ERROR_KINDS) and clean == round(_WHOLE * CLEAN_SHARE):
            return {}
        mix = dict.fromkeys(chosen, float(_WHOLE - clean))
        mix[CLEAN] = float(clean * max(len(chosen), 1))
        return {kind: weight for kind, weight in mix.items() if weight}

    def _chosen_kinds(self) -> list[str]:
        items = (self.kinds.item(row) for row in range(self.kinds.count()))
        return [item.text() for item in items if item.checkState() is Qt.CheckState.Checked]

    def _ask_for_files(self) -> None:
        if paths := dialogs.files_to_open(self, "Routes for a drill, or a drill.toml with cases of your own"):
            self.choose_files(paths)

    def _difficulty(self) -> Difficulty:
        return list(DIFFICULTIES.values())[self.difficulty.currentIndex()]

    def _show_summary(self) -> None:
        self.summary.setText(self._difficulty().summary)

    def _show_files(self) -> None:
        is_own = bool(self.origin.currentIndex())
        self.files_button.setVisible(is_own)
        self.files.setText(listing([Path(path).name for path in self.paths]) or "none chosen yet")
        self.files.setVisible(is_own)
        self.changed.emit()

    def _lay_out(self) -> None:
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.addRow("&Name", self.name)
        form.addRow(_name_field("&Routes of", self.origin), _in_row(self.origin, self.files_button))
        form.addRow("", self.files)
        form.addRow(_name_field("N&umber", self.count), _in_row(self.count, None))
        form.addRow(_name_field("&Difficulty", self.difficulty), _in_row(self.difficulty, self.summary))
        form.addRow("&Kinds of error", self.kinds)
        form.addRow(_name_field("C&lean", self.clean), _in_row(self.clean, PlainLabel("without an error"), None))
        told = PlainLabel("the same seed, the same drill")
        form.addRow(_name_field("&Seed", self.seed), _in_row(self.seed, self.seed_button, told, None))
        self._show_summary()
        for button in (self.files_button, self.seed_button):
            button.setAutoDefault(False)


_WHOLE = 100


class _KindList(QListWidget):
    """Some kinds at a time; the others are a scroll away."""

    def sizeHint(self) -> QSize:  # noqa: N802
        """So many rows."""
        return QSize(super().sizeHint().width(), _KIND_ROWS * self.sizeHintForRow(0) + 2 * self.frameWidth())

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """Half of them at least."""
        return QSize(super().minimumSizeHint().width(), self.sizeHint().height() // 2)


def _make_kind_list() -> QListWidget:
    kinds = _KindList()
    kinds.setAccessibleName("Kinds of error")
    for name in ERROR_KINDS:
        item = QListWidgetItem(name)
        item.setCheckState(Qt.CheckState.Checked)
        kinds.addItem(item)
    return kinds


def _name_field(text: str, field: QWidget) -> PlainLabel:
    label = PlainLabel(text)
    label.setBuddy(field)
    return label


def _in_row(*widgets: QWidget | None) -> QHBoxLayout:
    """Widgets side by side; None = what is left of the room."""
    row = QHBoxLayout()
    for widget in widgets:
        if widget is None:
            row.addStretch()
        else:
            row.addWidget(widget, isinstance(widget, ShrinkingLabel))
    return row


def _make_up_seed() -> int:
    return random.randrange(1, _SEEDS)
