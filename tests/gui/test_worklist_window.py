"""The worklist in its window: what stands on top, what is shown of it, a route opened and come back from."""

import csv
import datetime as dt

import pytest
from PySide6.QtCore import Qt
from worklist_routes import ROUTES
from written_runs import assess_on_demo

from routecheck.gui.worklist.model import ALL, TO_LOOK_AT
from routecheck.gui.worklist.opening import Worklists
from routecheck.gui.worklist.window import WorklistWindow
from routecheck.navdata.choice import DataChoice
from routecheck.settings import Settings
from routecheck.worklist import worklist as worklist_module
from routecheck.worklist.worklist import Worklist

pytestmark = pytest.mark.usefixtures("without_charts")

DAY = dt.date(2026, 12, 3)


@pytest.fixture
def table(tmp_path):
    path = tmp_path / "rows.csv"
    with path.open("w", newline="") as file:
        rows = [("XVAL", "XVOR", route.route) for route in ROUTES]
        csv.writer(file).writerows([("departure", "destination", "route"), *rows])
    return path


@pytest.fixture(autouse=True)
def in_this_process(monkeypatch):
    """Processes are tested where there is no window."""

    def check(groups, work, run, _jobs):
        for group in groups:
            yield from run.add(assess_on_demo(group))

    monkeypatch.setattr(worklist_module, "check_in_processes", check)


@pytest.fixture
def shown(qtbot, table):
    window = WorklistWindow(
        Worklist(table, DataChoice(demo=True), Settings(), DAY), lambda: dt.datetime(2026, 12, 3, 10, tzinfo=dt.UTC)
    )
    qtbot.addWidget(window)
    with qtbot.waitSignal(window.jobs.ended, timeout=20_000):
        window.show()
    return window


def cells(window, column):
    return [window.model.index(row, column).data() for row in range(window.model.rowCount())]


def choose_group(window, name):
    rows = [window.groups.item(i).data(Qt.ItemDataRole.UserRole) for i in range(window.groups.count())]
    window.groups.setCurrentRow(rows.index(name))


def test_the_ones_to_look_at_first_stand_on_top(shown):
    assert cells(shown, 0) == ["not checked"] * 3 + ["■ Wrong"] * 3 + ["◆ Doubtful"] * 3 + ["nothing found"] * 3
    assert shown.progress.text().startswith("12 rows read, 12 routes: 6 with something Wrong")
    shown.table.sortByColumn(4, Qt.SortOrder.DescendingOrder)
    assert cells(shown, 4)[-3:] == [""] * 3
    assert [cells(shown, 0)[i] for i in (-1, -2, -3)] == ["not checked"] * 3


def test_a_group_and_a_text_choose_what_is_shown(shown, qtbot):
    groups = [shown.groups.item(i).text() for i in range(shown.groups.count())]
    assert groups[:2] == [f"12  {ALL}", f"9  {TO_LOOK_AT}"]
    assert "3  one letter away" in groups
    choose_group(shown, "one letter away")
    assert cells(shown, 0) == ["■ Wrong"] * 3
    choose_group(shown, ALL)
    shown.filter.setText("line 3")
    qtbot.waitUntil(lambda: shown.model.rowCount() == 1)
    assert cells(shown, 1) == ["XVAL–XVOR line 3"]
    assert shown.details.text().startswith("LENDU DCT PIKER DCT UVAGI\n")
    assert shown.details.text().count("PIKER is not in the loaded data") == 1, "a fact once"
    assert "Likely intended: PIKAR: one letter away" in shown.details.text()


def test_an_accepted_finding_stays_accepted_tomorrow(shown, qtbot, table):
    choose_group(shown, "one letter away")
    while shown.model.rowCount() == 3:
        dialog = shown.accept_first()
        dialog.reason.setText("cleared so")
        dialog.by.setText("AB")
        dialog.accept()
    assert shown.message.text() == "Accepted, and kept in rows.csv.accepted.jsonl."
    tomorrow = Worklist(table, DataChoice(demo=True), Settings(), DAY)
    list(tomorrow.check())
    accepted = [number for number, row in enumerate(tomorrow.rows) if tomorrow.input_of(number).accepted]
    assert [tomorrow.inputs[number].route for number in accepted] == ["LENDU DCT PIKER DCT UVAGI"] * 3


def test_a_list_that_cannot_be_written_beside_is_said(shown):
    shown.worklist.acceptances.path = shown.worklist.path / "no folder"
    choose_group(shown, "one letter away")
    dialog = shown.accept_first()
    dialog.reason.setText("cleared so")
    dialog.by.setText("AB")
    dialog.accept()
    assert shown.message.text().startswith("Not accepted: no folder cannot be written: ")


def test_it_is_saved_as_proof_writes_it(shown, qtbot, tmp_path):
    for name in ("out.html", "out.csv", "out"):
        with qtbot.waitSignal(shown.jobs.ended, timeout=20_000):
            shown.write(tmp_path / name)
    assert (tmp_path / "out.html").read_text("utf-8").count("<tr>") == 13
    assert len((tmp_path / "out.csv.csv").exists() or (tmp_path / "out.csv").read_text("utf-8").splitlines()) == 13


def test_rows_that_came_before_it_was_stopped_stay(qtbot, table, monkeypatch):
    def endless(groups, work, run, jobs):
        for group in groups:
            yield from run.add(assess_on_demo(group[:2]))
        while True:
            yield None

    monkeypatch.setattr(worklist_module, "check_in_processes", endless)
    window = WorklistWindow(Worklist(table, DataChoice(demo=True), Settings(), DAY), dt.datetime.now)
    qtbot.addWidget(window)
    window.show()
    qtbot.waitUntil(lambda: len(window.worklist.rows) == 2, timeout=10_000)
    window.stop_button.click()
    assert window.progress.text() == "Stopped: 2 routes checked, the others not."
    assert window.model.rowCount() == 2


@pytest.mark.qt_log_ignore("This plugin does not support")
def test_a_route_is_opened_in_the_window_and_one_comes_back(opened, table, qtbot):
    main = opened(demo=True)
    worklist = main.worklists.open(table)
    qtbot.waitUntil(lambda: not worklist.jobs.is_running, timeout=20_000)
    choose_group(worklist, "one letter away")
    with qtbot.waitSignal(main.session.assessed, timeout=20_000):
        qtbot.keyClick(worklist.table, Qt.Key.Key_Return)
    assert main.text.toPlainText() == "LENDU DCT PIKER DCT UVAGI"
    main.worklists.show()
    assert worklist.isVisible()
    assert isinstance(main.worklists, Worklists)
