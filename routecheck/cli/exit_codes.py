"""The exit codes of all commands, and how one run of `proof` comes to its own."""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection

    from routecheck.report.run_summary import RunSummary

FAIL_ON = {
    "wrong": "something is Wrong, or nothing of a route could be checked",
    "doubtful": "that, or something is Doubtful",
    "unchecked": "that of wrong, or a route was not checked in full, or a message carries none",
    "never": "whatever is found",
}
"""What `--fail-on` can be given, and when `proof` then ends with 1 (with never: 0)."""


class ExitCode(IntEnum):
    """What the shell is told."""

    DONE = 0
    WRONG = 1
    USAGE = 2
    DATA = 3
    OURS = 4
    INTERRUPTED = 130


def exit_code(summary: RunSummary, fail_on: Collection[str]) -> ExitCode:
    """The exit code of a run: our own fault before an input that is none, and that before what was found."""
    if summary.failed:
        return ExitCode.OURS
    if summary.no_inputs:
        return ExitCode.USAGE
    if "never" in fail_on:
        return ExitCode.DONE
    found = (
        summary.wrong
        or summary.nothing_checked
        or not summary.is_finished
        or ("doubtful" in fail_on and summary.doubtful)
        or ("unchecked" in fail_on and (summary.unchecked or summary.messages))
    )
    return ExitCode.WRONG if found else ExitCode.DONE
