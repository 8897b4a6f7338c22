"""Names and designators one entry error away, against what the words of the definition say."""

from __future__ import annotations

from string import ascii_uppercase, digits

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from routecheck.entry_errors import words
from routecheck.entry_errors.kinds import COST, EntryError

ALPHABET = ascii_uppercase + digits
FEW = st.text("ABC1", max_size=5)
"""So few letters that most words drawn are near each other."""


def without_one(word: str) -> set[str]:
    return {word[:i] + word[i + 1 :] for i in range(len(word))}


def by_definition(word: str, other: str, alphabet: str) -> EntryError | None:
    """The error by which `other` was typed as `word`, letter by letter."""
    if len(word) == len(other):
        differ = [i for i in range(len(word)) if word[i] != other[i]]
        if (
            len(differ) == 2
            and differ[1] == differ[0] + 1
            and word[differ[0]] + word[differ[1]] == other[differ[1]] + other[differ[0]]
        ):
            return EntryError.LETTERS_SWAPPED
        return EntryError.LETTER_CHANGED if len(differ) == 1 and other[differ[0]] in alphabet else None
    if other in without_one(word):
        return EntryError.LETTER_ADDED
    put_in = [letter for i, letter in enumerate(other) if other[:i] + other[i + 1 :] == word]
    return EntryError.LETTER_DROPPED if any(letter in alphabet for letter in put_in) else None


@given(FEW, st.sets(FEW, max_size=40), st.sampled_from([ascii_uppercase, ascii_uppercase + digits]))
@example("AB", {"BA", "AB", "A", "ABB", "AC"}, ascii_uppercase)
@example("A1", {"A1A", "A11", "A2", "1A"}, ascii_uppercase)
def test_exactly_the_known_words_that_the_definition_names_each_by_its_kind(word, known, alphabet):
    expected = {o: s for o in known if o != word and (s := by_definition(word, o, alphabet))}
    found = words.words_one_error_away(word, known, alphabet)
    assert dict(found) == expected
    assert len(found) == len(expected), "no word twice"
    assert word not in dict(found)


@given(FEW, st.sets(FEW, max_size=20))
def test_an_error_off_goes_both_ways_by_the_kind_that_undoes_it(word, known):
    undone = {EntryError.LETTER_ADDED: EntryError.LETTER_DROPPED, EntryError.LETTER_DROPPED: EntryError.LETTER_ADDED}
    for other, error in words.words_one_error_away(word, known, ascii_uppercase + digits):
        back = dict(words.words_one_error_away(other, {word}, ascii_uppercase + digits))
        assert back == {word: undone.get(error, error)}


@pytest.mark.parametrize(
    ("typed", "meant", "error"),
    [
        ("PIKOR", "PIKAR", EntryError.LETTER_CHANGED),
        ("DUKSA", "DUSKA", EntryError.LETTERS_SWAPPED),
        ("PIKKAR", "PIKAR", EntryError.LETTER_ADDED),
        ("PIKR", "PIKAR", EntryError.LETTER_DROPPED),
        ("IKAR", "PIKAR", EntryError.LETTER_DROPPED),
        ("PIKARS", "PIKAR", EntryError.LETTER_ADDED),
    ],
)
def test_each_kind_by_hand(typed, meant, error):
    assert words.words_one_error_away(typed, {meant, typed, "SARNO"}) == [(meant, error)]


def test_two_errors_off_is_off_none():
    assert words.words_one_error_away("PIKOS", {"PIKAR", "RIKAR", "PIK", "PKIOR"}) == []


def test_a_word_longer_than_any_name_is_not_taken_apart():
    longest = "A" * words.LONGEST
    assert words.words_one_error_away(longest, {longest[1:]}) == [(longest[1:], EntryError.LETTER_ADDED)]
    assert words.words_one_error_away(longest + "A", {longest}) == []


@pytest.mark.parametrize(
    ("typed", "meant", "error"),
    [
        ("UM21", "UM12", EntryError.AIRWAY_DIGIT),
        ("UM13", "UM12", EntryError.AIRWAY_DIGIT),
        ("UN12", "UM12", EntryError.AIRWAY_DIGIT),
        ("M12", "UM12", EntryError.AIRWAY_LENGTH),
        ("UM2", "UM12", EntryError.AIRWAY_LENGTH),
        ("UM112", "UM12", EntryError.AIRWAY_LENGTH),
    ],
)
def test_designators_one_character_off(typed, meant, error):
    assert words.designators_one_error_away(typed, {meant, typed, "J30"}) == [(meant, error)]


@given(st.text("UM12", min_size=1, max_size=4), st.sets(st.text("UM12", min_size=1, max_size=4), max_size=30))
def test_designators_are_the_words_one_off_with_digits_in_the_alphabet(typed, known):
    off = dict(words.words_one_error_away(typed, known, ascii_uppercase + digits))
    designators = dict(words.designators_one_error_away(typed, known))
    assert designators.keys() == off.keys()
    for name, error in designators.items():
        assert error is (EntryError.AIRWAY_DIGIT if len(name) == len(typed) else EntryError.AIRWAY_LENGTH)


def test_every_kind_of_error_has_a_cost_and_a_name_of_its_own():
    assert COST.keys() == set(EntryError)
    assert all(cost >= 0.0 for cost in COST.values())
    assert len({error.value for error in EntryError}) == len(EntryError)


@given(FEW, FEW)
@example("TUVOK", "TOVIK")
@example("AB", "BA")
@example("ABC", "CAB")
def test_errors_are_counted_as_the_one_error_tests_say(word: str, other: str) -> None:
    counted = words.count_errors(word, other, 2)
    assert counted == words.count_errors(other, word, 2)
    assert (counted == 0) is (word == other)
    assert (counted == 1) is (by_definition(word, other, ALPHABET) is not None)
    assert counted >= min(abs(len(word) - len(other)), 3)


@pytest.mark.parametrize(
    ("word", "error"),
    [
        ("WATSN", EntryError.TWO_LETTERS),
        ("OSTNW", EntryError.LETTERS_MIXED),
        ("WTSNO", None),  # two neighbours swapped: one error, found among all names
        ("WTSON", None),
        ("WABCD", None),
        ("WTXN", EntryError.TWO_LETTERS),
        ("WTN", None),  # of three letters two wrong say nothing
    ],
)
def test_two_errors_in_a_short_list(word: str, error: EntryError | None) -> None:
    assert words.words_two_errors_away(word, ["WTSON", "BYP"]) == ([("WTSON", error)] if error else [])
