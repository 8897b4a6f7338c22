"""A message, a nav log or a page pasted into the window: route and fields are filled, and all of it stays in sight."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QMimeData
from pytestqt.qtbot import QtBot

from routecheck.gui.group_dialog import GroupDialog
from routecheck.gui.window import MainWindow
from routecheck.model import Role, RouteInput

pytestmark = pytest.mark.usefixtures("without_charts")

MESSAGE = """(FPL-XVA12-IS
-B738/M-SDE2FGHIRWXY/LB1
-XVAL1400
-N0430F350 LENDU DCT PIKAR UM12 TOVIK
-XVOR0110 XVMA
-PBN/A1B1 DOF/261203 FOO/BAR)"""


def paste(window: MainWindow, text: str) -> None:
    data = QMimeData()
    data.setText(text)
    window.text.insertFromMimeData(data)


@pytest.fixture
def pasted(qtbot: QtBot, window: MainWindow) -> Callable[[str], MainWindow]:
    def made(text: str) -> MainWindow:
        with qtbot.waitSignal(window.session.assessed):
            paste(window, text)
        return window

    return made


def test_a_message_fills_the_text_and_the_fields(pasted: Callable[[str], MainWindow]) -> None:
    window = pasted(f"Dear crew,\r\n\r\n{MESSAGE}\r\n")
    assert window.text.toPlainText() == "N0430F350 LENDU DCT PIKAR UM12 TOVIK"
    fields = window.flight_fields.fields
    assert (fields["departure"].text(), fields["destination"].text()) == ("XVAL", "XVOR")
    assert fields["off_block"].text() == "2026-12-03 14:00"
    assert window.session.route_input.equipment == "SDE2FGHIRWXY"
    assert "were read from the pasted text" in window.status.message.text()


def test_all_of_it_stays_in_sight(pasted: Callable[[str], MainWindow]) -> None:
    window = pasted(f"Dear crew,\n\n{MESSAGE}\n")
    view = window.pasted.view
    assert view is not None
    assert window.pasted.text.toPlainText() == f"Dear crew,\n\n{MESSAGE}\n"
    assert view.title == "8 lines pasted, 1 part not understood, 1 line around the plan not used"
    assert [view.text[slice(*span)] for span in view.underlined] == ["FOO/BAR"]
    assert "Dear crew," in [view.text[slice(*span)] for span in view.greyed]
    assert view.text[view.plan_begins :].startswith("FPL-XVA12")
    assert window.isAncestorOf(window.pasted)
    assert window.pasted.isVisible()
    assert window.pasted.text.isVisible()
    assert len(window.pasted.text.extraSelections()) == len(view.greyed) + len(view.underlined)


def test_it_folds_away_and_goes_with_the_next_text(pasted: Callable[[str], MainWindow], qtbot: QtBot) -> None:
    window = pasted(MESSAGE.replace(" FOO/BAR", ""))
    assert not window.pasted.text.isVisibleTo(window)
    window.pasted.title.click()
    assert window.pasted.text.isVisibleTo(window)
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR"))
    assert not window.pasted.isVisibleTo(window)


def test_editing_the_route_keeps_the_pasted_text(pasted: Callable[[str], MainWindow], qtbot: QtBot) -> None:
    window = pasted(MESSAGE)
    with qtbot.waitSignal(window.session.assessed):
        window.text.insertPlainText("LENDU ")
    assert window.session.route_input.pasted is not None
    assert window.pasted.isVisibleTo(window)


def test_what_the_window_chose_and_the_plan_does_not_say_stays(window: MainWindow, qtbot: QtBot) -> None:
    with qtbot.waitSignal(window.session.assessed):
        before = RouteInput("LENDU", "XVAL", "XVOR", role=Role.CLEARED, aircraft_sheet="Medium jet")
        window.session.replace_input(before)
    with qtbot.waitSignal(window.session.assessed):
        paste(window, MESSAGE)
    assert window.session.route_input.aircraft_sheet == "Medium jet"
    assert window.session.route_input.role is Role.NOT_SAID  # nobody has said what this text is


def test_a_message_without_a_route_is_not_taken(window: MainWindow, qtbot: QtBot) -> None:
    before = window.text.toPlainText()
    paste(window, "(CNL-XVA12-XVAL1400-XVOR-0)")
    qtbot.waitUntil(lambda: not window.session.reader.is_reading)
    assert window.text.toPlainText() == before
    assert "carries no route" in window.status.message.text()


def test_a_nav_log_and_several_messages(pasted: Callable[[str], MainWindow]) -> None:
    window = pasted("Fix\tVia\tDist\nLENDU\tDCT\t101.2\nPIKAR\tUM12\t94.0\nXVOR\tDCT\t400.0\n")
    assert window.text.toPlainText() == "LENDU UM12 PIKAR DCT"
    assert window.session.route_input.claims[1].distance_nm == 94.0
    window = pasted(f"{MESSAGE}\n{MESSAGE}")
    assert window.status.message.text().endswith("1 more plan in it: the first is shown.")
    window = pasted(f"(DLA-XVA12-XVAL1530-XVOR-0)\n{MESSAGE}")
    assert "more plan" not in window.status.message.text()
    assert "a delay (DLA) of XVA12" in [one.name for one in window.session.route_input.not_used]


def test_plain_route_text_is_pasted_as_ever(window: MainWindow) -> None:
    window.text.selectAll()
    paste(window, "LENDU DCT PIKAR\nUM12 TOVIK")
    assert window.text.toPlainText() == "LENDU DCT PIKAR\nUM12 TOVIK"


def test_the_pasted_text_is_there_again_at_the_next_start(
    pasted: Callable[[str], MainWindow], opened: Callable[..., MainWindow]
) -> None:
    window = pasted(f"Dear crew,\n\n{MESSAGE}\n")
    before = window.session.route_input
    window.close()
    again = opened()
    assert again.session.route_input.pasted == before.pasted
    assert again.pasted.text.toPlainText() == f"Dear crew,\n\n{MESSAGE}\n"
    assert "LENDU DCT PIKAR" in again.text.toPlainText()


def group(name: str, fix: str) -> str:
    element = f"<element><elementStartPoint><designatedPoint><designator>{fix}</designator></designatedPoint>"
    return f"<{name}>{element}</elementStartPoint></element></{name}>"


TWO_ROUTES = (
    f"<Flight><routeTrajectoryGroup>{group('desired', 'PIKAR')}{group('agreed', 'TOVIK')}"
    "</routeTrajectoryGroup></Flight>"
)


def test_of_several_routes_in_one_message_it_is_asked_which_to_compare(qtbot: QtBot, window: MainWindow) -> None:
    version = window.comparison.ask()
    version.text.setPlainText(TWO_ROUTES)
    version.compare_button.click()
    qtbot.waitUntil(lambda: version.findChild(GroupDialog) is not None)
    dialog = version.findChild(GroupDialog)
    assert isinstance(dialog, GroupDialog)
    dialog.list.setCurrentRow(1)
    with qtbot.waitSignal(window.session.assessed):
        dialog.accept()
    assert window.session.route_input.other is not None
    assert window.session.route_input.other.route == "TOVIK"


def test_of_several_routes_in_one_message_it_is_asked_which(qtbot: QtBot, window: MainWindow) -> None:
    before = window.session.route_input
    paste(window, TWO_ROUTES)
    qtbot.waitUntil(lambda: window.findChild(GroupDialog) is not None)
    dialog = window.findChild(GroupDialog)
    assert isinstance(dialog, GroupDialog)
    assert [dialog.list.item(i).text() for i in range(dialog.list.count())] == ["desired", "agreed"]
    assert window.session.route_input == before
    dialog.list.setCurrentRow(1)
    with qtbot.waitSignal(window.session.assessed):
        dialog.accept()
    assert window.text.toPlainText() == "TOVIK"


def test_of_the_flight_before_the_day_is_kept_and_not_the_time(pasted: Callable[[str], MainWindow]) -> None:
    pasted(MESSAGE)
    window = pasted("POINT  LAT  LONG  DIST\nLENDU  31S  002E  0\nPIKAR  31S  003E  51\nUVAGI  31S  004E  51\n")
    assert window.flight_fields.fields["off_block"].text() == "2026-12-03"
