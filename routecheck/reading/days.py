"""Days in the forms in which the trade types them. A form that might mean two days is not read."""

from __future__ import annotations

import datetime as dt
import re

from routecheck.formatting import quote

_MONTHS = (
    "JANUARY", "FEBRUARY", "MARCH", "APRIL", "MAY", "JUNE", "JULY", "AUGUST", "SEPTEMBER", "OCTOBER", "NOVEMBER",
    "DECEMBER",
)  # fmt: skip
_YEAR_FIRST = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})")
_MONTH_IN_LETTERS = re.compile(r"([0-9]{1,2})[ /.-]?([A-Z]{3,9})[ /.-]?([0-9]{4}|[0-9]{2})")
_WITH_TIME = re.compile(r"[0-9]{4}-?[0-9]{2}-?[0-9]{2}(?:[T ][0-9]{2}:?[0-9]{2}.*)?")
_DAY_OF_FLIGHT = re.compile(r"DOF/([0-9]{2})([0-9]{2})([0-9]{2})")
"""As Item 18 has it, year first (ICAO Doc 4444 Appendix 2)."""


def utc_day(moment: dt.datetime) -> dt.date:
    """The UTC day of a moment; one without time zone is taken as UTC. At the ends of the calendar, its own day."""
    try:
        return (moment.astimezone(dt.UTC) if moment.tzinfo else moment).date()
    except OverflowError:
        return moment.date()


def read_day(text: str) -> tuple[dt.date | None, str]:
    """The day of a date, or of a time its UTC day, and "" or a sentence why it is none."""
    typed = " ".join(text.upper().split())
    if not typed:
        return None, ""
    try:
        return _make_day(typed), ""
    except ValueError:
        return None, f"{quote(text.strip(), 40)} is no date: write it as 2026-12-03 or 03DEC26."


def _make_day(typed: str) -> dt.date:
    """The day that a text in capitals gives. Raises ValueError."""
    if match := _YEAR_FIRST.fullmatch(typed):
        return dt.date(int(match[1]), int(match[2]), int(match[3]))
    if match := _DAY_OF_FLIGHT.fullmatch(typed):
        return dt.date(2000 + int(match[1]), int(match[2]), int(match[3]))
    if match := _MONTH_IN_LETTERS.fullmatch(typed):
        year = int(match[3])
        return dt.date(year if year > 99 else 2000 + year, _number_month(match[2]), int(match[1]))
    if not _WITH_TIME.fullmatch(typed):
        raise ValueError(typed)
    return utc_day(dt.datetime.fromisoformat(typed))


def _number_month(typed: str) -> int:
    """The number of a month by its name or the three letters with which that begins; 0 = there is none."""
    return next((number for number, name in enumerate(_MONTHS, start=1) if typed in (name, name[:3])), 0)
