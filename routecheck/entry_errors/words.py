"""Words one entry error away from a typed one: generated, then tested against what exists."""

from __future__ import annotations

from string import ascii_uppercase, digits
from typing import TYPE_CHECKING

from routecheck.entry_errors.kinds import EntryError

if TYPE_CHECKING:
    from collections.abc import Callable, Container

ALPHANUMERIC = ascii_uppercase + digits
LONGEST = 10
"""No name is longer, so a longer word is one error away from none: it is not taken apart (it may be a whole file)."""


def with_neighbours_swapped(text: str, may_swap: Callable[[str], bool] = bool) -> list[str]:
    """The texts in which two neighbouring characters, not alike, stand the other way round.

    `may_swap` says which pairs of characters may: all, unless it is given.
    """
    pairs = [(i, text[i : i + 2]) for i in range(len(text) - 1)]
    return [text[:i] + pair[::-1] + text[i + 2 :] for i, pair in pairs if pair != pair[::-1] and may_swap(pair)]


def words_one_error_away(
    word: str, known: Container[str], alphabet: str = ascii_uppercase
) -> list[tuple[str, EntryError]]:
    """The known words from which `word` comes by one letter changed, dropped or added, or two neighbours swapped.

    A word reached in two ways is given once, by the first way in this order: swapped, changed, too many, missing.
    """
    if len(word) > LONGEST:
        return []
    cuts = [(word[:i], word[i:]) for i in range(len(word) + 1)]
    ways = (
        (EntryError.LETTERS_SWAPPED, with_neighbours_swapped(word)),
        (EntryError.LETTER_CHANGED, [a + letter + b[1:] for a, b in cuts if b for letter in alphabet]),
        (EntryError.LETTER_ADDED, [a + b[1:] for a, b in cuts if b]),
        (EntryError.LETTER_DROPPED, [a + letter + b for a, b in cuts for letter in alphabet]),
    )
    found: dict[str, EntryError] = {}
    for error, others in ways:
        for other in others:
            if other in known and other != word:
                found.setdefault(other, error)
    return list(found.items())


def designators_one_error_away(designator: str, known: Container[str]) -> list[tuple[str, EntryError]]:
    """The known airway designators one character away from a typed one."""
    same_length = (EntryError.LETTER_CHANGED, EntryError.LETTERS_SWAPPED)
    return [
        (other, EntryError.AIRWAY_DIGIT if error in same_length else EntryError.AIRWAY_LENGTH)
        for other, error in words_one_error_away(designator, known, ALPHANUMERIC)
    ]
