"""The command line: picks the command, and turns whatever happens into one clear line and an exit code."""

from __future__ import annotations

import errno
import logging
import os
import sys
from logging.handlers import RotatingFileHandler
from pathlib import Path
from typing import TYPE_CHECKING

import platformdirs

from routecheck.cli import explain, navdata, proof, window
from routecheck.settings import DataError, UsageError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

DONE, WRONG, USAGE, DATA, OURS = 0, 1, 2, 3, 4
INTERRUPTED = 130
_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)
_COMMANDS: dict[str, Callable[[Sequence[str]], int]] = {
    "proof": proof.main,
    "explain": explain.main,
    "navdata": navdata.main,
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command and give its exit code: 0 done, 1 something Wrong, 2 usage, 3 data unreadable, 4 our fault."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    log_file = _log_to_file()
    command = _COMMANDS.get(given[0]) if given else None
    try:
        code = command(given[1:]) if command else window.main(given)
        sys.stdout.flush()
    except (UsageError, DataError) as error:
        return _report(str(error), DATA if isinstance(error, DataError) else USAGE)
    except KeyboardInterrupt:
        return INTERRUPTED
    except OSError as error:
        return _report_lost_output(error, log_file)
    except Exception:
        return _report_bug(log_file)
    return code


def _report_bug(log_file: Path) -> int:
    logging.getLogger(__name__).exception("bug")
    return _report(f"This is our mistake, not yours. What happened is told in {log_file}.", OURS)


def _report_lost_output(error: OSError, log_file: Path) -> int:
    """Say that there is no room where the output goes; stay quiet where nobody reads it any more."""
    if error.errno not in (errno.EPIPE, *_NO_ROOM):
        return _report_bug(log_file)
    # The interpreter flushes once more at exit: into nothing.
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    if error.errno == errno.EPIPE:
        return DONE
    return _report(f"the output cannot be written: {os.strerror(error.errno).lower()}", USAGE)


def _report(sentence: str, code: int) -> int:
    print(f"routecheck: {sentence}", file=sys.stderr)
    return code


def _log_to_file() -> Path:
    """Log into the platform's log folder, rotating. Where that cannot be written, go on without."""
    path = Path(platformdirs.user_log_dir("routecheck", appauthor=False)) / "routecheck.log"
    root = logging.getLogger("routecheck")
    if not root.handlers:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            handler: logging.Handler = RotatingFileHandler(path, maxBytes=500_000, backupCount=3, delay=True)
        except OSError:
            handler = logging.NullHandler()
        handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s %(message)s"))
        root.addHandler(handler)
    return path
