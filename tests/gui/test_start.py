"""Starting: without a display one line and no abort; broken files are said, never a crash."""

import dataclasses
import datetime as dt
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QUrl
from pytestqt.qtbot import QtBot

from routecheck.gui import app, persistence, theme
from routecheck.gui.window import MainWindow
from routecheck.model import Claim, InputKind, NotUsed, Role, RouteInput
from routecheck.settings import DataError, UsageError

pytestmark = pytest.mark.usefixtures("without_charts")

Open = Callable[..., MainWindow]
HAND_MADE = RouteInput(
    "LENDU DCT PIKAR",
    departure="XVAL",
    role=Role.CLEARED,
    claims=(Claim("PIKAR", distance_nm=63.8),),
    remarks=("said",),
    not_used=(NotUsed(InputKind.KEY, "levle", "", "there is no such key"),),
    alternate=("XVMA",),
)


def test_no_display_is_one_line_and_no_abort(tmp_path: Path) -> None:
    hidden = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    env = {k: v for k, v in os.environ.items() if k not in hidden}
    ran = subprocess.run(
        [sys.executable, "-m", "routecheck"], env=env, capture_output=True, text=True, timeout=60, cwd=tmp_path
    )
    assert ran.returncode == 2
    assert ran.stdout == ""
    assert app.NO_DISPLAY in ran.stderr
    assert len(ran.stderr.strip().splitlines()) == 1


STARTED = """
import signal, sys
from routecheck.cli.main import main
from routecheck.gui import app

def open_window(*given, real=app.open_window, **more):
    window = real(*given, **more)
    window.session.assessed.connect(lambda _: print("checked", flush=True))
    return window

def close_on_signals(window, real=app.close_on_signals):
    real(window)
    if sys.argv[2] == "early":
        signal.raise_signal(int(sys.argv[1]))

app.open_window, app.close_on_signals = open_window, close_on_signals
sys.exit(main([]))
"""


@pytest.mark.parametrize(("number", "when"), [(signal.SIGINT, "early"), (signal.SIGTERM, "checked")])
def test_ctrl_c_closes_quietly_and_keeps_the_route(own_folders: Path, number: signal.Signals, when: str) -> None:
    """Before the window is shown, and once the first answer is there, which the program itself says."""
    ran = subprocess.Popen(
        [sys.executable, "-c", STARTED, str(int(number)), when],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    given_up = threading.Timer(120, ran.kill)
    given_up.start()
    if when == "checked":
        assert ran.stdout is not None
        assert ran.stdout.readline() == "checked\n"
        ran.send_signal(number)
    out, err = ran.communicate()
    given_up.cancel()
    assert (ran.returncode, out.replace("checked\n", "")) == (0, "")
    assert [line for line in err.splitlines() if "propagateSizeHints" not in line] == []
    assert (persistence.data_folder() / persistence.LAYOUT).is_file()
    assert persistence.read_route() is not None


def test_any_of_the_three_names_counts_as_a_display(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    with pytest.raises(UsageError):
        app.require_display()
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.setenv(name, "x")
        app.require_display()
        monkeypatch.delenv(name)


def test_a_missing_file_is_said_before_anything_opens() -> None:
    with pytest.raises(UsageError, match=r"nowhere\.toml: no such file"):
        app.run("nowhere.toml", [])


def test_a_mistake_of_ours_is_said_and_logged_and_the_window_goes_on(
    qtbot: QtBot, window: MainWindow, caplog: pytest.LogCaptureFixture
) -> None:
    app.report_bug(window, ZeroDivisionError, ZeroDivisionError("ours"), None)
    assert str(persistence.log_file()) in window.status.message.text()
    assert "ZeroDivisionError" in caplog.text
    assert window.isVisible()


def test_a_file_without_a_route_is_said(tmp_path: Path) -> None:
    noise = tmp_path / "noise.bin"
    noise.write_bytes(b"\x00\xff\xfe" * 100)
    with pytest.raises(DataError, match=r"noise\.bin"):
        app.open_window(str(noise), [], demo=False)


def test_a_route_file_is_opened_and_the_last_route_kept_aside(opened: Open, tmp_path: Path) -> None:
    persistence.write_route(HAND_MADE)
    file = tmp_path / "mine.route.toml"
    file.write_text('schema = 1\nrole = "filed"\ndeparture = "XVAL"\nroute = "LENDU DCT TOVIK"\n')
    window = opened(str(file))
    assert window.text.toPlainText() == "LENDU DCT TOVIK"
    assert window.flight_fields.role.currentText() == "filed"
    assert persistence.read_route(persistence.ROUTE_BEFORE) == HAND_MADE


def test_a_list_of_routes_shows_the_first_and_says_so(opened: Open, tmp_path: Path) -> None:
    file = tmp_path / "list.csv"
    file.write_text("departure,destination,route\nXVAL,XVOR,LENDU\nXVAL,XVMA,PIKAR\n")
    window = opened(str(file))
    assert window.text.toPlainText() == "LENDU"
    assert "more than one route" in window.status.message.text()


def test_a_broken_file_opened_from_the_menu_changes_nothing(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    before = window.text.toPlainText()
    for content in (b"\x00\xff" * 50, b""):
        file = tmp_path / "bad.route.toml"
        file.write_bytes(content)
        window.open_route(str(file))
        qtbot.waitUntil(lambda: not window.session.reader.is_reading)
        assert window.text.toPlainText() == before
        assert "bad.route.toml" in window.status.message.text()
    window.open_route(str(tmp_path / "gone.toml"))
    qtbot.waitUntil(lambda: not window.session.reader.is_reading)
    assert "gone.toml" in window.status.message.text()


def test_a_file_dropped_on_the_text_is_opened(qtbot: QtBot, window: MainWindow, tmp_path: Path) -> None:
    file = tmp_path / "dropped.txt"
    file.write_text("LENDU DCT DROPD")
    dropped = QMimeData()
    dropped.setUrls([QUrl.fromLocalFile(str(file))])
    assert window.text.canInsertFromMimeData(dropped)
    with qtbot.waitSignal(window.session.assessed):
        window.text.insertFromMimeData(dropped)
    assert window.text.toPlainText() == "LENDU DCT DROPD"


def test_pasted_words_come_without_their_dress(window: MainWindow) -> None:
    pasted = QMimeData()
    pasted.setHtml("<b style='font-size: 40pt'>LENDU</b>")
    pasted.setText("LENDU")
    window.text.selectAll()
    window.text.insertFromMimeData(pasted)
    assert window.text.toPlainText() == "LENDU"
    assert not window.text.textCursor().charFormat().font().bold()


def test_a_kept_route_is_whole() -> None:
    texts = {f.name: f.name.upper() for f in dataclasses.fields(RouteInput) if f.name == "route" or f.default == ""}
    for route_input in (HAND_MADE, RouteInput(**texts, off_block=dt.date(2026, 12, 3))):
        persistence.write_route(route_input)
        assert persistence.read_route() == route_input
    assert not [p for p in persistence.data_folder().iterdir() if p.name.startswith(".")], "a draft was left behind"


def test_a_kept_route_that_cannot_be_read_is_put_aside(opened: Open) -> None:
    text = '{"schema": 1, "entry": {"role": "pilot"}}'
    persistence.data_folder().mkdir(parents=True)
    kept = persistence.data_folder() / persistence.LAST_ROUTE
    kept.write_text(text)
    window = opened()
    assert "PIKOR" in window.text.toPlainText()
    window.close()
    assert kept.with_suffix(".unreadable").read_text() == text
    again = persistence.read_route()
    assert again is not None
    assert again.route == window.session.route_input.route


def test_a_folder_that_cannot_be_written_does_not_stop_the_window(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    blocked = tmp_path / "blocked"
    blocked.write_text("a file where the folder should be")
    monkeypatch.setattr(persistence, "data_folder", lambda: blocked / "deeper")
    with qtbot.waitSignal(window.session.assessed):
        qtbot.keyClicks(window.text, "A")
    window.close()


@pytest.mark.usefixtures("with_charts")
def test_the_text_is_of_one_width_and_the_headline_stands_out(opened: Open) -> None:
    """As at a start, where a window takes its colours once it stands: fonts given once, before that, would be lost."""
    window = opened()
    window.apply_theme()
    fixed = theme.fixed_font().family()
    assert (window.text.font().family(), window.flight_fields.fields["departure"].font().family()) == (fixed, fixed)
    assert window.text.font().pointSizeF() > window.legs.font().pointSizeF()
    headline, plain = window.margin.headline.font(), window.margin.counts.font()
    assert headline.bold()
    assert headline.pointSizeF() > plain.pointSizeF() > window.margin.outcomes.font().pointSizeF()
    assert window.foot.totals.font().bold()
    for folded, head in ((window.side, window.side.fold), (window.load, window.load.fold_button)):
        assert folded.maximumHeight() == head.sizeHint().height()
