"""A text that is too long for the window is not taken, and the window says so; nothing is cut short in silence."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from routecheck.gui import open_files
from routecheck.gui.input_bounds import LONGEST_TEXT
from routecheck.gui.window import MainWindow
from routecheck.presentation.assessment_view import MOST_FINDINGS
from routecheck.settings import DataError

Open = Callable[..., MainWindow]


def paste(window: MainWindow, text: str) -> None:
    data = QMimeData()
    data.setText(text)
    window.text.insertFromMimeData(data)


def test_a_text_that_is_too_long_is_not_pasted(window: MainWindow, qtbot: QtBot) -> None:
    before = window.text.toPlainText()
    for text in ("A" * 1_000_000, " " * 999_999, "LENDU " * 2_001):
        window.text.selectAll()
        paste(window, text)
        qtbot.waitUntil(lambda: not window.session.reader.is_reading)
        assert window.text.toPlainText() == before
        said = window.status.message.text()
        assert f"Nothing was pasted. The text has {len(text):,} characters" in said
        assert f"up to {LONGEST_TEXT:,}" in said


def test_what_is_selected_makes_room(window: MainWindow, qtbot: QtBot) -> None:
    longest = ("LENDU " * LONGEST_TEXT)[: LONGEST_TEXT - 1] + "U"
    for _ in range(2):
        window.text.selectAll()
        with qtbot.waitSignal(window.session.assessed, timeout=20_000):
            paste(window, longest)
        assert window.text.toPlainText() == longest
        longest = longest.replace("LENDU", "PIKAR")
    paste(window, "A")
    assert len(window.text.toPlainText()) == LONGEST_TEXT


def test_of_too_many_findings_the_heaviest_are_shown(window: MainWindow, qtbot: QtBot) -> None:
    window.text.selectAll()
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        paste(window, "LENDU " * 400)
    answer = window.session.answer
    assert answer is not None
    assert len(answer.assessment.findings) == MOST_FINDINGS
    assert answer.findings_line.endswith(f"Shown: the {MOST_FINDINGS} heaviest.")


def test_a_field_takes_all_of_a_text_or_nothing(window: MainWindow, qtbot: QtBot) -> None:
    field = window.flight_fields.fields["alternate"]
    before = window.session.route_input
    QApplication.clipboard().setText("XVMA " * 8_000)
    field.selectAll()
    field.paste()
    qtbot.waitUntil(lambda: bool(window.status.message.text()))
    assert window.status.message.text() == "Nothing was pasted: the field “alternate” takes up to 2,000 characters."
    assert field.text() == " ".join(before.alternate)
    assert window.session.route_input == before


TOO_MUCH = {
    "claim": ('[[claim]]\nto = "LENDU"\n' * 2_001, "It has 2,001 entries of “claim”, the window takes 2,000"),
    "changed": ('[[changed]]\nfield = "route"\nold = "A"\nnew = "B"\n' * 101, "It has 101 entries of “changed”"),
    "departure": (f'departure = "{"A" * 40_000}"\n', "Its “departure” has 40,000 characters, the window takes 2,000"),
}


@pytest.mark.parametrize("name", TOO_MUCH)
def test_a_file_with_more_than_the_window_shows_is_not_opened(tmp_path: Path, name: str) -> None:
    content, said = TOO_MUCH[name]
    path = tmp_path / "much.route.toml"
    path.write_text(f'route = "LENDU"\n{content}')
    with pytest.raises(DataError, match=said):
        open_files.read_route(str(path))


def test_of_many_things_that_are_not_used_the_first_are_named_and_the_others_counted(
    window: MainWindow, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        paste(window, f"(FPL-XVA12-IS\n-B738/M-S/C\n-XVAL1400\n-N0430F350 LENDU\n-XVOR0110\n-{'FOO/BAR ' * 2_000})")
    assert "more remarks: “routecheck proof FILE” prints all." in window.status.recognised.text()
    assert 1_000 <= len(window.pasted.text.extraSelections()) < 1_010
    assert "2,000 parts not understood" in window.pasted.title.text()
    assert "the first 1,000 are marked" in window.pasted.title.text()


def test_a_file_with_a_route_that_is_too_long_is_not_opened(tmp_path: Path) -> None:
    path = tmp_path / "long.route.toml"
    path.write_text(f'route = "{"A" * 20_000}"\n')
    with pytest.raises(DataError, match="The text has 20,000 characters"):
        open_files.read_route(str(path))
