"""What another runway changes is said at once in the Margin, once it is typed whole, until it is seen."""

import dataclasses

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from routecheck.gui.window import MainWindow

ROUTE = "LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2"


@pytest.fixture
def flown(qtbot: QtBot, window: MainWindow) -> MainWindow:
    route_input = dataclasses.replace(
        window.session.route_input, route=ROUTE, departure_runway="09", destination_runway="27"
    )
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(route_input)
    return window


def press(qtbot: QtBot, window: MainWindow, name: str, key: Qt.Key) -> None:
    with qtbot.waitSignal(window.session.assessed):
        qtbot.keyClick(window.flight_fields.fields[name], key)


def retype(qtbot: QtBot, window: MainWindow, name: str, text: str) -> list[bool]:
    """Type over a field key by key; whether the box was there after each."""
    window.flight_fields.fields[name].setFocus()
    window.flight_fields.fields[name].selectAll()
    seen = []
    for key in (Qt.Key.Key_Backspace, *(Qt.Key(ord(letter)) for letter in text)):
        press(qtbot, window, name, key)
        seen.append(window.runway_banner.isVisible())
    return seen


def test_it_is_said_at_once_and_not_while_half_a_runway_is_typed(qtbot: QtBot, flown: MainWindow) -> None:
    assert not flown.runway_banner.isVisible()
    assert retype(qtbot, flown, "destination_runway", "09") == [False, False, True]
    said = flown.runway_banner.text.text()
    assert "Destination XVOR: runway 09, was 27." in said
    assert "HUNSA–TAMPU 189°M" in said
    assert "Look again at SARNO2" in said


def test_seen_takes_it_away_and_the_next_change_counts_from_what_was_typed_last(
    qtbot: QtBot, flown: MainWindow
) -> None:
    retype(qtbot, flown, "destination_runway", "09")
    qtbot.keyClick(flown.flight_fields.fields["destination_runway"], Qt.Key.Key_Return)
    assert flown.runway_banner.isVisible()
    qtbot.waitUntil(lambda: not flown.runway_banner.seen_button.visibleRegion().isEmpty())
    qtbot.mouseClick(flown.runway_banner.seen_button, Qt.MouseButton.LeftButton)
    assert not flown.runway_banner.isVisible()
    retype(qtbot, flown, "destination_runway", "22")
    assert "runway 22, was 09" in flown.runway_banner.text.text()


def test_the_old_runway_typed_again_takes_it_back(qtbot: QtBot, flown: MainWindow) -> None:
    assert retype(qtbot, flown, "destination_runway", "09")[-1]
    assert not retype(qtbot, flown, "destination_runway", "27")[-1]


def test_a_cleared_field_counts_when_it_is_left(qtbot: QtBot, flown: MainWindow) -> None:
    assert retype(qtbot, flown, "departure_runway", "") == [False]
    qtbot.keyClick(flown.flight_fields.fields["departure_runway"], Qt.Key.Key_Return)
    assert "runway not stated, was 09" in flown.runway_banner.text.text()
    assert flown.runway_banner.isVisible()


def test_another_route_is_no_change_of_runway(qtbot: QtBot, flown: MainWindow) -> None:
    retype(qtbot, flown, "destination_runway", "09")
    with qtbot.waitSignal(flown.session.assessed):
        flown.text.insertPlainText("XXXXX ")
    assert not flown.runway_banner.isVisible()


@pytest.mark.usefixtures("dressed")
def test_nothing_of_it_is_cut_off(qtbot: QtBot, flown: MainWindow) -> None:
    flown.resize(1000, 700)
    retype(qtbot, flown, "destination_runway", "09")
    qtbot.wait(30)
    label = flown.runway_banner.text
    assert label.height() >= label.heightForWidth(label.width())
    assert flown.margin.rect().contains(flown.runway_banner.geometry())
    assert flown.margin.findings.height() > 60
