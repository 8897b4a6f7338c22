"""Single fields of ARINC 424 records: text in, number or None out. Nothing here knows which record it stands in.

A field that must be there raises BadFieldError with the reason in words; an optional one that is blank or cannot be
read is None: unknown, never zero. Columns: what cycle 2301 of the U.S. file was measured to hold.
"""

from __future__ import annotations

from contextlib import suppress
from functools import lru_cache

_HEMISPHERES = {"N": (1, 90), "S": (-1, 90), "E": (1, 180), "W": (-1, 180)}
_SIGNS = {"E": 1, "W": -1}
_NORTH, _DIGITS = {"N": 1, "S": -1}, 17


class BadFieldError(ValueError):
    """A field without which the record is of no use; the text says what is wrong with it."""


def parse_position(text: str) -> tuple[float, float]:
    """`Nddmmssss` and `Wdddmmssss` (seconds × 100), 19 characters, as (lat, lon) in degrees."""
    digits = text[1:9] + text[10:19]
    if len(digits) == _DIGITS and digits.isdecimal():  # nearly always: without a call for each of the two
        lat_minutes, lat_hundredths = divmod(int(digits[:8]), 10_000)
        lon_minutes, lon_hundredths = divmod(int(digits[8:]), 10_000)
        (lat_deg, lat_min), (lon_deg, lon_min) = divmod(lat_minutes, 100), divmod(lon_minutes, 100)
        if lat_deg < 90 and lon_deg < 180 and lat_min < 60 > lon_min and lat_hundredths < 6_000 > lon_hundredths:
            north, east = _NORTH.get(text[0]), _SIGNS.get(text[9])
            if north and east:
                lat = lat_deg + lat_min / 60 + lat_hundredths / 360_000
                return north * lat, east * (lon_deg + lon_min / 60 + lon_hundredths / 360_000)
    return _angle(text[:9], "NS"), _angle(text[9:19], "EW")


def _angle(text: str, letters: str) -> float:
    digits = text[1:]
    if len(text) < 9 or text[0] not in letters or not digits.isdecimal():
        raise BadFieldError("no position" if not text.strip() else f"the position {text.strip()!r} cannot be read")
    sign, most = _HEMISPHERES[text[0]]
    whole, hundredths = divmod(int(digits), 10_000)
    degrees, minutes = divmod(whole, 100)
    value = degrees + minutes / 60 + hundredths / 360_000
    if minutes >= 60 or hundredths >= 6_000 or value > most:
        raise BadFieldError(f"the position {text!r} is nowhere on earth")
    return sign * value


@lru_cache(maxsize=4096)  # the records of an airport stand together
def parse_ident(text: str, what: str) -> str:
    """An identifier: capital letters and digits, blanks at the end taken off."""
    name = text.rstrip()
    if not (name.isascii() and name.isalnum() and name == name.upper()):
        raise BadFieldError(f"no {what}" if not name else f"the {what} {name!r} cannot be read")
    return name


def parse_name(text: str) -> str:
    """A name in plain text. Each byte came in as one character; those that form UTF-8 together are decoded so."""
    text = text.strip()
    if text.isascii() and text.isprintable():
        return text
    with suppress(UnicodeError):  # bytes that are no UTF-8 stay what latin-1 makes of them
        text = text.encode("latin-1").decode("utf-8")
    return "".join(letter if letter.isprintable() else "?" for letter in text)


def parse_whole(text: str) -> float | None:
    """A whole number that may carry a minus sign."""
    text = text.strip()
    if not text.removeprefix("-").isdecimal():
        return None
    return float(text)


def parse_tenths(text: str) -> float | None:
    """Digits with one decimal understood."""
    return int(text) / 10 if text.isdecimal() else None


def parse_variation(text: str) -> float | None:
    """`E0120` = 12.0, `W0120` = -12.0 degrees; `T` = aligned to true north (stations only) = 0."""
    if text[:1] == "T":
        return 0.0
    size = parse_tenths(text[1:])
    if size is None or size > 180 or text[0] not in _SIGNS:
        return None
    return _SIGNS[text[0]] * size


def parse_magnetic(text: str) -> float | None:
    """A magnetic course or bearing in degrees; one given as true (`087T`) is not magnetic: None."""
    degrees = parse_tenths(text)
    return degrees if degrees is not None and degrees <= 360 else None


def parse_altitude(text: str) -> float | None:
    """Feet, from `05000` or `FL180`; `UNKNN`, `UNLTD` and blank are None."""
    if text[:2] == "FL":
        level = parse_whole(text[2:])
        return None if level is None else level * 100
    return parse_whole(text)
