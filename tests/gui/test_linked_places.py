"""The mouse in the Picture marks the place in the Side view, and the other way round."""

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPointF
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from routecheck.gui.picture.chart import MapChart
from routecheck.gui.side_view.chart import SideChart
from routecheck.gui.window import MainWindow

SAMPLE = Path(__file__).resolve().parents[2] / "sample_routes" / "clean" / "runway-to-runway.route.toml"


@pytest.fixture
def charts(qtbot: QtBot, window: MainWindow) -> tuple[MapChart, SideChart]:
    window.resize(1300, 900)
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.open_route(str(SAMPLE))
    return window.picture.chart, window.side.unfold()


def middle_of(picture: MapChart, leg: int) -> QPointF:
    curve = next(drawn.curve for drawn in picture.picture.legs if drawn.index == leg)
    return QPointF(*picture.frame().pixels(curve[[0, -1]]).mean(axis=0))


def a_fixed_leg(picture: MapChart) -> int:
    return max((leg for leg in picture.picture.legs if not leg.is_gap), key=lambda leg: np.ptp(leg.curve)).index


def test_the_mouse_on_a_leg_of_the_picture_marks_it_in_the_side_view(charts: tuple[MapChart, SideChart]) -> None:
    picture, side = charts
    leg = a_fixed_leg(picture)
    assert not side.hair.isVisible()
    picture.hovered.emit(middle_of(picture, leg))
    assert side.hair.isVisible()
    begins, ends = side.view.points[leg].nm, side.view.points[leg + 1].nm
    assert side.hair.value() == pytest.approx((begins + ends) / 2, rel=0.01)
    picture.hovered.emit(QPointF(3.0, 3.0))
    assert not side.hair.isVisible(), "far from the route"


def test_the_mouse_in_the_side_view_marks_the_place_in_the_picture(charts: tuple[MapChart, SideChart]) -> None:
    picture, side = charts
    leg = a_fixed_leg(picture)
    nm = (side.view.points[leg].nm + side.view.points[leg + 1].nm) / 2
    side.hovered.emit(QPointF(side.frame().x(nm), side.height() / 2))
    marked = picture.frame().pixels(np.array([picture.map.place]))[0]
    assert marked == pytest.approx([middle_of(picture, leg).x(), middle_of(picture, leg).y()], abs=1.5)
    QApplication.sendEvent(side, QEvent(QEvent.Type.Leave))
    assert picture.map.place is None


def test_in_a_gap_nothing_is_marked(charts: tuple[MapChart, SideChart]) -> None:
    picture, side = charts
    gap = side.view.gaps[0]
    nm = gap.begins + 0.5 * (gap.ends - gap.begins)
    side.look(gap.begins - 5.0, gap.ends + 5.0)
    side.hovered.emit(QPointF(side.frame().x(nm), side.height() / 2))
    assert side.hair.isVisible()
    assert picture.map.place is None
