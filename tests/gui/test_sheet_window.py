"""The window of Aircraft sheets: see the typical ones, copy one, edit it with units, be refused with the reason."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from routecheck.gui import dialogs
from routecheck.gui.sheets.window import SheetWindow
from routecheck.gui.window import MainWindow
from routecheck.settings import config_folder, load_settings
from routecheck.settings.sheets import QUANTITIES

pytestmark = pytest.mark.usefixtures("without_charts")


@pytest.fixture
def shown(window: MainWindow) -> SheetWindow:
    action = next(a for a in window.actions() if a.text().replace("&", "") == "Aircraft sheets…")
    assert action.shortcut().toString()
    action.trigger()
    return window.sheets.show_window()


@pytest.fixture(autouse=True)
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What was asked of the user, who says Discard."""
    questions: list[str] = []

    def answer(_parent: object, _title: str, question: str) -> bool:
        questions.append(question)
        return True

    monkeypatch.setattr(dialogs, "confirm_discard", answer)
    return questions


def click(qtbot: QtBot, window: SheetWindow, text: str) -> None:
    button = next(b for b in window.buttons.buttons() if b.text().replace("&", "") == text)
    assert button.isEnabled()
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def enter(window: SheetWindow, key: str, text: str) -> None:
    window.fields.fields[key].edit.setText(text)


def names(window: SheetWindow) -> list[str]:
    return [window.list.item(i).text() for i in range(window.list.count())]


def copy_of_medium_jet(qtbot: QtBot, shown: SheetWindow, name: str) -> None:
    shown.list.setCurrentRow(names(shown).index("Medium jet  (typical)"))
    click(qtbot, shown, "Copy under a name of mine")
    shown.name.selectAll()
    qtbot.keyClicks(shown.name, name)


def test_the_typical_sheets_are_shown_and_not_changed(shown: SheetWindow) -> None:
    assert len(names(shown)) == 5
    assert all(name.endswith("(typical)") for name in names(shown))
    assert shown.kind_note.text().startswith("Typical figures of a class, replace with your manual's.")
    assert all(field.edit.isReadOnly() for field in shown.fields.fields.values())
    assert {field.quantity.key for field in shown.fields.fields.values()} == {q.key for q in QUANTITIES}
    assert not shown.save_button.isEnabled()
    assert not shown.remove_button.isEnabled()


def test_a_copy_is_edited_saved_chosen_and_judged_by(qtbot: QtBot, window: MainWindow, shown: SheetWindow) -> None:
    copy_of_medium_jet(qtbot, shown, "Ours")
    assert shown.kind_note.text().startswith("Your own sheet, its figures typical: replace with your manual's.")
    field = shown.fields.fields["ceiling"]
    field.unit.setCurrentText("FL")
    assert field.edit.text() == "410"
    enter(shown, "ceiling", "300")
    shown.manuals.setChecked(True)
    with qtbot.waitSignal(window.session.assessed):
        click(qtbot, shown, "Save")
    assert names(shown)[0] == "Ours  (yours)"
    assert shown.kind_note.text() == "Your own sheet, with your manual's figures."
    assert (config_folder() / "aircraft" / "ours.toml").exists()
    saved = load_settings({}).sheet("Ours")
    assert saved is not None
    assert (saved.ceiling_ft, saved.typical, saved.cruise_tas_kt) == (30_000.0, False, 450.0)
    box = window.flight_fields.sheet
    with qtbot.waitSignal(window.session.assessed):
        box.setCurrentIndex(box.findData("Ours"))
    assert window.session.answer is not None
    assert "above-ceiling" in [f.check for f in window.session.answer.assessment.findings]


@pytest.mark.parametrize(
    ("key", "text", "why"),
    [
        ("climb_cas", "900", "900 is out of bounds: from 40 to 400 kt."),
        ("cruise_mach", "0,78", "“0,78” is no number: written 0.78 or 41000."),
        ("usual_climb", "2000", "It is above greatest climb."),
    ],
)
def test_what_is_out_of_range_is_refused_beside_its_field(
    qtbot: QtBot, shown: SheetWindow, key: str, text: str, why: str
) -> None:
    copy_of_medium_jet(qtbot, shown, "Ours")
    enter(shown, key, text)
    field = shown.fields.fields[key]
    assert field.note.text() == why
    assert field.edit.property("unread")
    assert not shown.save_button.isEnabled()
    assert "the reason stands beside it" in shown.message.text()
    enter(shown, key, "")
    assert not field.edit.property("unread")
    assert shown.save_button.isEnabled()


def test_an_own_sheet_is_renamed_in_place_and_the_route_follows(
    qtbot: QtBot, window: MainWindow, shown: SheetWindow
) -> None:
    copy_of_medium_jet(qtbot, shown, "Ours")
    click(qtbot, shown, "Save")
    with qtbot.waitSignal(window.session.assessed):
        window.flight_fields.choose_sheet("Ours")
    shown.name.selectAll()
    qtbot.keyClicks(shown.name, "Theirs")
    with qtbot.waitSignal(window.session.assessed):
        click(qtbot, shown, "Save")
    assert names(shown)[0] == "Theirs  (yours, typical figures)"
    assert window.session.route_input.aircraft_sheet == "Theirs"
    assert window.flight_fields.sheet.currentText() == "Theirs (typical)"


def test_a_name_that_is_taken_or_missing_is_refused(qtbot: QtBot, shown: SheetWindow) -> None:
    copy_of_medium_jet(qtbot, shown, "Ours")
    click(qtbot, shown, "Save")
    copy_of_medium_jet(qtbot, shown, "ours")
    assert shown.message.text() == "Another sheet of yours is called “ours”."
    assert not shown.save_button.isEnabled()
    shown.name.selectAll()
    qtbot.keyClick(shown.name, Qt.Key.Key_Delete)
    assert shown.message.text() == "The sheet needs a name."
    assert not shown.save_button.isEnabled()


def test_nothing_typed_is_discarded_unasked(
    qtbot: QtBot, window: MainWindow, shown: SheetWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy_of_medium_jet(qtbot, shown, "Ours")
    monkeypatch.setattr(dialogs, "confirm_discard", lambda *_: False)
    shown.list.setCurrentRow(0)
    shown.reject()
    shown.close()
    window.close()
    assert window.isVisible()
    assert shown.isVisible()
    assert shown.name.text() == "Ours"
    monkeypatch.undo()
    monkeypatch.setattr(dialogs, "confirm_discard", lambda *_: True)
    shown.reject()
    assert not shown.isVisible()


def test_an_own_sheet_is_removed_when_agreed(
    qtbot: QtBot, window: MainWindow, shown: SheetWindow, asked: list[str]
) -> None:
    copy_of_medium_jet(qtbot, shown, "Ours")
    click(qtbot, shown, "Save")
    with qtbot.waitSignal(window.session.assessed):
        click(qtbot, shown, "Remove")
    assert asked == ["Remove your sheet “Ours”? Its file is deleted."]
    assert len(names(shown)) == 5
    assert list((config_folder() / "aircraft").iterdir()) == []


def test_a_value_that_is_not_touched_keeps_what_the_window_cannot_show(qtbot: QtBot, shown: SheetWindow) -> None:
    copy_of_medium_jet(qtbot, shown, "Ours")
    field = shown.fields.fields["climb_cas"]
    field.show(300.123456789)
    for unit in ("km/h", "mph", "kt"):
        field.unit.setCurrentText(unit)
    assert field.read() == (300.123456789, "")
