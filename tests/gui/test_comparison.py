"""Comparing with another version in the window: asked for, listed, drawn, and never about an earlier text."""

import dataclasses

import pytest
from pytestqt.qtbot import QtBot

from routecheck.gui.window import MainWindow
from routecheck.model import Role, RouteInput

FILED = RouteInput(
    "LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS", "XVAL", "XVOR", role=Role.FILED, level="F350"
)
CLEARED = FILED.route.replace("PIKAR", "PIKOR")


@pytest.fixture
def filed(qtbot: QtBot, window: MainWindow) -> MainWindow:
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(FILED)
    return window


def compare(qtbot: QtBot, window: MainWindow, text: str) -> None:
    dialog = window.comparison.ask()
    qtbot.addWidget(dialog)
    dialog.text.setPlainText(text)
    with qtbot.waitSignal(window.session.assessed):
        dialog.compare()


def rows(window: MainWindow) -> list[str]:
    return [window.comparison.list.item(row).text() for row in range(window.comparison.list.count())]


def test_what_differs_is_listed_and_drawn_under_its_role(qtbot: QtBot, filed: MainWindow) -> None:
    assert not filed.comparison.isVisible()
    compare(qtbot, filed, CLEARED)
    assert filed.comparison.isVisible()
    assert filed.comparison.verdict.text() == "Compared with the route as cleared: 1 difference."
    assert rows(filed)[0] == "As cleared, PIKOR in place of PIKAR: 154 NM apart."
    assert filed.picture.chart is not None
    overlay = filed.picture.chart.overlay
    assert overlay.tried.label == "PIKOR, as cleared"
    label = next(text.rect for text in overlay.texts if text.text == overlay.tried.label)
    others = [text.rect for text in overlay.texts if text.text != overlay.tried.label] + list(overlay.marks.values())
    assert all(label[2] <= one[0] or one[2] <= label[0] or label[3] <= one[1] or one[3] <= label[1] for one in others)


def test_the_other_version_is_wholly_in_view_while_nobody_moved(qtbot: QtBot, filed: MainWindow) -> None:
    chart = filed.picture.chart
    before = chart.seen()
    compare(qtbot, filed, "LENDU DCT 37S002E DCT SARNO")
    west, south, east, north = chart.seen()
    x, y = chart.picture.projection.place(-37.0, 2.0)
    assert west < x < east
    assert south < y < north
    assert not before[1] < y
    with qtbot.waitSignal(filed.session.assessed):
        filed.comparison.stop()
    assert chart.seen() == pytest.approx(before, abs=1.0)


def test_a_row_picks_its_point_everywhere(qtbot: QtBot, filed: MainWindow) -> None:
    compare(qtbot, filed, CLEARED)
    filed.comparison.list.setCurrentRow(0)
    assert filed.session.selection is not None
    assert [filed.session.answer.assessment.route.points[i].text for i in filed.session.selection.points] == ["PIKAR"]


def test_the_next_letter_is_compared_anew_and_until_then_nothing_is_said(qtbot: QtBot, filed: MainWindow) -> None:
    compare(qtbot, filed, FILED.route)
    assert "no difference in points" in filed.comparison.verdict.text()
    with qtbot.waitSignal(filed.session.assessed):
        filed.session.change_input(dataclasses.replace(filed.session.route_input, route=CLEARED))
        assert filed.comparison.verdict.text() == "Not compared yet"
    assert rows(filed)[0] == "As cleared, PIKAR in place of PIKOR: 154 NM apart."


def test_stopping_takes_list_and_line_away(qtbot: QtBot, filed: MainWindow) -> None:
    compare(qtbot, filed, CLEARED)
    with qtbot.waitSignal(filed.session.assessed):
        filed.comparison.stop()
    assert not filed.comparison.isVisible()
    assert filed.picture.chart.overlay.tried is None


def test_what_is_no_route_is_said_and_the_text_stays(qtbot: QtBot, filed: MainWindow) -> None:
    dialog = filed.comparison.ask()
    qtbot.addWidget(dialog)
    dialog.text.setPlainText("  ")
    dialog.compare()
    qtbot.waitUntil(lambda: not filed.session.reader.is_reading)
    assert dialog.trouble.text().startswith("It cannot be compared: ")
    assert dialog.isVisible()
