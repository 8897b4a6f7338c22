"""Words one entry error away from a typed one: generated, then tested against what exists."""

from __future__ import annotations

from string import ascii_uppercase, digits
from typing import TYPE_CHECKING

from routecheck.entry_errors.kinds import EntryError

if TYPE_CHECKING:
    from collections.abc import Callable, Container, Iterable

ALPHANUMERIC = ascii_uppercase + digits
FEWEST = 4
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


def words_two_errors_away(word: str, listed: Iterable[str]) -> list[tuple[str, EntryError]]:
    """The words of a short list that are two errors away, or the same letters in another order; none that is nearer.

    Of words of fewer than FEWEST letters two wrong say nothing.
    """
    if not FEWEST <= len(word) <= LONGEST:
        return []
    letters, of_word, found = sorted(word), set(word), []
    for other in listed:
        # Two errors take away two letters and bring two others at most: few names are left to be aligned.
        if abs(len(other) - len(word)) > 2 or len(of_word ^ set(other)) > 4 or count_errors(word, other, 1) <= 1:
            continue
        if sorted(other) == letters:
            found.append((other, EntryError.LETTERS_MIXED))
        elif len(other) >= FEWEST and count_errors(word, other, 2) == 2:
            found.append((other, EntryError.TWO_LETTERS))
    return found


def count_errors(word: str, other: str, most: int) -> int:
    """How many letters changed, dropped, added or swapped with their neighbour lie between two words, up to `most` + 1.

    The optimal string alignment distance; words that share too few letters are not aligned.
    """
    if abs(len(word) - len(other)) > most:
        return most + 1
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, letter in enumerate(word, start=1):
        before, last, row = row, before, [i]
        for j, there in enumerate(other, start=1):
            least = min(before[j] + 1, row[-1] + 1, before[j - 1] + (letter != there))
            if i > 1 and j > 1 and letter == other[j - 2] and word[i - 2] == there:
                least = min(least, last[j - 2] + 1)
            row.append(least)
        if min(row) > most:
            return most + 1
    return min(row[-1], most + 1)


def designators_one_error_away(designator: str, known: Container[str]) -> list[tuple[str, EntryError]]:
    """The known airway designators one character away from a typed one."""
    same_length = (EntryError.LETTER_CHANGED, EntryError.LETTERS_SWAPPED)
    return [
        (other, EntryError.AIRWAY_DIGIT if error in same_length else EntryError.AIRWAY_LENGTH)
        for other, error in words_one_error_away(designator, known, ALPHANUMERIC)
    ]
