"""Spares Python's garbage collector where much is made that stays. Nothing else lives here."""

from __future__ import annotations

import gc
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

_SELDOM = (100_000, 50, 50)


@contextmanager
def collect_garbage_seldom() -> Iterator[None]:
    """Let it begin seldom: navigation data stays, and assessing leaves no cycles (tests/test_pipeline.py).

    Where it begins as seldom already, or never, nothing is changed.
    """
    before = gc.get_threshold()
    if before == _SELDOM or not before[0]:
        yield
        return
    gc.freeze()
    gc.set_threshold(*_SELDOM)
    try:
        yield
    finally:
        gc.set_threshold(*before)
        gc.unfreeze()


@contextmanager
def collect_no_garbage() -> Iterator[None]:
    """Let it rest: reading and compiling navigation data makes millions of values, and no cycles."""
    before = gc.get_threshold()
    gc.set_threshold(0)
    try:
        yield
    finally:
        gc.set_threshold(*before)
