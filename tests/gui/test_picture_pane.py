"""Picture and Side view before pyqtgraph is there: what is asked meanwhile is made up for, and a failure is said."""

import builtins
import sys
from collections.abc import Callable

import pytest
from pytestqt.qtbot import QtBot

from routecheck.gui import app
from routecheck.gui.window import MainWindow

Open = Callable[..., MainWindow]


@pytest.fixture
def bare(qtbot: QtBot) -> MainWindow:
    """A window that was never painted, so that its Picture is not begun."""
    window = app.open_window(None, [], demo=True)
    qtbot.addWidget(window, before_close_func=lambda _: window.session.close())
    qtbot.waitUntil(lambda: window.session.answer is not None, timeout=20_000)
    return window


def test_what_was_shown_and_picked_before_is_drawn(qtbot: QtBot, bare: MainWindow) -> None:
    bare.session.pick_finding(0)
    bare.picture.fit_route()
    bare.picture.zoom(0.5)
    assert bare.picture.chart is None
    bare.picture.make_chart()
    chart = bare.picture.chart
    assert chart.picture is bare.session.answer.picture
    assert chart.map.line("halo").size
    assert chart.map.line("calm").size
    assert chart.follows
    assert bare.picture.focusProxy() is chart


def test_a_trial_begun_before_is_drawn(qtbot: QtBot, bare: MainWindow) -> None:
    bare.session.pick_finding(0)
    with qtbot.waitSignal(bare.corrections.tried, timeout=20_000):
        bare.corrections.try_picked()
    bare.picture.make_chart()
    assert bare.picture.chart.map.tried is not None


def test_the_side_view_unfolds_at_once_and_is_drawn_when_it_can_be(qtbot: QtBot, bare: MainWindow) -> None:
    bare._actions.fold_side.setChecked(True)
    assert bare.side.chart is None
    assert bare.side.minimumHeight() > 80
    bare.picture.grab()  # painted: that begins the import
    qtbot.waitUntil(lambda: bare.side.chart is not None, timeout=10_000)
    assert bare.side.chart.view.points
    assert bare.picture.chart is not None


def test_what_cannot_be_imported_is_said(
    qtbot: QtBot, bare: MainWindow, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    real = builtins.__import__

    def refuse(name: str, *more: object) -> object:
        if name == "pyqtgraph":
            raise ImportError("libGL.so.1: cannot open shared object file")
        return real(name, *more)

    monkeypatch.delitem(sys.modules, "pyqtgraph.widgets.VerticalLabel", raising=False)
    monkeypatch.setattr(builtins, "__import__", refuse)
    blank = bare.picture.grab().toImage()
    qtbot.waitUntil(lambda: "importing pyqtgraph failed" in caplog.text)
    qtbot.waitUntil(lambda: bare.picture.grab().toImage() != blank)
    assert bare.picture.chart is None
