"""Another speed or level for one that cannot be meant; a word in the form it should have. Nothing is tried here."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, NamedTuple

from routecheck.corrections.candidate import Candidate, Question
from routecheck.entry_errors.words import with_neighbours_swapped
from routecheck.model import FieldChange, WordKind
from routecheck.performance.speed_bounds import HIGHEST_LEVEL_FT, air_speed, is_usual, sheet_cruise_kt
from routecheck.reading.understood_positions import read_short_code
from routecheck.vertical.levels import level_ft

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import AircraftSheet, Span

LEVEL_SWAPPED, LEVEL_TEN_TIMES, LEVEL_LETTER = 1.0, 1.2, 1.0
SPEED_TEN_TIMES, SPEED_LETTER, SPEED_SWAPPED, SPEED_DIGIT = 1.0, 1.0, 1.3, 2.2
"""How unlikely each error is."""
OFF_CRUISE = 8.0
"""What a speed costs for each ln(speed / usual cruise): 5 % off cost 0.4."""
JET_CRUISE_KT, JETS_FROM_FT = 455.0, 28_000.0
"""What most fly that file a level so high (our choice); lower down no speed is the usual one."""
_LEVEL = re.compile(r"([FASM])(\d{3,4})")
_SPEED = re.compile(r"([NK])(\d{4})|(M)(\d{3})")
_ANY_FORM = re.compile(r"([NKM])(\d{1,5})(?:(F)L?|(A|S|M))(\d{1,5})")
HIGHEST_TRANSITION_FT = 18_000.0
"""Nowhere in the world is the transition altitude higher, so that a higher flight level is no altitude."""
_OTHER_UNIT = {"N": "K", "K": "N"}
_OTHER_DATUM = {"F": "A", "A": "F"}
_Near = tuple[str, float, str]
"""A speed or level, how unlikely, and why it may have been meant."""


class _Filed(NamedTuple):
    """A speed and level of which one is in question; `span` None = they stand beside the text."""

    speed: str
    level: str
    span: Span | None


def other_levels(question: Question) -> Iterator[Candidate]:
    """Levels one error away at which the filed speed is flown; without a speed only the other letter."""
    sheet = question.route_input.sheet
    for filed in _filed_in_question(question):
        for other, cost, why in _levels_near(filed.level):
            if _may_be_flown_at(other, filed, sheet):
                yield _with_level(question, filed, other, cost, why)


def other_speeds(question: Question) -> Iterator[Candidate]:
    """Speeds one error away that are flown at the filed level, those near the usual cruise first."""
    sheet = question.route_input.sheet
    for filed in _filed_in_question(question):
        for other, cost, why in _speeds_near(filed.speed):
            if other.strip("NKM0") and is_usual(other, filed.level, sheet):
                yield _with_speed(question, filed, other, cost + _off_cruise(other, filed.level, sheet), why)


def other_forms(question: Question) -> Iterator[Candidate]:
    """The form of Item 15 that a speed and level with too many digits, or too few, comes nearest to."""
    sheet = question.route_input.sheet
    words = [word for word in question.route.parsed.words if word.span in question.finding.spans]
    for word, form in [(word, form) for word in words if (form := _ANY_FORM.fullmatch(word.text))]:
        levels = list(with_digits(form[3] or form[4], form[5], 4 if form[4] in ("S", "M") else 3))
        for speed, speed_cost in with_digits(form[1], form[2], 3 if form[1] == "M" else 4):
            for level, level_cost in levels:
                if is_usual(speed, level, sheet):
                    cost = speed_cost + level_cost + _off_cruise(speed, level, sheet)
                    yield Candidate("digits too many or too few", cost, word.span, speed + level)


def _filed_in_question(question: Question) -> Iterator[_Filed]:
    if not question.finding.spans:
        given = question.route_input
        yield _Filed(given.speed.strip().upper(), given.level.strip().upper(), None)
    for word in question.route.parsed.words:
        if word.kind is WordKind.CHANGE and word.span in question.finding.spans:
            yield _Filed(word.speed, word.level, word.span)


def _levels_near(level: str) -> Iterator[_Near]:
    """Every level that may have been meant."""
    found = _LEVEL.fullmatch(level)
    if not found:
        return
    letter, digits = found[1], found[2]
    for swapped in with_neighbours_swapped(digits):
        yield letter + swapped, LEVEL_SWAPPED, "two digits swapped"
    if digits[0] == "0":
        yield f"{letter}{digits[1:]}0", LEVEL_TEN_TIMES, "a tenth was typed"
    if digits[-1] == "0":
        yield f"{letter}0{digits[:-1]}", LEVEL_TEN_TIMES, "ten times was typed"
    if letter == "A" or (letter == "F" and (level_ft(level) or 0.0) < HIGHEST_TRANSITION_FT):
        yield _OTHER_DATUM[letter] + digits, LEVEL_LETTER, "flight level and altitude mixed up"


def _speeds_near(speed: str) -> Iterator[_Near]:
    """Every speed that may have been meant."""
    found = _SPEED.fullmatch(speed)
    if not found:
        return
    letter, digits = (found[1], found[2]) if found[1] else (found[3], found[4])
    yield from _in_another_unit(letter, digits)
    if digits[0] == "0":
        yield f"{letter}{digits[1:]}0", SPEED_TEN_TIMES, "a tenth was typed"
    if digits[-1] == "0":
        yield f"{letter}0{digits[:-1]}", SPEED_TEN_TIMES, "ten times was typed"
    for swapped in with_neighbours_swapped(digits):
        yield letter + swapped, SPEED_SWAPPED, "two digits swapped"
    for i, old in enumerate(digits):
        for new in set("0123456789") - {old}:
            yield f"{letter}{digits[:i]}{new}{digits[i + 1 :]}", SPEED_DIGIT, "one digit away"


def _in_another_unit(letter: str, digits: str) -> Iterator[_Near]:
    if letter in _OTHER_UNIT:
        yield _OTHER_UNIT[letter] + digits, SPEED_LETTER, "knots and km/h mixed up"
        if digits.startswith("00"):
            yield f"M{digits[1:]}", SPEED_LETTER, "a Mach number typed as knots"
    else:
        yield f"N0{digits}", SPEED_LETTER, "knots typed as a Mach number"


def with_digits(letter: str, digits: str, width: int) -> Iterator[tuple[str, float]]:
    """The figures of so many digits that a figure with another number of digits may stand for, each with its cost."""
    if len(digits) == width:
        yield letter + digits, 0.0
    elif len(digits) > width and not digits[width:].strip("0"):
        yield letter + digits[:width], LEVEL_TEN_TIMES
    elif len(digits) < width:
        yield f"{letter}{digits:0>{width}}", LEVEL_TEN_TIMES
        yield f"{letter}{digits:0<{width}}", LEVEL_TEN_TIMES
    if len(digits) > width and digits[0] == "0":
        yield letter + digits[-width:], LEVEL_TEN_TIMES
    if len(digits) >= width and not digits[width - 1 :].strip("0"):
        yield f"{letter}0{digits[: width - 1]}", SPEED_TEN_TIMES + LEVEL_TEN_TIMES * (len(digits) > width)


def _may_be_flown_at(level: str, filed: _Filed, sheet: AircraftSheet | None) -> bool:
    if filed.speed:
        return is_usual(filed.speed, level, sheet)
    feet = level_ft(level)
    return level[1:] == filed.level[1:] and feet is not None and 0.0 < feet <= HIGHEST_LEVEL_FT


def _off_cruise(speed: str, level: str, sheet: AircraftSheet | None) -> float:
    """What a speed costs for being off the cruise of the sheet, else off what most jets fly."""
    flown = air_speed(speed, level)
    if flown is None:
        return 0.0
    cruise_kt = (sheet_cruise_kt(sheet, flown.feet) if sheet else None) or (
        JET_CRUISE_KT if flown.feet >= JETS_FROM_FT else flown.tas_kt
    )
    return OFF_CRUISE * abs(math.log(flown.tas_kt / cruise_kt))


def _with_level(question: Question, filed: _Filed, other: str, cost: float, why: str) -> Candidate:
    if filed.span is None:
        return Candidate(why, cost, beside=(FieldChange("level", question.route_input.level, other),))
    text = question.route_input.route[filed.span.start : filed.span.end]
    at = text.upper().rindex(filed.level)
    return Candidate(why, cost, filed.span, text[:at] + other + text[at + len(filed.level) :])


def _with_speed(question: Question, filed: _Filed, other: str, cost: float, why: str) -> Candidate:
    if filed.span is None:
        return Candidate(why, cost, beside=(FieldChange("speed", question.route_input.speed, other),))
    text = question.route_input.route[filed.span.start : filed.span.end]
    return Candidate(why, cost, filed.span, other + text[len(filed.speed) :])


def rewritten_words(question: Question) -> Iterator[Candidate]:
    """Each word of the finding rewritten: a misspelt form as it is meant, a short code as a position in full.

    That changes nothing of what is flown: whatever else is found there was there before.
    """
    for word in question.route.parsed.words:
        meant = word.meant or read_short_code(word.text)
        if word.span in question.finding.spans and meant:
            yield Candidate("in the form of Item 15", 0.0, word.span, meant, beyond_doubt=True)
