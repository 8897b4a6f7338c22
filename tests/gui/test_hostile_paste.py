"""A text that is too long for the window is not taken, and the window says so; nothing is cut short in silence."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData
from pytestqt.qtbot import QtBot

from routecheck.gui import open_files
from routecheck.gui.longest_text import LONGEST_TEXT
from routecheck.gui.window import MainWindow
from routecheck.presentation.assessment_view import MOST_FINDINGS
from routecheck.settings import DataError

Open = Callable[..., MainWindow]


def paste(window: MainWindow, text: str) -> None:
    data = QMimeData()
    data.setText(text)
    window.text.insertFromMimeData(data)


@pytest.mark.parametrize("text", ["A" * 1_000_000, " " * 1_000_000, "LENDU " * 2_001])
def test_a_text_that_is_too_long_is_not_pasted(window: MainWindow, text: str) -> None:
    before = window.text.toPlainText()
    window.text.selectAll()
    paste(window, text)
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


def test_a_file_with_a_route_that_is_too_long_is_not_opened(tmp_path: Path) -> None:
    path = tmp_path / "long.route.toml"
    path.write_text(f'route = "{"A" * 20_000}"\n')
    with pytest.raises(DataError, match="The text has 20,000 characters"):
        open_files.read_route(str(path))
