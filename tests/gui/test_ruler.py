"""The ruler measures between two places of the Picture, by mouse and by keyboard, and snaps to points."""

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from pytestqt.qtbot import QtBot

from routecheck.earth import geo
from routecheck.gui.picture.ruler import Ruler
from routecheck.gui.window import MainWindow


@pytest.fixture
def ruler(window: MainWindow) -> Ruler:
    action = window.menu_actions.use_ruler
    assert action.shortcut().toString() == "Ctrl+R"
    action.trigger()
    assert window.picture.ruler is not None
    return window.picture.ruler


def test_two_clicks_near_points_measure_between_them_and_pick_nothing(
    qtbot: QtBot, window: MainWindow, ruler: Ruler
) -> None:
    chart = window.picture.chart
    window.session.select(None)
    points = {p.text: p.place for p in window.session.answer.assessment.route.points}  # type: ignore[union-attr]
    for name in ("LENDU", "KEBUL"):
        x, y = chart.frame().pixels(np.array([chart.spot_of(points[name])]))[0]
        chart.clicked.emit(QPointF(x + 4, y - 3))
    a, b = points["LENDU"], points["KEBUL"]
    there, _, distance = geo.inverse(a.lat, a.lon, b.lat, b.lon)
    back, _, _ = geo.inverse(b.lat, b.lon, a.lat, a.lon)
    names, first, second = ruler.lines
    assert names == "LENDU – KEBUL"
    assert first.startswith(f"there {there:03.0f}°T  ")
    assert first.endswith(f"°M  {distance:.0f} NM")
    assert second.startswith(f"back {back:03.0f}°T  ")
    assert chart.marks.ruler == ruler.lines
    assert window.session.selection is None
    chart.hovered.emit(QPointF(5.0, 5.0))
    assert ruler.lines[0] == names
    qtbot.keyClick(chart, Qt.Key.Key_Escape)
    assert not window.menu_actions.use_ruler.isChecked()
    assert chart.marks.ruler == ()
    assert chart.picks


def test_the_keyboard_alone_measures(qtbot: QtBot, window: MainWindow, ruler: Ruler) -> None:
    chart = window.picture.chart
    qtbot.wait(30)  # the pane gets its size
    qtbot.keyClick(chart, Qt.Key.Key_Return)
    for _ in range(10):
        qtbot.keyClick(chart, Qt.Key.Key_Right)
    qtbot.keyClick(chart, Qt.Key.Key_Return)
    distance = float(ruler.lines[1].split()[-2])
    assert distance == pytest.approx(160.0 / chart.frame().scale, rel=0.01)
    assert float(ruler.lines[1][6:9]) == pytest.approx(90.0, abs=3.0)  # north is up only in the middle of the map
    assert chart.accessibleDescription() == ". ".join(ruler.lines)
