"""Starts the window: finds out whether there is a display, which route to open, which data to load."""

from __future__ import annotations

import datetime as dt
import gc
import importlib
import logging
import os
import signal
import socket
import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.faults import system_reason
from routecheck.files import remove_abandoned_drafts, require_file
from routecheck.settings import DataError, UsageError, load_settings, settings_folders

if TYPE_CHECKING:
    from collections.abc import Callable
    from types import TracebackType

    from routecheck.gui.window import MainWindow
    from routecheck.model import RouteInput
    from routecheck.navdata.database import NavDatabase

LOG = logging.getLogger(__name__)
NO_DISPLAY = "No display to open a window on. To check without a window: routecheck proof FILE"
_DISPLAYS = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
_WITHOUT_QT = (
    "routecheck.pipeline",
    "routecheck.navdata.choice",
    "routecheck.presentation.assessment_view",
    "routecheck.presentation.load_view",
    "routecheck.gui.open_files",
)
"""These bring nearly all modules that need no Qt and that the first answer needs."""
_QUICK_TURNS_S = 0.001
"""How often Python's threads take turns, so that the worker never holds the window up."""
_TIDY_AFTER_MS = 3000
"""When Python's garbage collector may begin: before the first answer it only holds up the start."""


def run(path: str | None, navdata_files: list[str], demo: bool = False) -> int:
    """Open the window and stay until it is closed; gives the exit code.

    Raises UsageError without a display or for a missing file, DataError for a route file that cannot be read.
    """
    require_display()
    _require_files([*navdata_files, *([path] if path and not Path(path).is_dir() else [])])
    gc.disable()
    _import_what_needs_no_qt()
    from PySide6.QtCore import QTimer
    from PySide6.QtWidgets import QApplication

    app = QApplication.instance() or QApplication([sys.argv[0] if sys.argv else "routecheck"])
    assert isinstance(app, QApplication)
    app.setApplicationName("routecheck")
    app.setApplicationDisplayName("Routecheck")
    app.setStyle("Fusion")
    worklist = Path(path) if path and is_worklist(Path(path)) else None
    window = open_window(None if worklist else path, navdata_files, demo=demo)
    window.apply_theme()
    sys.excepthook = partial(report_bug, window)
    close_on_signals(window)
    QTimer.singleShot(_TIDY_AFTER_MS, gc.enable)
    window.show()
    if worklist:
        window.worklists.open(worklist)
    return app.exec()


def _import_what_needs_no_qt() -> None:
    """Once PySide6 is there, it reads the source of every module that is imported: a tenth of the start."""
    from routecheck.checks.catalogue import collect

    for name in _WITHOUT_QT:
        importlib.import_module(name)
    collect()


def is_worklist(path: Path) -> bool:
    """Whether a path is that of many routes: a folder, or rows."""
    return path.is_dir() or path.suffix.lower() == ".csv"


def close_on_signals(window: MainWindow) -> None:
    """Let Ctrl-C and a polite kill close the window as its own button does, so that everything typed is kept."""
    from PySide6.QtCore import QSocketNotifier, QTimer

    ours, pythons = socket.socketpair()
    pythons.setblocking(False)
    signal.set_wakeup_fd(pythons.fileno())
    wake = QSocketNotifier(ours.fileno(), QSocketNotifier.Type.Read, window)
    # Python runs its handlers only between its own instructions, so one must follow; it also keeps both sockets open.
    wake.activated.connect(lambda *_: ours.recv(16) and pythons.fileno())
    for number in (signal.SIGINT, signal.SIGTERM):
        # Python runs this between any two instructions, in the midst of a paint event too: closing waits its turn.
        signal.signal(number, lambda *_: QTimer.singleShot(0, window, window.close))


def report_bug(
    window: MainWindow, kind: type[BaseException], error: BaseException, trace: TracebackType | None
) -> None:
    """Log a bug that reached Qt's event loop and say so; the window goes on."""
    from routecheck.gui import persistence

    LOG.critical("a mistake of ours in the window", exc_info=(kind, error, trace))
    window.status.show_message(f"This is our mistake, not yours. What happened is told in {persistence.log_file()}.")


def open_window(path: str | None, navdata_files: list[str], *, demo: bool) -> MainWindow:
    """Open the window on the route asked for, else the last one, else the demo. The QApplication must exist."""
    from routecheck.checks.catalogue import bounds, collect
    from routecheck.gui import open_files, persistence
    from routecheck.gui.data_loader import COLLECT_SELDOM
    from routecheck.gui.session import Session
    from routecheck.gui.window import MainWindow

    sys.setswitchinterval(_QUICK_TURNS_S)
    gc.set_threshold(*COLLECT_SELDOM)
    remarks: list[str] = []
    for folder in (persistence.data_folder(), *settings_folders()):
        remove_abandoned_drafts(folder)
    last = persistence.read_route(remarks=remarks)
    left_on_demo = _left_on_demo(remarks)
    if path:
        route_input, more = open_files.read_route(path)
        remarks.append(more)
    else:
        route_input = _choose_route(last, demo=demo, own_data=bool(navdata_files) or _has_stored_data())
    if last and last != route_input:
        persistence.write_route(last, persistence.ROUTE_BEFORE)
    settings = load_settings(bounds(collect()))
    session = Session(route_input, today, settings)
    is_demo_route = route_input == open_files.read_demo_route()
    on_demo = demo or (not path and (is_demo_route or (bool(route_input.route) and left_on_demo)))
    session.load_data(_choose_data(navdata_files, demo=on_demo))
    window = MainWindow(session, today)
    window.files.note_file(route_input, Path(path) if path else None)
    window.status.show_message(" ".join(filter(None, (*remarks, *settings.remarks))))
    if not last and route_input.route:
        window.show_first_finding()
    return window


def _choose_route(last: RouteInput | None, *, demo: bool, own_data: bool) -> RouteInput:
    """The route to begin with: the last one. Until there is one: none on data of the user's own, else the demo route.

    The demo route as it came is no last route: it was only shown because there was no data.
    """
    from routecheck.gui import open_files
    from routecheck.model import RouteInput

    shown_first = open_files.read_demo_route()
    if demo:
        return shown_first
    if last is not None and last != shown_first:
        return last
    return RouteInput("") if own_data else shown_first


def _has_stored_data() -> bool:
    """Whether navigation data was added for good. Where that cannot be known, loading it will say why."""
    from routecheck.navdata import store

    try:
        return bool(store.stored_files())
    except DataError:
        return True


def _left_on_demo(remarks: list[str]) -> bool:
    """Whether the window was left on the invented region."""
    from routecheck.gui import persistence

    saved = persistence.read_values(persistence.LAYOUT, remarks)
    return bool(saved and saved.get("demo"))


def _choose_data(navdata_files: list[str], *, demo: bool) -> Callable[[Callable[[float], None]], NavDatabase]:
    """Choose the navigation data to begin with: files of this run, the region of the demo route, or what was added."""
    from routecheck.gui import open_files

    if navdata_files:
        return open_files.DataFiles(tuple(navdata_files))
    return open_files.DemoRegion() if demo else open_files.StoredData()


def today() -> dt.date:
    """Today's date, UTC."""
    return dt.datetime.now(dt.UTC).date()


def require_display() -> None:
    """Raise UsageError where Qt would abort the process for want of a display."""
    if sys.platform.startswith("linux") and not any(os.environ.get(name) for name in _DISPLAYS):
        raise UsageError(NO_DISPLAY)


def _require_files(paths: list[str]) -> None:
    for path in paths:
        try:
            require_file(Path(path))
        except FileNotFoundError:
            raise UsageError(f"{path}: no such file") from None
        except OSError as error:
            raise UsageError(f"{path}: {system_reason(error)}") from None
