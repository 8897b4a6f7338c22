"""The next flight: nothing of the last one survives unseen, and undo brings all of it back."""

import dataclasses
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, Qt
from pytestqt.qtbot import QtBot

from routecheck.gui import persistence
from routecheck.gui.window import MainWindow
from routecheck.model import AltitudeWindow, Change, Claim, Role, RouteInput
from routecheck.navdata import store

pytestmark = pytest.mark.usefixtures("without_charts")

Open = Callable[..., MainWindow]
LAST = RouteInput(
    "LENDU DCT PIKAR UM12 TOVIK",
    departure="XVAL",
    destination="XVOR",
    departure_runway="09",
    destination_runway="27",
    alternate=("XVMA",),
    speed="N0430",
    level="F350",
    role=Role.CLEARED,
    claims=(Claim("PIKAR", distance_nm=94.0),),
    windows=(AltitudeWindow("PIKAR", None, 11_000.0),),
    changed=(Change("PIKOR", "PIKAR", 10),),
)
NEXT = "ULDET DCT ANDOS"


@pytest.fixture
def flown(qtbot: QtBot, window: MainWindow) -> MainWindow:
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(LAST)
    return window


def paste(qtbot: QtBot, window: MainWindow, text: str) -> None:
    pasted = QMimeData()
    pasted.setText(text)
    window.text.insertFromMimeData(pasted)


def of_the_last_flight(route_input: RouteInput) -> list[object]:
    names = ("departure_runway", "destination_runway", "approach", "alternate", "claims", "windows", "changed")
    return [getattr(route_input, name) for name in names if getattr(route_input, name)]


def test_a_text_pasted_over_the_last_clears_what_belonged_to_it(qtbot: QtBot, flown: MainWindow) -> None:
    flown.text.selectAll()
    paste(qtbot, flown, NEXT)
    now = flown.session.route_input
    assert now.route == NEXT
    assert of_the_last_flight(now) == []
    assert (now.departure, now.destination, now.speed, now.role) == ("XVAL", "XVOR", "N0430", Role.CLEARED)
    fields = flown.flight_fields.fields
    assert fields["departure_runway"].text() == fields["alternate"].text() == ""
    kept = (
        "Beside the new text stand as before: departure XVAL, destination XVOR, speed N0430, level F350 and the text is"
    )
    assert flown.status.message.text().startswith(f"{kept} cleared.")
    qtbot.keyClicks(flown.text, " ")
    assert flown.status.message.text() == "", "said once, not at every key"
    assert not flown.changes.isVisible()


def test_undo_brings_back_all_of_it_and_redo_takes_it_again(qtbot: QtBot, flown: MainWindow) -> None:
    flown.text.selectAll()
    paste(qtbot, flown, NEXT)
    flown.text.undo()
    assert flown.session.route_input == LAST
    assert flown.flight_fields.fields["destination_runway"].text() == "27"
    flown.text.redo()
    assert flown.session.route_input.route == NEXT
    assert of_the_last_flight(flown.session.route_input) == []
    flown.text.undo()
    assert flown.session.route_input == LAST


def test_typing_over_the_whole_text_clears_it_too(qtbot: QtBot, flown: MainWindow) -> None:
    flown.text.selectAll()
    qtbot.keyClicks(flown.text, "ULDET")
    assert of_the_last_flight(flown.session.route_input) == []
    flown.text.undo()
    assert flown.session.route_input == LAST


def test_emptying_the_text_first_is_no_way_around(qtbot: QtBot, flown: MainWindow) -> None:
    flown.text.selectAll()
    qtbot.keyClick(flown.text, Qt.Key.Key_Delete)
    assert flown.session.route_input == dataclasses.replace(LAST, route="")
    flown.flight_fields.fields["departure_runway"].setFocus()
    flown.flight_fields.fields["departure_runway"].selectAll()
    qtbot.keyClicks(flown.flight_fields.fields["departure_runway"], "27")
    paste(qtbot, flown, NEXT)
    now = flown.session.route_input
    assert now.departure_runway == "27", "typed for the next flight"
    assert of_the_last_flight(now) == ["27"]


@pytest.mark.parametrize("at_end", [True, False])
def test_what_is_pasted_into_a_text_clears_nothing(qtbot: QtBot, flown: MainWindow, at_end: bool) -> None:
    cursor = flown.text.textCursor()
    cursor.movePosition(cursor.MoveOperation.End if at_end else cursor.MoveOperation.Start)
    flown.text.setTextCursor(cursor)
    paste(qtbot, flown, " SARNO ")
    assert flown.session.route_input.departure_runway == "09"
    assert flown.session.route_input.claims == LAST.claims


def test_a_correction_of_the_only_word_is_no_next_flight(qtbot: QtBot, window: MainWindow) -> None:
    one_word = dataclasses.replace(LAST, route="PIKUR", changed=())
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(one_word)
    proposals = [p for i in range(3) for p in window.corrections.proposals_for(i) if p.span is not None]
    window.corrections.apply_proposal(proposals[0])
    assert window.session.route_input.departure_runway == "09"
    window.text.undo()
    assert window.session.route_input.departure_runway == "09"
    assert window.session.route_input.route == "PIKUR"


def test_new_route_empties_text_and_strip_and_undo_brings_them_back(qtbot: QtBot, flown: MainWindow) -> None:
    flown.start_new_route()
    assert flown.session.route_input == RouteInput("")
    assert all(not line.text() for line in flown.flight_fields.fields.values())
    assert flown.flight_fields.role.currentData() == Role.NOT_SAID
    assert flown.text.hasFocus() or not flown.isActiveWindow()
    flown.saver.wait()
    assert persistence.read_route(persistence.ROUTE_BEFORE) == LAST
    flown.text.undo()
    assert flown.session.route_input == LAST
    flown.text.redo()
    assert flown.session.route_input == RouteInput("")


def test_new_route_lets_go_of_the_file(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    file = tmp_path / "mine.route.toml"
    file.write_text('schema = 1\ndeparture = "XVAL"\nroute = "LENDU DCT TOVIK"\n')
    window.open_route(str(file))
    qtbot.waitUntil(lambda: window.files.path is not None)
    window.start_new_route()
    assert window.files.path is None


def test_new_route_clears_fields_beside_no_text_as_well(window: MainWindow) -> None:
    window.session.replace_input(dataclasses.replace(LAST, route=""))
    window.start_new_route()
    assert window.session.route_input == RouteInput("")


def test_an_edit_of_the_session_keeps_what_the_window_has_no_field_for(qtbot: QtBot, window: MainWindow) -> None:
    route_input = dataclasses.replace(
        window.session.route_input, alternate=("XVMA",), remarks=("Wind is not used yet.",)
    )
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(route_input)
    window.text.moveCursor(window.text.textCursor().MoveOperation.End)
    with qtbot.waitSignal(window.session.assessed):
        qtbot.keyClicks(window.text, "X")
    assert window.session.route_input.alternate == ("XVMA",)
    assert "Wind is not used yet." in window.status.recognised.text()


# ---- the first start


@pytest.fixture
def excerpt(test_data: Path) -> Path:
    return test_data / "faa_cifp_2301_northeast.txt.xz"


def test_the_first_start_after_data_was_added_is_an_empty_route_on_it(
    qtbot: QtBot, opened: Open, excerpt: Path
) -> None:
    store.add_file(excerpt)
    window = opened()
    assert window.session.route_input == RouteInput("")
    assert not window.data.is_demo
    assert window.session.answer is not None
    assert [one.name for one in window.session.answer.assessment.route.resolved.sources] == [excerpt.name]


def test_the_demo_route_as_it_came_does_not_come_back_once_there_is_data(opened: Open, excerpt: Path) -> None:
    opened().close()
    store.add_file(excerpt)
    window = opened()
    assert window.session.route_input == RouteInput("")
    assert not window.data.is_demo


def test_the_last_route_comes_back_on_the_data_that_was_added(opened: Open, excerpt: Path) -> None:
    store.add_file(excerpt)
    persistence.write_route(LAST)
    assert opened().session.route_input == LAST


def test_without_data_it_is_the_demo(window: MainWindow) -> None:
    assert "PIKOR" in window.session.route_input.route
    assert window.data.is_demo
