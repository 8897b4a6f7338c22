"""The window as a user meets it: typing gives findings, picks link everything, nothing typed is lost."""

from collections.abc import Callable

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QGuiApplication, QHelpEvent, QTextCursor
from PySide6.QtWidgets import QApplication, QToolTip
from pytestqt.qtbot import QtBot

from routecheck.gui import actions, dialogs, persistence
from routecheck.gui.margin.findings_list import bind_units
from routecheck.gui.picture.map_labels import Kind
from routecheck.gui.window import MainWindow
from routecheck.model import CAUTION, NOT_LOOKED_AT, Role, Weight
from routecheck.reading.input_fields import name_value

pytestmark = pytest.mark.usefixtures("without_charts")

Open = Callable[..., MainWindow]


def type_route(qtbot: QtBot, window: MainWindow, text: str) -> None:
    """Type over everything in the Route text and wait for the answer to the last key."""
    window.text.selectAll()
    with qtbot.waitSignal(
        window.session.assessed, timeout=10_000, check_params_cb=lambda s: s.assessment.route.route_input.route == text
    ):
        qtbot.keyClicks(window.text, text)


def sentences(window: MainWindow) -> list[str]:
    rows = window.margin.findings.finding_model
    return [str(rows.index(i).data()) for i in range(rows.rowCount())]


def test_first_start_shows_the_planted_error_open(window: MainWindow) -> None:
    assert "PIKOR" in window.text.toPlainText()
    assert window.flight_fields.fields["departure"].text() == "XVAL"
    assert any("PIKOR" in s for s in sentences(window))
    assert window.session.selection is not None
    assert window.session.selection.findings == (0,)
    assert window.margin.findings.finding_model.open_rows == {0}
    assert window.status.load_button.isVisible()


def test_every_screen_carries_the_caution_and_what_is_not_looked_at(window: MainWindow) -> None:
    assert window.foot.caution.text() == CAUTION
    assert window.foot.caution.font().bold()
    assert NOT_LOOKED_AT in window.margin.not_looked_at.text()


def test_typing_gives_findings_and_mending_takes_them_away(qtbot: QtBot, window: MainWindow) -> None:
    type_route(qtbot, window, "LENDU DCT PIKUR DCT TOVIK DCT SARNO")
    assert any("PIKUR" in s for s in sentences(window))
    assert window.margin.headline.text().startswith("Wrong: PIKUR")
    type_route(qtbot, window, "LENDU DCT PIKAR UM12 TOVIK DCT SARNO")
    assert sentences(window) == []
    assert window.margin.headline.text() == "Nothing found in all that can be checked."
    assert window.margin.how_much.text().startswith("Checked: all")
    assert "NM" in window.foot.totals.text()


def test_findings_underline_their_words(qtbot: QtBot, window: MainWindow) -> None:
    type_route(qtbot, window, "LENDU DCT PIKUR DCT TOVIK")
    lines = window.text.underlines
    found = [(u.cursor.selectedText(), u.weight) for u in lines]
    assert found[0] == ("PIKUR", Weight.WRONG)
    assert ("TOVIK", Weight.DOUBTFUL) in found


def test_offsets_hold_beyond_the_first_plane_of_characters(qtbot: QtBot, window: MainWindow) -> None:
    text = "🛫 LENDU DCT PIKUR DCT TOVIK"
    window.text.selectAll()
    with qtbot.waitSignal(window.session.assessed, timeout=10_000):
        window.text.insertPlainText(text)
    assert "PIKUR" in [u.cursor.selectedText() for u in window.text.underlines]
    at = window.text.document().find("PIKUR").selectionStart() + 2
    click_text(qtbot, window, at)
    assert window.session.selection is not None
    span = window.session.selection.spans[0]
    assert text[span.start : span.end] == "PIKUR"


def click_text(qtbot: QtBot, window: MainWindow, at: int) -> None:
    cursor = QTextCursor(window.text.document())
    cursor.setPosition(at)
    spot = window.text.cursorRect(cursor).center()
    qtbot.mouseClick(window.text.viewport(), Qt.MouseButton.LeftButton, pos=spot)


@pytest.mark.usefixtures("with_charts")
def test_clicking_a_word_opens_its_finding_and_shows_it_in_the_picture(qtbot: QtBot, window: MainWindow) -> None:
    window.session.select(None)
    assert window.margin.findings.finding_model.open_rows == frozenset()
    click_text(qtbot, window, window.text.toPlainText().index("PIKOR") + 2)
    assert window.margin.findings.finding_model.open_rows == {0}
    window.picture.grab()
    assert [t.text for t in window.picture.chart.overlay.texts if t.kind is Kind.PICKED] == ["PIKOR"]
    tinted = [s.cursor.selectedText() for s in window.text.extraSelections()]
    assert tinted == ["PIKOR"]


@pytest.mark.usefixtures("with_charts")
def test_clicking_a_finding_picks_its_word_and_again_lets_go(qtbot: QtBot, window: MainWindow) -> None:
    window.session.select(None)
    view = window.margin.findings
    spot = view.visualRect(view.finding_model.index(0)).center()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert [s.cursor.selectedText() for s in window.text.extraSelections()] == ["PIKOR"]
    assert window.picture.chart.map.line("halo").size
    spot = view.visualRect(view.finding_model.index(0)).center()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert window.session.selection is None
    assert window.text.extraSelections() == []


def picture_spot(window: MainWindow, name: str) -> QPoint:
    screen = window.session.answer
    assert screen is not None
    point = next(p for p in screen.picture.points if p.name == name)
    return spot_of(window, point.x, point.y)


def spot_of(window: MainWindow, x: float, y: float) -> QPoint:
    (spot,) = window.picture.chart.frame().pixels(np.array([(x, y)]))
    return QPoint(round(spot[0]), round(spot[1]))


@pytest.mark.usefixtures("with_charts")
def test_clicking_a_point_and_a_mark_in_the_picture(qtbot: QtBot, window: MainWindow) -> None:
    window.session.select(None)
    window.picture.grab()
    spot = picture_spot(window, "PIKOR")
    qtbot.mouseClick(window.picture.chart.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert [s.cursor.selectedText() for s in window.text.extraSelections()] == ["PIKOR"]
    assert window.margin.findings.finding_model.open_rows == {0}
    window.session.select(None)
    left, top, right, bottom = window.picture.chart.overlay.marks[0]
    middle = QPoint(round((left + right) / 2), round((top + bottom) / 2))
    qtbot.mouseClick(window.picture.chart.viewport(), Qt.MouseButton.LeftButton, pos=middle)
    assert window.margin.findings.finding_model.open_rows == {0}


@pytest.mark.usefixtures("with_charts")
def test_clicking_a_leg_picks_the_word_that_says_how_it_is_flown(qtbot: QtBot, window: MainWindow) -> None:
    type_route(qtbot, window, "LENDU UM12 TOVIK DCT SARNO")
    window.picture.grab()
    first, second = picture_spot(window, "UVAGI"), picture_spot(window, "TOVIK")
    qtbot.mouseClick(window.picture.chart.viewport(), Qt.MouseButton.LeftButton, pos=(first + second) / 2)
    assert [s.cursor.selectedText() for s in window.text.extraSelections()] == ["UM12"]


def test_next_and_previous_finding_from_the_keyboard(qtbot: QtBot, window: MainWindow) -> None:
    type_route(qtbot, window, "LENDU DCT PIKUR DCT XXXXX DCT SARNO")
    assert window.session.selection is None
    seen = []
    for key, modifier in ((Qt.Key.Key_F8, Qt.KeyboardModifier.NoModifier),) * 3 + (
        (Qt.Key.Key_F8, Qt.KeyboardModifier.ShiftModifier),
    ):
        qtbot.keyClick(window, key, modifier)
        assert window.session.selection is not None
        seen.append(window.session.selection.findings[0])
    assert seen == [0, 1, 0, 1]
    qtbot.keyClick(window, Qt.Key.Key_Escape)
    assert window.session.selection is None


def test_moving_the_cursor_picks_but_typing_does_not(qtbot: QtBot, window: MainWindow) -> None:
    type_route(qtbot, window, "LENDU DCT PIKUR")
    assert window.session.selection is None
    qtbot.keyClick(window.text, Qt.Key.Key_Left)
    assert window.session.selection is not None
    assert window.margin.findings.finding_model.open_rows == {0}


def test_a_finding_is_copied_from_the_margin_and_a_word_from_the_text(qtbot: QtBot, window: MainWindow) -> None:
    view = window.margin.findings
    window.session.select_finding(0)
    for pane, copied in ((view, sentences(window)[0]), (window.text, window.text.toPlainText())):
        QGuiApplication.clipboard().setText("before")
        pane.setFocus()
        window.text.selectAll()
        qtbot.keyClick(pane, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
        assert QGuiApplication.clipboard().text() == copied


def test_the_fields_are_part_of_the_route(qtbot: QtBot, window: MainWindow) -> None:
    window.flight_fields.fields["departure"].selectAll()
    with qtbot.waitSignal(
        window.session.assessed, check_params_cb=lambda s: s.assessment.route.route_input.departure == "XVMA"
    ):
        qtbot.keyClicks(window.flight_fields.fields["departure"], "xvma")
    with qtbot.waitSignal(window.session.assessed):
        window.flight_fields.role.setCurrentIndex(window.flight_fields.role.findData(Role.CLEARED))
    assert window.session.route_input.role is Role.CLEARED


def test_a_broken_date_is_said_and_todays_is_used(qtbot: QtBot, window: MainWindow) -> None:
    field = window.flight_fields.fields["off_block"]
    field.selectAll()
    with qtbot.waitSignal(window.session.assessed):
        qtbot.keyClicks(field, "2026-13-40")
    assert window.session.route_input.date is None
    qtbot.waitUntil(lambda: "2026-13-40" in window.status.message.text())


def test_what_is_typed_comes_back_at_the_next_start(qtbot: QtBot, opened: Open) -> None:
    first = opened()
    type_route(qtbot, first, "LENDU DCT PIKAR DCT TOVIK")
    first.close()
    second = opened()
    assert second.text.toPlainText() == "LENDU DCT PIKAR DCT TOVIK"
    assert second.session.route_input.departure == "XVAL"
    assert second.session.route_input.date == first.session.route_input.date


def test_what_is_typed_is_kept_without_closing(qtbot: QtBot, window: MainWindow) -> None:
    type_route(qtbot, window, "LENDU DCT KEPT1")
    qtbot.waitUntil(lambda: (k := persistence.read_route()) is not None and k.route == "LENDU DCT KEPT1", timeout=5000)


def test_the_route_before_comes_back(qtbot: QtBot, window: MainWindow) -> None:
    type_route(qtbot, window, "LENDU DCT MINE1")
    with qtbot.waitSignal(window.session.assessed):
        window.open_demo()
    assert "MINE1" not in window.text.toPlainText()
    with qtbot.waitSignal(window.session.assessed):
        window.open_before()
    assert window.text.toPlainText() == "LENDU DCT MINE1"


def test_undo_reaches_what_was_typed(qtbot: QtBot, window: MainWindow) -> None:
    before = window.text.toPlainText()
    window.text.moveCursor(QTextCursor.MoveOperation.End)
    qtbot.keyClicks(window.text, " XX")
    qtbot.keyClick(window.text, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.text.toPlainText() == before


ANY_TEXTS = [
    "",
    "   ",
    "////",
    "$%& ÄÖ 🛫 \u2028 \u00a0 99N200W",
    "DCT DCT DCT",
    "LENDU " * 300,
    " ".join(f"{i % 60:02d}N{i % 170:03d}W" for i in range(250)),
    "40N170E 42N175W 35N160W",
    "80N030W 90N000E 85N160E",
    "A" * 5000,
]


@pytest.mark.usefixtures("with_charts")
def test_no_text_breaks_the_window(qtbot: QtBot, window: MainWindow) -> None:
    for text in ANY_TEXTS:
        window.text.selectAll()
        with qtbot.waitSignal(window.session.assessed, timeout=20_000):
            window.text.insertPlainText(text) if text else window.text.clear()
        assert window.session.answer is not None
        assert window.session.answer.assessment.route.route_input.route == window.text.toPlainText()
        assert not window.grab().isNull()
        for _ in range(3):
            window.session.step_selection(1)
        assert not window.grab().isNull()


@pytest.mark.usefixtures("with_charts")
def test_zoom_stays_until_fit(qtbot: QtBot, window: MainWindow) -> None:
    fitted = width_nm(window)
    window.picture.zoom(0.5)
    type_route(qtbot, window, "LENDU DCT PIKAR DCT TOVIK")
    assert width_nm(window) < 0.7 * fitted
    window.picture.fit_route()
    box = window.session.answer.picture.box  # type: ignore[union-attr]
    west, south, east, north = window.picture.chart.seen()
    assert west <= box[0]
    assert south <= box[1]
    assert east >= box[2]
    assert north >= box[3]


def width_nm(window: MainWindow) -> float:
    west, _, east, _ = window.picture.chart.seen()
    return east - west


@pytest.mark.usefixtures("with_charts")
def test_hover_reads_out_the_position(window: MainWindow) -> None:
    window.picture.grab()
    assert "°" in window.picture.chart.hint(QPointF(5, 5))
    assert window.picture.chart.hint(QPointF(picture_spot(window, "LENDU"))).startswith("LENDU: ")


def test_every_action_has_its_own_shortcut_and_is_on_the_sheet(window: MainWindow) -> None:
    lines = actions.list_shortcuts(window)
    keys = [keys for _, keys in lines]
    assert all(keys)
    assert len(set(keys)) == len(keys)
    dialog = dialogs.show_shortcuts(window)
    dialog.reject()


def test_about_carries_the_cautions(window: MainWindow) -> None:
    from PySide6.QtWidgets import QLabel

    dialog = dialogs.show_about(window)
    text = "".join(label.text() for label in dialog.findChildren(QLabel))
    dialog.reject()
    assert "not for navigation" in text
    assert "NOTAM" in text


@pytest.mark.usefixtures("with_charts")
def test_everything_has_a_name_for_screen_readers(window: MainWindow) -> None:
    for widget in (window.text, window.picture, window.margin.findings, window.flight_fields.role):
        assert widget.accessibleName()
    for name, field in window.flight_fields.fields.items():
        assert field.accessibleName() == name_value(name)
    row = window.margin.findings.finding_model.index(0)
    assert str(row.data(Qt.ItemDataRole.AccessibleTextRole)).startswith("Wrong, number 1: ")


@pytest.mark.usefixtures("with_charts", "dressed")
def test_a_larger_system_font_is_followed(qtbot: QtBot, window: MainWindow) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    window.choose_theme(Qt.ColorScheme.Light)
    before, height = app.font(), window.text.height()
    larger = app.font()
    larger.setPointSizeF(before.pointSizeF() * 2)
    try:
        app.setFont(larger)
        qtbot.waitUntil(lambda: window.text.height() > height, timeout=3000)
        assert {line.cursor.selectedText() for line in window.text.underlines} == {"PIKOR"}, "marks stay at their words"
        parts = (
            window.menuBar(),
            window.foot.totals,
            window.flight_fields.role,
            window.margin.headline,
            window.text.viewport(),
        )
        qtbot.waitUntil(lambda: all(one.font().pointSizeF() > 1.5 * before.pointSizeF() for one in parts))
        size = window.margin.headline.font().pointSizeF()
        window.choose_theme(Qt.ColorScheme.Light)
        assert window.margin.headline.font().pointSizeF() == size, "and every size with another theme"
    finally:
        window.choose_theme(Qt.ColorScheme.Unknown)
        app.setFont(before)


def test_hovering_a_flagged_word_tells_its_sentence(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[str] = []
    monkeypatch.setattr(QToolTip, "showText", lambda _spot, text, _widget: told.append(text))
    cursor = QTextCursor(window.text.document())
    cursor.setPosition(window.text.toPlainText().index("PIKOR") + 2)
    spot = window.text.viewport().mapToGlobal(window.text.cursorRect(cursor).center())
    QApplication.sendEvent(window.text, QHelpEvent(QEvent.Type.ToolTip, window.text.mapFromGlobal(spot), spot))
    assert told[0].startswith("1  ")
    assert "PIKOR" in told[0]


def test_a_number_stays_with_its_unit() -> None:
    assert bind_units("126 NM longer (+79 %)") == "126\u00a0NM longer (+79\u00a0%)"
    assert bind_units("20 ENSB") == "20 ENSB"
