"""The list of names under a word: it never takes a key that is meant for the text."""

import dataclasses

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from routecheck.gui.window import MainWindow

pytestmark = pytest.mark.usefixtures("without_charts")

Key = Qt.Key
BEFORE = "LENDU DCT PIKAR DCT"


@pytest.fixture
def typing(qtbot: QtBot, window: MainWindow) -> MainWindow:
    """The window with the cursor behind a route."""
    window.activateWindow()
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(dataclasses.replace(window.session.route_input, route=BEFORE))
    window.text.moveCursor(window.text.textCursor().MoveOperation.End)
    return window


def press(window: MainWindow, keys: str = "", *more: Key) -> str:
    QTest.keyClicks(window.text, keys)
    for key in more:
        QTest.keyClick(window.text, key)
    return window.text.toPlainText()[len(BEFORE) :]


def test_the_list_takes_what_was_chosen_and_nothing_else(typing: MainWindow) -> None:
    window, completer = typing, typing.text.completer
    assert press(window, " to") == " to"
    assert completer.is_open
    assert not completer.view.currentIndex().isValid()
    assert press(window, "", Key.Key_Return) == " to\n"  # nothing was chosen: the key is the text's
    assert not completer.is_open
    press(window, "", Key.Key_Backspace)

    assert press(window, "L", Key.Key_Down, Key.Key_Return) == " TOLGI"
    assert not completer.is_open
    window.history.undo()  # one step for the name, and what was typed is there again
    assert window.text.toPlainText() == BEFORE + " toL"
    assert not completer.is_open
    window.history.redo()

    assert press(window, " SAR", Key.Key_Down, Key.Key_Down, Key.Key_Tab) == " TOLGI SARNO"
    assert press(window, " DCT") == " TOLGI SARNO DCT"
    assert window.text.hasFocus()


def test_a_row_is_taken_with_the_mouse_too(qtbot: QtBot, typing: MainWindow) -> None:
    completer = typing.text.completer
    press(typing, " SAR")
    spot = completer.view.visualRect(completer.model.index(1, 0)).center()
    qtbot.mouseClick(completer.view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert press(typing, " DCT") == " SARNO DCT"


def test_esc_the_end_of_a_word_and_other_places_close_it(typing: MainWindow) -> None:
    window, completer = typing, typing.text.completer
    for how in (Key.Key_Escape, Key.Key_Space, Key.Key_Home):
        press(window, " SAR")
        assert completer.is_open
        press(window, "", how)
        assert not completer.is_open
        press(window, "", Key.Key_End)
    press(window, " PIK")
    assert completer.is_open
    QTest.keyClick(window.text, Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    press(window, "", Key.Key_Tab)
    assert not completer.is_open
    assert not window.text.hasFocus()


def test_what_is_pasted_or_undone_opens_nothing(typing: MainWindow) -> None:
    window, completer = typing, typing.text.completer
    window.text.insertPlainText(" SAR")
    assert not completer.is_open
    press(window, "N")
    assert completer.is_open
    window.history.undo()
    assert not completer.is_open
