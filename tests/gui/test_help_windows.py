"""Samples in a list, checks explained, files opened last: what the menus open beside the route."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from routecheck.gui.window import MainWindow
from routecheck.report.explanation import read_catalogue

pytestmark = pytest.mark.usefixtures("without_charts")


def test_the_samples_stand_in_a_list_and_open_one_after_the_other(qtbot: QtBot, window: MainWindow) -> None:
    samples = window.help.show_samples()
    assert len(samples.samples) > 40
    assert all(sample.title for sample in samples.samples)
    window.status.show_message("The route and what stands beside it were read from the pasted text.")
    for step in range(2):
        with qtbot.waitSignal(window.session.assessed):
            qtbot.keyClick(samples.list, Qt.Key.Key_Return)
        assert window.session.route_input == samples.samples[step]
        assert window.margin.findings.finding_model.open_rows == {0}, "the reason stands there at once"
        qtbot.keyClick(samples.list, Qt.Key.Key_Down)
    assert window.status.message.text() == "", "what was said of the route before goes with it"
    assert samples.isVisible()
    samples.reject()


def test_the_check_of_the_selected_finding_is_explained(window: MainWindow) -> None:
    window.session.select_finding(0)
    assert window.session.answer is not None
    explained = window.help.explain_check()
    assert explained.checks.currentText() == window.session.answer.assessment.findings[0].check
    assert explained.checks.count() == len(read_catalogue())
    for name, entry in list(read_catalogue().items())[::9]:
        explained.checks.setCurrentText(name)
        assert entry["sentence"][:40] in explained.text.toPlainText()
    explained.reject()
    assert window.margin.findings.list_buttons(0)[-1][0] == "About this check…"


def test_files_opened_and_saved_stand_in_the_menu_newest_first(
    qtbot: QtBot, window: MainWindow, tmp_path: Path
) -> None:
    assert not window.recent.menuAction().isVisible()
    for number in range(11):
        assert window.files.save(tmp_path / f"{number}.route.toml")
    names = [Path(path).name for path in window.recent.paths]
    assert names == [f"{number}.route.toml" for number in range(10, 1, -1)]
    again = type(window.recent)(window)  # as at the next start
    assert again.paths == window.recent.paths
    shown = [action for action in window.recent.actions() if action.isVisible()]
    assert [action.text() for action in shown][:2] == ["&1 10.route.toml", "&2 9.route.toml"]
    with qtbot.waitSignal(window.files.route_opened):
        shown[3].trigger()
    assert window.files.path == tmp_path / "7.route.toml"
    assert Path(window.recent.paths[0]).name == "7.route.toml"
    (tmp_path / "6.route.toml").unlink()
    with qtbot.waitSignal(window.files.reported):
        next(action for action in window.recent.actions() if "6.route" in action.text()).trigger()
    assert window.status.message.text().startswith("Not opened. ")
