"""The Side view against its measures: laying out an assessment, and frames. Prints one table.

Times are those of the processor: other work on the machine does not count.

`pytest -m bench tests/bench/test_bench_side_view.py -s`. A frame is a step of zoom, drag or mouse and its painting.
"""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import datetime as dt
import time
from collections.abc import Callable

import numpy as np
import pytest
from PySide6.QtCore import QPointF
from pytestqt.qtbot import QtBot

from routecheck.gui.session import Session
from routecheck.gui.side_view.chart import SideChart
from routecheck.gui.theme import LIGHT
from routecheck.model import AltitudeWindow, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.presentation.assessment_view import AssessmentView, view_assessment
from routecheck.presentation.side_view import lay_out_side_view
from routecheck.settings import Settings

pytestmark = pytest.mark.bench
DAY = dt.date(2026, 12, 3)
STEP_TO_FIXED_END = 100


def of(count: int) -> AssessmentView:
    """A zigzag of so many typed positions, a window at every third of them."""
    names = [f"{29 + 3 * (i % 2)}{i * 7 % 60:02d}S{i // 60:03d}{i % 60:02d}E" for i in range(count)]
    windows = tuple(
        AltitudeWindow(name, 5_000.0 + 100 * (i % 90), 30_000.0) for i, name in enumerate(names) if i % 3 == 0
    )
    route_input = RouteInput(
        " DCT ".join(names), "XVAL", "XVOR", level="F350", aircraft_sheet="Medium jet", windows=windows
    )
    return view_assessment(assess(route_input, demo_database(), Settings(), DAY))


def best(work: Callable[[], object], times: int = 5) -> float:
    def once() -> float:
        start = time.process_time()
        work()
        return (time.process_time() - start) * 1000

    return min(once() for _ in range(times))


@pytest.mark.parametrize(("count", "goal"), [(60, 4.0), (500, 40.0)])
def test_laying_out(count: int, goal: float) -> None:
    shown = of(count)
    took = best(lambda: lay_out_side_view(shown.assessment))
    print(f"\nSide view laid out, {count} points: {took:.1f} ms, goal {goal:.0f}")
    assert took <= goal


@pytest.mark.parametrize(("count", "median", "worst"), [(60, 16.0, 16.0), (500, 100.0, 150.0)])
def test_frames(qtbot: QtBot, count: int, median: float, worst: float) -> None:
    session = Session(RouteInput(""), lambda: DAY)
    chart = SideChart(session, LIGHT)
    qtbot.addWidget(chart)
    chart.resize(1000, 220)
    chart.show_screen(of(count))
    with qtbot.waitExposed(chart):
        chart.show()
    whole = chart.view.whole_nm
    ways: dict[str, Callable[[int], None]] = {
        "drag": lambda i: chart.look(whole * i / 400, whole * (i / 400 + 0.3)),
        "zoom": lambda i: chart.zoom(0.97 if i % 40 < 20 else 1 / 0.97),
        "mouse": lambda i: chart.hovered.emit(QPointF(80.0 + 8 * i, 100.0)),
        "whole": lambda _: chart.look_at_all(),
    }
    bad = []
    chart.viewport().repaint()
    for what, way in ways.items():
        times = []
        for step in range(STEP_TO_FIXED_END):
            start = time.process_time()
            way(step)
            chart.viewport().repaint()
            times.append((time.process_time() - start) * 1000)
        print(f"\nSide view frame, {what}, {count} points: median {np.median(times):.1f}, worst {max(times):.1f} ms")
        if np.median(times) > median or np.percentile(times, 99) > worst:
            bad.append(what)
    session.close()
    assert not bad
