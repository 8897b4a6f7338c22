"""Asks for the other version of a route: pasted, typed or opened from a file, and what it is."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QFormLayout,
    QPlainTextEdit,
    QVBoxLayout,
)

from routecheck.gui.group_dialog import ask_group
from routecheck.gui.open_files import read_route
from routecheck.gui.widgets.labels import WrappingLabel
from routecheck.model import Role
from routecheck.reading.input_fields import INPUT_FIELDS, is_given
from routecheck.reading.input_format import ReadingChoices
from routecheck.reading.inputs import read_input

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.gui.session import Session
    from routecheck.model import RouteInput

WHAT_IT_IS_FOR = "Paste the route as cleared, filed or read back. Both versions are drawn, every difference is named."
_OF_THE_VERSION = frozenset({"route", "role", "title", "claims", "accepted", "changed", "expect", "other"})
"""What is never taken from the route in hand; all else is, where the other version is a text that is a route alone."""


class OtherVersionDialog(QDialog):
    """Gives the other version to `take` when it can be read."""

    def __init__(self, parent: QWidget, session: Session, take: Callable[[RouteInput], object]) -> None:
        super().__init__(parent)
        self._here, self._take = session.route_input, take
        self._reader = session.reader
        self._opened: RouteInput | None = None
        self.setWindowTitle("Compare with another version")
        self.text = QPlainTextEdit()
        self.text.setAccessibleName("The other version")
        self.text.setTabChangesFocus(True)
        self.text.setMinimumSize(self.fontMetrics().averageCharWidth() * 70, self.fontMetrics().height() * 7)
        self.role = QComboBox()
        for role in Role:
            self.role.addItem(role.value if role is Role.NOT_SAID else f"as {role.value}", role)
        self.role.setCurrentIndex(self.role.findData(_usual_role(self._here.role)))
        self.trouble = WrappingLabel()
        self.trouble.hide()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.compare_button = self.buttons.addButton("Compare", QDialogButtonBox.ButtonRole.AcceptRole)
        open_button = self.buttons.addButton("Open a file…", QDialogButtonBox.ButtonRole.ActionRole)
        open_button.clicked.connect(self._ask_file)
        self.buttons.accepted.connect(lambda: self.compare())
        self.buttons.rejected.connect(self.reject)
        self._lay_out()

    def open_file(self, path: str, group: str = "") -> None:
        """Take the first route of a file once it is read; of a message of several routes it is asked which."""

        def take(read: tuple[RouteInput, str]) -> None:
            if not self._ask_group(read[0], partial(self.open_file, path)):
                self._show_opened(read)

        self._reader.read(partial(read_route, path, group), take, lambda why: self._say(f"Not opened. {why}"))

    def compare(self, group: str = "") -> None:
        """Hand on the version once it is read, or say why it is none; of several routes it is asked which."""
        text = self.text.toPlainText()
        if self._opened is not None and text == self._opened.route:
            self._take_version([self._opened])
            return

        def take(inputs: list[RouteInput]) -> None:
            if not (inputs and self._ask_group(inputs[0], self.compare)):
                self._take_version(inputs)

        choices = ReadingChoices(group=group)
        self._reader.read(lambda: list(read_input(text.encode(errors="replace"), "", None, choices)), take, self._say)

    def done(self, result: int) -> None:
        """Close; what is still being read is not wanted any more."""
        self._reader.drop()
        super().done(result)

    def _ask_group(self, read: RouteInput, read_group: Callable[[str], None]) -> bool:
        """Ask which of several routes is meant, if it is so; `read_group` is called with its name."""
        if read.groups:
            ask_group(self, read, read_group)
        return bool(read.groups)

    def _show_opened(self, read: tuple[RouteInput, str]) -> None:
        self._opened, more = read
        self.text.setPlainText(self._opened.route)
        self._say(more)

    def _take_version(self, inputs: list[RouteInput]) -> None:
        if len(inputs) != 1:
            self._say(f"There are {len(inputs)} routes in it: keep the one to compare with.")
        elif inputs[0].unread:
            self._say(f"It cannot be compared: {inputs[0].unread}.")
        else:
            self._take(self._complete_version(inputs[0]))
            self.accept()

    def _complete_version(self, version: RouteInput) -> RouteInput:
        """The version with its role, and where it is a text alone, what stands beside the route in hand."""
        beside = [field for field in INPUT_FIELDS if field.name not in _OF_THE_VERSION]
        is_text_alone = not any(is_given(version, field) for field in beside)
        here = {field.name: getattr(self._here, field.name) for field in beside} if is_text_alone else {}
        role = Role(self.role.currentData()) if version.role is Role.NOT_SAID else version.role
        return replace(version, **here, role=role, other=None)

    def _ask_file(self) -> None:
        path, _ = QFileDialog.getOpenFileName(self, "Open the other version")
        if path:
            self.open_file(path)

    def _say(self, sentence: str) -> None:
        self.trouble.setText(sentence)
        self.trouble.setVisible(bool(sentence))

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.addRow("The other version &is", self.role)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        column.setSpacing(10)
        column.addWidget(WrappingLabel(WHAT_IT_IS_FOR))
        column.addWidget(self.text, 1)
        column.addLayout(form)
        column.addWidget(self.trouble)
        column.addWidget(self.buttons)


def _usual_role(here: Role) -> Role:
    """What a route is usually compared with: what was cleared."""
    return Role.FILED if here is Role.CLEARED else Role.CLEARED
