"""Fingers on the Picture: two of them zoom, one that stays reads out, one that taps picks, near enough for a finger."""

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QTapAndHoldGesture
from pytestqt.qtbot import QtBot

from routecheck.gui.picture.chart import MapChart
from routecheck.gui.window import MainWindow

DEVICE = QTest.createTouchDevice()


def touch(qtbot: QtBot, chart: MapChart, how: str, *spots: tuple[int, int]) -> None:
    sequence = QTest.touchEvent(chart.viewport(), DEVICE, False)
    for finger, spot in enumerate(spots):
        getattr(sequence, how)(finger, QPoint(*spot), chart.viewport())
    sequence.commit()
    qtbot.wait(5)


def test_two_fingers_zoom_about_their_middle_and_pick_nothing(qtbot: QtBot, window: MainWindow) -> None:
    chart = window.picture.chart
    window.session.select(None)
    qtbot.wait(30)
    west, _, east, _ = chart.seen()
    under = chart.frame().place(QPointF(300.0, 200.0))
    touch(qtbot, chart, "press", (250, 150))
    touch(qtbot, chart, "press", (250, 150), (350, 250))
    for step in range(1, 6):
        touch(qtbot, chart, "move", (250 - 10 * step, 150 - 10 * step), (350 + 10 * step, 250 + 10 * step))
    touch(qtbot, chart, "release", (200, 100), (400, 300))
    now_west, _, now_east, _ = chart.seen()
    assert 0.45 < (now_east - now_west) / (east - west) < 0.7  # Qt waits for the first step before it calls it a pinch
    assert chart.frame().place(QPointF(300.0, 200.0)) == pytest.approx(under, abs=8.0)
    assert window.session.selection is None
    assert not chart.follows


def test_a_finger_that_stays_reads_out_and_one_that_taps_picks(qtbot: QtBot, window: MainWindow) -> None:
    chart = window.picture.chart
    window.session.select(None)
    qtbot.wait(30)
    point = next(p for p in chart.picture.points if p.name == "LENDU")
    x, y = chart.frame().pixels(np.array([(point.x, point.y)]))[0].round().astype(int).tolist()
    touch(qtbot, chart, "press", (x + 3, y - 18))
    touch(qtbot, chart, "release", (x + 3, y - 18))
    assert window.session.selection is not None
    assert window.session.selection.points == (point.index,)
    window.session.select(None)
    chart.read_out.say("", 100)
    QTapAndHoldGesture.setTimeout(60)
    touch(qtbot, chart, "press", (x + 3, y - 18))
    qtbot.wait(150)
    QTapAndHoldGesture.setTimeout(700)
    assert chart.read_out.text().startswith("LENDU")
    touch(qtbot, chart, "release", (x + 3, y - 18))
    assert window.session.selection is None
