"""Where the panes stand and how the keyboard goes through them, at any size of window and text."""

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from routecheck.gui.window import MainWindow


def test_the_keyboard_begins_in_the_text_and_tab_goes_on_to_the_findings(qtbot: QtBot, window: MainWindow) -> None:
    assert window.focusWidget() is window.text
    role = window.flight_fields.role.currentText()
    qtbot.keyClicks(window.focusWidget(), "F")
    assert (window.flight_fields.role.currentText(), "F" in window.text.toPlainText()) == (role, True)
    window.flight_fields.last_field.setFocus()
    qtbot.keyClick(window.flight_fields.last_field, Qt.Key.Key_Tab)
    assert window.focusWidget() is window.text
    qtbot.keyClick(window.text, Qt.Key.Key_Tab)
    assert window.focusWidget() is window.margin.findings
    window.flight_fields.take_focus()
    assert window.focusWidget() is window.flight_fields.fields["departure"]
