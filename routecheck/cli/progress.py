"""A line on the terminal that says how far long work is. Where nobody watches nothing is written."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator


@contextmanager
def progress_line(what: str) -> Iterator[Callable[[float], None]]:
    """Takes the share done and shows it on standard error while the block lasts; the line is gone afterwards."""
    shown = ""

    def show(share: float) -> None:
        nonlocal shown
        line = f"{what} … {share * 100:.0f} %"
        if line != shown:
            _write(f"\r{line}")
            shown = line

    try:
        yield show if sys.stderr.isatty() else _nowhere
    finally:
        if shown:
            _write(f"\r{' ' * len(shown)}\r")


def _write(text: str) -> None:
    sys.stderr.write(text)
    sys.stderr.flush()


def _nowhere(_share: float) -> None:
    pass
