"""The kinds of entry error and how unlikely each is: one table, in the unit in which corrections/plausibility scores.

The figures started from a trial on real routes and were calibrated on one half of the published U.S. routes of January
2023 (tests/bench/test_bench_intended.py repeats the measure on the other half).
"""

from __future__ import annotations

from enum import StrEnum


class EntryError(StrEnum):
    """The kinds of entry error, named as a reader sees them."""

    LETTER_CHANGED = "one letter away"
    LETTERS_SWAPPED = "two neighbouring letters swapped"
    LETTER_ADDED = "one letter too many"
    LETTER_DROPPED = "one letter missing"
    TWO_LETTERS = "two letters away"
    LETTERS_MIXED = "the same letters in another order"
    POINTS_EXCHANGED = "two points exchanged"
    POINT_REPEATED = "a point typed twice"
    POINT_AGAIN = "a point of the route typed once more"
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
    AS_KNOWN = "as known routes have it"


WORTH_SAYING = -0.6
"""A correction that wins less than this is not said: at it 2.2 % of real routes in order have one (names/best_edit)."""
MOST_WORDS = 2_500
"""Longer routes get no corrections (our choice: no route flown comes near it)."""

COST: dict[EntryError, float] = {
    EntryError.LETTER_CHANGED: 5.5,
    EntryError.LETTERS_SWAPPED: 6.1,
    EntryError.LETTER_ADDED: 6.3,
    EntryError.LETTER_DROPPED: 4.6,
    EntryError.TWO_LETTERS: 9.5,
    EntryError.LETTERS_MIXED: 8.0,
    EntryError.POINTS_EXCHANGED: 2.9,
    EntryError.POINT_REPEATED: 0.3,
    EntryError.POINT_AGAIN: 0.3,
    EntryError.AIRWAY_DIGIT: 4.7,
    EntryError.AIRWAY_LENGTH: 5.8,
    EntryError.EXIT_TOO_FAR: 4.6,
    EntryError.EXIT_TOO_EARLY: 11.4,
    EntryError.ENTRY_BETWEEN: 4.45,
    EntryError.ENTRY_BEYOND: 13.0,
    EntryError.PROCEDURE_NUMBER: 0.0,
    EntryError.DIGIT_CHANGED: 6.95,
    EntryError.DIGITS_SWAPPED: 4.55,
    EntryError.HEMISPHERE: 4.2,
    EntryError.LATITUDE_LONGITUDE: 5.5,
    EntryError.HALF_DEGREE: 2.2,
    EntryError.ENDS_EXCHANGED: 4.0,
    EntryError.AIRPORT_LETTER: 8.3,
    EntryError.AS_KNOWN: 9.0,
}
"""Higher = less likely. A correction costs what the error costs that it undoes."""
