"""When the aircraft leaves its stand: a day, a time, or both, always UTC."""

from __future__ import annotations

import datetime as dt

OffBlock = dt.date | dt.time
"""A day alone, a time alone (of a day that nobody said), or a `datetime` in UTC, which has both."""


def off_block_day(off_block: OffBlock | None) -> dt.date | None:
    """Its day; None = not said."""
    if isinstance(off_block, dt.datetime):
        return off_block.date()
    return off_block if isinstance(off_block, dt.date) else None


def off_block_time(off_block: OffBlock | None) -> dt.time | None:
    """Its time of day; None = not said."""
    if isinstance(off_block, dt.datetime):
        return off_block.time()
    return off_block if isinstance(off_block, dt.time) else None


def join_off_block(day: dt.date | None, time: dt.time | None) -> OffBlock | None:
    """A day and a time of it in one, as far as they are known."""
    if day and time is not None:
        return dt.datetime.combine(day, time, dt.UTC)
    return day or time


def complete_off_block(own: OffBlock | None, other: OffBlock | None) -> OffBlock | None:
    """The day and the time of one, and what it does not say from another."""
    own_time = off_block_time(own)
    return join_off_block(
        off_block_day(own) or off_block_day(other), off_block_time(other) if own_time is None else own_time
    )
