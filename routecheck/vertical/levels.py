"""Levels of ICAO Item 15 in feet. Which level holds where is said in performance.speeds."""

from __future__ import annotations

import re

_FEET_PER_METRE = 1 / 0.3048
_LEVEL = re.compile(r"(?:([FA])(\d{3})|([SM])(\d{4}))")


def level_ft(level: str) -> float | None:
    """A level of Item 15 in feet (flight levels as pressure altitude); None for VFR or what is no level."""
    match = _LEVEL.fullmatch(level[:5] if level[:1] in "SM" else level[:4])
    if not match:
        return None
    if match[1]:
        return float(match[2]) * 100.0
    return float(match[4]) * 10.0 * _FEET_PER_METRE
