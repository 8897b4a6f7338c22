"""The Leg table pane: picks are linked, it folds away, it is copied as CSV, its order is that of the route."""

import csv
import dataclasses
import io
from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QFontMetrics, QGuiApplication
from PySide6.QtTest import QSignalSpy
from pytestqt.qtbot import QtBot

from routecheck.gui.theme import text_font
from routecheck.gui.window import MainWindow
from routecheck.model import Claim, Wind

pytestmark = pytest.mark.usefixtures("without_charts")

Open = Callable[..., MainWindow]


def click_row(qtbot: QtBot, window: MainWindow, row: int) -> None:
    view = window.legs.view
    spot = view.visualRect(view.model().index(row, 1)).center()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=spot)


def test_the_legs_of_the_demo_are_there(window: MainWindow) -> None:
    model = window.legs.model
    assert model.rowCount() == 7
    assert window.legs.total_model.index(0, 1).data() == "total"
    heads = [model.headerData(i, Qt.Orientation.Horizontal) for i in range(model.columnCount())]
    assert heads == [
        "",
        "from",
        "to",
        "via",
        "°T",
        "°M",
        "NM",
        "sum NM",
        "to go",
        "level",
        "minimum",
        "variation",
        "",
    ]
    assert model.index(2, 6).data() == "gap"
    assert not window.legs.view.isSortingEnabled()


def test_figures_are_right_aligned_and_words_left(window: MainWindow) -> None:
    model = window.legs.model
    for i, column in enumerate(model.table.columns, 1):
        aligned = model.index(0, i).data(Qt.ItemDataRole.TextAlignmentRole)
        assert bool(aligned & Qt.AlignmentFlag.AlignRight) == column.figures
        assert model.headerData(i, Qt.Orientation.Horizontal, Qt.ItemDataRole.TextAlignmentRole) == aligned


@pytest.mark.usefixtures("with_charts")
def test_a_click_picks_the_leg_everywhere_and_again_lets_go(qtbot: QtBot, window: MainWindow) -> None:
    window.session.select(None)
    click_row(qtbot, window, 1)
    assert window.session.selection is not None
    assert window.session.selection.legs == (1,)
    assert window.picture.chart.map.line("halo").size
    assert window.margin.findings.finding_model.open_rows == {0}
    click_row(qtbot, window, 1)
    assert window.session.selection is None


def test_the_keyboard_moves_the_pick(qtbot: QtBot, window: MainWindow) -> None:
    window.session.select_leg(0)
    window.legs.take_focus()
    qtbot.keyClick(window.legs.view, Qt.Key.Key_Down)
    assert window.session.selection is not None
    assert window.session.selection.legs == (1,)


@pytest.mark.usefixtures("with_charts")
def test_a_pick_from_elsewhere_is_tinted_and_brought_into_view(qtbot: QtBot, window: MainWindow) -> None:
    route = " DCT ".join(f"31{m:02d}S00{m % 10}00E" for m in range(1, 50))
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(dataclasses.replace(window.session.route_input, route=route))
    window.session.select_leg(45)
    view = window.legs.view
    spot = view.visualRect(window.legs.model.index(45, 4))
    assert view.viewport().rect().contains(spot.center())
    image = view.viewport().grab().toImage()
    ratio = image.devicePixelRatio()
    corner = QPoint(view.viewport().width() - 4, spot.center().y()) * ratio
    assert QColor(image.pixel(corner)).name() == window.theme.selected


@pytest.mark.usefixtures("with_charts")
def test_it_folds_away_and_stays_so(qtbot: QtBot, opened: Open) -> None:
    first = opened()
    tall = first.picture.height()
    qtbot.mouseClick(first.legs.fold_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: first.picture.height() > tall + 60)
    assert not first.legs.view.isVisible()
    first.close()
    second = opened()
    assert not second.legs.view.isVisible()
    second.legs.take_focus()
    qtbot.waitUntil(second.legs.view.isVisible)


def test_it_is_copied_as_csv(qtbot: QtBot, window: MainWindow) -> None:
    window.legs.view.setFocus()
    qtbot.keyClick(window.legs.view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    rows = list(csv.DictReader(io.StringIO(QGuiApplication.clipboard().text())))
    assert [row["from"] for row in rows] == ["XVAL", "LENDU", "PIKOR", "TOVIK", "SARNO", "KEBUL", "RIPAS"]
    assert float(rows[0]["distance_nm"]) > 100


def test_findings_are_marked_and_said(window: MainWindow) -> None:
    model = window.legs.model
    assert model.index(1, 0).data(Qt.ItemDataRole.AccessibleTextRole) == "wrong findings, number 1"
    assert model.index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole) == "no findings"
    assert "not on UM12" in str(model.index(2, 3).data(Qt.ItemDataRole.ToolTipRole))


@pytest.mark.usefixtures("with_charts", "dressed")
def test_it_needs_no_scrolling_sideways(qtbot: QtBot, window: MainWindow) -> None:
    plain = window.session.route_input
    for route_input in (dataclasses.replace(plain, claims=(Claim("PIKOR", distance_nm=93.9),)), plain):
        with qtbot.waitSignal(window.session.assessed):
            window.session.replace_input(route_input)
        for width in (1000, 1400):
            window.resize(width, 700)
            qtbot.waitUntil(lambda: window.legs.view.horizontalScrollBar().maximum() == 0)


@pytest.mark.usefixtures("with_charts")
def test_claims_bring_their_columns(qtbot: QtBot, window: MainWindow) -> None:
    claimed = dataclasses.replace(window.session.route_input, claims=(Claim("PIKOR", distance_nm=93.9),))
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(claimed)
    heads = [column.head for column in window.legs.model.table.columns]
    assert heads[-4:] == ["claimed NM", "differs NM", "minimum", "variation"]
    assert not window.grab().isNull()


def test_a_lost_answer_shows_no_legs(window: MainWindow) -> None:
    window.session.answer_lost.emit("our mistake")
    assert window.legs.model.rowCount() == 0


def fly(qtbot: QtBot, window: MainWindow) -> None:
    flown = dataclasses.replace(window.session.route_input, route="LENDU DCT SARNO SARNO2", aircraft_sheet="Medium jet")
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(flown)


def test_the_total_is_no_leg_and_its_basis_stands_below(qtbot: QtBot, window: MainWindow) -> None:
    fly(qtbot, window)
    last = window.legs.model.rowCount() - 1
    assert not window.legs.total_model.is_leg(0)
    window.session.select_leg(last)
    window.legs.take_focus()
    qtbot.keyClick(window.legs.view, Qt.Key.Key_Down)
    assert window.session.selection is not None
    assert window.session.selection.legs == (last,)
    assert "from take-off at XVAL to landing at XVOR" in window.legs.basis.text()
    assert "from take-off at XVAL to landing at XVOR" in window.legs.basis.toolTip()
    assert window.legs.basis.isVisible()
    qtbot.mouseClick(window.legs.fold_button, Qt.MouseButton.LeftButton)
    assert not window.legs.basis.isVisible()


@pytest.mark.usefixtures("with_charts")
def test_points_that_the_text_does_not_name_are_said_to_be_so(qtbot: QtBot, window: MainWindow) -> None:
    fly(qtbot, window)
    model = window.legs.model
    said = [model.index(row, 2).data(Qt.ItemDataRole.AccessibleTextRole) for row in range(model.rowCount())]
    assert said[:4] == [None, None, "KEBUL, not named in the text", "RIPAS, not named in the text"]
    assert not window.grab().isNull()


@pytest.mark.usefixtures("with_charts", "dressed")
def test_no_cell_is_cut_off(qtbot: QtBot, window: MainWindow) -> None:
    fly(qtbot, window)
    model, bold = window.legs.model, QFontMetrics(text_font(bold=True))
    for width in (1000, 1200, 1400):
        window.resize(width, 800)
        qtbot.wait(20)
        shown = set(range(1, len(model.table.columns) + 1)) - {i + 1 for i in window.legs.columns.hidden}
        for row in range(model.rowCount()):
            metrics = QFontMetrics(text_font()) if model.is_leg(row) else bold
            for i in shown:
                room = window.legs.view.columnWidth(i) - 8
                assert metrics.horizontalAdvance(str(model.index(row, i).data())) <= room, width


@pytest.mark.usefixtures("with_charts", "dressed")
def test_columns_that_have_no_room_are_hidden_counted_and_shown_on_demand(qtbot: QtBot, window: MainWindow) -> None:
    legs = window.legs
    wind = dataclasses.replace(window.session.route_input, wind=(Wind(280, 45, "F350"),), speed="N0450", level="F350")
    window.session.replace_input(wind)
    fly(qtbot, window)
    hidden = []
    for size in ((1100, 700), (1400, 900), (2600, 1400)):
        window.resize(*size)
        qtbot.wait(20)
        assert legs.view.horizontalScrollBar().maximum() == 0
        assert legs.total_view.isVisible()
        count = sum(legs.view.isColumnHidden(i) for i in range(legs.model.columnCount()))
        assert count == sum(legs.total_view.isColumnHidden(i) for i in range(legs.model.columnCount()))
        assert legs.columns_button.isVisible() == (count > 0)
        assert f"{count} of {len(legs.model.table.columns)} columns hidden" in legs.columns_button.text() or not count
        hidden.append(count)
    assert hidden[0] > hidden[1] > hidden[2] == 0
    window.resize(1100, 700)
    qtbot.wait(20)
    window.menu_actions.all_columns.trigger()
    assert not any(legs.view.isColumnHidden(i) for i in range(legs.model.columnCount()))
    qtbot.waitUntil(lambda: legs.view.horizontalScrollBar().maximum() > 0)
    qtbot.mouseClick(legs.columns_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: legs.view.horizontalScrollBar().maximum() == 0)


def answered(qtbot: QtBot, window: MainWindow, route: str) -> None:
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(dataclasses.replace(window.session.route_input, route=route))


def test_typing_shows_only_the_rows_anew_that_differ(qtbot: QtBot, window: MainWindow) -> None:
    model = window.legs.model
    answered(qtbot, window, "LENDU DCT MAV DCT TOVIK DCT SARNO")
    resets, changes = QSignalSpy(model.modelReset), QSignalSpy(model.dataChanged)
    answered(qtbot, window, "LENDU DCT MAV DCT TOVIK DCT KEBUL")
    assert resets.count() == 0
    assert [(changes.at(0)[0].row(), changes.at(0)[1].row()), changes.count()] == [(0, 4), 1], (
        "all are another way from the end"
    )
    answered(qtbot, window, "LENDU DCT MAV DCT TOVIK DCT KEBUL DCT RIPAS")
    shown = [model.index(row, 2).data() for row in range(model.rowCount())]
    assert shown == ["LENDU", "MAV", "TOVIK", "KEBUL", "RIPAS", "XVOR"]
    answered(qtbot, window, "LENDU")
    assert [model.index(row, 2).data() for row in range(model.rowCount())] == ["LENDU", "XVOR"]
    assert resets.count() == 0


def test_another_route_is_looked_at_from_its_top(qtbot: QtBot, window: MainWindow) -> None:
    answered(qtbot, window, " DCT ".join(f"31{m:02d}S00{m % 10}00E" for m in range(1, 50)))
    window.session.select_leg(45)
    assert window.legs.view.verticalScrollBar().value() > 0
    answered(qtbot, window, " DCT ".join(f"32{m:02d}S00{m % 10}00E" for m in range(1, 50)))
    assert window.legs.view.verticalScrollBar().value() == 0
