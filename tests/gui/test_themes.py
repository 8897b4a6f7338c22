"""Light and dark: the whole window takes the colours, what is written can be read on them, the choice comes back."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from routecheck.gui import theme
from routecheck.gui.window import MainWindow

Open = Callable[..., MainWindow]


def test_dark_and_light(qtbot: QtBot, window: MainWindow) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    for scheme, colours in ((Qt.ColorScheme.Dark, theme.DARK), (Qt.ColorScheme.Light, theme.LIGHT)):
        window.choose_theme(scheme)
        image = window.picture.grab().toImage()
        assert QColor(image.pixel(3, image.height() // 2 + 3)).name() in (colours.paper, colours.graticule)
        assert app.palette().base().color().name() == colours.pane
    window.choose_theme(Qt.ColorScheme.Unknown)


@pytest.mark.parametrize("colours", [theme.LIGHT, theme.DARK])
def test_text_can_be_read_on_its_ground(colours: theme.Theme) -> None:
    # WCAG 2.2, success criteria 1.4.3 (text 4.5 to 1) and 1.4.11 (marks 3 to 1).
    for ground in (colours.paper, colours.pane, colours.margin, colours.bar):
        assert contrast(colours.ink, ground) > 7
        assert contrast(colours.muted, ground) >= 4.5
        assert contrast(colours.wrong, ground) >= 3
    assert contrast(colours.on_wrong, colours.wrong) >= 3
    assert contrast(colours.on_doubtful, colours.doubtful) >= 4.5


def contrast(one: str, other: str) -> float:
    def luminance(colour: str) -> float:
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_chosen_theme_and_the_straightened_picture_come_back(qtbot: QtBot, opened: Open) -> None:
    first = opened()
    first.choose_theme(Qt.ColorScheme.Dark)
    first.menu_actions.straighten.trigger()
    first.close()
    second = opened()
    assert second.theme is theme.DARK
    assert second.menu_actions.straighten.isChecked()
    assert not second.picture.chart.picture.projection.is_north_up
    second.choose_theme(Qt.ColorScheme.Unknown)
