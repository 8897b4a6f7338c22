"""Files and pasted texts are read beside the window: nothing waits for them, and the newest wins."""

import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QCoreApplication
from pytestqt.qtbot import QtBot

from routecheck.gui import open_files
from routecheck.gui.input_reader import InputReader
from routecheck.gui.window import MainWindow

pytestmark = pytest.mark.usefixtures("without_charts")

SLOW_S = 20.0


@pytest.fixture
def stuck(monkeypatch: pytest.MonkeyPatch) -> threading.Event:
    """No file can be read to its end until this is set."""
    goes_on, read = threading.Event(), open_files.read_route

    def wait_and_read(*given: Any) -> Any:
        goes_on.wait(SLOW_S)
        return read(*given)

    monkeypatch.setattr(open_files, "read_route", wait_and_read)
    return goes_on


@pytest.fixture
def route_file(tmp_path: Path) -> str:
    path = tmp_path / "other.txt"
    path.write_text("LENDU DCT TOVIK")
    return str(path)


def test_a_file_that_takes_long_holds_nothing_up(
    qtbot: QtBot, window: MainWindow, stuck: threading.Event, route_file: str
) -> None:
    begun = time.monotonic()
    window.open_route(route_file)
    with qtbot.waitSignal(window.session.assessed):
        window.text.insertPlainText("PIKAR ")
    qtbot.waitUntil(lambda: window.status.message.text() == "It is still being read …")
    assert time.monotonic() - begun < SLOW_S / 2
    with qtbot.waitSignal(window.session.assessed):
        stuck.set()
    assert window.text.toPlainText() == "LENDU DCT TOVIK"
    assert window.status.message.text() == ""


@pytest.mark.parametrize("turn_away", [MainWindow.open_demo, MainWindow.start_new_route, MainWindow.close])
def test_who_turns_to_something_else_is_not_brought_back(
    qtbot: QtBot,
    window: MainWindow,
    stuck: threading.Event,
    route_file: str,
    turn_away: Callable[[MainWindow], object],
) -> None:
    window.open_route(route_file)
    turn_away(window)
    before = window.text.toPlainText()
    stuck.set()
    qtbot.wait(50)
    assert window.text.toPlainText() == before != "LENDU DCT TOVIK"


def test_a_mistake_of_ours_is_said_and_logged(qtbot: QtBot, caplog: pytest.LogCaptureFixture) -> None:
    reader, said = InputReader(QCoreApplication.instance()), []
    reader.read(lambda: 1 // 0, said.append, said.append)
    qtbot.waitUntil(lambda: bool(said))
    assert said[0].startswith("Our mistake, told in ")
    assert "ZeroDivisionError" in caplog.text
