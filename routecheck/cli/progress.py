"""A line on the terminal that says how far long work is; nothing where standard error is no terminal."""

from __future__ import annotations

import sys
import time
from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

from routecheck.cli.printing import is_terminal, print_over_line

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

Item = TypeVar("Item")
_FIRST_S, _EVERY_S = 0.5, 0.2
"""When such a line is first shown: nobody wants one about what is done at once; and how often it changes."""


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


def show_count(items: Iterable[Item], describe: Callable[[], str]) -> Iterator[Item]:
    """Pass items on; meanwhile a line on standard error tells how far it is, at the end it goes."""
    shown, due = "", time.monotonic() + _FIRST_S
    try:
        for item in items:
            yield item
            if time.monotonic() > due:
                line, due = describe(), time.monotonic() + _EVERY_S
                print_over_line(line.ljust(len(shown)))
                shown = line
    finally:
        if shown:
            print_over_line(" " * len(shown))
            print_over_line("")


def _ignore_share(_share: float) -> None:
    pass
