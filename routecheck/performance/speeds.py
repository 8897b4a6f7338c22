"""Speeds as filed, in knots, and which speed and level is in force on each leg. Wind lives elsewhere."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.earth import air
from routecheck.model import WordKind
from routecheck.vertical.levels import level_ft

if TYPE_CHECKING:
    from routecheck.model import Route

_KM_PER_NM = 1.852
_SPEED = re.compile(r"(?:([NK])(\d{4})|M(\d{3}))")


def tas_kt(speed: str, level: str, deviation_k: float = 0.0) -> float | None:
    """A speed of Item 15 as true airspeed in knots; a Mach number needs the level. None where it cannot be known.

    `deviation_k` is how far the air is off the standard temperature: only a Mach number depends on it.
    """
    match = _SPEED.fullmatch(speed)
    if not match:
        return None
    if match[1]:
        return float(match[2]) / (_KM_PER_NM if match[1] == "K" else 1.0)
    feet = level_ft(level)
    if feet is None or feet > 65_000:
        return None
    return air.mach_to_tas_kt(float(match[3]) / 100.0, feet, deviation_k)


def mach_of(speed: str) -> float | None:
    """A speed of Item 15 as a Mach number; None where it is none."""
    match = _SPEED.fullmatch(speed)
    return float(match[3]) / 100.0 if match and match[3] else None


def filed_by_leg(route: Route) -> list[tuple[str, str]]:
    """For every leg the (speed, level) as filed that holds on it, "" where none is known."""
    route_input, words = route.route_input, route.parsed.words
    given = route_input.speed.strip().upper(), route_input.level.strip().upper()
    return [given if i is None else (words[i].speed, words[i].level) for i in change_words_by_leg(route)]


def change_words_by_leg(route: Route) -> list[int | None]:
    """For every leg the index of the word that gives its speed and level; None = what stands beside the text holds."""
    changes = [
        (word.span.start, index)
        for index, word in enumerate(route.parsed.words)
        if word.kind is WordKind.CHANGE and not word.bad
    ]
    if not changes:
        return [None] * len(route.legs)
    found: list[int | None] = []
    now: int | None = None
    passed = 0
    for point in route.points[:-1]:
        here = point.span.end if point.span else 0
        while passed < len(changes) and (changes[passed][0] <= here + 1 or changes[passed][0] == 0):
            now = changes[passed][1]
            passed += 1
        found.append(now)
    return found
