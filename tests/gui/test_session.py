"""The session: the newest answer wins, trouble is said, and nothing unchecked looks checked."""

import dataclasses
import threading
import time
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest
from PySide6.QtCore import QElapsedTimer
from pytestqt.qtbot import QtBot

from routecheck import pipeline
from routecheck.gui import assessor, open_files, persistence
from routecheck.gui.session import WAIT_MS
from routecheck.gui.window import MainWindow
from routecheck.model import Assessment

pytestmark = pytest.mark.usefixtures("without_charts")

Open = Callable[..., MainWindow]


def test_the_newest_answer_wins_and_stale_requests_are_skipped(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    assessed: list[str] = []
    real = assessor.assess

    def slow(route_input: object, *rest: object) -> Assessment:
        assessed.append(route_input.route)  # type: ignore[attr-defined]
        time.sleep(0.15)
        return real(route_input, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(assessor, "assess", slow)
    shown: list[str] = []
    window.session.assessed.connect(lambda s: shown.append(s.assessment.route.route_input.route))
    for i in range(8):
        window.session.change_input(dataclasses.replace(window.session.route_input, route=f"LENDU DCT 3{i}S002E"))
        qtbot.wait(WAIT_MS + 20)
    qtbot.waitUntil(lambda: "LENDU DCT 37S002E" in shown, timeout=5000)
    assert shown == ["LENDU DCT 37S002E"]
    assert len(assessed) < 8


def test_the_gui_thread_goes_on_while_the_worker_works(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, started = assessor.assess, threading.Event()

    def slow(*given: object) -> Assessment:
        assert threading.current_thread() is not threading.main_thread()
        started.set()
        time.sleep(0.5)
        return real(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(assessor, "assess", slow)
    window.session.change_input(dataclasses.replace(window.session.route_input, route="LENDU"))
    qtbot.waitUntil(started.is_set)
    clock = QElapsedTimer()
    clock.start()
    qtbot.keyClicks(window.text, "ABC")
    assert clock.elapsed() < 400


@pytest.mark.usefixtures("with_charts")
@pytest.mark.parametrize(
    "raising", [(assessor, "assess"), (pipeline, "resolve")], ids=["the pipeline itself", "a stage of it"]
)
def test_a_bug_in_assessing_never_looks_checked(
    qtbot: QtBot,
    window: MainWindow,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
    raising: tuple[ModuleType, str],
) -> None:
    def broken(*_: object) -> Assessment:
        raise ZeroDivisionError("ours")

    monkeypatch.setattr(*raising, broken)
    with qtbot.waitSignal(window.session.answer_lost):
        window.session.change_input(dataclasses.replace(window.session.route_input, route="LENDU DCT PIKAR"))
    assert window.margin.headline.text() == "Nothing checked"
    assert "our mistake" in window.margin.counts.text()
    assert str(persistence.log_file()) in window.margin.counts.text()
    assert window.margin.findings.finding_model.rowCount() == 0
    assert window.text.underlines == []
    assert "NM" not in window.foot.totals.text()
    assert "ZeroDivisionError" in caplog.text
    monkeypatch.undo()
    with qtbot.waitSignal(window.session.assessed):
        window.session.change_input(dataclasses.replace(window.session.route_input, route="LENDU DCT PIKAR UM12 TOVIK"))
    assert window.margin.how_much.text().startswith("Checked")


def test_navigation_data_that_cannot_be_read_is_said_and_the_old_stays(
    qtbot: QtBot, window: MainWindow, tmp_path: Path
) -> None:
    bad = tmp_path / "noise.dat"
    bad.write_bytes(bytes(range(256)) * 40)
    with qtbot.waitSignal(window.session.data_failed):
        window.data.add_for_session([str(bad)])
    assert "noise.dat" in window.status.message.text()
    with qtbot.waitSignal(window.session.assessed):
        window.session.change_input(dataclasses.replace(window.session.route_input, route="LENDU DCT PIKAR"))
    assert "demo region" in window.status.recognised.text()
    with qtbot.waitSignal(window.session.data_loaded, timeout=20_000):
        window.session.load_data(open_files.DemoRegion())


@pytest.mark.usefixtures("with_charts")
def test_loading_real_data_takes_the_demo_region_away(qtbot: QtBot, window: MainWindow, test_data: Path) -> None:
    with qtbot.waitSignal(
        window.session.assessed,
        timeout=30_000,
        check_params_cb=lambda s: not s.assessment.route.resolved.sources[0].invented,
    ):
        window.data.add_for_session([str(test_data / "faa_cifp_2301_northeast.txt.xz")])
    assert not window.picture.chart.map.has_land
    assert window.status.load_button.text() == "Use the invented demo region"  # its route is still there
