"""Saving: a route file keeps what else stood in it, a broken one is never overwritten, what differs is shown."""

import os
import time
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from routecheck.gui import persistence
from routecheck.gui.window import MainWindow
from routecheck.settings import settings_folders

pytestmark = pytest.mark.usefixtures("without_charts")

MINE = """\
# my own words
schema = 1
title = "Mine"
departure = "XVAL"
destination = "XVOR"
route = "LENDU DCT PIKAR"   # as cleared
colour = "blue"
"""

Open = Callable[..., MainWindow]


def type_at_end(qtbot: QtBot, window: MainWindow, text: str) -> None:
    window.text.moveCursor(window.text.textCursor().MoveOperation.End)
    with qtbot.waitSignal(window.session.assessed):
        qtbot.keyClicks(window.text, text)


def opened_file(qtbot: QtBot, window: MainWindow, folder: Path) -> Path:
    file = folder / "mine.route.toml"
    file.write_text(MINE, "utf-8")
    with qtbot.waitSignal(window.session.assessed):
        window.open_route(str(file))
    return file


def test_saving_changes_only_what_changed(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    file = opened_file(qtbot, window, tmp_path)
    assert window.windowTitle().startswith("mine.route.toml")
    assert not window.isWindowModified()
    type_at_end(qtbot, window, " DCT TOVIK")
    assert window.isWindowModified()
    window.save_route()
    assert not window.isWindowModified()
    assert file.read_text("utf-8") == MINE.replace("LENDU DCT PIKAR", "LENDU DCT PIKAR DCT TOVIK")
    assert "Saved as mine.route.toml" in window.status.message.text()


def test_saving_elsewhere_carries_the_rest_along(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    file = opened_file(qtbot, window, tmp_path)
    other = tmp_path / "other"
    assert window.files.save(other)
    assert file.read_text("utf-8") == MINE
    copy = tmp_path / "other.route.toml"
    assert tomllib.loads(copy.read_text("utf-8"))["colour"] == "blue"
    assert window.files.path == copy


def test_a_route_from_nowhere_asks_where_to(
    qtbot: QtBot, window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def answer(_parent: object, _title: str, name: str, _filter: str) -> tuple[str, str]:
        asked.append(name)
        return str(tmp_path / "new.route.toml"), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", answer)
    window.save_route()
    assert asked[0].endswith("XVAL-XVOR.route.toml")
    assert tomllib.loads((tmp_path / "new.route.toml").read_text("utf-8"))["route"] == window.session.route_input.route
    asked.clear()
    window.save_route()
    assert asked == []


def test_a_file_broken_meanwhile_is_not_overwritten(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    file = opened_file(qtbot, window, tmp_path)
    for broken in (b"route = ", b"schema = 2\n", b"route = '\xff'"):
        file.write_bytes(broken)
        window.save_route()
        assert file.read_bytes() == broken
        assert window.status.message.text().startswith("Not saved. ")


def test_a_folder_that_is_gone_is_said(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    assert not window.files.save(tmp_path / "gone" / "a.route.toml")
    assert "no such file or directory" in window.status.message.text()
    assert list(tmp_path.glob("*.toml")) == []


def test_nothing_is_no_route_to_save(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    window.text.setPlainText("  ")
    assert not window.files.save(tmp_path / "a.route.toml")
    assert window.status.message.text() == "Not saved. There is no route text yet."
    assert not (tmp_path / "a.route.toml").exists()


def test_a_list_of_routes_is_never_written_over(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    rows = tmp_path / "rows.csv"
    rows.write_text("departure,destination,route\nXVAL,XVOR,LENDU\nXVAL,XVOR,PIKAR\n", "utf-8")
    with qtbot.waitSignal(window.session.assessed):
        window.open_route(str(rows))
    assert window.files.path is None


def test_bringing_back_lets_the_file_go(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    opened_file(qtbot, window, tmp_path)
    with qtbot.waitSignal(window.session.assessed):
        window.open_before()
    assert window.files.path is None
    assert window.windowTitle().startswith("Routecheck")


def test_a_pipe_is_no_route_file_and_holds_nothing_up(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    pipe = tmp_path / "route.txt"
    os.mkfifo(pipe)
    window.open_route(str(pipe))
    qtbot.waitUntil(lambda: not window.session.reader.is_reading)
    assert "it is no file but a pipe" in window.status.message.text()
    window.files.path = pipe
    window.save_route()
    assert "it is no file but a pipe" in window.status.message.text()


def test_a_pipe_in_place_of_the_last_route_is_put_aside() -> None:
    persistence.data_folder().mkdir(parents=True, exist_ok=True)
    os.mkfifo(persistence.data_folder() / persistence.LAST_ROUTE)
    assert persistence.read_route() is None
    assert not (persistence.data_folder() / persistence.LAST_ROUTE).exists()


def test_drafts_of_killed_programs_go_at_the_start_and_where_a_route_is_opened(opened: Open, tmp_path: Path) -> None:
    route = tmp_path / "mine" / "mine.route.toml"
    folders = [route.parent, persistence.data_folder(), *settings_folders()]
    for folder in folders:
        folder.mkdir(parents=True, exist_ok=True)
        draft = folder / ".routecheck-0123456789abcdef.draft"
        draft.write_bytes(b"half")
        os.utime(draft, (time.time() - 7_200,) * 2)
    route.write_text('route = "LENDU DCT PIKAR"\n')
    opened(str(route))
    assert not [path for folder in folders for path in folder.iterdir() if path.suffix == ".draft"]
