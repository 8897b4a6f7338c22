"""Known routes in the window: added, their Wrong rows offered, used at once and at the next start, drawn, removed."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from routecheck.gui.window import MainWindow
from routecheck.known.folder import SUFFIX, folder
from routecheck.model import RouteInput

Open = Callable[..., MainWindow]
ROWS = (
    "departure,destination,route,remark\n"
    "XVAL,XVOR,LENDU UM12 TOVIK SARNO,\nXVAL,XVOR,VAL UM12 TOVIK SARNO,\nXVAL,XVOR,LENDU UM12 SARNO,\nXVAL,XVOR,,\n"
)


def said(window: MainWindow) -> str:
    assert window.session.answer is not None
    usage = window.session.answer.assessment.route.usage
    return " ".join(usage.collections) if usage else ""


def test_added_used_drawn_and_removed(qtbot: QtBot, opened: Open, tmp_path: Path) -> None:
    file = tmp_path / "list.csv"
    file.write_text(ROWS)
    window = opened()
    listed = window.data.known.show_window()
    assert "No known routes" in listed.about.toPlainText()
    window.data.known.add_files([str(file)])
    qtbot.waitUntil(listed.leave_out_button.isVisible, timeout=20_000)
    assert listed.message.text() == "Of 1 row something is Wrong. Leave them out?"
    assert "line 4: “LENDU UM12 SARNO”" in listed.about.toPlainText()
    with qtbot.waitSignal(window.data.known.changed, timeout=20_000):
        qtbot.mouseClick(listed.leave_out_button, Qt.MouseButton.LeftButton)
    assert "2 known routes from 4 rows" in listed.about.toPlainText()
    assert "1 could not be read and 1 left out with something Wrong" in listed.about.toPlainText()
    assert "Columns not used: remark." in listed.about.toPlainText()
    assert "line 5: no route in this row" in listed.about.toPlainText()
    assert listed.height() >= listed.layout().totalMinimumHeightForWidth(listed.width())

    window.session.replace_input(RouteInput("LENDU UM12 RULPO SARNO", "XVAL", "XVOR"))
    qtbot.waitUntil(lambda: said(window) == "list.csv", timeout=20_000)
    nearest = window.margin.nearest
    qtbot.waitUntil(lambda: "RULPO for TOVIK" in nearest.label.text(), timeout=20_000)
    assert nearest.draw_button.isVisible()
    with qtbot.waitSignal(window.corrections.trial_changed, timeout=20_000):
        qtbot.mouseClick(nearest.draw_button, Qt.MouseButton.LeftButton)
    assert nearest.draw_button.text() == "Take it away"
    assert window.session.route_input.route == "LENDU UM12 RULPO SARNO"
    qtbot.mouseClick(nearest.draw_button, Qt.MouseButton.LeftButton)
    assert nearest.draw_button.text() == "Draw it dotted"

    second = opened()
    assert second.session.known is not None
    assert second.session.known.names == ("list.csv",)
    qtbot.mouseClick(listed.remove_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: said(window) == "", timeout=20_000)
    assert not nearest.isVisible()


def test_a_list_that_gives_nothing_is_said_and_reading_can_be_stopped(
    qtbot: QtBot, window: MainWindow, tmp_path: Path
) -> None:
    listed = window.data.known.show_window()
    assert window.margin.nearest.isHidden()
    with qtbot.waitSignal(window.data.known.changed, timeout=20_000):
        window.data.known.add_files([str(tmp_path / "nowhere.csv")])
    assert listed.message.text().startswith("Known routes not added. ")
    file = tmp_path / "list.csv"
    file.write_text("departure,destination,route\n" + "XVAL,XVOR,LENDU UM12 TOVIK\n" * 5_000)
    window.data.known.add_files([str(file)])
    qtbot.mouseClick(listed.stop_button, Qt.MouseButton.LeftButton)
    assert listed.message.text() == "Stopped. The known routes are as before."
    assert window.session.known is None


def test_a_damaged_collection_is_said_at_the_start(qtbot: QtBot, opened: Open) -> None:
    folder().mkdir(parents=True)
    (folder() / f"a{SUFFIX}").write_bytes(b"x" * 5_000)
    window = opened()
    assert "The known routes unnamed-a cannot be used" in window.status.message.text()
