"""A point is found by its name or position, by the keyboard alone; Esc goes back to the view before."""

import dataclasses
from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from routecheck.gui.picture.find_bar import FindBar
from routecheck.gui.window import MainWindow

Find = Callable[[str], FindBar]


@pytest.fixture
def find(qtbot: QtBot, window: MainWindow) -> Find:
    """Presses the shortcut, types and presses Enter."""

    def typed(text: str) -> FindBar:
        action = next(a for a in window.actions() if a.text().replace("&", "").startswith("Find a point"))
        assert action.shortcut().toString() == "Ctrl+F"
        action.trigger()
        assert window.picture.finder is not None
        bar = window.picture.finder.bar
        qtbot.keyClicks(bar.field, text)
        qtbot.keyClick(bar.field, Qt.Key.Key_Return)
        return bar

    return typed


def middle(window: MainWindow) -> tuple[float, float]:
    chart = window.picture.chart
    west, south, east, north = chart.seen()
    place = chart.picture.projection.back((west + east) / 2, (south + north) / 2)
    assert place is not None
    return place


def test_several_of_a_name_are_walked_through_and_esc_goes_back(qtbot: QtBot, window: MainWindow, find: Find) -> None:
    chart, before = window.picture.chart, window.picture.chart.seen()
    bar = find("tovik")
    assert [point.where for point in bar.found] == ["on the route", "41.0 NM 179°T from TOVIK"]
    assert middle(window) == pytest.approx((-30.105, 3.98), abs=0.01)
    qtbot.keyClick(bar.field, Qt.Key.Key_Down)
    assert middle(window) == pytest.approx((-30.79, 3.99), abs=0.01)
    assert [is_chosen for *_, is_chosen in chart.marks.found] == [False, True]
    qtbot.keyClick(bar.field, Qt.Key.Key_Escape)
    assert chart.seen() == pytest.approx(before)
    assert chart.follows
    assert chart.hasFocus() or chart.focusWidget() is not bar.field
    assert not bar.isVisible()
    assert not chart.marks.found


def test_a_view_that_was_moved_since_stays(qtbot: QtBot, window: MainWindow, find: Find) -> None:
    bar = find("31S002E")
    assert middle(window) == pytest.approx((-31.0, 2.0), abs=0.01)
    window.picture.chart.move_by(40.0, 0.0)
    moved = window.picture.chart.seen()
    qtbot.keyClick(window.picture.chart, Qt.Key.Key_Escape)
    assert not bar.isVisible()
    assert window.picture.chart.seen() == pytest.approx(moved)


def test_what_is_not_found_is_said_and_nothing_moves(window: MainWindow, find: Find) -> None:
    before = window.picture.chart.seen()
    bar = find("XYZZY")
    assert bar.said.text() == "Not found: no point “XYZZY” in the data in use, and no position."
    assert window.picture.chart.seen() == before


def test_without_a_route_the_map_opens_at_the_place(qtbot: QtBot, window: MainWindow, find: Find) -> None:
    empty = dataclasses.replace(window.session.route_input, route="", departure="", destination="")
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(empty)
    bar = find("erdam")
    assert middle(window) == pytest.approx((-31.32, 0.94), abs=0.01)
    assert window.picture.chart.picture.box is not None
    qtbot.keyClick(bar.field, Qt.Key.Key_Escape)
    assert window.picture.chart.picture.box is None
