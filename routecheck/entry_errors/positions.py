"""Positions one entry error away from a typed one, always in the form that was typed."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.entry_errors.kinds import EntryError
from routecheck.entry_errors.words import with_neighbours_swapped

if TYPE_CHECKING:
    from collections.abc import Iterator

_FORM = re.compile(r"(\d{2}|\d{4})([NS])(\d{3}|\d{5})([EW])")
_OTHER = {"N": "S", "S": "N", "E": "W", "W": "E"}


def position_of(text: str) -> tuple[float, float] | None:
    """Latitude and longitude, degrees, of a position such as 46N078W or 4620N07805W; None if it is none."""
    match = _FORM.fullmatch(text)
    if not match or len(match[3]) != len(match[1]) + 1:
        return None
    lat, lon = _degrees(match[1], 2), _degrees(match[3], 3)
    if lat is None or lon is None or lat > 90 or lon > 180:
        return None
    return (-lat if match[2] == "S" else lat), (-lon if match[4] == "W" else lon)


def positions_one_error_away(text: str) -> list[tuple[str, EntryError]]:
    """The possible positions of the same form from which `text` comes by one entry error, each once."""
    found: dict[str, EntryError] = {}
    for error, candidate in _texts_one_error_away(text):
        if candidate != text and candidate not in found and position_of(candidate) is not None:
            found[candidate] = error
    return list(found.items())


def _texts_one_error_away(text: str) -> Iterator[tuple[EntryError, str]]:
    match = _FORM.fullmatch(text)
    if not match:
        return
    lat, north, lon, east = match.groups()
    yield EntryError.HEMISPHERE, lat + _OTHER[north] + lon + east
    yield EntryError.HEMISPHERE, lat + north + lon + _OTHER[east]
    if lat[2:] in ("00", "30"):
        yield EntryError.HALF_DEGREE, lat[:2] + ("30" if lat[2:] == "00" else "00") + north + lon + east
    for swapped in with_neighbours_swapped(text, str.isdigit):
        yield EntryError.DIGITS_SWAPPED, swapped
    if lon.startswith("0"):
        # The digits of latitude and longitude exchanged: 40N050W for 50N040W.
        yield EntryError.LATITUDE_LONGITUDE, lon[1:] + north + "0" + lat + east
    for i, old in enumerate(text):
        if old.isdigit():
            yield from ((EntryError.DIGIT_CHANGED, text[:i] + new + text[i + 1 :]) for new in "0123456789")


def _degrees(digits: str, width: int) -> float | None:
    whole, minutes = int(digits[:width]), int(digits[width:] or 0)
    return None if minutes >= 60 else whole + minutes / 60.0
