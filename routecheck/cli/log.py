"""The log of the program: in the platform's log folder, rotating. Where it cannot be written, we go on without."""

from __future__ import annotations

import logging
from logging.handlers import RotatingFileHandler
from pathlib import Path

import platformdirs

from routecheck.faults import system_reason

_LOG = logging.getLogger("routecheck")


def log_path() -> Path:
    """The file of the log."""
    return Path(platformdirs.user_log_dir("routecheck", appauthor=False)) / "routecheck.log"


def start_log() -> None:
    """Log from now on."""
    if _LOG.handlers:
        return
    # A log that cannot be written is nothing to print a traceback about.
    logging.raiseExceptions = False
    try:
        log_path().parent.mkdir(parents=True, exist_ok=True)
        handler: logging.Handler = RotatingFileHandler(log_path(), maxBytes=500_000, backupCount=3, delay=True)
    except OSError:
        handler = logging.NullHandler()
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s %(message)s"))
    _LOG.addHandler(handler)


def log_bug() -> str:
    """Log the exception being handled; answers with a sentence that says where it is told, or why it is not."""
    start_log()
    _LOG.exception("bug")
    path = log_path()
    try:
        with path.open("a"):
            return f"What happened is told in {path}."
    except OSError as error:
        return f"The log {path} cannot be written: {system_reason(error)}."
