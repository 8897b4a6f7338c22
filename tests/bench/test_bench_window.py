"""The window against its measures: frames, typing, start, memory; whole-country data. Prints one table.

`pytest -m bench tests/bench/test_bench_window.py -s`. A frame is everything one step of the mouse costs the window's
thread on a processor: the change of the view, the painting, what waits in the event loop; other work on the machine
does not count. Typing is timed from the key to the painted findings.
"""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import dataclasses
import datetime as dt
import math
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QObject, QPointF, QTimer, Signal, Slot
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from routecheck.gui import app, persistence
from routecheck.gui.assessor import AssessmentRequest
from routecheck.gui.session import Session
from routecheck.gui.window import MainWindow
from routecheck.model import RouteInput
from routecheck.navdata import store
from routecheck.navdata.database import NavDatabase
from routecheck.presentation.assessment_view import AssessmentView
from routecheck.presentation.name_completion import offer_names

pytestmark = [pytest.mark.bench, pytest.mark.qt_log_ignore("This plugin does not support (propagateSizeHints|raise)")]
DAY = dt.date(2023, 2, 1)
ENDS = ("KBOS", "KSEA")
SHORT = RouteInput(
    "HNK DCT SYR DCT BUF DCT DKK DCT CLE", departure="KJFK", destination="KORD", level="F350", off_block=DAY
)
STEP_TO_FIXED_END, KEYS, STARTS = 80, 30, 5
TURNS = 3
"""Of the event loop for a step of the mouse: what is painted twice is painted in another turn."""
NEW_YORK = (40.64, -73.78)
WINDOW = """
import os, sys, time
from PySide6.QtCore import QTimer
from routecheck.gui import app

real, beats = app.open_window, []

def beat():
    beats.append((time.perf_counter(), time.thread_time()))

def opened(*given, **more):
    window = real(*given, **more)
    timer = QTimer(window, interval=0)
    timer.timeout.connect(beat)

    def found(_):
        window.session.assessed.disconnect(found)
        window.repaint()
        print(time.time(), time.process_time())
        beat()
        timer.start()

    def drawn():
        window.repaint()
        print(time.time(), time.process_time())
        beat()
        QTimer.singleShot(200, rested)

    def rested():
        high = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
        stalls = [(b - a, d - c) for (a, c), (b, d) in zip(beats, beats[1:])]
        print(time.time(), *map(max, zip(*stalls)), int(high.split()[1]) / 1024)
        sys.stdout.flush()
        os._exit(0)

    window.session.assessed.connect(found)
    window.picture.drawn.connect(lambda: QTimer.singleShot(0, drawn))
    return window

app.open_window = opened
app.run(None, [], False)
"""
EMPTY = """
import os, sys, time
import pyqtgraph as pg
from PySide6.QtWidgets import QApplication
app = QApplication([])
plot = pg.PlotWidget()
plot.resize(1360, 860)
plot.show()
app.processEvents()
plot.repaint()
print(time.time(), time.process_time())
sys.stdout.flush()
os._exit(0)
"""
table: list[tuple[str, str, str]] = []


@pytest.fixture(scope="module", autouse=True)
def printed() -> Iterator[None]:
    """Everything measured, as one table."""
    yield
    wide = [max(len(row[i]) for row in table) for i in range(3)] if table else []
    lines = ("  ".join(cell.ljust(w) for cell, w in zip(row, wide, strict=True)).rstrip() for row in table)
    sys.stdout.write("\n\n" + "\n".join(lines) + "\n")


@pytest.fixture(scope="module")
def stored(shared_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A data folder with the whole-country file added."""
    folder = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(folder))
        patch.setenv("XDG_STATE_HOME", str(folder))
        patch.setattr(app, "today", lambda: DAY)
        store.add_file(shared_data / "faa_cifp_2301.txt.xz")
        yield folder


@pytest.fixture
def window(qtbot: QtBot, stored: Path) -> Iterator[MainWindow]:
    persistence.write_route(SHORT)
    made = app.open_window(None, [], demo=False)
    made.resize(1400, 900)
    with qtbot.waitSignal(made.session.assessed, timeout=30_000):
        made.show()
    qtbot.waitUntil(lambda: made.picture.chart is not None, timeout=10_000)
    qtbot.wait(300)
    yield made
    made.close()
    made.deleteLater()
    qtbot.wait(1)


class Watch(QObject):
    """How long each answer held the GUI thread, ms: taking it and showing it, without painting."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.times: list[float] = []
        self._session = session
        session.assessor.assessed.disconnect(session.take_answer)
        session.assessor.assessed.connect(self.take)

    @Slot(object, object)
    def take(self, request: AssessmentRequest, answer: AssessmentView) -> None:
        """In one slot: between two of them the window would paint."""
        began = time.perf_counter()
        self._session.take_answer(request, answer)
        self.times.append((time.perf_counter() - began) * 1000)


class PaintedAnswers(QObject):
    """When the window has painted an answer: text, Margin and figures, in several turns. The charts follow later."""

    painted = Signal()

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._turns_at_rest = 0
        window.installEventFilter(self)
        window.session.assessed.connect(self._begin)

    def eventFilter(self, _window: QObject, event: QEvent) -> bool:  # noqa: N802
        if event.type() in (QEvent.Type.UpdateRequest, QEvent.Type.LayoutRequest):
            self._turns_at_rest = 0
        return False

    def _begin(self, _answer: AssessmentView) -> None:
        self._turns_at_rest = -1
        QTimer.singleShot(0, self._look)

    def _look(self) -> None:
        """Two turns in which nothing was painted are the end of it."""
        self._turns_at_rest += 1
        if self._turns_at_rest > 2:
            self.painted.emit()
        else:
            QTimer.singleShot(0, self._look)


def told(what: str, got: str, goal: str) -> None:
    table.append((what, got, goal))


def ms(times: list[float]) -> str:
    return f"median {np.median(times):.1f}, p95 {np.percentile(times, 95):.1f}, worst {max(times):.1f} ms"


def frames(window: MainWindow, qtbot: QtBot, move: Callable[[int], None]) -> tuple[list[float], list[float]]:
    """What each step took of the clock and of the window's thread on a processor, ms."""
    app_, clock, processor = QApplication.instance(), [], []
    assert app_ is not None
    for step in range(STEP_TO_FIXED_END):
        start, began = time.perf_counter(), time.thread_time()
        move(step)
        for _ in range(TURNS):
            app_.processEvents()
        processor.append((time.thread_time() - began) * 1000)
        clock.append((time.perf_counter() - start) * 1000)
        QTest.qWait(2)
    return clock, processor


def panned(window: MainWindow) -> Callable[[int], None]:
    def move(step: int) -> None:
        west, south, east, north = window.picture.chart.seen()
        window.picture.chart.move_by(
            (east - west) * 0.02 * math.cos(step / 9), (north - south) * 0.02 * math.sin(step / 9)
        )

    return move


def zoomed(window: MainWindow) -> Callable[[int], None]:
    return lambda step: window.picture.zoom(0.97 if step % 40 < 20 else 1 / 0.97)


def close_in(window: MainWindow, qtbot: QtBot, nm: float) -> None:
    """Look at New York, so many NM across, and wait for what the data has there."""
    answer = window.session.answer
    assert answer is not None
    x, y = answer.picture.projection.place(*NEW_YORK)
    window.picture.chart.look_at(x, y, nm)
    qtbot.waitUntil(lambda: window.picture.chart.nearby is not None, timeout=10_000)
    qtbot.wait(200)


@pytest.mark.parametrize("nm", [0, 300, 120, 50])
def test_frames(window: MainWindow, qtbot: QtBot, nm: int) -> None:
    if nm:
        close_in(window, qtbot, nm)
    shown = window.picture.chart.nearby
    view = f"{nm} NM of New York, {len(shown.names)} places, {len(shown.airways)} airways" if shown else "whole route"
    bad = []
    for what, way in (("pan", panned), ("zoom", zoomed)):
        clock, times = frames(window, qtbot, way(window))
        told(f"frame, {what}, {view}", ms(clock), "median 10, worst 16")
        told("    of it on a processor", ms(times), "")
        if np.median(clock) > 10 or max(clock) > 16:
            bad.append(f"{what}: {ms(clock)}, of it on a processor {ms(times)}")
    assert not bad, f"{view}: {bad}"


def route_of(database: NavDatabase, count: int) -> str:
    """A route by names along long airways, each going on near the end of the one before."""
    pieces = [p for name in sorted(database.airway_names()) for p in database.airways(name) if len(p.places) > 12]
    here = max(pieces, key=lambda p: len(p.places))
    idents: list[str] = []
    while len(idents) < count and pieces:
        pieces.remove(here)
        idents += [p.ident for p in here.places if p.ident not in idents]
        end = here.places[-1]
        here = min(pieces, key=lambda p: math.hypot(p.places[0].lat - end.lat, p.places[0].lon - end.lon))
    return " DCT ".join(idents[:count])


def type_on(window: MainWindow, qtbot: QtBot, text: str) -> tuple[list[float], list[float]]:
    """Type at the end of a route; time each key until its findings are painted, and until the Picture is, ms."""
    answers = PaintedAnswers(window)
    with qtbot.waitSignal(window.session.assessed, timeout=60_000):
        window.session.replace_input(
            RouteInput(text, departure=ENDS[0], destination=ENDS[1], level="F350", off_block=DAY)
        )
    qtbot.wait(200)
    window.text.moveCursor(window.text.textCursor().MoveOperation.End)
    window.text.setFocus()
    app_, times, with_picture = QApplication.instance(), [], []
    assert app_ is not None
    for key in (" DCT MALNR DCT SEAXX DCT TAC DCT OL" * 9)[:KEYS]:
        start = time.perf_counter()
        with qtbot.waitSignal(answers.painted, timeout=60_000):
            qtbot.keyClick(window.text, key)
        times.append((time.perf_counter() - start) * 1000)
        qtbot.waitUntil(window.picture.chart.viewport().updatesEnabled)
        app_.processEvents()
        with_picture.append((time.perf_counter() - start) * 1000)
        qtbot.wait(60)
    return times, with_picture


@pytest.mark.parametrize(("count", "goal"), [(60, 50.0), (500, 500.0)])
def test_typing(window: MainWindow, qtbot: QtBot, count: int, goal: float) -> None:
    watch = Watch(window.session)
    held = watch.times
    database = store.open_store()
    assert database is not None
    text = route_of(database, count)
    gaps: list[float] = []
    last = [time.perf_counter()]
    beat = QTimer(window, interval=0)

    def beats() -> None:
        now = time.perf_counter()
        gaps.append((now - last[0]) * 1000)
        last[0] = now
        time.sleep(0.0005)

    beat.timeout.connect(beats)
    type_on(window, qtbot, text)
    held.clear()
    times, with_picture = type_on(window, qtbot, text)
    findings = len(window.session.answer.assessment.findings)  # type: ignore[union-attr]
    told(f"key to findings, {count} points, {findings} findings", ms(times), f"p95 {goal:.0f}")
    told("    and to the Picture", ms(with_picture), "")
    told(f"GUI thread held by an answer, {count} points", ms(held), "worst 8" if count == 60 else "")
    gaps.clear()
    last[0] = time.perf_counter()
    beat.start()
    type_on(window, qtbot, text)
    beat.stop()
    told(f"longest stop of the window, {count} points", f"{max(gaps):.0f} ms", "100")
    assert np.percentile(times, 95) <= goal, ms(times)
    assert max(gaps) <= 100, f"{max(gaps):.0f} ms"
    if count == 60:
        assert np.percentile(held, 95) <= 8, ms(held)


def test_offering_names(window: MainWindow, qtbot: QtBot) -> None:
    """What a key costs the window's thread on a processor while names are offered, and what of it the names cost."""
    window.activateWindow()
    window.session.replace_input(dataclasses.replace(SHORT, route=""))
    keys, names, offered = [], [], 0
    for key in "HNK DCT SYR DCT BUF J95 DKK DCT CLE V6 DJB CR V14 GR DCT BA SW JA Q43 TI V1 ST DCT PO BE RO MA CA " * 3:
        began = time.thread_time()
        QTest.keyClick(window.text, key)
        keys.append((time.thread_time() - began) * 1000)
        answer, text = window.session.answer, window.text.toPlainText()
        began = time.thread_time()
        found = offer_names(text, len(text), store_in_use(window), answer.assessment.route if answer else None)
        names.append((time.thread_time() - began) * 1000)
        offered += bool(found) and window.text.completer.is_open
        qtbot.wait(20)
    told(f"key while names are offered, {len(keys)} keys, {offered} lists", ms(keys), "p95 16")
    told("    the names of it, asked for once more", ms(names), "")
    assert offered > 50
    assert np.percentile(keys, 95) <= 16, ms(keys)


def store_in_use(window: MainWindow) -> NavDatabase:
    assert window.session.database is not None
    return window.session.database


def started(code: str, home: Path) -> list[float]:
    """What a process printed, the clock times as seconds since it was started."""
    env = {**os.environ, "XDG_DATA_HOME": str(home), "XDG_STATE_HOME": str(home), "QT_QPA_PLATFORM": "offscreen"}
    # As installed: pip compiles what it installs, and this checkout may be told to keep no compiled modules.
    env |= {"PYTHONPYCACHEPREFIX": str(home / "compiled"), "PYTHONDONTWRITEBYTECODE": ""}
    start = time.time()
    done = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    lines = [list(map(float, line.split())) for line in done.stdout.splitlines()]
    return [value for clock, *more in lines for value in (clock - start, *more)]


@pytest.mark.parametrize("data", ["the demo", "whole-country data"])
def test_start_and_memory(stored: Path, tmp_path: Path, data: str) -> None:
    """In turns, so that other work on the machine slows both alike; medians of clock and of processor time."""
    home = tmp_path if data == "the demo" else stored
    if home is stored:
        persistence.write_route(SHORT)
    rounds = [(started(EMPTY, home), started(WINDOW, home)) for _ in range(STARTS + 1)][1:]
    empty, empty_cpu = np.median([row for row, _ in rounds], axis=0)
    found, found_cpu, drawn, drawn_cpu, _, stall, stall_cpu, memory = np.median([row for _, row in rounds], axis=0)
    for what, seconds, of_empty, goal in (
        ("first findings", found, found / empty, "about 1.5 times"),
        ("first findings, processor", found_cpu, found_cpu / empty_cpu, ""),
        ("Picture drawn", drawn, drawn / empty, "2.5 times"),
        ("Picture drawn, processor", drawn_cpu, drawn_cpu / empty_cpu, ""),
    ):
        told(f"start, {data}, {what}", f"{seconds:.2f} s, {of_empty:.2f} times an empty plot window", goal)
    told(f"longest stop while charts are imported and made, {data}", f"{stall * 1000:.0f} ms", "50 ms")
    told("    of it on a processor", f"{stall_cpu * 1000:.0f} ms", "")
    told(f"memory, {data}", f"{memory:.0f} MB", "")
    assert drawn <= 2.5 * empty, f"{drawn / empty:.2f} times"


def test_moving_the_mouse(window: MainWindow, qtbot: QtBot) -> None:
    close_in(window, qtbot, 120)
    times = []
    for i in range(200):
        start = time.perf_counter()
        window.picture.chart.hovered.emit(QPointF(20.0 + 4 * i, 30.0 + 2 * i))
        times.append((time.perf_counter() - start) * 1000)
    told("read-out under the mouse", ms(times), "")
    assert np.median(times) < 8
