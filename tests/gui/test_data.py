"""Navigation data in the window: added for good, listed, removed, stopped; the invented region when asked for."""

import threading
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from routecheck.gui import open_files
from routecheck.gui.window import MainWindow
from routecheck.model import RouteInput
from routecheck.navdata import store

pytestmark = pytest.mark.usefixtures("without_charts")

Open = Callable[..., MainWindow]
NORTHEAST = "faa_cifp_2301_northeast.txt.xz"
DEMO = "Use the invented demo region"


def sources(window: MainWindow) -> list[str]:
    assert window.session.answer is not None
    return [source.name for source in window.session.answer.assessment.route.resolved.sources]


def add(qtbot: QtBot, window: MainWindow, file: Path) -> None:
    with qtbot.waitSignal(window.session.data_loaded, timeout=60_000), qtbot.waitSignal(window.session.assessed):
        window.data.add_files([str(file)])
    qtbot.waitUntil(lambda: sources(window) == [file.name], timeout=20_000)


def test_added_data_is_there_at_the_next_start_and_the_other_is_offered_where_it_fits(
    qtbot: QtBot, opened: Open, test_data: Path
) -> None:
    first = opened()
    add(qtbot, first, test_data / NORTHEAST)
    assert first.status.load_button.text() == DEMO  # for the demo route is still there
    first.close()
    window = opened()
    button = window.status.load_button
    assert sources(window) == [NORTHEAST]
    for text, offered in (("MERIT DCT PUT", ""), ("MERIT DCT QQQQQ", ""), ("LENDU DCT PIKAR UM12 TOVIK", DEMO)):
        with qtbot.waitSignal(window.session.assessed):
            window.session.replace_input(RouteInput(text))
        assert (button.text() if button.isVisible() else "") == offered
    button.click()
    qtbot.waitUntil(lambda: sources(window) == ["demo region"], timeout=20_000)
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(RouteInput("MERIT DCT PUT"))
    assert (button.isVisible(), button.text()) == (True, "Use the navigation data added")
    button.click()
    qtbot.waitUntil(lambda: sources(window) == [NORTHEAST], timeout=20_000)
    assert not button.isVisible()


def test_it_is_listed_with_its_dates_and_removed(qtbot: QtBot, window: MainWindow, test_data: Path) -> None:
    listed = window.data.show_window()
    assert not listed.remove_button.isEnabled()
    assert "invented" in listed.about.toPlainText()
    add(qtbot, window, test_data / NORTHEAST)
    assert [listed.list.item(i).text() for i in range(listed.list.count())] == [NORTHEAST]
    said = listed.about.toPlainText()
    for part in ("Cycle 2301, 26 JAN 2023 to 22 FEB 2023", "Not for today", "enroute fixes", "rejected"):
        assert part in said
    with qtbot.waitSignal(window.session.data_loaded, timeout=20_000):
        qtbot.mouseClick(listed.remove_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: sources(window) == ["demo region"])
    assert store.stored_files() == ()
    listed.reject()


def test_adding_can_be_stopped_and_changes_nothing(
    qtbot: QtBot, window: MainWindow, test_data: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    reached, go_on = threading.Event(), threading.Event()
    real = store.add_file

    def slow(path: str, *, progress: Callable[[float], None]) -> object:
        def told(share: float) -> None:
            reached.set()
            go_on.wait(5)
            progress(share)

        return real(path, progress=told)

    monkeypatch.setattr(store, "add_file", slow)
    listed = window.data.show_window()
    window.data.add_files([str(test_data / NORTHEAST)])
    qtbot.waitUntil(reached.is_set)
    qtbot.waitUntil(listed.stop_button.isVisible)
    assert listed.progress.isVisible()
    with qtbot.waitSignal(window.session.data_failed, timeout=10_000) as said:
        qtbot.mouseClick(listed.stop_button, Qt.MouseButton.LeftButton)
        go_on.set()
    assert "stopped" in said.args[0]
    assert store.stored_files() == ()
    assert sources(window) == ["demo region"]
    qtbot.waitUntil(lambda: not listed.stop_button.isVisible())
    assert not listed.progress.isVisible()
    assert "stopped" in listed.message.text()


def test_a_file_that_is_no_data_is_said_in_both_windows(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    noise = tmp_path / "noise.bin"
    noise.write_bytes(bytes(range(256)) * 9)
    listed = window.data.show_window()
    with qtbot.waitSignal(window.session.data_failed, timeout=10_000):
        window.data.add_files([str(noise)])
    for label in (listed.message, window.status.message):
        assert "noise.bin" in label.text()
    assert store.stored_files() == ()


def test_the_demo_route_brings_its_region_and_back(qtbot: QtBot, opened: Open, test_data: Path) -> None:
    window = opened()
    add(qtbot, window, test_data / NORTHEAST)
    window.open_demo()
    qtbot.waitUntil(lambda: sources(window) == ["demo region"], timeout=20_000)
    assert window.menu_actions.demo_data.isChecked()
    assert window.status.load_button.text() == "Use the navigation data added"
    window.status.load_button.click()
    qtbot.waitUntil(lambda: sources(window) == [NORTHEAST], timeout=20_000)
    assert not window.menu_actions.demo_data.isChecked()
    window.menu_actions.demo_data.trigger()
    qtbot.waitUntil(lambda: sources(window) == ["demo region"], timeout=20_000)


def test_another_route_gives_the_demo_region_back(qtbot: QtBot, opened: Open, test_data: Path, tmp_path: Path) -> None:
    window = opened()
    add(qtbot, window, test_data / NORTHEAST)
    window.open_demo()
    qtbot.waitUntil(lambda: sources(window) == ["demo region"], timeout=20_000)
    mine = tmp_path / "mine.txt"
    mine.write_text("MERIT DCT PUT", "utf-8")
    window.open_route(str(mine))
    qtbot.waitUntil(lambda: sources(window) == [NORTHEAST], timeout=20_000)


def test_data_for_this_session_is_forgotten(qtbot: QtBot, opened: Open, test_data: Path) -> None:
    first = opened()
    first.data.add_for_session([str(test_data / NORTHEAST)])
    qtbot.waitUntil(lambda: sources(first) == [NORTHEAST], timeout=30_000)
    assert isinstance(first.data.loader, open_files.DataFiles)
    first.close()
    assert sources(opened()) == ["demo region"]
