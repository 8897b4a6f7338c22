"""How unlikely each kind of entry error is: one table, in the same unit as intended/plausibility scores routes.

The figures started from a trial on real routes and were calibrated on one half of the published U.S. routes of January
2023 (tests/bench/test_bench_intended.py repeats the measure on the other half).
"""

from __future__ import annotations

from enum import StrEnum


class Slip(StrEnum):
    """The kinds of entry error, named as a reader sees them."""

    LETTER_CHANGED = "one letter away"
    LETTERS_SWAPPED = "two neighbouring letters swapped"
    LETTER_ADDED = "one letter too many"
    LETTER_DROPPED = "one letter missing"
    POINTS_EXCHANGED = "two points exchanged"
    POINT_REPEATED = "a point typed twice"
    AIRWAY_DIGIT = "one character of the airway away"
    AIRWAY_LENGTH = "one character of the airway too many or missing"
    EXIT_TOO_FAR = "left further along the airway than meant"
    EXIT_TOO_EARLY = "left earlier on the airway than meant"
    ENTRY_BETWEEN = "joined earlier on the airway than meant"
    ENTRY_BEYOND = "joined later on the airway than meant"
    PROCEDURE_NUMBER = "another number of the same procedure"
    DIGIT_CHANGED = "one digit of the position changed"
    DIGITS_SWAPPED = "two neighbouring digits swapped"
    HEMISPHERE = "the other hemisphere"
    LATITUDE_LONGITUDE = "latitude and longitude exchanged"
    HALF_DEGREE = "half a degree of latitude off"
    ENDS_EXCHANGED = "departure and destination exchanged"
    AIRPORT_LETTER = "one letter of the airport away"


WORTH_SAYING = -0.7
"""A correction that wins less than this is not said: at it 2.4 % of real routes in order have one (names/best_edit)."""
MOST_WORDS = 2_500
"""Longer routes get no corrections (our choice: no route flown comes near it)."""


COST: dict[Slip, float] = {
    Slip.LETTER_CHANGED: 5.5,
    Slip.LETTERS_SWAPPED: 6.1,
    Slip.LETTER_ADDED: 6.3,
    Slip.LETTER_DROPPED: 4.6,
    Slip.POINTS_EXCHANGED: 2.9,
    Slip.POINT_REPEATED: 0.3,
    Slip.AIRWAY_DIGIT: 4.7,
    Slip.AIRWAY_LENGTH: 5.8,
    Slip.EXIT_TOO_FAR: 4.6,
    Slip.EXIT_TOO_EARLY: 11.4,
    Slip.ENTRY_BETWEEN: 4.45,
    Slip.ENTRY_BEYOND: 13.0,
    Slip.PROCEDURE_NUMBER: 0.0,
    Slip.DIGIT_CHANGED: 6.95,
    Slip.DIGITS_SWAPPED: 4.55,
    Slip.HEMISPHERE: 4.2,
    Slip.LATITUDE_LONGITUDE: 5.5,
    Slip.HALF_DEGREE: 2.2,
    Slip.ENDS_EXCHANGED: 4.0,
    Slip.AIRPORT_LETTER: 8.3,
}
"""Higher = less likely. A correction costs what the slip behind it costs."""
