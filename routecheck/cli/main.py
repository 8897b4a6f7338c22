"""The command line: picks the command, and turns whatever happens into one clear line and an exit code."""

from __future__ import annotations

import errno
import importlib
import os
import sys
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.printing import abandon_output, flush_output, prepare_streams, print_complaint
from routecheck.cli.window import COMMANDS
from routecheck.faults import DataError, LostProcessError, UsageError

if TYPE_CHECKING:
    from collections.abc import Sequence

_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command and give its exit code: 0 done, 1 something Wrong, 2 usage, 3 data unreadable, 4 our fault."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    prepare_streams()
    code = ExitCode.DONE
    try:
        code = _run(given)
        flush_output()
    except (UsageError, DataError) as error:
        return _complain(str(error), ExitCode.DATA if isinstance(error, DataError) else ExitCode.USAGE)
    except LostProcessError as error:
        return _complain(str(error), ExitCode.OURS)
    except KeyboardInterrupt:
        return ExitCode.INTERRUPTED
    except OSError as error:
        return _report_lost_output(error, code)
    except Exception:
        return _report_bug()
    return code


def _run(given: Sequence[str]) -> ExitCode:
    if given and given[0] == "help":
        given = [*given[1:], "--help"]
    name, rest = (given[0], given[1:]) if given and given[0] in COMMANDS else ("window", given)
    code: ExitCode = importlib.import_module(f"routecheck.cli.{name}").main(rest)
    return code


def _report_bug() -> ExitCode:
    from routecheck.cli.log import log_bug

    return _complain(f"This is our mistake, not yours. {log_bug()}", ExitCode.OURS)


def _report_lost_output(error: OSError, code: ExitCode) -> ExitCode:
    """Say that there is no room where the output goes; stay quiet where nobody reads it any more."""
    if error.errno not in (errno.EPIPE, *_NO_ROOM):
        return _report_bug()
    abandon_output()
    if error.errno == errno.EPIPE:
        return code
    return _complain(f"the output cannot be written: {os.strerror(error.errno).lower()}", ExitCode.USAGE)


def _complain(sentence: str, code: ExitCode) -> ExitCode:
    print_complaint(sentence)
    return code
