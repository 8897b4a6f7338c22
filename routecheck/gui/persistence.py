"""What the window saves for its next start: the route in hand and the layout. No widgets."""

from __future__ import annotations

import contextlib
import dataclasses
import datetime as dt
import json
import logging
from pathlib import Path
from typing import TYPE_CHECKING, Any

import platformdirs
from PySide6.QtCore import QObject, QThreadPool, QTimer

from routecheck.files import read_bytes, write_atomically
from routecheck.model import InputKind, NotUsed, RouteInput
from routecheck.reading.input_fields import INPUT_FIELDS

if TYPE_CHECKING:
    from collections.abc import Mapping

LOG = logging.getLogger(__name__)
SCHEMA = 1
LAST_ROUTE, ROUTE_BEFORE, LAYOUT = "last_route.json", "route_before.json", "window.json"
_REST_MS = 400
_PLAIN_TEXTS = ("name", "unread")
"""What a RouteInput says beside the values that can be given with a route."""


def data_folder() -> Path:
    """The folder in which the window saves."""
    return Path(platformdirs.user_data_dir("routecheck", appauthor=False))


def log_file() -> Path:
    """The log file, which the command line opens."""
    return Path(platformdirs.user_log_dir("routecheck", appauthor=False)) / "routecheck.log"


def read_route(name: str = LAST_ROUTE) -> RouteInput | None:
    """Read the route saved under that name, or None. A file that cannot be read is put aside, never overwritten."""
    saved = read_values(name)
    if saved is None:
        return None
    try:
        return _restore_input(saved["entry"])
    except (KeyError, TypeError, ValueError):
        _put_aside(data_folder() / name)
        return None


def read_values(name: str) -> dict[str, Any] | None:
    """Read the values saved under that name, or None. A file that is unreadable or of another schema is put aside."""
    path = data_folder() / name
    if not path.exists():
        return None
    try:
        saved = json.loads(read_bytes(path))
    except (OSError, ValueError):
        saved = None
    if isinstance(saved, dict) and saved.get("schema") == SCHEMA:
        return saved
    _put_aside(path)
    return None


def write_route(route_input: RouteInput, name: str = LAST_ROUTE) -> None:
    """Save a route. There is always either the old or the new file, whole."""
    write_values(name, {"entry": dataclasses.asdict(dataclasses.replace(route_input, pasted=None))})


def write_values(name: str, values: Mapping[str, Any]) -> None:
    """Save values under a name. What cannot be written is logged, the window goes on."""
    text = json.dumps({"schema": SCHEMA, **values}, indent=1, default=dt.date.isoformat)
    try:
        data_folder().mkdir(parents=True, exist_ok=True)
        write_atomically(data_folder() / name, text.encode())
    except OSError:
        LOG.exception("%s could not be saved", name)


class RouteSaver(QObject):
    """Saves the route in hand a moment after its last change, off the GUI thread, in order."""

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

    def finish(self) -> None:
        """Write what is still waiting and wait for it."""
        if self._rest.isActive():
            self._rest.stop()
            self._write()
        self._pool.waitForDone()

    def _write(self) -> None:
        route_input = self._entry
        if route_input is not None:
            self._pool.start(lambda: write_route(route_input))


def _restore_input(values: Mapping[str, Any]) -> RouteInput:
    texts = {name: str(values.get(name, "")) for name in _PLAIN_TEXTS}
    given = {
        field.name: field.kind.restore(values[field.name])
        for field in INPUT_FIELDS
        if values.get(field.name) is not None
    }
    remarks = tuple(str(remark) for remark in values.get("remarks", ()))
    typed = tuple((str(name), str(text)) for name, text in values.get("typed", ()))
    not_used = tuple(_restore_not_used(one) for one in values.get("not_used", ()))
    return RouteInput(**{"route": "", **texts, **given}, remarks=remarks, not_used=not_used, typed=typed)


def _restore_not_used(values: Mapping[str, Any]) -> NotUsed:
    texts = [str(values[key]) for key in ("name", "where", "because")]
    return NotUsed(InputKind(values["what"]), *texts)


def _put_aside(path: Path) -> None:
    LOG.warning("%s cannot be read and is put aside", path.name)
    with contextlib.suppress(OSError):
        path.replace(path.with_suffix(".unreadable"))
