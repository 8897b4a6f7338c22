"""The Side view pane: folded until it serves, picks linked both ways, nothing covers anything, mouse and keys."""

import dataclasses
from collections.abc import Callable
from itertools import combinations
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from routecheck.gui.side_view.chart import SideChart
from routecheck.gui.side_view.labels import lay_out
from routecheck.gui.side_view.text import SideKind
from routecheck.gui.window import MainWindow
from routecheck.model import RouteInput

Open = Callable[..., MainWindow]
SAMPLES = Path(__file__).resolve().parents[2] / "sample_routes"
CONFLICT = SAMPLES / "planted" / "windows-that-cannot-be-met.route.toml"
ZIGZAG = " DCT ".join(f"{29 + 3 * (i % 2)}{i * 7 % 60:02d}S{i // 6:03d}{i * 10 % 60:02d}E" for i in range(60))


def opened_file(qtbot: QtBot, window: MainWindow, file: Path) -> SideChart:
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.open_route(str(file))
    return unfolded(qtbot, window)


def unfolded(qtbot: QtBot, window: MainWindow) -> SideChart:
    """The chart, once it paints: it lets the other panes go first."""
    chart = window.side.unfold()
    qtbot.waitUntil(chart.viewport().updatesEnabled, timeout=5_000)
    return chart


def show(qtbot: QtBot, window: MainWindow, **given: object) -> SideChart:
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.session.replace_input(dataclasses.replace(RouteInput("", "XVAL", "XVOR"), **given))
    return unfolded(qtbot, window)


def x_of(chart: SideChart, name: str) -> float:
    return chart.frame().x(next(p.nm for p in chart.view.points if p.name == name))


def click(qtbot: QtBot, chart: SideChart, x: float, y: float) -> None:
    qtbot.mouseClick(chart.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(round(x), round(y)))


def apart(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def assert_nothing_covers(chart: SideChart) -> None:
    rects = [text.rect for text in chart.layout_now.texts] + list(chart.layout_now.marks.values())
    assert rects
    assert [pair for pair in combinations(rects, 2) if not apart(*pair)] == []
    for left, top, right, bottom in rects:
        assert left >= 0
        assert top >= 0
        assert right <= chart.width()
        assert bottom <= chart.height()


# ---- folded and unfolded


def test_it_is_folded_and_not_even_made_while_there_are_no_windows(qtbot: QtBot, window: MainWindow) -> None:
    assert not window.menu_actions.fold_side.isChecked()
    assert window.side.chart is None
    qtbot.waitUntil(lambda: window.side.notes.text() == "no altitude windows")


def test_the_first_windows_unfold_it(qtbot: QtBot, window: MainWindow) -> None:
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.open_route(str(CONFLICT))
    assert window.menu_actions.fold_side.isChecked()
    assert window.side.chart is not None
    assert window.side.chart.isVisible()
    assert window.side.chart.height() >= window.side.chart.minimumSizeHint().height()


def test_a_choice_is_kept_for_the_next_start(qtbot: QtBot, opened: Open) -> None:
    window = opened()
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.open_route(str(CONFLICT))
    window.menu_actions.fold_side.trigger()
    assert not window.menu_actions.fold_side.isChecked()
    window.close()
    again = opened(str(CONFLICT))
    assert any(again.session.answer.assessment.route.windows)
    assert again.session.answer.side is None, "laid out though nobody looks"
    assert not again.menu_actions.fold_side.isChecked()
    again.menu_actions.fold_side.trigger()
    again.close()
    assert opened().menu_actions.fold_side.isChecked()


@pytest.mark.usefixtures("dressed")
def test_a_pane_that_starts_folded_takes_no_room_of_one_unfolded_before(
    qtbot: QtBot, opened: Open, tmp_path: Path
) -> None:
    before = opened(str(CONFLICT))
    qtbot.waitUntil(before.menu_actions.fold_side.isChecked)
    before.close()
    plain = tmp_path / "plain.route.toml"
    plain.write_text('schema = 1\ndeparture = "XVAL"\ndestination = "XVOR"\nroute = "LENDU DCT PIKAR"\n')
    window = opened(str(plain))
    assert not window.side.chosen
    assert not window.menu_actions.fold_side.isChecked()
    qtbot.wait(50)
    end_of_side = window.side.mapTo(window, window.side.rect().bottomLeft()).y()
    assert window.legs.mapTo(window, window.legs.rect().topLeft()).y() - end_of_side < 40


@pytest.mark.usefixtures("dressed")
def test_unfolding_leaves_the_picture_its_height_and_folding_gives_it_back(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(1200, 800)
    before = window.picture.height()
    window.menu_actions.fold_side.trigger()
    assert window.picture.height() >= window.picture.minimumHeight()
    assert window.side.chart.height() >= window.side.chart.minimumSizeHint().height()
    window.menu_actions.fold_side.trigger()
    assert window.picture.height() >= before - 2
    assert window.side.height() < 40


# ---- what is written


@pytest.mark.usefixtures("dressed")
def test_nothing_covers_anything(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    for size in ((1000, 700), (1200, 800), (3840, 2100)):
        window.resize(*size)
        for look in (chart.look_at_all, chart.look_at_departure, chart.look_at_arrival):
            look()
            chart.grab()
            assert_nothing_covers(chart)
            window.session.step_selection(1)
            assert_nothing_covers(chart)


@pytest.mark.usefixtures("dressed")
def test_a_long_route_and_many_findings_cover_nothing(qtbot: QtBot, window: MainWindow) -> None:
    chart = show(qtbot, window, route=ZIGZAG, level="F350", aircraft_sheet="Medium jet")
    chart.grab()
    assert_nothing_covers(chart)
    wrong = {m.index for m in chart.view.marks if m.weight.value != "note"}
    assert wrong <= set(chart.layout_now.marks)
    crowd = dataclasses.replace(
        chart.view, marks=tuple(dataclasses.replace(chart.view.marks[0], index=i) for i in range(60))
    )
    crowded = lay_out(crowd, chart.frame(), (float(chart.width()), float(chart.height())), None)
    assert crowded.marks_left_out == 60 - len(crowded.marks) > 0
    assert all(apart(*pair) for pair in combinations(crowded.marks.values(), 2))


def test_an_arrival_of_thirteen_windows_is_read_at_1200_by_800(
    qtbot: QtBot, window: MainWindow, test_data: Path
) -> None:
    """FRDMM5 of KDCA, runway 01, from BUCKO. Data: U.S. FAA CIFP, cycle 2301 (public domain)."""
    with qtbot.waitSignal(window.session.data_loaded, timeout=30_000):
        window.data.add_for_session([str(test_data / "faa_cifp_2301_northeast.txt.xz")])
    window.resize(1200, 800)
    chart = show(
        qtbot,
        window,
        route="BUCKO FRDMM5",
        departure="KPIT",
        destination="KDCA",
        destination_runway="01",
        level="F310",
        aircraft_sheet="Medium jet",
    )
    assert len(chart.view.brackets) == 13
    chart.look_at_arrival()
    chart.grab()
    assert chart.layout_now.values_left_out == 0
    assert_nothing_covers(chart)
    values = {t.text for t in chart.layout_now.texts if t.kind is SideKind.VALUE}
    assert values >= {b.label for b in chart.view.brackets}


@pytest.mark.usefixtures("dressed")
def test_values_without_room_are_counted_in_words(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(1000, 700)
    chart = opened_file(qtbot, window, CONFLICT)
    chart.look_at_all()
    left = chart.layout_now.values_left_out
    assert left > 0
    qtbot.waitUntil(lambda: f"Left out for lack of room: {left} altitude" in window.side.notes.toolTip())


def test_an_empty_route_says_what_is_missing(qtbot: QtBot, window: MainWindow) -> None:
    chart = show(qtbot, window, route="", departure="", destination="")
    assert chart.accessibleDescription() == "The Side view appears with the first leg whose length is known."
    chart.grab()
    assert chart.layout_now.texts == ()
    assert chart.hint(QPointF(100, 50)) == ""
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Home, Qt.Key.Key_Plus):
        qtbot.keyClick(chart, key)
    click(qtbot, chart, 100, 50)


# ---- picks


def test_a_finding_picked_elsewhere_stands_out_here(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    chart.look_at_arrival()
    window.session.select_finding(0)
    bold = {t.text for t in chart.layout_now.texts if t.kind in (SideKind.PICKED, SideKind.PICKED_VALUE)}
    assert {"KEBUL", "RIPAS", "≥ FL240"} <= bold


def test_a_pick_out_of_view_is_brought_into_view(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    chart.look_at_arrival()
    window.session.select_point(1)
    first, last = chart.seen()
    assert first <= chart.view.points[1].nm <= last


def test_points_legs_and_findings_are_picked_with_the_mouse(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    chart.look_at_arrival()
    middle = chart.height() / 2
    click(qtbot, chart, x_of(chart, "HUNSA"), middle)
    assert window.session.selection.points == (10,)
    click(qtbot, chart, (x_of(chart, "KEBUL") + x_of(chart, "RIPAS")) / 2, middle)
    assert window.session.selection.legs == (8,)
    assert window.legs.selected_legs == {8}
    window.session.select(None)
    left, top, right, bottom = chart.layout_now.marks[0]
    click(qtbot, chart, (left + right) / 2, (top + bottom) / 2)
    assert window.session.selection.findings == (0,)
    assert window.session.selection.points == (8, 9)
    click(qtbot, chart, (left + right) / 2, (top + bottom) / 2)
    assert window.session.selection is None


def test_the_keyboard_goes_from_point_to_point_and_reads_out(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    window.activateWindow()
    chart.setFocus()
    qtbot.keyClick(chart, Qt.Key.Key_Home)
    assert window.session.selection.points == (0,)
    qtbot.keyClick(chart, Qt.Key.Key_Right)
    assert window.session.selection.points == (1,)
    assert chart.accessibleDescription().startswith("TILBU, at least 18.3 NM from XVAL")
    assert "Window: at or above 1,500 ft, coded in LENDU1" in chart.accessibleDescription()
    assert chart.read_out.isVisible()
    qtbot.keyClick(chart, Qt.Key.Key_End)
    qtbot.keyClick(chart, Qt.Key.Key_Left)
    assert window.session.selection.points == (len(chart.view.points) - 2,)


# ---- mouse


def test_hover_reads_out_the_gradient_between_two_windows(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    chart.look_at_arrival()
    between = (x_of(chart, "KEBUL") + x_of(chart, "RIPAS")) / 2
    chart.hovered.emit(QPointF(between, chart.height() / 2))
    assert "needs 653 ft/NM down" in chart.read_out.text()
    top = chart.read_out.geometry().bottom()
    assert top <= chart.mapTo(window, QPoint(0, 0)).y(), "what is read out covers the drawing"
    QApplication.sendEvent(chart, QEvent(QEvent.Type.Leave))
    assert not chart.read_out.isVisible()


def test_the_wheel_zooms_about_the_mouse_and_no_farther_than_the_route(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    spot = QPointF(x_of(chart, "SARNO"), chart.height() / 2)
    turn(chart, spot, 120)
    assert x_of(chart, "SARNO") == pytest.approx(spot.x(), abs=0.5)
    first, last = chart.seen()
    assert last - first == pytest.approx(chart.view.whole_nm / 1.02**15)
    for _ in range(3):
        turn(chart, spot, -120)
    assert chart.seen() == (0.0, chart.view.whole_nm)
    for _ in range(40):
        turn(chart, spot, 120)
    first, last = chart.seen()
    assert last - first == pytest.approx(2.0)
    chart.grab()


def turn(chart: SideChart, spot: QPointF, by: int) -> None:
    event = QWheelEvent(
        spot,
        chart.mapToGlobal(spot),
        QPoint(),
        QPoint(0, by),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(chart.viewport(), event)


def test_heights_follow_what_is_in_view(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    assert chart.frame().high_ft > 35_000
    chart.look(chart.view.whole_nm - 40, chart.view.whole_nm)
    assert chart.frame().high_ft < 15_000


def test_typing_keeps_what_is_looked_at_while_the_route_is_as_long(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    chart.look_at_arrival()
    seen = chart.seen()
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.session.change_input(dataclasses.replace(window.session.route_input, level="F330"))
    assert chart.seen() == seen


def test_what_cannot_be_worked_out_leaves_nothing_to_see(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    window.session.answer_lost.emit("our mistake")
    assert chart.view.points == ()
    chart.grab()


def test_both_themes_paint(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, CONFLICT)
    for scheme in (Qt.ColorScheme.Dark, Qt.ColorScheme.Light):
        window.choose_theme(scheme)
        image = chart.grab().toImage()
        dark = image.pixelColor(3, image.height() - 3).lightness() < 100
        assert dark == (scheme == Qt.ColorScheme.Dark)


def test_a_tried_window_is_drawn_dotted_and_goes_again(qtbot: QtBot, window: MainWindow) -> None:
    chart = opened_file(qtbot, window, SAMPLES / "planted" / "window-a-tenth.route.toml")
    window.session.select_finding(0)
    with qtbot.waitSignal(window.corrections.trial_changed, timeout=20_000):
        window.corrections.try_selected()
    assert "≥ 11,000 ft, if changed" in {text.text for text in chart.layout_now.texts}
    assert_nothing_covers(chart)
    chart.grab()
    window.corrections.end_trial()
    assert not [bracket for bracket in chart.view.brackets if bracket.tried]
