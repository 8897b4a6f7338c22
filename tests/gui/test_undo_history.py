"""Undo takes back the last change of the window, wherever it was made; redo makes it again."""

from dataclasses import replace

import pytest
from flawed_routes import A_TENTH, NOT_SERVED
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from routecheck.gui.window import MainWindow
from routecheck.model import AltitudeWindow, Role, RouteInput

pytestmark = pytest.mark.usefixtures("without_charts")


def press_undo(window: MainWindow) -> None:
    QTest.keyClick(window.focusWidget() or window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)


def test_text_fields_and_choices_are_taken_back_in_their_order(qtbot: QtBot, window: MainWindow) -> None:
    window.activateWindow()
    session, fields = window.session, window.flight_fields.fields
    session.replace_input(RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR", level="F350"))
    states = [session.route_input]
    window.text.moveCursor(window.text.textCursor().MoveOperation.End)
    for change in (
        lambda: qtbot.keyClicks(window.text, " DCT TOVIK"),
        lambda: (fields["level"].selectAll(), qtbot.keyClicks(fields["level"], "F370")),
        lambda: qtbot.keyClicks(window.text, " DCT SARNO"),
        lambda: window.flight_fields.role.setCurrentIndex(window.flight_fields.role.findData(Role.CLEARED)),
        lambda: session.change_input(replace(session.route_input, windows=(AltitudeWindow("PIKAR", 9_000.0, None),))),
        lambda: session.change_input(replace(session.route_input, other=RouteInput("LENDU", role=Role.FILED))),
        window.start_new_route,
    ):
        change()
        states.append(session.route_input)
    assert len(set(states)) == len(states)
    fields["level"].setFocus()  # the key of a field takes back the last change of all, not that of the field
    for before in reversed(states[:-1]):
        press_undo(window)
        assert session.route_input == before
        assert (window.text.toPlainText(), fields["level"].text()) == (before.route, before.level)
    press_undo(window)
    assert session.route_input == states[0]
    for after in states[1:]:
        window.history.redo()
        assert session.route_input == after


def test_a_change_made_beside_the_text_is_taken_back_with_its_record(qtbot: QtBot, window: MainWindow) -> None:
    for given in (NOT_SERVED, A_TENTH):
        with qtbot.waitSignal(window.session.assessed):
            window.session.replace_input(given)
        window.session.select_finding(0)
        window.corrections.apply_selected()
        changed = window.session.route_input
        assert len(changed.changed) == 1
        window.history.undo()
        assert window.session.route_input == given
        assert window.corrections.changes == ()
        window.history.redo()
        assert window.session.route_input == changed
