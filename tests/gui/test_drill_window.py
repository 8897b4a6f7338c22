"""A whole drill in its window: words pointed at, reveals, the truth afterwards, stopped and gone on with."""

import pytest

from routecheck.drill.cases import DrillCase
from routecheck.drill.drill_files import write_key
from routecheck.drill.error_kinds import ERROR_KINDS
from routecheck.drill.progress import DrillInHand, unpack_drill
from routecheck.gui import dialogs
from routecheck.gui.drill import opening
from routecheck.navdata.database import demo_database
from routecheck.settings import Settings

CASES = [
    DrillCase(
        name="route-01", departure="XVAL", destination="XVOR", route="LENDU UM12 PIKOR DCT SARNO",
        kind="letter to a known name", words=("PIKOR",), beside=("UM12", "DCT"), correction="PIKAR", meant="…",
    ),
    DrillCase(name="route-02", departure="XVAL", destination="XVOR", route="LENDU DCT SARNO", looks_odd=True),
]  # fmt: skip


@pytest.fixture
def shown(qtbot):
    window = opening.show_drill(None, DrillInHand(CASES), demo_database(), Settings())
    qtbot.addWidget(window)
    return window


def say(window, words, kind, correction=""):
    for button in window.question.words():
        button.setChecked(button.text() in words)
    window.question.kind.setCurrentText(kind)
    window.question.correction.setText(correction)
    window.question.answer_button.click()


def test_a_whole_drill(shown):
    assert shown.head.text().startswith("Route 1 of 2 · 0:0")
    assert [button.text() for button in shown.question.words()] == [
        "XVAL",
        "LENDU",
        "UM12",
        "PIKOR",
        "DCT",
        "SARNO",
        "XVOR",
    ]
    assert not shown.question.answer_button.isEnabled()
    shown.picture_button.click()
    assert not shown.picture.pixmap().isNull()
    assert "PIKAR" not in shown.windowTitle()
    say(shown, {"PIKOR"}, "letter to a known name", "pikar")
    told = shown.truth.text()
    assert told.startswith(
        "90 of 100: place 40, kind 30, correction 30, reveals −10\nPIKOR: letter to a known name. Meant: PIKAR."
    )
    assert "The tool: PIKOR is not on UM12" in told
    assert ERROR_KINDS["letter to a known name"].why in told
    shown.next_button.click()
    say(shown, set(), "clean")
    assert "It is clean. It looks odd and is right." in shown.truth.text()
    shown.next_button.click()
    assert shown.truth.text().startswith("95 of 100 on average, 0 false alarms.")
    assert not shown.question.isVisible()


def test_figures_cost_too_and_an_accused_clean_route_gets_nothing(shown):
    say(shown, {"LENDU"}, "half degree")
    shown.next_button.click()
    shown.figures_button.click()
    assert "SARNO" in shown.figures.text()
    say(shown, {"DCT"}, "point repeated")
    assert shown.truth.text().startswith("0 of 100: ")
    assert shown.drill.answers[-1].reveals == 1


def test_it_is_gone_on_with_and_forgotten(window, qtbot, tmp_path, monkeypatch):
    key = tmp_path / "answers.jsonl"
    key.write_text(write_key(CASES), "utf-8")
    monkeypatch.setattr(dialogs, "file_to_open", lambda *_: str(key))
    first = opening.open_drill(window, window.session)
    first.name.setText("Kim")
    first.name.textEdited.emit("Kim")
    say(first, {"PIKOR"}, "airway number")
    first.close()
    monkeypatch.setattr(dialogs, "file_to_open", lambda *_: pytest.fail("it asks though a drill is in hand"))
    again = opening.open_drill(window, window.session)
    assert (again.name.text(), len(again.drill.answers)) == ("Kim", 1)
    assert "route-02" not in again.windowTitle()
    path = opening.persistence.data_folder() / opening.IN_HAND
    assert b"PIKAR" not in path.read_bytes()
    again.forget_button.click()
    assert not path.exists()


def test_a_file_that_is_no_drill_is_said(window, tmp_path, monkeypatch):
    bad = tmp_path / "bad.jsonl"
    bad.write_text("{}", "utf-8")
    monkeypatch.setattr(dialogs, "file_to_open", lambda *_: str(bad))
    assert "bad.jsonl, line 1: no line of an answer key" in opening.open_drill(window, window.session)


@pytest.mark.parametrize("content", [b"", b"nonsense", b"x\x9cc", DrillInHand([]).pack()])
def test_a_damaged_drill_in_hand_is_none(content):
    assert unpack_drill(content) is None


def test_a_drill_in_hand_comes_back_as_it_was():
    drill = DrillInHand(CASES, trainee="Kim", seconds=3.5)
    back = unpack_drill(drill.pack())
    assert (back.cases, back.trainee, back.seconds) == (CASES, "Kim", 3.5)
