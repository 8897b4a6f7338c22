"""Windows without a screen: Qt paints into memory. Set before anything imports Qt. Nothing of the user's is touched."""

import os

os.environ["QT_QPA_PLATFORM"] = "offscreen"

import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from routecheck.gui import app
from routecheck.gui.widgets.chart_import import ChartImport
from routecheck.gui.widgets.chart_view import ChartView
from routecheck.gui.window import MainWindow

TODAY = dt.date(2026, 12, 3)
SAID_BY_THE_SCREEN = "This plugin does not support propagateSizeHints", r"This plugin does not support raise\(\)"
Open = Callable[..., MainWindow]


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Data and logs of the window go to a folder of the test."""
    for name in ("XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name.lower()))
    monkeypatch.setattr(app, "today", lambda: TODAY)
    monkeypatch.setattr(os, "fsync", lambda _: None)  # no test outlives a power cut; each window waited for two
    return tmp_path


@pytest.fixture(autouse=True)
def plain_application(qapp: QApplication) -> Iterator[None]:
    """What a test gives the whole application ends with it. Undressed, a window opens in half the time."""
    font, palette = qapp.font(), qapp.palette()
    yield
    if qapp.styleSheet():
        qapp.setStyleSheet("")
    if qapp.palette() != palette:
        qapp.setPalette(palette)
    if qapp.font() != font:
        qapp.setFont(font)


@pytest.fixture
def painted_later() -> None:
    """Charts wait some milliseconds with the painting of an answer, as they do for the user."""


@pytest.fixture(autouse=True)
def painted_at_once(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Charts are painted when a test takes a picture of them: while they wait it would be black, or of before."""
    if "painted_later" not in request.fixturenames:
        monkeypatch.setattr(ChartView, "paint_later", lambda _chart: None)


@pytest.fixture
def with_charts() -> None:
    """Windows with Picture and Side view after all, for a test among others that look at none."""


@pytest.fixture
def without_charts(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Windows as they are before charts are imported, for tests that look at none: they open in less time."""
    if "with_charts" not in request.fixturenames:
        monkeypatch.setattr(ChartImport, "begin", lambda _import: None)


@pytest.fixture
def dressed(plain_application: None, qapp: QApplication) -> None:
    """Windows dressed as `app.run` does it, for tests of what has room, is cut off or covers something."""
    qapp.setStyle("Fusion")


@pytest.fixture
def opened(qtbot: QtBot, request: pytest.FixtureRequest) -> Iterator[Open]:
    """Opens windows, waits for their first answer and their Picture, and closes them in the end."""
    windows: list[MainWindow] = []

    def made(path: str | None = None, navdata_files: tuple[str, ...] = (), *, demo: bool = False) -> MainWindow:
        window = app.open_window(path, list(navdata_files), demo=demo)
        windows.append(window)
        if "dressed" in request.fixturenames:
            window.apply_theme()
        with qtbot.waitSignal(window.session.assessed, timeout=20_000):
            window.show()
        if {"with_charts", "without_charts"} & {*request.fixturenames} != {"without_charts"}:
            qtbot.waitUntil(lambda: window.picture.chart is not None, timeout=20_000)
        return window

    yield made
    for window in windows:
        window.close()
        window.deleteLater()
    qtbot.wait(1)


@pytest.fixture
def window(opened: Open) -> MainWindow:
    """The window at first start, on the demo."""
    return opened()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Every Qt warning fails a test but these two: the screen in memory says so of itself at each window and list."""
    for item in items:
        if item.path.parent == Path(__file__).parent:
            item.add_marker(pytest.mark.qt_log_ignore(*SAID_BY_THE_SCREEN))
