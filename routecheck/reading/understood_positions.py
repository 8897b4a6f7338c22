"""Positions in forms that Item 15 does not have, and the one position that each can mean. Nothing is placed here.

Short codes of data files (ARINC 424, 7.2.5) have the quadrant in one letter: 4550N is 45N050W, H4550 of the North
Atlantic half a degree of latitude more (the H from memory). Shorthand (45/50) leaves the hemispheres out: they are
those of all positions that the text has in full, where these agree.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

_QUADRANTS = {"N": ("N", "W"), "E": ("N", "E"), "S": ("S", "E"), "W": ("S", "W")}
_LETTER_LAST = re.compile(r"([0-9]{2})([0-9]{2})([NESW])")
_HALF_DEGREE = re.compile(r"H([0-9]{2})([0-9]{2})")
_SHORTHAND = re.compile(r"([0-9]{2})/([0-9]{2,3})|([0-9]{4})/([0-9]{4,5})|([0-9]{2}30)/([0-9]{2,3})")
_HEMISPHERES = re.compile(r"(?:[0-9]{2}|[0-9]{4})([NS])(?:[0-9]{3}|[0-9]{5})([EW])")


def read_short_code(text: str) -> str:
    """The position of Item 15 that a short code of five characters means; "" for any other word."""
    if match := _LETTER_LAST.fullmatch(text):
        lat, lon, letter = match.groups()
        north, east = _QUADRANTS[letter]
        return f"{lat}{north}0{lon}{east}" if int(lat) <= 90 else ""
    if match := _HALF_DEGREE.fullmatch(text):
        lat, lon = match.groups()
        return f"{lat}30N0{lon}00W" if int(lat) < 90 else ""
    return ""


def read_shorthand(text: str, positions: Iterable[str]) -> str:
    """The position that a shorthand means among positions written in full; "" where they leave more than one."""
    match = _SHORTHAND.fullmatch(text)
    quadrants = {found.groups() for one in positions if (found := _HEMISPHERES.fullmatch(one))}
    if match is None or len(quadrants) != 1:
        return ""
    north, east = quadrants.pop()
    lat, lon = [group for group in match.groups() if group]
    if len(lat) == 2:
        return f"{lat}{north}{lon:0>3}{east}"
    return f"{lat}{north}{lon:0>5}{east}" if len(lon) > 3 else f"{lat}{north}{lon:0>3}00{east}"
