"""Picture and Side view before pyqtgraph is there: what is asked meanwhile is made up for, and a failure is said."""

import dataclasses
import sys

import pytest
from pytestqt.qtbot import QtBot

from routecheck.gui import app
from routecheck.gui.session import Session
from routecheck.gui.widgets import chart_import
from routecheck.gui.widgets.chart_import import ChartImport
from routecheck.gui.window import MainWindow


@pytest.fixture
def bare(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> MainWindow:
    """A window with its first answer, in which the import of charts is not begun."""
    with monkeypatch.context() as patch:
        patch.setattr(ChartImport, "begin", lambda _: None)
        window = app.open_window(None, [], demo=True)
        qtbot.addWidget(window, before_close_func=lambda _: window.session.close())
        qtbot.waitUntil(lambda: window.session.answer is not None, timeout=20_000)
        qtbot.wait(30)
    assert window.picture.chart is None
    return window


def test_what_was_shown_and_picked_before_is_drawn(qtbot: QtBot, bare: MainWindow) -> None:
    bare.session.select_finding(0)
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
    bare.session.select_finding(0)
    with qtbot.waitSignal(bare.corrections.trial_changed, timeout=20_000):
        bare.corrections.try_selected()
    bare.picture.make_chart()
    assert bare.picture.chart.map.tried is not None


def test_the_side_view_unfolds_at_once_and_is_drawn_when_it_can_be(qtbot: QtBot, bare: MainWindow) -> None:
    bare.menu_actions.fold_side.setChecked(True)
    assert bare.side.chart is None
    assert bare.side.minimumHeight() > 80
    bare.drawing.begin()
    qtbot.waitUntil(lambda: bare.side.chart is not None, timeout=10_000)
    assert bare.side.chart.view.points
    assert bare.picture.chart is not None


def test_what_cannot_be_imported_is_said(
    qtbot: QtBot, bare: MainWindow, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def refuse(name: str) -> object:
        raise ImportError(f"{name}: libGL.so.1: cannot open shared object file")

    monkeypatch.delitem(sys.modules, "routecheck.gui.picture.chart", raising=False)
    monkeypatch.setattr(chart_import, "import_module", refuse)
    blank = bare.picture.grab().toImage()
    with qtbot.waitSignal(bare.drawing.done, timeout=20_000):
        bare.drawing.begin()
    qtbot.waitUntil(lambda: "libGL.so.1" in bare.picture.accessibleDescription(), timeout=5_000)
    assert bare.picture.grab().toImage() != blank
    assert "importing what charts need failed" in caplog.text
    assert bare.picture.chart is None


def test_without_an_answer_the_drawing_is_made_all_the_same(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Session, "load_data", lambda *_: None)
    window = app.open_window(None, [], demo=True)
    qtbot.addWidget(window, before_close_func=lambda _: window.session.close())
    window.show()
    qtbot.waitUntil(lambda: window.picture.chart is not None, timeout=10_000)
    assert window.session.answer is None


@pytest.mark.usefixtures("painted_later")
def test_an_answer_is_painted_after_all_else_shows_it(qtbot: QtBot, window: MainWindow) -> None:
    chart = window.picture.chart
    qtbot.waitUntil(chart.viewport().updatesEnabled)
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(dataclasses.replace(window.session.route_input, route="LENDU UM12 TOVIK"))
    assert window.legs.model.index(2, 2).data() == "UVAGI"
    assert not chart.viewport().updatesEnabled()
    qtbot.waitUntil(chart.viewport().updatesEnabled)
    window.picture.grab()
    assert {"LENDU", "UVAGI", "TOVIK"} <= {text.text for text in chart.overlay.texts}
