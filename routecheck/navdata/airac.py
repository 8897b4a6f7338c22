"""AIRAC cycles and their dates. No clock and no data lives here.

Identifier YYNN = the NN-th effective date of year YY; every 28 days, 2 JAN 2020 = 2001. Source: ICAO Annex 15, 6.2,
as restated in public AIS texts. The U.S. changes over at 0901 UTC of the day; only whole days are known here.
"""

from __future__ import annotations

import datetime as dt

DAYS = 28
_BASE = dt.date(2020, 1, 2)
_PIVOT = 64
"""Two-digit years from 64 on are 1964 to 1999: the 28-day grid began in 1964."""


def first_day(cycle: str) -> dt.date:
    """The first day of a cycle ("2613"). Raises ValueError where the year has no such cycle."""
    if len(cycle) != 4 or not (cycle.isascii() and cycle.isdecimal()):
        raise ValueError(f"{cycle!r} is no AIRAC cycle: four digits are needed, year and number")
    year, number = 2000 + int(cycle[:2]), int(cycle[2:])
    if year >= 2000 + _PIVOT:
        year -= 100
    day = _first_of_year(year) + dt.timedelta(days=DAYS * (number - 1))
    if number < 1 or day.year != year:
        raise ValueError(f"{cycle!r} is no AIRAC cycle: {year} has no number {number}")
    return day


def first_day_of_next(cycle: str) -> dt.date:
    """The first day of the cycle after a given one. Raises ValueError like `first_day`."""
    return first_day(cycle) + dt.timedelta(days=DAYS)


def cycle_of(day: dt.date) -> str:
    """The cycle that holds on a day of 1964 to 2063: 22 JAN 2026 is "2601", the day before "2513"."""
    start = _start_at_or_before(day)
    number = (start - _first_of_year(start.year)).days // DAYS + 1
    return f"{start.year % 100:02d}{number:02d}"


def _start_at_or_before(day: dt.date) -> dt.date:
    return day - dt.timedelta(days=(day - _BASE).days % DAYS)


def _first_of_year(year: int) -> dt.date:
    """The first effective date in a year: within its first 28 days."""
    return _start_at_or_before(dt.date(year, 1, DAYS))
