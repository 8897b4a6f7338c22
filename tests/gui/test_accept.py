"""Accept with reason in the window: asked for, kept, shown, never counted away, taken back."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialogButtonBox, QPushButton
from pytestqt.qtbot import QtBot

from routecheck.gui.margin.accept_dialog import AcceptDialog
from routecheck.gui.margin.finding_actions import FindingActions
from routecheck.gui.margin.findings_list import ACCEPTANCE_ROLE
from routecheck.gui.window import MainWindow

pytestmark = pytest.mark.usefixtures("without_charts")

Open = Callable[..., MainWindow]


def buttons(window: MainWindow) -> list[QPushButton]:
    view = window.margin.findings
    widget = view.indexWidget(view.finding_model.index(0))
    return widget.buttons if isinstance(widget, FindingActions) else []


def asked(window: MainWindow) -> AcceptDialog:
    dialogs = [d for d in window.findChildren(AcceptDialog) if d.isVisible()]
    return dialogs[-1]


def accept(qtbot: QtBot, window: MainWindow, reason: str = "cleared so", by: str = "AB") -> None:
    window.session.select_finding(0)
    qtbot.mouseClick(buttons(window)[0], Qt.MouseButton.LeftButton)
    dialog = asked(window)
    dialog.reason.setText(reason)
    dialog.by.setText(by)
    with qtbot.waitSignal(window.session.assessed):
        dialog.accept()


def test_neither_reason_nor_name_may_be_left_out(qtbot: QtBot, window: MainWindow) -> None:
    window.session.select_finding(0)
    qtbot.mouseClick(buttons(window)[0], Qt.MouseButton.LeftButton)
    dialog = asked(window)
    yes = next(
        b for b in dialog.buttons.buttons() if dialog.buttons.buttonRole(b) is QDialogButtonBox.ButtonRole.AcceptRole
    )
    for reason, by, enabled in (("", "", False), ("x", "", False), (" ", "AB", False), ("x", "AB", True)):
        dialog.reason.setText(reason)
        dialog.by.setText(by)
        assert yes.isEnabled() is enabled
    dialog.reject()
    assert window.session.route_input.accepted == ()


def test_an_accepted_finding_stays_and_says_who_answers(qtbot: QtBot, window: MainWindow) -> None:
    before, counts = window.margin.findings.finding_model.rowCount(), window.margin.outcomes.text()
    accept(qtbot, window)
    rows = window.margin.findings.finding_model
    assert rows.rowCount() == before
    assert window.margin.outcomes.text() == counts
    assert window.margin.headline.text() == "All that is Wrong or Doubtful was accepted with reason."
    assert window.margin.counts.text() == "1 Wrong (1 accepted with reason)"
    assert str(rows.index(0).data(ACCEPTANCE_ROLE)).startswith("Accepted by AB, ")
    assert "cleared so" in str(rows.index(0).data(Qt.ItemDataRole.AccessibleTextRole))
    assert window.text.underlines
    assert 0 in window.text.accepted
    assert 0 in window.legs.model.accepted


def test_it_is_taken_back(qtbot: QtBot, window: MainWindow) -> None:
    accept(qtbot, window)
    window.session.select_finding(0)
    assert [b.text() for b in buttons(window)] == ["Take back the acceptance", "About this check…"]
    with qtbot.waitSignal(window.session.assessed):
        qtbot.mouseClick(buttons(window)[0], Qt.MouseButton.LeftButton)
    assert window.margin.counts.text() == "1 Wrong"
    assert window.session.route_input.accepted == ()


def test_it_is_there_again_at_the_next_start_with_the_name_of_who_accepted(qtbot: QtBot, opened: Open) -> None:
    first = opened()
    accept(qtbot, first)
    first.close()
    second = opened()
    assert "1 accepted" in second.margin.counts.text()
    assert second.acceptance.by == "AB"


def test_it_goes_into_the_route_file_and_comes_back(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    accept(qtbot, window)
    file = tmp_path / "mine.route.toml"
    assert window.files.save(file)
    assert "[[accepted]]" in file.read_text("utf-8")
    with qtbot.waitSignal(window.session.assessed):
        window.open_demo()
    assert "accepted" not in window.margin.counts.text()
    with qtbot.waitSignal(window.session.assessed):
        window.open_route(str(file))
    assert "1 accepted" in window.margin.counts.text()


def test_what_reads_otherwise_by_now_is_not_accepted(qtbot: QtBot, window: MainWindow) -> None:
    window.session.select_finding(0)
    dialog = window.acceptance.accept()
    assert dialog is not None
    with qtbot.waitSignal(window.session.assessed):
        window.text.setPlainText("XXXXX DCT LENDU")
    dialog.reason.setText("why")
    dialog.by.setText("AB")
    dialog.accept()
    assert window.session.route_input.accepted == ()
    assert "Not accepted" in window.status.message.text()


@pytest.mark.parametrize("deed", ["accept", "withdraw"])
def test_with_nothing_picked_it_is_said(window: MainWindow, deed: str) -> None:
    window.session.select(None)
    getattr(window.acceptance, deed)()
    assert window.status.message.text()


def test_every_open_finding_has_its_buttons(qtbot: QtBot, window: MainWindow) -> None:
    with qtbot.waitSignal(window.session.assessed):
        window.text.setPlainText("XXXXX DCT LENDU DCT YYYYY DCT PIKAR")
    view = window.margin.findings
    window.session.select_finding(1)
    assert view.indexWidget(view.finding_model.index(0)) is None
    assert view.indexWidget(view.finding_model.index(1)) is not None
    window.session.select(None)
    assert all(view.indexWidget(view.finding_model.index(row)) is None for row in range(view.finding_model.rowCount()))
