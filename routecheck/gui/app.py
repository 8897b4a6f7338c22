"""Where the window starts: is there a display, which route, which data. Qt is imported once the display is known."""

from __future__ import annotations

import datetime as dt
import logging
import os
import sys
from logging.handlers import RotatingFileHandler
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.settings import UsageError

if TYPE_CHECKING:
    from routecheck.gui.window import Window

NO_DISPLAY = "No display to open a window on. To check without a window: routecheck proof FILE"
_DISPLAYS = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
_QUICK_TURNS_S = 0.001
"""How often Python's threads take turns, so that the worker never holds the window up."""


def run(path: str | None, library_paths: list[str], demo: bool = False) -> int:
    """Open the window and stay until it is closed; gives the exit code.

    Raises UsageError without a display or for a missing file, DataError for a route file that cannot be read.
    """
    require_display()
    _require_files([*library_paths, *([path] if path else [])])
    from PySide6.QtWidgets import QApplication

    from routecheck.gui.theme import dress, theme_now

    _start_log()
    app = QApplication.instance() or QApplication([sys.argv[0] if sys.argv else "routecheck"])
    assert isinstance(app, QApplication)
    app.setApplicationName("routecheck")
    app.setApplicationDisplayName("Routecheck")
    app.setStyle("Fusion")
    dress(app, theme_now())
    window = open_window(path, library_paths, demo=demo)
    window.show()
    return app.exec()


def open_window(path: str | None, library_paths: list[str], *, demo: bool) -> Window:
    """The window on the route asked for, else the last one, else the demo. The QApplication must exist."""
    from routecheck.gui import keeping, opening
    from routecheck.gui.session import Session
    from routecheck.gui.window import Window

    sys.setswitchinterval(_QUICK_TURNS_S)
    last, more = keeping.read_entry(), ""
    if path:
        entry, more = opening.read_route(path)
    else:
        entry = last if last and not demo else opening.demo_route()
    if last and last != entry:
        keeping.write_entry(last, keeping.ROUTE_BEFORE)
    session = Session(entry, today)
    session.load(opening.DataFiles(tuple(library_paths)))
    window = Window(session, today)
    window.status.say(more)
    if not last:
        window.show_first_finding()
    return window


def today() -> dt.date:
    """Today by the only clock that the trade uses."""
    return dt.datetime.now(dt.UTC).date()


def require_display() -> None:
    """Raise UsageError where Qt would abort the process for want of a display."""
    if sys.platform.startswith("linux") and not any(os.environ.get(name) for name in _DISPLAYS):
        raise UsageError(NO_DISPLAY)


def _require_files(paths: list[str]) -> None:
    for path in paths:
        if not Path(path).is_file():
            raise UsageError(f"{path}: no such file")


def _start_log() -> None:
    from routecheck.gui import keeping

    try:
        keeping.log_folder().mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(keeping.log_folder() / keeping.LOG_FILE, maxBytes=1_000_000, backupCount=2)
    except OSError:
        return
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    logging.getLogger("routecheck").addHandler(handler)
