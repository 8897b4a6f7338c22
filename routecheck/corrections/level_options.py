"""Another level for one that cannot be meant: digits swapped, ten times, a tenth. No trying lives here."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.corrections.candidate import Candidate, Question
from routecheck.corrections.digits import swapped
from routecheck.earth import air
from routecheck.model import FieldChange, WordKind
from routecheck.performance.speeds import tas_kt
from routecheck.vertical.levels import level_ft

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import AircraftSheet, Span

SWAPPED, TEN_TIMES = 1.0, 1.2
MOST_CAS_KT, MOST_MACH = 350.0, 0.95
"""Where no Aircraft sheet says more, an indicated airspeed and a Mach number that few flights file."""
LEEWAY = 1.08
"""How far beyond the sheet's own speeds a filed speed may lie."""
HIGHEST_FT = 51_000.0
"""Higher levels are not thought of: hardly any aircraft with a flight plan flies there (our choice)."""
HIGH_FT, LEAST_CAS_KT = 20_000.0, 120.0
"""What flies above the first flies at least at the second (our choice)."""
_LEVEL = re.compile(r"([FASM])(\d{3,4})")


def level_options(asked: Question) -> Iterator[Candidate]:
    """Levels one such error away at which the filed speed can be flown."""
    for level, speed, span in _filed(asked):
        for other, cost, why in _others(level):
            if _fits(other, speed, asked.route_input.sheet):
                if span is None:
                    yield Candidate(why, cost, beside=(FieldChange("level", asked.route_input.level, other),))
                else:
                    text = asked.route_input.route[span.start : span.end]
                    yield Candidate(why, cost, span, _in_place(text, level, other))


def _filed(asked: Question) -> Iterator[tuple[str, str, Span | None]]:
    """(level, speed, where it stands) of what the finding is about; None = beside the text."""
    if not asked.finding.spans:
        yield asked.route_input.level.strip().upper(), asked.route_input.speed.strip().upper(), None
    for word in asked.route.parsed.words:
        if word.kind is WordKind.CHANGE and word.span in asked.finding.spans:
            yield word.level, word.speed, word.span


def _others(level: str) -> Iterator[tuple[str, float, str]]:
    found = _LEVEL.fullmatch(level)
    if not found:
        return
    letter, digits = found[1], found[2]
    yield from ((letter + text, SWAPPED, "two digits swapped") for text in swapped(digits))
    if digits[0] == "0":
        yield f"{letter}{digits[1:]}0", TEN_TIMES, "a tenth was typed"
    if digits[-1] == "0":
        yield f"{letter}0{digits[:-1]}", TEN_TIMES, "ten times was typed"


def _fits(level: str, speed: str, sheet: AircraftSheet | None) -> bool:
    """Whether the speed can be flown at that level, as far as the sheet or common sense says."""
    feet, tas = level_ft(level), tas_kt(speed, level)
    if feet is None or not 0.0 < feet <= HIGHEST_FT or tas is None:
        return False
    cas, mach = MOST_CAS_KT, MOST_MACH
    if sheet is not None:
        own = [kt for kt in (sheet.climb_cas_kt, sheet.descent_cas_kt) if kt is not None]
        cas = max(own) * LEEWAY if own else cas
        mach = sheet.cruise_mach * LEEWAY if sheet.cruise_mach is not None else mach
    own_mach = tas / air.speed_of_sound_kt(feet)
    own_cas = air.mach_to_cas_kt(own_mach, feet) if own_mach <= mach else 0.0
    return (LEAST_CAS_KT if feet > HIGH_FT else 0.0) < own_cas <= cas


def _in_place(text: str, level: str, other: str) -> str:
    at = text.upper().rindex(level)
    return text[:at] + other + text[at + len(level) :]
