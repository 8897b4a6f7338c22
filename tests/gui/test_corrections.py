"""Likely intended in the window: tried without touching the text, changed here, on record until ticked."""

import dataclasses
from collections.abc import Callable
from pathlib import Path

import pytest
from flawed_routes import A_TENTH, NOT_SERVED
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from routecheck.gui import persistence
from routecheck.gui.margin.finding_actions import FindingActions
from routecheck.gui.window import MainWindow
from routecheck.model import AltitudeWindow, Proposal, RouteInput

pytestmark = pytest.mark.usefixtures("without_charts")

Open = Callable[..., MainWindow]
LINE = "1 word differs from what you entered: PIKOR → PIKAR."


def laid(window: MainWindow, row: int = 0) -> FindingActions:
    view = window.margin.findings
    widget = view.indexWidget(view.finding_model.index(row))
    assert isinstance(widget, FindingActions)
    return widget


def press(qtbot: QtBot, window: MainWindow, text: str) -> None:
    button = next(b for b in laid(window).findChildren(QPushButton) if b.text() == text)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def attempt(qtbot: QtBot, window: MainWindow) -> None:
    window.session.select_finding(0)
    with qtbot.waitSignal(window.corrections.trial_changed):
        press(qtbot, window, "Try")


def change(qtbot: QtBot, window: MainWindow) -> None:
    window.session.select_finding(0)
    with qtbot.waitSignal(window.session.assessed):
        press(qtbot, window, "Change here")


def checks(window: MainWindow) -> list[str]:
    assert window.session.answer is not None
    return [finding.check for finding in window.session.answer.assessment.findings]


@pytest.mark.usefixtures("with_charts")
def test_trying_shows_the_line_and_the_total_and_leaves_the_text_alone(qtbot: QtBot, window: MainWindow) -> None:
    before = window.text.toPlainText()
    attempt(qtbot, window)
    line = window.picture.chart.map.tried
    assert line is not None
    assert (line.label, len(line.curves)) == ("PIKAR, if changed", 3)
    assert [p.name for p in line.points] == ["PIKAR", "UVAGI"]
    then = window.corrections.proposals_for(0)[0].distance_nm
    assert laid(window).correction_rows[0].outcome.text() == f"then {then:.0f} NM; clears this finding"
    assert window.text.toPlainText() == window.session.route_input.route == before
    assert checks(window) == ["off-airway"]
    assert not window.text.document().isUndoAvailable()


@pytest.mark.usefixtures("with_charts")
@pytest.mark.parametrize("how", ["again", "typing"])
def test_trying_ends(qtbot: QtBot, window: MainWindow, how: str) -> None:
    attempt(qtbot, window)
    if how == "again":
        press(qtbot, window, "Try")
    else:
        window.text.insertPlainText("XXXXX ")
    assert window.picture.chart.map.tried is None
    assert window.corrections.tried_proposal is None


def test_changing_here_is_one_step_and_undo_takes_the_change_away(qtbot: QtBot, window: MainWindow) -> None:
    before = window.text.toPlainText()
    change(qtbot, window)
    assert window.text.toPlainText() == before.replace("PIKOR", "PIKAR")
    assert checks(window) == []
    assert window.changes.line.text().startswith(LINE)
    assert window.changes.isVisible()
    assert [s.cursor.selectedText() for s in window.text.extraSelections()] == ["PIKAR"]
    with qtbot.waitSignal(window.session.assessed):
        window.text.undo()
    assert window.text.toPlainText() == before
    assert window.corrections.changes == ()
    assert not window.changes.isVisible()
    with qtbot.waitSignal(window.session.assessed):
        window.text.redo()
    assert window.changes.line.text().startswith(LINE)


def test_the_line_stands_over_a_restart_until_it_is_ticked(qtbot: QtBot, opened: Open) -> None:
    first = opened()
    change(qtbot, first)
    first.close()
    second = opened()
    assert second.changes.line.text().startswith(LINE)
    assert [s.cursor.selectedText() for s in second.text.extraSelections()] == ["PIKAR"]
    second.changes.boxes[0].click()
    assert not second.changes.isVisible()
    second.close()
    third = opened()
    assert [c.ticked for c in third.corrections.changes] == [True]
    assert not third.changes.isVisible()


def test_the_line_goes_with_the_route_file_and_typing_the_original_takes_it_away(
    qtbot: QtBot, opened: Open, tmp_path: Path
) -> None:
    first = opened()
    change(qtbot, first)
    assert first.files.save(tmp_path / "a.route.toml")
    first.open_demo()
    assert first.corrections.changes == ()
    first.close()
    (tmp_path / "xdg_data_home" / "routecheck" / persistence.LAST_ROUTE).unlink()
    second = opened(str(tmp_path / "a.route.toml"))
    assert second.changes.line.text().startswith(LINE)
    assert [s.cursor.selectedText() for s in second.text.extraSelections()] == ["PIKAR"]
    assert not second.files.differs
    second.changes.boxes[0].click()
    assert second.files.differs
    with qtbot.waitSignal(second.session.assessed):
        second.text.setPlainText(second.text.toPlainText().replace("PIKAR", "PIKOR"))
    assert second.corrections.changes == ()


def test_two_corrections_in_turn(qtbot: QtBot, window: MainWindow) -> None:
    with qtbot.waitSignal(window.session.assessed):
        window.text.setPlainText("LENDU DCT PIKOR UM12 TOVIK DCT SARNO DCT KEBLU DCT RIPAS")
    for _ in range(2):
        change(qtbot, window)
    assert window.changes.line.text().startswith("2 words differ from what you entered: ")
    assert len(window.changes.boxes) == 2
    window.changes.boxes[0].click()
    assert window.changes.line.text().startswith("1 word differs")


def test_a_change_taken_again_after_its_undoing_stands_once(qtbot: QtBot, window: MainWindow) -> None:
    change(qtbot, window)
    with qtbot.waitSignal(window.session.assessed):
        window.text.undo()
    change(qtbot, window)
    assert len(window.corrections.changes) == 1


def test_exchanged_ends_change_in_their_fields(qtbot: QtBot, window: MainWindow) -> None:
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(
            dataclasses.replace(
                window.session.route_input,
                route="LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS",
                departure="XVOR",
                destination="XVAL",
                departure_runway="",
                destination_runway="",
            )
        )
    offered = [
        (i, p) for i in range(len(checks(window))) for p in window.corrections.proposals_for(i) if p.span is None
    ]
    assert offered[0][1].new == "XVAL–XVOR"
    with qtbot.waitSignal(window.session.assessed):
        window.corrections.apply_proposal(offered[0][1])
    fields = window.flight_fields.fields
    assert (fields["departure"].text(), fields["destination"].text()) == ("XVAL", "XVOR")
    assert "departure XVOR → XVAL and destination XVAL → XVOR" in window.changes.line.text()
    assert checks(window) == []


def test_the_keyboard_does_both(qtbot: QtBot, window: MainWindow) -> None:
    route = {a.text().replace("&", ""): a for a in window.actions()}
    window.session.select_finding(0)
    with qtbot.waitSignal(window.corrections.trial_changed):
        route["Try the likely-intended correction"].trigger()
    with qtbot.waitSignal(window.session.assessed):
        route["Change here"].trigger()
    assert "PIKAR" in window.text.toPlainText()


def test_the_line_comes_back_with_its_route(qtbot: QtBot, window: MainWindow) -> None:
    change(qtbot, window)
    with qtbot.waitSignal(window.session.assessed):
        window.open_demo()
    assert window.corrections.changes == ()
    with qtbot.waitSignal(window.session.assessed):
        window.open_before()
    assert window.changes.line.text().startswith(LINE)


# ---- beside the text


def opened_on(qtbot: QtBot, window: MainWindow, route_input: RouteInput) -> None:
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(route_input)


def offered(window: MainWindow, check: str) -> list[Proposal]:
    return list(window.corrections.proposals_for(checks(window).index(check)))


def take(qtbot: QtBot, window: MainWindow, check: str, which: int = 0) -> None:
    proposal = offered(window, check)[which]
    with qtbot.waitSignal(window.session.assessed):
        window.corrections.apply_proposal(proposal)


UNREAD = RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR", typed=(("level", "F35O"),))


@pytest.mark.usefixtures("with_charts")
def test_a_runway_is_tried_in_the_picture_and_changed_in_its_field(qtbot: QtBot, window: MainWindow) -> None:
    opened_on(qtbot, window, NOT_SERVED)
    (proposal,) = offered(window, "runway-not-served")
    with qtbot.waitSignal(window.corrections.trial_changed):
        window.corrections.toggle_trial(proposal)
    assert window.picture.chart.map.tried is not None
    assert window.corrections.outcome.endswith("clears this finding")
    assert window.flight_fields.fields["departure_runway"].text() == "09"
    take(qtbot, window, "runway-not-served")
    assert window.flight_fields.fields["departure_runway"].text() == window.session.route_input.departure_runway == "27"
    assert window.text.toPlainText() == NOT_SERVED.route
    assert window.changes.line.text().startswith("1 value differs from what you entered: departure runway 09 → 27.")
    assert checks(window) == []


def test_a_change_beside_the_text_is_undone_in_its_field_in_one_step(qtbot: QtBot, window: MainWindow) -> None:
    opened_on(qtbot, window, NOT_SERVED)
    take(qtbot, window, "runway-not-served")
    field = window.flight_fields.fields["departure_runway"]
    field.setFocus()
    with qtbot.waitSignal(window.session.assessed):
        qtbot.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert field.text() == "09"
    assert window.corrections.changes == ()
    assert not window.changes.isVisible()


@pytest.mark.parametrize(
    ("route_input", "check"),
    [(NOT_SERVED, "runway-not-served"), (A_TENTH, "window-error"), (UNREAD, "field-unread")],
)
def test_a_change_beside_the_text_is_taken_back(
    qtbot: QtBot, window: MainWindow, route_input: RouteInput, check: str
) -> None:
    opened_on(qtbot, window, route_input)
    take(qtbot, window, check)
    assert check not in checks(window)
    back = next(b for b in window.changes.findChildren(QPushButton) if b.text() == "Take back" and not b.isHidden())
    qtbot.waitUntil(lambda: not back.visibleRegion().isEmpty())
    with qtbot.waitSignal(window.session.assessed):
        qtbot.mouseClick(back, Qt.MouseButton.LeftButton)
    assert check in checks(window)
    assert window.corrections.changes == ()
    assert not window.changes.isVisible()
    now = window.session.route_input
    assert (now.departure_runway, now.windows) == (route_input.departure_runway, route_input.windows)
    assert now.typed == route_input.typed


def test_what_was_typed_since_is_never_put_back(qtbot: QtBot, window: MainWindow) -> None:
    opened_on(qtbot, window, NOT_SERVED)
    take(qtbot, window, "runway-not-served")
    field = window.flight_fields.fields["departure_runway"]
    field.selectAll()
    with qtbot.waitSignal(window.session.assessed):
        qtbot.keyClicks(field, "18")
    said: list[str] = []
    window.corrections.reported.connect(said.append)
    back = next(b for b in window.changes.findChildren(QPushButton) if b.text() == "Take back")
    qtbot.waitUntil(lambda: not back.visibleRegion().isEmpty())
    qtbot.mouseClick(back, Qt.MouseButton.LeftButton)
    assert field.text() == window.session.route_input.departure_runway == "18"
    assert said == ["Not put back: it reads otherwise by now."]
    assert [change.old for change in window.corrections.changes] == ["09"], "the original stays on record"


@pytest.mark.usefixtures("with_charts")
def test_a_window_is_tried_and_changed_and_the_line_names_it(qtbot: QtBot, window: MainWindow) -> None:
    opened_on(qtbot, window, A_TENTH)
    (proposal,) = offered(window, "window-error")
    with qtbot.waitSignal(window.corrections.trial_changed):
        window.corrections.toggle_trial(proposal)
    assert window.corrections.outcome == "clears this finding"
    assert window.picture.chart.map.tried is None
    take(qtbot, window, "window-error")
    assert window.session.route_input.windows == (AltitudeWindow("KEBUL", 11_000.0),)
    assert "altitude window KEBUL at or above 1,100 ft → KEBUL at or above 11,000 ft" in window.changes.line.text()


def test_the_line_of_a_runway_comes_back_after_a_restart_and_still_takes_it_back(qtbot: QtBot, opened: Open) -> None:
    first = opened()
    opened_on(qtbot, first, NOT_SERVED)
    take(qtbot, first, "runway-not-served")
    first.close()
    second = opened()
    assert second.changes.line.text().startswith("1 value differs from what you entered: departure runway 09 → 27.")
    with qtbot.waitSignal(second.session.assessed):
        second.corrections.revert_change(0)
    assert second.session.route_input.departure_runway == "09"
    assert second.corrections.changes == ()


def test_text_and_runway_changed_are_two_and_each_is_undone_by_itself(qtbot: QtBot, window: MainWindow) -> None:
    opened_on(qtbot, window, dataclasses.replace(NOT_SERVED, route="ULDET1 ULDET UN21 TIBUK TIBOK1"))
    take(qtbot, window, "unknown-name")
    take(qtbot, window, "runway-not-served")
    assert window.changes.line.text().startswith("2 words and values differ")
    with qtbot.waitSignal(window.session.assessed):
        window.text.undo()
    assert "TIBUK" in window.text.toPlainText()
    assert [change.field for change in window.corrections.changes] == ["departure_runway"]


@pytest.mark.usefixtures("with_charts")
def test_a_tried_line_out_of_view_is_looked_at_and_the_view_comes_back(qtbot: QtBot, window: MainWindow) -> None:
    opened_on(qtbot, window, NOT_SERVED)
    picture = window.picture.chart
    picture.look_at(200.0, 100.0, 30.0)
    before = picture.seen()
    (proposal,) = offered(window, "runway-not-served")
    with qtbot.waitSignal(window.corrections.trial_changed):
        window.corrections.toggle_trial(proposal)
    line, seen = picture.map.tried, picture.seen()
    assert line is not None
    assert seen != before
    assert seen[0] <= line.box[0] <= line.box[2] <= seen[2]
    assert seen[1] <= line.box[1] <= line.box[3] <= seen[3]
    window.corrections.end_trial()
    assert picture.seen() == pytest.approx(before)


@pytest.mark.usefixtures("with_charts")
def test_a_tried_line_in_view_moves_nothing(qtbot: QtBot, window: MainWindow) -> None:
    before = window.picture.chart.seen()
    attempt(qtbot, window)
    assert window.picture.chart.seen() == before
