"""The Picture with the direct line straight across: chosen by an action, said in words where it cannot be had."""

import dataclasses

import numpy as np
from pytestqt.qtbot import QtBot

from routecheck.gui.window import MainWindow


def test_the_direct_line_lies_across_and_one_place_at_both_ends_stays_north_up(
    qtbot: QtBot, window: MainWindow
) -> None:
    action, chart = window.menu_actions.straighten, window.picture.chart
    assert action.shortcut().toString() == "Ctrl+D"
    with qtbot.waitSignal(window.session.assessed):
        action.trigger()
    direct = chart.frame().pixels(chart.picture.direct)
    assert np.ptp(direct[:, 1]) < 1.0
    assert direct[-1, 0] - direct[0, 0] > 300.0
    assert "straight across" in chart.accessibleDescription()
    same = dataclasses.replace(window.session.route_input, destination="XVAL", destination_runway="")
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(same)
    assert chart.picture.note == "North up, not straightened: departure and destination are one place."
    assert chart.picture.projection.is_north_up
    with qtbot.waitSignal(window.session.assessed):
        action.trigger()
    assert chart.picture.note == ""
