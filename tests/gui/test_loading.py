"""Loading navigation data holds nothing up: routes are assessed meanwhile, and any load can be stopped at once."""

import dataclasses
import os
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from routecheck.gui import app, data_loader, open_files
from routecheck.gui.session import Session
from routecheck.gui.window import MainWindow
from routecheck.model import RouteInput
from routecheck.navdata.database import NavDatabase, demo_database
from routecheck.settings import DataError

pytestmark = pytest.mark.usefixtures("without_charts")

Open = Callable[..., MainWindow]
Progress = Callable[[float], None]
AT_ONCE_S = 0.5


class HeldLoad:
    """A load that reads nothing and reports nothing until it is let go; then it brings the demo region."""

    def __init__(self) -> None:
        self.begun, self.go_on, self.ended = threading.Event(), threading.Event(), threading.Event()

    def __call__(self, _progress: Progress) -> NavDatabase:
        self.begun.set()
        self.go_on.wait(30)
        self.ended.set()
        return demo_database()


@pytest.fixture
def held() -> Iterator[HeldLoad]:
    load = HeldLoad()
    yield load
    load.go_on.set()


def start(qtbot: QtBot, window: MainWindow, load: HeldLoad) -> None:
    window.session.load_data(load)
    qtbot.waitUntil(load.begun.is_set)


def type_route(qtbot: QtBot, window: MainWindow, route: str) -> None:
    with qtbot.waitSignal(
        window.session.assessed, timeout=5000, check_params_cb=lambda a: a.assessment.route.route_input.route == route
    ):
        window.session.change_input(dataclasses.replace(window.session.route_input, route=route))


def test_routes_are_assessed_while_data_is_loaded(qtbot: QtBot, window: MainWindow, held: HeldLoad) -> None:
    start(qtbot, window, held)
    type_route(qtbot, window, "LENDU DCT PIKUR")
    assert any("PIKUR" in finding.message for finding in window.session.answer.assessment.findings)  # type: ignore[union-attr]
    assert window.session.is_answer_current
    with qtbot.waitSignal(window.session.data_loaded), qtbot.waitSignal(window.session.assessed):
        held.go_on.set()
    assert window.session.is_answer_current


def test_a_load_that_reports_nothing_is_stopped_at_once(qtbot: QtBot, window: MainWindow, held: HeldLoad) -> None:
    start(qtbot, window, held)
    qtbot.waitUntil(window.status.stop_button.isVisible, timeout=3000)
    assert "Loading navigation data" in window.status.progress.text()
    began = time.monotonic()
    window.status.stop_button.click()
    assert time.monotonic() - began < AT_ONCE_S
    assert window.status.message.text() == data_loader.STOPPED
    assert not window.status.stop_button.isVisible()
    type_route(qtbot, window, "LENDU DCT PIKAR")


def test_a_file_without_an_end_is_stopped_at_once(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    pipe = tmp_path / "endless.dat"
    os.mkfifo(pipe)
    opened = threading.Event()

    def read(_progress: Progress) -> NavDatabase:
        opened.set()
        pipe.read_bytes()
        return demo_database()

    window.session.load_data(read)
    qtbot.waitUntil(opened.is_set)
    type_route(qtbot, window, "LENDU DCT PIKUR")
    began = time.monotonic()
    window.session.stop_loading()
    assert time.monotonic() - began < AT_ONCE_S
    assert window.status.message.text() == data_loader.STOPPED
    with qtbot.waitSignal(window.session.data_loaded, timeout=10_000):
        window.session.load_data(open_files.DemoRegion())
    with pipe.open("wb"):
        """Let the abandoned thread end."""


def test_what_an_abandoned_load_brings_is_dropped(qtbot: QtBot, window: MainWindow, held: HeldLoad) -> None:
    start(qtbot, window, held)
    loaded: list[object] = []
    window.session.data_loaded.connect(loaded.append)
    window.session.stop_loading()
    held.go_on.set()
    qtbot.waitUntil(held.ended.is_set)
    qtbot.wait(50)
    assert loaded == []


def test_a_stopped_load_learns_it_at_its_next_step(qtbot: QtBot, window: MainWindow) -> None:
    going, learnt = threading.Event(), threading.Event()

    def endless(progress: Progress) -> NavDatabase:
        try:
            for step in range(100_000):
                progress(step / 100_000)
                going.set()
                time.sleep(0.005)
        except data_loader.StoppedError:
            learnt.set()
            raise
        raise AssertionError("was not stopped")

    window.session.load_data(endless)
    qtbot.waitUntil(going.is_set)
    window.session.stop_loading()
    assert learnt.wait(AT_ONCE_S)


def test_loads_come_one_after_the_other(qtbot: QtBot, window: MainWindow, held: HeldLoad) -> None:
    loaded: list[object] = []
    window.session.data_loaded.connect(loaded.append)
    start(qtbot, window, held)
    second = open_files.DemoRegion()
    window.session.load_data(second)
    qtbot.wait(50)
    assert loaded == []
    held.go_on.set()
    qtbot.waitUntil(lambda: loaded == [held, second], timeout=10_000)
    qtbot.waitUntil(lambda: not window.status.progress.isVisible())


def test_stopping_gives_up_what_waits_too(qtbot: QtBot, window: MainWindow, held: HeldLoad) -> None:
    loaded: list[object] = []
    window.session.data_loaded.connect(loaded.append)
    start(qtbot, window, held)
    window.session.load_data(open_files.DemoRegion())
    window.session.stop_loading()
    held.go_on.set()
    qtbot.wait(100)
    assert loaded == []


def test_the_window_closes_while_a_file_without_an_end_is_read(
    qtbot: QtBot, window: MainWindow, held: HeldLoad
) -> None:
    start(qtbot, window, held)
    began = time.monotonic()
    window.close()
    assert time.monotonic() - began < 2 * AT_ONCE_S


def test_without_any_data_nothing_looks_checked(qtbot: QtBot, held: HeldLoad) -> None:
    session = Session(RouteInput("LENDU DCT PIKAR", departure="XVAL", destination="XVOR"), app.today)
    said: list[str] = []
    session.answer_lost.connect(said.append)
    session.load_data(held)
    session.request_assessment()
    qtbot.waitUntil(held.begun.is_set)
    assert not session.is_answer_current
    session.stop_loading()
    assert said == [data_loader.STOPPED_WITHOUT_DATA]
    session.close()


@pytest.mark.parametrize("fault", [DataError("noise.dat", None, "no record in it"), ZeroDivisionError("ours")])
def test_a_load_that_fails_says_why_and_the_next_one_begins(qtbot: QtBot, window: MainWindow, fault: Exception) -> None:
    def failing(_progress: Progress) -> NavDatabase:
        raise fault

    with qtbot.waitSignal(window.session.data_loaded, timeout=10_000):
        window.session.load_data(failing)
        window.session.load_data(open_files.DemoRegion())
    assert window.status.message.text().startswith("Navigation data not loaded")
