"""Cells of a nav log to figures: numbers, times, coordinates, winds, each with half of its last digit."""

from __future__ import annotations

import re
from typing import NamedTuple

_NUMBER = re.compile(r"([+-]?\d{1,7}(?:[.,]\d{1,4})?)\s*(?:NM|KTS?|KG|LBS?|KM|MIN)?\.?", re.IGNORECASE)
_CLOCK = re.compile(r"(\d{1,2})[:+h](\d{2})(?::(\d{2}))?")
_HHMM = re.compile(r"(\d{2})(\d{2})")
_MINUTES = re.compile(r"\d{1,3}(?:\.\d{1,2})?")
_WIND = re.compile(r"(\d{3})\s*[/°]\s*(\d{1,3})(?:\s*KT)?|(\d{3})(\d{2,3})(?:KT)?")
_COURSE = re.compile(r"(\d{1,3}(?:\.\d)?)\s*°?\s*([TM])?")
_COORDINATE = re.compile(
    r"(?P<before>[NSEW])?\s*(?P<whole>\d{1,7})(?:\.(?P<part>\d{1,6}))?"
    r"(?:(?:\s*(?:°\s*-?|[:-])\s*|\s+)(?P<minutes>\d{1,2})(?:\.(?P<minute_part>\d{1,4}))?)?"
    r"(?:(?:\s*['′:]\s*|\s+)(?P<seconds>\d{1,2})(?:\.(?P<second_part>\d{1,3}))?)?[°'′\"″\s]*(?P<behind>[NSEW])?"
)
_TWO_COORDINATES = re.compile(r"(.*?[NS].*?)[\s,/]*((?:[EW]\s*\d.*)|(?:\d[^NSEW]*[EW]))")
_LONGEST_POSITION = 64
"""Characters: on a longer cell the pattern would take the square of its length, and no position has so many."""
_LEVEL = re.compile(r"(?:FL|F)\s?(\d{2,3})|A(\d{2,3})|(\d{3})|(\d{4,5})\s*(?:FT|')?")


class Figure(NamedTuple):
    """A figure and half of its last digit."""

    value: float
    half: float


def read_number(text: str) -> Figure | None:
    """A number, with a decimal point or comma; a unit may follow it."""
    match = _NUMBER.match(text.strip())
    if not match or not re.fullmatch(r"\s*(?:NM|KT|KG|LBS?|KM|MIN|%)?\.?", text.strip()[match.end() :], re.IGNORECASE):
        return None
    digits = match[1].replace(",", ".")
    decimals = len(digits.partition(".")[2])
    return Figure(float(digits), 0.5 * 10.0**-decimals)


def read_time(text: str) -> Figure | None:
    """A time in minutes: 1:12, 01+12, 0112, or minutes alone."""
    text = text.strip().lower()
    if clock := _CLOCK.fullmatch(text):
        seconds = float(clock[3] or 0) / 60.0
        half = 0.5 / 60.0 if clock[3] else 0.5
        return Figure(int(clock[1]) * 60.0 + int(clock[2]) + seconds, half) if int(clock[2]) < 60 else None
    if (hhmm := _HHMM.fullmatch(text)) and int(hhmm[2]) < 60:
        return Figure(int(hhmm[1]) * 60.0 + int(hhmm[2]), 0.5)
    if _MINUTES.fullmatch(text):
        return Figure(float(text), 0.5 * 10.0 ** -len(text.partition(".")[2]))
    return None


def read_course(text: str) -> tuple[Figure, str] | None:
    """A course with the letter behind it: T, M, or "" where there is none."""
    match = _COURSE.fullmatch(text.strip().upper())
    if not match or float(match[1]) > 360.0:
        return None
    return Figure(float(match[1]), 0.05 if "." in match[1] else 0.5), match[2] or ""


def read_wind(text: str) -> tuple[float, float] | None:
    """Where a wind comes from, degrees, and its speed, knots."""
    match = _WIND.fullmatch(text.strip().upper())
    if not match:
        return None
    degrees, speed = (match[1], match[2]) if match[1] else (match[3], match[4])
    return (float(degrees), float(speed)) if float(degrees) <= 360.0 else None


def read_level(text: str) -> str:
    """A level as Item 15 writes it; "" where it is none."""
    match = _LEVEL.fullmatch(text.strip().upper())
    if not match:
        return ""
    if flight_level := match[1] or match[3]:
        return f"F{int(flight_level):03}"
    return f"A{int(match[2]):03}" if match[2] else f"A{round(int(match[4]) / 100.0):03}"


def read_coordinate(text: str, letters: str) -> Figure | None:
    """A latitude or longitude in degrees, its letter one of `letters`, before or behind the digits, or a sign."""
    text = text.strip().upper()
    sign = -1.0 if text.startswith("-") else 1.0
    is_signed = text.startswith(("+", "-"))
    match = _COORDINATE.fullmatch(text, is_signed)
    if not match or is_signed + bool(match["before"]) + bool(match["behind"]) > 1:
        return None
    letter = match["before"] or match["behind"] or ""
    if letter and letter not in letters:
        return None
    found = _read_degrees(match, 2 if letters == "NS" else 3)
    if found is None or found.value > (90.0 if letters == "NS" else 180.0):
        return None
    return Figure(found.value * (-1.0 if letter in ("S", "W") else sign), found.half)


def _read_degrees(match: re.Match[str], width: int) -> Figure | None:
    whole, part = match["whole"], match["part"] or ""
    minutes, minute_part = match["minutes"], match["minute_part"] or ""
    if minutes is None and len(whole) > width:
        return _read_run(whole, part, width)
    degrees = float(f"{whole}.{part}" if part else whole)
    if minutes is None:
        return Figure(degrees, 0.5 * 10.0 ** -len(part))
    seconds, second_part = match["seconds"], match["second_part"] or ""
    if float(minutes) >= 60.0 or (seconds and float(seconds) >= 60.0):
        return None
    if seconds is None:
        value = degrees + float(f"{minutes}.{minute_part or 0}") / 60.0
        return Figure(value, 0.5 * 10.0 ** -len(minute_part) / 60.0)
    value = degrees + float(minutes) / 60.0 + float(f"{seconds}.{second_part or 0}") / 3600.0
    return Figure(value, 0.5 * 10.0 ** -len(second_part) / 3600.0)


def _read_run(whole: str, part: str, width: int) -> Figure | None:
    """Digits in one run: degrees and minutes, a tenth of a minute without its point, or degrees, minutes, seconds."""
    degrees, rest = whole[:width], whole[width:]
    if len(rest) == 3 and not part:
        rest, part = rest[:2], rest[2]
    if len(rest) == 4:
        minutes = float(rest[:2]) + float(f"{rest[2:]}.{part or 0}") / 60.0
        half = 0.5 * 10.0 ** -len(part) / 3600.0
    elif len(rest) == 2:
        minutes, half = float(f"{rest}.{part or 0}"), 0.5 * 10.0 ** -len(part) / 60.0
    else:
        return None
    return Figure(float(degrees) + minutes / 60.0, half) if minutes < 60.0 else None


def read_position(text: str) -> tuple[Figure, Figure] | None:
    """Latitude and longitude in one cell."""
    if len(text) > _LONGEST_POSITION:
        return None
    match = _TWO_COORDINATES.fullmatch(text.strip().upper())
    if not match:
        return None
    lat, lon = read_coordinate(match[1], "NS"), read_coordinate(match[2], "EW")
    return (lat, lon) if lat and lon else None
