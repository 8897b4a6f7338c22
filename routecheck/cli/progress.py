"""A line on the terminal that says how far long work is; nothing where standard error is no terminal."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

from routecheck.cli.printing import is_terminal, print_over_line

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator


@contextmanager
def show_progress_line(what: str) -> Iterator[Callable[[float], None]]:
    """Give a function that shows the share done on standard error; the line goes at the end of the block."""
    shown = ""

    def show(share: float) -> None:
        nonlocal shown
        line = f"{what} … {share * 100:.0f} %"
        if line != shown:
            print_over_line(line)
            shown = line

    try:
        yield show if is_terminal(sys.stderr) else _ignore_share
    finally:
        if shown:
            print_over_line(" " * len(shown))
            print_over_line("")


def _ignore_share(_share: float) -> None:
    pass
