"""Positions one entry error away from a typed one, always in the form that was typed."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.entry_errors.costs import Slip

if TYPE_CHECKING:
    from collections.abc import Iterator

_FORM = re.compile(r"(\d{2}|\d{4})([NS])(\d{3}|\d{5})([EW])")
_OTHER = {"N": "S", "S": "N", "E": "W", "W": "E"}


def value_of(text: str) -> tuple[float, float] | None:
    """Latitude and longitude, degrees, of a position such as 46N078W or 4620N07805W; None if it is none."""
    match = _FORM.fullmatch(text)
    if not match or len(match[3]) != len(match[1]) + 1:
        return None
    lat, lon = _degrees(match[1], 2), _degrees(match[3], 3)
    if lat is None or lon is None or lat > 90 or lon > 180:
        return None
    return (-lat if match[2] == "S" else lat), (-lon if match[4] == "W" else lon)


def one_error_off(text: str) -> list[tuple[str, Slip]]:
    """The possible positions of the same form from which `text` comes by one entry error, each once."""
    found: dict[str, Slip] = {}
    for slip, candidate in _all(text):
        if candidate != text and candidate not in found and value_of(candidate) is not None:
            found[candidate] = slip
    return list(found.items())


def _all(text: str) -> Iterator[tuple[Slip, str]]:
    match = _FORM.fullmatch(text)
    if not match:
        return
    lat, north, lon, east = match.groups()
    yield Slip.HEMISPHERE, lat + _OTHER[north] + lon + east
    yield Slip.HEMISPHERE, lat + north + lon + _OTHER[east]
    yield from ((Slip.HALF_DEGREE, other) for other in _half_degrees(lat, north, lon, east))
    yield from ((Slip.DIGITS_SWAPPED, other) for other in _swapped(text))
    if lon.startswith("0"):
        yield Slip.LATITUDE_LONGITUDE, _exchanged(lat, north, lon, east)
    for i, old in enumerate(text):
        if old.isdigit():
            yield from ((Slip.DIGIT_CHANGED, text[:i] + new + text[i + 1 :]) for new in "0123456789")


def _half_degrees(lat: str, north: str, lon: str, east: str) -> list[str]:
    """A half degree of latitude more or less, where minutes are typed."""
    if len(lat) != 4 or lat[2:] not in ("00", "30"):
        return []
    return [lat[:2] + ("30" if lat[2:] == "00" else "00") + north + lon + east]


def _swapped(text: str) -> list[str]:
    pairs = [i for i in range(len(text) - 1) if text[i].isdigit() and text[i + 1].isdigit() and text[i] != text[i + 1]]
    return [text[:i] + text[i + 1] + text[i] + text[i + 2 :] for i in pairs]


def _exchanged(lat: str, north: str, lon: str, east: str) -> str:
    """The digits of latitude and longitude exchanged: 40N050W for 50N040W."""
    return lon[1:] + north + "0" + lat + east


def _degrees(digits: str, width: int) -> float | None:
    whole, minutes = int(digits[:width]), int(digits[width:] or 0)
    return None if minutes >= 60 else whole + minutes / 60.0
