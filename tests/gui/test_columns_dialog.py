"""The columns of a pasted nav log in the window: shown, changed, undone, kept in the route file."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, Qt
from pytestqt.qtbot import QtBot

from routecheck.gui.route_text.columns_dialog import ColumnsDialog
from routecheck.gui.window import MainWindow
from routecheck.reading.route_file import read_route_file

pytestmark = pytest.mark.usefixtures("without_charts")

Choose = Callable[[int, str], None]
TABLE = "Fix\tVia\tLeg\tKlang\nLENDU\tDCT\t101.2\t440\nPIKAR\tUM12\t94.0\t440\nXVOR\tDCT\t400.0\t441\n"


@pytest.fixture
def dialog(qtbot: QtBot, window: MainWindow) -> ColumnsDialog:
    data = QMimeData()
    data.setText(TABLE)
    with qtbot.waitSignal(window.session.input_replaced):
        window.text.insertFromMimeData(data)
    assert window.pasted.columns_button.isVisibleTo(window)
    found = window.columns.show_dialog(window)
    assert found is not None
    return found


@pytest.fixture
def choose(qtbot: QtBot, dialog: ColumnsDialog, window: MainWindow) -> Choose:
    """As a user does: the box takes the choice and says so; the table is read beside the window."""

    def made(number: int, kind: str) -> None:
        chooser = dialog.choosers[number]
        chooser.setCurrentIndex(chooser.findData(kind))
        chooser.activated.emit(chooser.currentIndex())
        qtbot.waitUntil(lambda: not window.session.reader.is_reading)

    return made


def kinds(dialog: ColumnsDialog) -> list[str]:
    return [chooser.currentData() for chooser in dialog.choosers]


def test_what_each_column_was_taken_for_is_shown(dialog: ColumnsDialog) -> None:
    assert kinds(dialog) == ["fix", "airway", "distance", ""]
    assert [how.text() for how in dialog.hows] == ["recognised"] * 3 + ["not recognised"]
    assert [chooser.accessibleName() for chooser in dialog.choosers][3] == "Column 4  Klang"
    assert dialog.choosers[0].focusPolicy() & Qt.FocusPolicy.TabFocus
    assert dialog.result_line.text() == "3 rows read, every cell of them understood."


def test_a_change_is_read_at_once_and_undone(choose: Choose, dialog: ColumnsDialog, window: MainWindow) -> None:
    choose(3, "gs")
    assert window.session.route_input.claims[0].ground_speed_kt == 440.0
    assert window.session.route_input.columns == "gs=4"
    choose(2, "distance_so_far")
    assert window.session.route_input.claims[2].distance_so_far_nm == 400.0
    assert [how.text() for how in dialog.hows] == ["recognised", "recognised", "chosen", "chosen"]
    dialog.undo_button.click()
    assert kinds(dialog) == ["fix", "airway", "distance", "gs"]
    dialog.undo_button.click()
    assert window.session.route_input.columns == ""
    assert not dialog.undo_button.isEnabled()


def test_a_choice_that_leaves_no_route_is_refused(choose: Choose, dialog: ColumnsDialog, window: MainWindow) -> None:
    before = window.session.route_input
    choose(0, "other")
    assert "no column of points is recognised" in dialog.result_line.text()
    assert window.session.route_input == before
    assert kinds(dialog)[0] == "fix"


def test_the_choice_is_kept_in_the_route_file(choose: Choose, window: MainWindow, tmp_path: Path) -> None:
    choose(3, "gs")
    assert window.files.save(tmp_path / "a")
    assert read_route_file((tmp_path / "a.route.toml").read_text(), "a").columns == "gs=4"


def test_another_text_closes_it(qtbot: QtBot, dialog: ColumnsDialog, window: MainWindow) -> None:
    with qtbot.waitSignal(dialog.finished):
        window.open_demo()
    assert not window.pasted.columns_button.isVisibleTo(window)
    assert window.columns.show_dialog(window) is None
