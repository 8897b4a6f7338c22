"""Names and designators one entry error away from a typed one: generated, then tested against what exists."""

from __future__ import annotations

from string import ascii_uppercase, digits
from typing import TYPE_CHECKING

from routecheck.slips.costs import Slip

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

_ALPHANUMERIC = ascii_uppercase + digits


def one_error_off(word: str, known: Collection[str], alphabet: str = ascii_uppercase) -> list[tuple[str, Slip]]:
    """The known words from which `word` comes by one letter changed, dropped or added, or two neighbours swapped.

    A word reached in two ways is given once, by the first way in this order: swapped, changed, too many, missing.
    """
    found: dict[str, Slip] = {}
    for slip, candidate in _all(word, alphabet):
        if candidate in known and candidate != word:
            found.setdefault(candidate, slip)
    return list(found.items())


def designators_off(word: str, known: Collection[str]) -> list[tuple[str, Slip]]:
    """The known airway designators one character away from a typed one."""
    same_length = {Slip.LETTER_CHANGED: Slip.AIRWAY_DIGIT, Slip.LETTERS_SWAPPED: Slip.AIRWAY_DIGIT}
    return [
        (other, same_length.get(slip, Slip.AIRWAY_LENGTH)) for other, slip in one_error_off(word, known, _ALPHANUMERIC)
    ]


def stem(procedure: str) -> str:
    """A procedure's name without its validity number and route letter: what stays when the number changes."""
    cut = procedure.rstrip(ascii_uppercase) if procedure[-1:].isalpha() else procedure
    return cut.rstrip(digits) if cut[-1:].isdigit() else procedure


def _all(word: str, alphabet: str) -> Iterator[tuple[Slip, str]]:
    for i in range(len(word) - 1):
        yield Slip.LETTERS_SWAPPED, word[:i] + word[i + 1] + word[i] + word[i + 2 :]
    for i in range(len(word)):
        head, tail = word[:i], word[i + 1 :]
        for letter in alphabet:
            yield Slip.LETTER_CHANGED, head + letter + tail
    for i in range(len(word)):
        yield Slip.LETTER_ADDED, word[:i] + word[i + 1 :]
    for i in range(len(word) + 1):
        head, tail = word[:i], word[i:]
        for letter in alphabet:
            yield Slip.LETTER_DROPPED, head + letter + tail
