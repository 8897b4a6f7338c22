"""Heights and speeds in the Picture: only close in, and where they cover nothing."""

from collections.abc import Callable
from itertools import combinations
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from routecheck.gui.picture.map_labels import Kind
from routecheck.gui.window import MainWindow

SAMPLE = Path(__file__).resolve().parents[2] / "sample_routes" / "clean" / "runway-to-runway.route.toml"
Open = Callable[..., MainWindow]


def apart(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def held(window: MainWindow) -> set[str]:
    window.picture.grab()
    return {text.text for text in window.picture.chart.overlay.texts if text.kind is Kind.LIMITS}


@pytest.mark.usefixtures("dressed")
def test_heights_are_written_close_in_and_cover_nothing(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(1200, 1100)
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.open_route(str(SAMPLE))
    assert held(window) == set()
    picture = window.session.answer.picture
    hunsa = next(p for p in picture.points if p.name == "HUNSA")
    window.picture.chart.look_at(hunsa.x, hunsa.y, 120.0)
    assert {"at 5,000 ft", "9,000–12,000 ft"} <= held(window)
    rects = [text.rect for text in window.picture.chart.overlay.texts] + list(
        window.picture.chart.overlay.marks.values()
    )
    assert [pair for pair in combinations(rects, 2) if not apart(*pair)] == []
