"""A line on the terminal that says how far long work is; nothing where standard error is no terminal."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

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
            _write(f"\r{line}")
            shown = line

    try:
        yield show if sys.stderr.isatty() else _ignore_share
    finally:
        if shown:
            _write(f"\r{' ' * len(shown)}\r")


def _write(text: str) -> None:
    sys.stderr.write(text)
    sys.stderr.flush()


def _ignore_share(_share: float) -> None:
    pass
