"""Any text at all: nothing raises, nothing typed is lost, and a wrong file pasted in does not hold the window up."""

import csv
import re
import time
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from read_words import words

from routecheck.model import Span, WordKind
from routecheck.reading.route_text import MOST_WORDS
from routecheck.reading.tokens import SEPARATORS, find_invisible_marks, to_capitals

PIECES = """DCT T VFR IFR C/ / . .. … NAT B N0450 F310 N0450F310 M082 46N 078W 46N078W 4620N07805W DUB180040 SLI341
VNY095/010 LN/N0284A045 EGLL/27R N60W010 5ON040W 1,234 - ( ” ß \u00ad \N{AIRPLANE} C/48N050W/M082F290F350 \U00013000"""
FRAGMENTS = st.sampled_from([*PIECES.split(), "+", "\n", "\u00a0", " ", " ", " "])
LIKE_ROUTES = st.lists(FRAGMENTS, max_size=30).map("".join)
MUTATED = st.lists(st.sampled_from("ABINSEW0123459/. +-OI"), max_size=60).map("".join)
ANY = (
    st.text()
    | st.text(st.characters(categories=["Cc", "Cf", "Cs", "Co", "Zs", "Po", "Lo", "Nd"]))
    | LIKE_ROUTES
    | MUTATED
)


def falls_off(char):
    """What may stand between words: blanks, + and a short list of separators. What nobody sees is said by itself."""
    return char.isspace() or char == "+" or char in SEPARATORS


@given(ANY)
def test_spans_are_in_order_and_hold_the_words(text):
    end = 0
    for word in words(text):
        assert end <= word.span.start < word.span.end <= len(text)
        end = word.span.end
        typed = to_capitals(text[word.span.start : word.span.end])
        assert word.text == typed or (word.kind is WordKind.RUNWAY and word.text.lstrip("0") in typed)


@given(ANY)
def test_nothing_typed_is_lost(text):
    inside = [False] * len(text)
    for word in words(text):
        inside[word.span.start : word.span.end] = [True] * (word.span.end - word.span.start)
    opening = len(text) - len(text.lstrip())
    if re.match(r"\s*-[NKM]\d", text, re.IGNORECASE):
        inside[opening] = True  # the hyphen that opens Item 15
    for at in find_invisible_marks(text):
        inside[at] = True
    lost = [(at, char) for at, (char, held) in enumerate(zip(text, inside, strict=True)) if not held]
    assert [char for at, char in lost if not falls_off(char) and not _parts_a_word(char, inside, at)] == []


def _parts_a_word(char, inside, at):
    """Whether it is the slash between two parts of one word, as in TOVIK/N0430F350."""
    return char == "/" and all(inside[at - 1 : at]) and all(inside[at + 1 : at + 2])


@given(ANY)
def test_several_signs_with_nothing_between_are_a_word(text):
    """Nobody reads them, and something may be left out there."""
    for run in re.finditer(r"(?<!\S)[^\s\w]{2,}(?!\S)", text):
        signs = [char for char in run[0] if unicodedata.category(char) not in {"Cc", "Cf"}]
        if len(signs) > 1:
            assert any(word.span.overlaps(Span(*run.span())) for word in words(text))


@given(ANY)
def test_unread_and_only_unread_says_why(text):
    for word in words(text):
        assert bool(word.why) == (word.kind is WordKind.UNREAD)
        assert not (word.bad and word.why)
        assert not (word.bad and word.position)


@given(ANY)
def test_reading_twice_gives_the_same(text):
    assert words(text) == words(text)


@given(ANY)
def test_upper_case_keeps_the_length(text):
    assert len(to_capitals(text)) == len(text)


PASTES = {
    "one word": "A" * 1_000_000,
    "slashes": "A/" * 500_000,
    "dots": "A." * 500_000,
    "double dots": "A.." * 330_000,
    "nothing but dots": "." * 1_000_000,
    "commas": "," * 1_000_000,
    "decimals": "1.1" * 330_000 + "X",
    "letters": "a " * 500_000,
    "pictures": "\N{AIRPLANE} " * 500_000,
    "torn groups": "N0450 F310 " * 90_000,
    "quotes": "1.1" + "'" * 999_000,
}


@pytest.mark.parametrize("text", PASTES.values(), ids=PASTES)
def test_a_million_characters_are_quick(text):
    begun = time.process_time()
    found = words(text)
    assert time.process_time() - begun < 2
    # Twice as many at most: a word may have an attached part.
    assert len(found) <= 2 * MOST_WORDS + 1


def test_the_rest_of_an_endless_text_is_one_unread_word():
    text = "ABI " * (MOST_WORDS + 5)
    found = words(text)
    assert len(found) == MOST_WORDS + 1
    assert found[-1].kind is WordKind.UNREAD
    assert f"{MOST_WORDS:,} words" in found[-1].why
    assert found[-1].span.end == len(text.rstrip())


def test_five_thousand_words_are_all_read():
    assert [word.kind for word in words("LENDU " * 5_000)] == [WordKind.NAME] * 5_000


# ---- words of real published routes

REAL_KINDS = [
    (re.compile(r"[A-Z]{2,3}\d{3}/\d{3}"), WordKind.RADIAL_DISTANCE),
    (re.compile(r"[A-Z]{3}\d{3}"), WordKind.RADIAL),
    (re.compile(r"[A-Z]+-[A-Z]+"), WordKind.UNREAD),
    (re.compile(r"[A-Z]{3,5}|[A-Z]{1,2}\d{1,3}[A-Z]?|[A-Z]{3,5}\d"), WordKind.NAME),
]


def test_every_word_of_real_routes_has_the_kind_expected(shared_data):
    with (shared_data / "faa_preferred_routes_2023_part.csv").open(encoding="utf-8", newline="") as file:
        typed = {word for row in csv.DictReader(file) for word in row["route"].split()}
    assert len(typed) > 1_000
    for word in typed:
        expected = next(kind for pattern, kind in REAL_KINDS if pattern.fullmatch(word))
        (found,) = words(word)
        assert (word, found.kind, found.bad) == (word, expected, "")


def test_every_name_of_the_country_file_is_a_name(country):
    names = {name for name in country.names() if re.fullmatch(r"[A-Z0-9]{2,5}", name)}
    assert len(names) > 30_000
    odd = {
        name
        for name in names
        for found in words(f"LN {name}")[1:]
        if found.kind not in (WordKind.NAME, WordKind.RADIAL)
    }
    assert {name for name in odd if not name.isdigit()} == set()
