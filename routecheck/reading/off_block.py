"""Day and time off-block in the forms in which the trade types them. A form that might mean two days is not read."""

from __future__ import annotations

import datetime as dt
import re

from routecheck.formatting import quote
from routecheck.model import OffBlock, join_off_block, off_block_day, off_block_time

_MONTHS = (
    "JANUARY", "FEBRUARY", "MARCH", "APRIL", "MAY", "JUNE", "JULY", "AUGUST", "SEPTEMBER", "OCTOBER", "NOVEMBER",
    "DECEMBER",
)  # fmt: skip
_YEAR_FIRST = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})|([0-9]{4})([0-9]{2})([0-9]{2})")
_MONTH_IN_LETTERS = re.compile(r"([0-9]{1,2})[ /.-]?([A-Z]{3,9})[ /.-]?([0-9]{4}|[0-9]{2})")
_DAY_OF_FLIGHT = re.compile(r"DOF/([0-9]{2})([0-9]{2})([0-9]{2})")
"""As Item 18 has it, year first (ICAO Doc 4444 Appendix 2)."""
_TIME = re.compile(
    r"(?P<day>.*?)(?:^|[ T])(?P<hour>[0-9]{2})[:.H]?(?P<minute>[0-9]{2})(?::(?P<second>[0-9]{2})(?:[.,][0-9]+)?)?"
    r" ?(?P<zone>Z|UTC|[-+][0-9]{2}:?[0-9]{2})?"
)


def read_off_block(text: str) -> tuple[OffBlock | None, str]:
    """The day, the time or both that a text gives, in UTC, and "" or a sentence why it gives neither."""
    typed = " ".join(text.upper().split())
    if not typed:
        return None, ""
    try:
        return _make_off_block(typed), ""
    except (ValueError, OverflowError):
        why = "is no date and time: write it as 2026-12-03 1430, or 03DEC26, or 1430"
        return None, f"{quote(text.strip(), 40)} {why}"


def read_day(text: str) -> tuple[dt.date | None, str]:
    """The day that a text gives, of a time its UTC day, and "" or a sentence why it gives none."""
    day = off_block_day(read_off_block(text)[0])
    if day or not text.strip():
        return day, ""
    return None, f"{quote(text.strip(), 40)} is no date: write it as 2026-12-03 or 03DEC26"


def write_off_block(off_block: OffBlock | None) -> str:
    """Write it as one line: "2026-12-03 14:30", or its day or time alone. Seconds only where there are any."""
    day, time = off_block_day(off_block), off_block_time(off_block)
    parts = [day.isoformat()] if day else []
    if time is not None:
        parts.append(time.isoformat("seconds" if time.second else "minutes"))
    return " ".join(parts)


def to_utc(moment: dt.datetime) -> OffBlock:
    """A moment in UTC, whole seconds; one without time zone is taken as UTC. At the ends of the calendar its day."""
    try:
        utc = moment.astimezone(dt.UTC) if moment.tzinfo else moment.replace(tzinfo=dt.UTC)
    except OverflowError:
        return moment.date()
    return utc.replace(microsecond=0)


def _make_off_block(typed: str) -> OffBlock:
    """What a text in capitals gives. Raises ValueError or OverflowError."""
    if day := _make_day(typed):
        return day
    if not (match := _TIME.fullmatch(typed)):
        raise ValueError(typed)
    zone = match["zone"] or "Z"
    time = dt.time(int(match["hour"]), int(match["minute"]), int(match["second"] or 0))
    words = match["day"].split()
    if len(words) % 2 == 0 and words[: len(words) // 2] == words[len(words) // 2 :]:  # a day that was given twice
        words = words[: len(words) // 2]
    day = _make_day(" ".join(words))
    if zone in ("Z", "UTC") and (day or not words):
        return join_off_block(day, time) or time
    if not day:
        raise ValueError(typed)
    return to_utc(dt.datetime.fromisoformat(f"{day}T{time}{zone}"))


def _make_day(typed: str) -> dt.date | None:
    """The day that a text in capitals gives, None where it has another form. Raises ValueError for one that is none."""
    if match := _YEAR_FIRST.fullmatch(typed):
        year, month, day = (int(part) for part in match.groups() if part)
        return dt.date(year, month, day)
    if match := _DAY_OF_FLIGHT.fullmatch(typed):
        return dt.date(2000 + int(match[1]), int(match[2]), int(match[3]))
    if match := _MONTH_IN_LETTERS.fullmatch(typed):
        year = int(match[3])
        return dt.date(year if year > 99 else 2000 + year, _number_month(match[2]), int(match[1]))
    return None


def _number_month(typed: str) -> int:
    """The number of a month by its name or the three letters with which that begins; 0 = there is none."""
    return next((number for number, name in enumerate(_MONTHS, start=1) if typed in (name, name[:3])), 0)
