"""What the window saves for its next start: the route in hand and the layout. No widgets."""

from __future__ import annotations

import dataclasses
import itertools
import json
import logging
import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

import platformdirs
from PySide6.QtCore import QObject, QThreadPool, QTimer

from routecheck.files import read_bytes, write_atomically
from routecheck.gui.input_bounds import describe_too_much
from routecheck.gui.restored_input import restore_input

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Mapping

    from routecheck.model import RouteInput

LOG = logging.getLogger(__name__)
SCHEMA = 1
LAST_ROUTE, ROUTE_BEFORE, LAYOUT = "last_route.json", "route_before.json", "window.json"
RECENT_FILES = "recent_files.json"
_CALLED = {
    LAST_ROUTE: "The last route",
    ROUTE_BEFORE: "The route before",
    LAYOUT: "The saved layout of the window",
    RECENT_FILES: "The list of recent files",
}
_REST_MS = 400


def data_folder() -> Path:
    """The folder in which the window saves."""
    return Path(platformdirs.user_data_dir("routecheck", appauthor=False))


def log_file() -> Path:
    """The log file, which the command line opens."""
    return Path(platformdirs.user_log_dir("routecheck", appauthor=False)) / "routecheck.log"


def read_route(name: str = LAST_ROUTE, remarks: list[str] | None = None) -> RouteInput | None:
    """Read the route saved under that name, or None. A file that is none of ours is put aside; the remarks say so."""
    saved = read_values(name, remarks)
    if saved is None:
        return None
    try:
        route_input = restore_input(saved["entry"])
        why = describe_too_much(route_input)
    except (KeyError, TypeError, ValueError, AttributeError):
        why = "it cannot be read"
    if why:
        _put_aside(name, why, remarks)
        return None
    return route_input


def read_values(name: str, remarks: list[str] | None = None) -> dict[str, Any] | None:
    """Read the values saved under that name, or None. What is unreadable or of another schema is put aside."""
    path = data_folder() / name
    if not os.path.lexists(path):
        return None
    try:
        saved = json.loads(read_bytes(path))
    except (OSError, ValueError, RecursionError):
        saved = None
    why = _find_fault(saved)
    if why:
        _put_aside(name, why, remarks)
        return None
    return saved  # type: ignore[no-any-return]


def _find_fault(saved: object) -> str:
    schema = saved.get("schema") if isinstance(saved, dict) else None
    if isinstance(schema, int) and schema > SCHEMA:
        return "it is from a later version of Routecheck"
    return "" if schema == SCHEMA and not isinstance(schema, bool) else "it cannot be read"


def write_route(route_input: RouteInput, name: str = LAST_ROUTE) -> None:
    """Save a route. There is always either the old or the new file, whole."""
    write_values(name, {"entry": dataclasses.asdict(route_input)})


def write_values(name: str, values: Mapping[str, Any]) -> None:
    """Save values under a name. What cannot be written is logged, the window goes on."""
    text = json.dumps({"schema": SCHEMA, **values}, indent=1, default=_write_moment)
    try:
        data_folder().mkdir(parents=True, exist_ok=True)
        write_atomically(data_folder() / name, text.encode())
    except OSError:
        LOG.exception("%s could not be saved", name)


def _write_moment(value: dt.date | dt.time) -> str:
    return value.isoformat()


class RouteSaver(QObject):
    """Saves the route in hand a moment after its last change, and the route before; off the GUI thread, in order."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._entry: RouteInput | None = None
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._rest.timeout.connect(self._write)

    def save_soon(self, route_input: RouteInput) -> None:
        """Save this route soon."""
        self._entry = route_input
        self._rest.start()

    def save_before(self, route_input: RouteInput) -> None:
        """Save this route as the one that was there before."""
        self._pool.start(lambda: write_route(route_input, ROUTE_BEFORE))

    def finish(self) -> None:
        """Write what is still waiting and wait for it."""
        if self._rest.isActive():
            self._rest.stop()
            self._write()
        self.wait()

    def wait(self) -> None:
        """Wait for what is being written. From any thread."""
        self._pool.waitForDone()

    def _write(self) -> None:
        route_input = self._entry
        if route_input is not None:
            self._pool.start(lambda: write_route(route_input))


def _put_aside(name: str, why: str, remarks: list[str] | None) -> None:
    """Give a file another name, never that of one that was put aside before, and say so."""
    path = data_folder() / name
    try:
        kept = _give_unused_name(path)
    except OSError:
        LOG.exception("%s cannot be put aside", name)
        said = f"{_CALLED[name]} is not used, {why}; nor can its file be put aside: {path}."
    else:
        said = f"{_CALLED[name]} is not used: {why}. Its file is kept as {kept.name}."
    LOG.warning(said)
    if remarks is not None:
        remarks.append(said)


def _give_unused_name(path: Path) -> Path:
    for number in itertools.count(1):
        kept = path.with_name(f"{path.stem}{f'-{number}' if number > 1 else ''}.unreadable")
        if not os.path.lexists(kept):
            return path.rename(kept)
    raise AssertionError("numbers have no end")
