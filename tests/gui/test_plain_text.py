"""What comes from files and from the keyboard is shown as it is: nothing of it is read as markup."""

import dataclasses
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtGui import QHelpEvent, Qt, QTextCursor, QTextDocument
from PySide6.QtWidgets import QApplication, QLabel, QMessageBox, QToolTip
from pytestqt.qtbot import QtBot

from routecheck.gui import dialogs
from routecheck.gui.widgets.labels import MarkupLabel, PlainLabel, plain_tooltip
from routecheck.gui.window import MainWindow
from routecheck.model import Change, Finding, Span, Weight

Open = Callable[..., MainWindow]
MARKUP = "<b></b><!--"
ROUTE = f"""schema = 1
departure = "XVAL"
destination = "XVOR"
route = "LENDU DCT <b>PIKAR<i> DCT <s>TOVIK"
"{MARKUP}" = 1
later = 2
"""


@pytest.fixture
def marked_up(opened: Open, tmp_path: Path) -> MainWindow:
    file = tmp_path / "<i>mine.route.toml"
    file.write_text(ROUTE, "utf-8")
    return opened(str(file))


def shown(label: QLabel) -> str:
    """The text that a reader of the label sees."""
    assert label.textFormat() is not Qt.TextFormat.AutoText, label.text()
    if label.textFormat() is Qt.TextFormat.PlainText:
        return label.text()
    return in_html(label.text())


def in_html(html: str) -> str:
    document = QTextDocument()
    document.setHtml(html)
    return document.toPlainText()


def test_a_key_of_a_route_file_hides_nothing_behind_it(marked_up: MainWindow) -> None:
    recognised = shown(marked_up.status.recognised)
    assert MARKUP in recognised
    assert "later" in recognised


def test_a_file_name_is_said_letter_by_letter(qtbot: QtBot, marked_up: MainWindow) -> None:
    marked_up.save_route()
    assert shown(marked_up.status.message) == "Saved as <i>mine.route.toml."


def test_no_label_of_the_window_guesses_what_its_text_is(qtbot: QtBot, marked_up: MainWindow) -> None:
    changed = dataclasses.replace(marked_up.session.route_input, changed=(Change("<b>PIKOR</b>", "<b>PIKAR</b>", 10),))
    with qtbot.waitSignal(marked_up.session.assessed):
        marked_up.session.replace_input(changed)
    marked_up.session.select_finding(0)
    assert "<b>PIKOR</b> → <b>PIKAR</b>" in shown(marked_up.changes.line)
    marked_up.data.show_window().reject()
    marked_up.sheets.show_window().reject()
    assert len([shown(label) for label in marked_up.findChildren(QLabel) if of_ours(label)]) > 20


def of_ours(label: QLabel) -> bool:
    return isinstance(label, PlainLabel | MarkupLabel)


def test_the_words_of_a_finding_are_literal_on_hover(marked_up: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    tips: list[str] = []
    monkeypatch.setattr(QToolTip, "showText", lambda _spot, text, _widget: tips.append(text))
    at = marked_up.text.toPlainText().index("PIKAR")
    marked_up.text.mark_findings((Finding((Span(at, at + 5),), "“<b>PIKAR</b>” is unread", Weight.WRONG),))
    cursor = QTextCursor(marked_up.text.document())
    cursor.setPosition(at)
    spot = marked_up.text.viewport().mapToGlobal(marked_up.text.cursorRect(cursor).center())
    local = marked_up.text.mapFromGlobal(spot)
    QApplication.sendEvent(marked_up.text, QHelpEvent(QEvent.Type.ToolTip, local, spot))
    assert in_html(tips[0]) == "1  “<b>PIKAR</b>” is unread"


def test_a_tooltip_keeps_its_text_and_its_lines() -> None:
    assert in_html(plain_tooltip("1  <b>PIKAR</b> is unread\nsecond line")) == "1  <b>PIKAR</b> is unread\nsecond line"
    assert plain_tooltip("PIKOR is 3 NM off") == "PIKOR is 3 NM off"


def test_what_a_runway_change_says_is_literal(qtbot: QtBot, marked_up: MainWindow) -> None:
    banner = marked_up.runway_banner
    banner.show_sentences(("First <b>word", "second <!--", "third"))
    assert shown(banner.text).split("\n") == ["First <b>word", "second <!--", "third"]


def test_a_question_is_asked_in_plain_text(
    qtbot: QtBot, marked_up: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[QMessageBox] = []

    def answer(box: QMessageBox) -> QMessageBox.StandardButton:
        asked.append(box)
        return QMessageBox.StandardButton.Cancel

    monkeypatch.setattr(QMessageBox, "exec", answer)
    assert not dialogs.confirm_discard(marked_up, "Aircraft sheets", "“<b>mine” is not saved. Discard it?")
    assert asked[0].textFormat() is Qt.TextFormat.PlainText
    assert asked[0].text() == "“<b>mine” is not saved. Discard it?"
