"""Where the panes stand and how the keyboard goes through them, at any size of window and text."""

import dataclasses
from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QScrollArea, QSplitter, QWidget
from pytestqt.qtbot import QtBot

from routecheck.gui.margin.finding_actions import FindingActions
from routecheck.gui.window import MainWindow
from routecheck.model import RouteInput

pytestmark = pytest.mark.usefixtures("dressed")


def test_the_keyboard_begins_in_the_text_and_tab_goes_on_to_the_findings(qtbot: QtBot, window: MainWindow) -> None:
    assert window.focusWidget() is window.text
    role = window.flight_fields.role.currentText()
    qtbot.keyClicks(window.focusWidget(), "F")
    assert (window.flight_fields.role.currentText(), "F" in window.text.toPlainText()) == (role, True)
    window.flight_fields.last_field.setFocus()
    qtbot.keyClick(window.flight_fields.last_field, Qt.Key.Key_Tab)
    assert window.focusWidget() is window.text
    qtbot.keyClick(window.text, Qt.Key.Key_Tab)
    assert window.focusWidget() is window.margin.findings
    window.flight_fields.take_focus()
    assert window.focusWidget() is window.flight_fields.fields["departure"]


def shown(window: MainWindow) -> list[bool]:
    return [pane.isVisible() for pane in (window.picture, window.side, window.legs)]


def test_below_a_size_one_pane_is_shown_at_a_time_behind_tabs(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(1400, 900)
    qtbot.waitUntil(lambda: not window.stage.is_tabbed)
    assert shown(window) == [True, True, True]
    window.resize(1100, 480)
    qtbot.waitUntil(lambda: window.stage.is_tabbed)
    assert shown(window) == [True, False, False]
    assert window.picture.height() >= window.picture.minimumHeight()
    window.go_to_pane(window.legs)
    assert shown(window) == [False, False, True]
    window.go_to_pane(window.side)
    assert shown(window) == [False, True, False]
    assert window.side.chart is not None
    assert window.side.chart.isVisible()
    window.resize(1400, 900)
    qtbot.waitUntil(lambda: not window.stage.is_tabbed)
    assert shown(window) == [True, True, True]


def test_nothing_is_cut_at_a_text_of_half_as_much_again(qtbot: QtBot, window: MainWindow) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    before, larger = app.font(), app.font()
    larger.setPointSizeF(before.pointSizeF() * 1.5)
    try:
        app.setFont(larger)
        window.resize(1100, 700)
        qtbot.wait(100)
        stage = window.stage
        for pane in (window.picture, window.side, window.legs):
            if pane.isVisible():
                within = pane.mapTo(stage, pane.rect().bottomLeft()).y()
                assert within <= stage.height()
        window.session.select_finding(0)
        rows = [row for row in window.margin.findings.findChildren(FindingActions) if row.isVisible()]
        assert rows
        assert all(button.width() >= button.sizeHint().width() for row in rows for button in row.buttons)
        assert (
            stage.mapTo(window, stage.rect().bottomLeft()).y()
            <= window.foot.mapTo(window, window.foot.rect().topLeft()).y()
        )
    finally:
        app.setFont(before)


def test_what_a_low_window_has_no_room_for_is_scrolled_to_and_covers_nothing(qtbot: QtBot, window: MainWindow) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    before, larger = app.font(), app.font()
    larger.setPointSizeF(before.pointSizeF() * 1.5)
    window.session.select_finding(0)
    with qtbot.waitSignal(window.session.assessed):
        window.corrections.apply_selected()
    try:
        app.setFont(larger)
        window.resize(1100, 560)
        level = window.flight_fields.fields["level"]
        level.setFocus()
        level.selectAll()
        qtbot.keyClicks(level, "F35O")
        window.flight_fields.fields["speed"].setFocus()
        qtbot.waitUntil(lambda: level.property("unread") is True and level.font().pointSizeF() > before.pointSizeF())
        qtbot.waitUntil(lambda: window.session.is_answer_current)
        window.runway_banner.show_sentences(
            tuple(f"Sentence {i} of what another runway changes here." for i in range(30))
        )
        qtbot.waitUntil(lambda: all_whole(window.runway_banner.text, window.changes, window.status, window.text))
        qtbot.waitUntil(lambda: scrolls(window.runway_banner) and scrolls(window.changes))
        window.text.setFocus()
        window.text.moveCursor(window.text.textCursor().MoveOperation.End)
        spot = window.text.viewport().mapTo(window.stage.parentWidget(), window.text.cursorRect().center())
        assert spot.y() < window.stage.y()
    finally:
        app.setFont(before)


def all_whole(*parts: QWidget) -> bool:
    """Whether each has the height it needs and none lies over another."""
    places = [part.rect().translated(part.mapToGlobal(part.rect().topLeft())) for part in parts]
    apart = not any(one.intersects(other) for i, one in enumerate(places) for other in places[:i])
    return apart and all(part.height() >= part.heightForWidth(part.width()) for part in parts)


def scrolls(part: QWidget) -> bool:
    """Whether what it stands in has more in it than is in view."""
    area = part.parentWidget()
    while not isinstance(area, QScrollArea):
        area = area.parentWidget()
    return area.verticalScrollBar().maximum() > 0


def test_the_margin_cuts_nothing_off_where_it_is_low(qtbot: QtBot, window: MainWindow) -> None:
    """A closed finding says what fits; reasons wrap beside their own scroll bar, and nothing lies over them."""
    app, margin = QApplication.instance(), window.margin
    assert isinstance(app, QApplication)
    before, larger = app.font(), app.font()
    larger.setPointSizeF(before.pointSizeF() * 1.5)
    window.session.select(None)
    assert margin.findings.finding_model.index(0).data().endswith(" PIKAR fits.")
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(RouteInput("LENDU DCT KEBLU DCT QQQQQ DCT 31S0O2E DCT RIPAS", "XVAL", "XVOR"))
    window.session.select(None)
    closed = [margin.findings.finding_model.index(i).data() for i in range(margin.findings.finding_model.rowCount())]
    assert any(sentence.endswith("; write 31S002E.") for sentence in closed), "what says so itself says it once"
    try:
        for size, width, height in ((before, 1100, 700), (larger, 1100, 700), (before, 1400, 900)):
            app.setFont(size)
            window.resize(width, height)
            margin.reasons_toggle.setChecked(True)
            qtbot.wait(60)
            assert margin.reasons.document().idealWidth() <= margin.reasons.viewport().width()
            below = (margin.reasons, margin.outcomes, margin.not_looked_at, margin.findings, margin.headline)
            seen = [part.geometry() for part in below if part.isVisible()]
            assert not any(one.intersects(other) for i, one in enumerate(seen) for other in seen[:i])
            said = " ".join(
                (margin.reasons.toPlainText(), margin.not_looked_at.text() * margin.not_looked_at.isVisible())
            )
            assert "Not looked at: weather" in said
    finally:
        app.setFont(before)


def test_a_long_text_leaves_a_low_window_to_the_picture(qtbot: QtBot, window: MainWindow) -> None:
    """The symptom: at 150 % text a route of 439 words left 45 pixels to the Picture."""
    window.resize(1100, 700)
    window.text.limit_height(10_000)
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(
            RouteInput(" DCT ".join(f"3{i % 3}00S00{i % 5}00E" for i in range(60)), "XVAL", "XVOR")
        )
    unlimited = window.text.height()
    window.resize(1100, 690)
    qtbot.waitUntil(lambda: window.text.height() < unlimited, timeout=2000)
    assert window.text.height() <= 0.25 * 690


def test_a_large_window_shows_every_leg(qtbot: QtBot, window: MainWindow) -> None:
    route = " DCT ".join(f"{31 + i % 2}00S{i // 2:03d}{i % 2 * 30:02d}E" for i in range(33))
    window.resize(3840, 2160)
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(dataclasses.replace(window.session.route_input, route=route))
    qtbot.wait(50)
    view = window.legs.view
    assert view.model().rowCount() == 34
    assert view.viewport().height() >= 34 * view.verticalHeader().defaultSectionSize()


def test_a_handle_that_was_moved_stays_where_it_was_put(qtbot: QtBot, opened: Callable[..., MainWindow]) -> None:
    window = opened()
    window.resize(1400, 900)
    qtbot.wait(20)
    splitter = window.legs.parentWidget()
    assert isinstance(splitter, QSplitter)
    splitter.moveSplitter(250, 1)
    height = window.legs.height()
    window.close()
    again = opened()
    again.resize(1400, 900)
    qtbot.waitUntil(lambda: abs(again.legs.height() - height) <= 2)
