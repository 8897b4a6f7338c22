"""Names and designators one entry error away from a typed one: generated, then tested against what exists."""

from __future__ import annotations

from string import ascii_uppercase, digits
from typing import TYPE_CHECKING

from routecheck.entry_errors.costs import Slip

if TYPE_CHECKING:
    from collections.abc import Container

_ALPHANUMERIC = ascii_uppercase + digits
LONGEST = 10
"""No name is longer, so a longer word is one error off none: it is not taken apart (it may be a whole file)."""


def one_error_off(word: str, known: Container[str], alphabet: str = ascii_uppercase) -> list[tuple[str, Slip]]:
    """The known words from which `word` comes by one letter changed, dropped or added, or two neighbours swapped.

    A word reached in two ways is given once, by the first way in this order: swapped, changed, too many, missing.
    """
    if len(word) > LONGEST:
        return []
    cuts = [(word[:i], word[i:]) for i in range(len(word) + 1)]
    ways = (
        (Slip.LETTERS_SWAPPED, [a + b[1] + b[0] + b[2:] for a, b in cuts if len(b) > 1]),
        (Slip.LETTER_CHANGED, [a + letter + b[1:] for a, b in cuts if b for letter in alphabet]),
        (Slip.LETTER_ADDED, [a + b[1:] for a, b in cuts if b]),
        (Slip.LETTER_DROPPED, [a + letter + b for a, b in cuts for letter in alphabet]),
    )
    found: dict[str, Slip] = {}
    for slip, others in ways:
        for other in others:
            if other in known and other != word:
                found.setdefault(other, slip)
    return list(found.items())


def designators_off(word: str, known: Container[str]) -> list[tuple[str, Slip]]:
    """The known airway designators one character away from a typed one."""
    same_length = {Slip.LETTER_CHANGED: Slip.AIRWAY_DIGIT, Slip.LETTERS_SWAPPED: Slip.AIRWAY_DIGIT}
    return [
        (other, same_length.get(slip, Slip.AIRWAY_LENGTH)) for other, slip in one_error_off(word, known, _ALPHANUMERIC)
    ]


def stem(procedure: str) -> str:
    """A procedure's name without its validity number and route letter: what stays when the number changes."""
    cut = procedure.rstrip(ascii_uppercase) if procedure[-1:].isalpha() else procedure
    return cut.rstrip(digits) if cut[-1:].isdigit() else procedure
