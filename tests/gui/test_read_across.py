"""Reading across by keys alone: 25 rows, a difference typed, an interruption, the initials of both."""

import dataclasses
import time

import pytest
from PySide6.QtCore import Qt

from routecheck.model import RouteInput
from routecheck.reading.route_file import read_route_file, write_route_file

pytestmark = pytest.mark.usefixtures("without_charts")

POINTS = " DCT ".join(f"{3100 + 3 * i:04d}S{i * 20 // 60:03d}{i * 20 % 60:02d}E" for i in range(23))
A_SECOND_A_KEY = 90.0
"""The time there is, 90 seconds for 25 rows: so much less must the program itself take that the rest is for reading."""


def show(window, qtbot, route_input):
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.session.replace_input(route_input)


def test_25_rows_with_two_keys(window, qtbot):
    show(window, qtbot, RouteInput(POINTS, "XVAL", "XVOR"))
    dialog = window.clearance.read_across()
    assert dialog.progress.text() == "1 of 25"
    begun = time.perf_counter()
    for _ in range(12):
        qtbot.keyClick(dialog, Qt.Key.Key_Space)
    qtbot.keyClick(dialog, Qt.Key.Key_D)
    qtbot.keyClicks(dialog.shown, "097 196.6")
    qtbot.keyClick(dialog.shown, Qt.Key.Key_Return)
    for _ in range(12):
        qtbot.keyClick(dialog, Qt.Key.Key_Space)
    took = time.perf_counter() - begun
    assert took < 0.1 * A_SECOND_A_KEY, f"{took:.1f} s"
    assert dialog.name.text() == "All rows read"
    qtbot.keyClicks(dialog.by[0], "AB")
    qtbot.keyClick(dialog.by[0], Qt.Key.Key_Return)
    qtbot.keyClicks(dialog.by[1], "CD")
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        qtbot.keyClick(dialog.by[1], Qt.Key.Key_Return)
    read = window.session.route_input.read_across
    assert (len(read.marks), read.by, len(read.at)) == (25, "AB, CD", len("2026-12-03T14:30:00Z"))
    (claim,) = window.session.route_input.claims
    assert (claim.distance_nm, claim.course_magnetic_deg) == (196.6, 97.0)
    messages = [one.message for one in window.session.answer.assessment.findings if one.check == "read-across"]
    assert len(messages) == 1
    assert "the other display shows “097 196.6”" in messages[0]
    assert read_route_file(write_route_file(window.session.route_input), "f").read_across == read


def test_interrupted_taken_up_again_and_gone_back(window, qtbot):
    show(window, qtbot, RouteInput("LENDU DCT PIKAR DCT SARNO", "XVAL", "XVOR"))
    dialog = window.clearance.read_across()
    qtbot.keyClick(dialog, Qt.Key.Key_Space)
    qtbot.keyClick(dialog, Qt.Key.Key_Space)
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        dialog.reject()
    again = window.clearance.read_across()
    assert again.name.text() == "SARNO"
    qtbot.keyClick(again, Qt.Key.Key_Backspace)
    assert again.name.text() == "PIKAR"
    assert again.earlier.text() == "read as the same"
    again.reject()


def test_a_row_that_reads_otherwise_since_is_read_again(window, qtbot):
    show(window, qtbot, RouteInput("LENDU DCT PIKAR DCT SARNO", "XVAL", "XVOR"))
    dialog = window.clearance.read_across()
    for _ in range(5):
        qtbot.keyClick(dialog, Qt.Key.Key_Space)
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        dialog.reject()
    now = window.session.route_input
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        window.session.change_input(dataclasses.replace(now, route="LENDU DCT UVAGI DCT SARNO"))
    again = window.clearance.read_across()
    assert again.name.text() == "UVAGI"
    again.reject()
