"""The strip: runways, approach, wind and Aircraft sheet are part of the route; what cannot be read is said and kept."""

import dataclasses
import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest
from full_input import FULL_INPUT
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from routecheck.gui.window import MainWindow
from routecheck.model import AircraftSheet, RouteInput, Wind
from routecheck.reading.input_fields import INPUT_FIELDS
from routecheck.settings import save_sheet

pytestmark = pytest.mark.usefixtures("without_charts")

Open = Callable[..., MainWindow]


def type_into(qtbot: QtBot, window: MainWindow, name: str, text: str) -> None:
    field = window.flight_fields.fields[name]
    field.setFocus()
    field.selectAll()
    with qtbot.waitSignal(window.session.assessed):
        qtbot.keyClicks(field, text)
        qtbot.keyClick(field, Qt.Key.Key_Return)


TYPED = [
    ("departure_runway", "27r", "27R"),
    ("destination_runway", "09", "09"),
    ("approach", "i27", "I27"),
    ("approach", "ils 09", "I09"),
    ("level", "fl350", "F350"),
    ("speed", ".78", "M078"),
    ("off_block", "01feb27", dt.date(2027, 2, 1)),
    ("alternate", "xvma xvqz", ("XVMA", "XVQZ")),
    ("wind", "280/45", (Wind(280, 45),)),
    ("wind", "f350 280/45, f240 270/30", (Wind(280, 45, "F350"), Wind(270, 30, "F240"))),
]


def test_what_is_typed_beside_the_text_is_part_of_the_route(qtbot: QtBot, window: MainWindow) -> None:
    for name, typed, value in TYPED:
        type_into(qtbot, window, name, typed)
        assert getattr(window.session.route_input, name) == value
        assert window.session.route_input.typed == ()


def test_a_wind_that_is_none_is_marked_and_told_when_it_is_typed(qtbot: QtBot, window: MainWindow) -> None:
    field = window.flight_fields.fields["wind"]
    field.setFocus()
    qtbot.keyClicks(field, "280/4x")
    assert not field.property("unread")
    assert window.status.message.text() == ""
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert field.property("unread")
    assert window.status.message.text().startswith(
        "“280/4x” is no wind: it is written 280/45 (from degrees true, knots)"
    )
    assert window.status.message.text().endswith("No wind is used.")
    assert window.session.route_input.wind == ()
    qtbot.keyClick(field, Qt.Key.Key_Backspace)
    assert not field.property("unread")
    assert window.session.route_input.wind == (Wind(280, 4),)
    assert window.status.message.text() == ""


def test_a_level_that_is_none_is_framed_and_a_finding(qtbot: QtBot, window: MainWindow) -> None:
    type_into(qtbot, window, "level", "F35O")
    assert window.flight_fields.fields["level"].property("unread")
    answer = window.session.answer
    assert answer is not None
    messages = [one.message for one in answer.assessment.findings if one.check == "field-unread"]
    assert len(messages) == 1
    assert "“F35O” is no level" in messages[0]
    assert "1 value not used: level." in answer.how_much


def test_nothing_typed_is_lost_with_a_restart_a_save_or_a_correction(
    qtbot: QtBot, opened: Open, tmp_path: Path
) -> None:
    first = opened()
    type_into(qtbot, first, "wind", "280/4x")
    type_into(qtbot, first, "off_block", "2026-13-40")
    first.session.select_finding(0)
    with qtbot.waitSignal(first.session.assessed):
        first.corrections.apply_selected()
    assert first.files.save(tmp_path / "a.route.toml")
    first.close()
    for path in (None, str(tmp_path / "a.route.toml")):
        again = opened(path)
        assert [again.flight_fields.fields[name].text() for name in ("wind", "off_block")] == ["280/4x", "2026-13-40"]
        again.close()


def test_a_wind_finer_than_its_text_stays_as_it_is_while_others_are_typed(qtbot: QtBot, window: MainWindow) -> None:
    fine = (Wind(281.25, 45.125),)
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(dataclasses.replace(window.session.route_input, wind=fine))
    type_into(qtbot, window, "level", "F370")
    assert window.session.route_input.wind == fine


def test_the_aircraft_sheet_is_chosen_by_name(qtbot: QtBot, opened: Open) -> None:
    save_sheet(AircraftSheet("Ours", ceiling_ft=30_000.0))
    window = opened()
    box = window.flight_fields.sheet
    shown = [box.itemText(i) for i in range(box.count())]
    assert shown[:2] == ["none", "Ours"]
    assert "Medium jet (typical)" in shown
    with qtbot.waitSignal(window.session.assessed):
        box.setCurrentIndex(box.findData("Ours"))
    assert window.session.route_input.aircraft_sheet == "Ours"
    assert window.session.answer is not None
    assert "above-ceiling" in [f.check for f in window.session.answer.assessment.findings]


def test_a_sheet_that_is_not_there_is_shown_and_kept(qtbot: QtBot, window: MainWindow) -> None:
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(dataclasses.replace(window.session.route_input, aircraft_sheet="Balloon"))
    assert window.flight_fields.sheet.currentText() == "Balloon (not there)"
    type_into(qtbot, window, "level", "F370")
    assert window.session.route_input.aircraft_sheet == "Balloon"


def test_every_field_shows_its_value_and_gives_it_back(qtbot: QtBot, window: MainWindow) -> None:
    shown = [field for field in INPUT_FIELDS if field.label]
    assert len(shown) >= 12
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(FULL_INPUT)
    assert [one for one in shown if one.kind.is_typed and not window.flight_fields.fields[one.name].text()] == []
    bare = window.flight_fields.apply_to(RouteInput("LENDU"))
    assert [one.name for one in shown if getattr(bare, one.name) != getattr(FULL_INPUT, one.name)] == []
    window.session.replace_input(RouteInput("LENDU"))
    assert window.flight_fields.apply_to(FULL_INPUT) == dataclasses.replace(
        FULL_INPUT, **{one.name: getattr(RouteInput(""), one.name) for one in shown}
    )


@pytest.mark.usefixtures("dressed")
def test_the_strip_wraps_and_nothing_of_it_is_cut_off(qtbot: QtBot, window: MainWindow) -> None:
    strip = window.flight_fields
    boxes = [strip.role, strip.sheet, *strip.fields.values()]
    heights = []
    for width in (1900, 1400, 1200, 1000):
        window.resize(width, 700)
        qtbot.waitUntil(lambda: strip.isVisible() and window.width() == width)  # noqa: B023
        for box in boxes:
            assert strip.rect().contains(box.mapTo(strip, box.rect().topLeft()))
            assert strip.rect().contains(box.mapTo(strip, box.rect().bottomRight()))
        for name in ("speed", "level", "off_block"):
            field = strip.fields[name]
            assert field.fontMetrics().horizontalAdvance(field.text()) <= field.contentsRect().width() - 14
        heights.append(strip.height())
    assert heights[0] < heights[-1]


def test_a_level_is_not_judged_half_typed(qtbot: QtBot, window: MainWindow) -> None:
    """While it is typed nothing is said of it, and no verdict either; it is once the field is left."""
    level, seen = window.flight_fields.fields["level"], []
    window.session.assessed.connect(lambda answer: seen.append(answer.assessment.route.route_input.typed))
    level.selectAll()
    qtbot.keyClicks(level, "F3")
    assert not level.property("unread")
    assert not window.session.is_answer_current
    qtbot.wait(60)
    assert seen == []
    with qtbot.waitSignal(window.session.assessed):
        qtbot.keyClicks(level, "70")
    assert seen == [()]
    qtbot.keyClick(level, Qt.Key.Key_Backspace)
    with qtbot.waitSignal(window.session.assessed, timeout=500):
        qtbot.keyClick(level, Qt.Key.Key_Return)
    assert level.property("unread")
    assert seen[-1] == (("level", "F37"),)
