"""Positions one entry error off: always possible, of the form that was typed, and undone by the same error."""

from __future__ import annotations

import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from routecheck.entry_errors import positions
from routecheck.entry_errors.kinds import EntryError
from routecheck.model import RouteInput, WordKind
from routecheck.reading.route_text import read_route

degrees = st.builds(
    "{:02d}{}{:03d}{}".format, st.integers(0, 90), st.sampled_from("NS"), st.integers(0, 180), st.sampled_from("EW")
)
minutes = st.builds(
    "{:02d}{:02d}{}{:03d}{:02d}{}".format,
    st.integers(0, 89), st.integers(0, 59), st.sampled_from("NS"),
    st.integers(0, 179), st.integers(0, 59), st.sampled_from("EW"),
)  # fmt: skip
typed = st.one_of(degrees, minutes)


def shape(text: str) -> str:
    return re.sub(r"[EW]", "E", re.sub(r"[NS]", "N", re.sub(r"\d", "0", text)))


@given(typed)
@example("00N000E")
@example("90S180W")
@example("8959N17959E")
def test_every_one_is_possible_of_the_same_form_once_and_never_the_one_typed(text):
    found = positions.positions_one_error_away(text)
    idents = [other for other, _ in found]
    assert len(set(idents)) == len(idents)
    assert text not in idents
    assert {shape(other) for other in idents} == {shape(text)}
    assert all(positions.position_of(other) is not None for other in idents)


@given(typed)
def test_the_same_error_made_again_leads_back(text):
    for other, error in positions.positions_one_error_away(text):
        assert (text, error) in positions.positions_one_error_away(other)


def digits_of(text: str) -> str:
    return re.sub(r"\D", "", text)


@given(typed)
def test_each_is_named_by_what_was_done_to_it(text):
    for other, error in positions.positions_one_error_away(text):
        changed = [i for i in range(len(text)) if text[i] != other[i]]
        if error is EntryError.HEMISPHERE:
            assert len(changed) == 1
            assert text[changed[0]] in "NSEW"
        elif error is EntryError.DIGIT_CHANGED:
            assert len(changed) == 1
            assert text[changed[0]].isdigit()
        elif error is EntryError.DIGITS_SWAPPED:
            first, second = changed
            assert second == first + 1
            assert text[first] + text[second] == other[second] + other[first]
        elif error is EntryError.HALF_DEGREE:
            assert {text[2:4], other[2:4]} == {"00", "30"}
            assert len(changed) == 1
        else:
            assert error is EntryError.LATITUDE_LONGITUDE
            half = len(digits_of(text)) // 2
            assert digits_of(other) == digits_of(text)[half + 1 :] + "0" + digits_of(text)[:half]


@given(typed)
def test_every_possible_change_of_one_digit_is_there(text):
    found = dict(positions.positions_one_error_away(text))
    for i in (i for i, character in enumerate(text) if character.isdigit()):
        for digit in "0123456789":
            other = text[:i] + digit + text[i + 1 :]
            if other != text and positions.position_of(other) is not None:
                assert other in found


@given(typed)
def test_its_value_is_the_one_that_the_reader_of_routes_finds(text):
    (word,) = read_route(RouteInput(text)).words
    assert word.kind is WordKind.POSITION
    assert (word.position.lat, word.position.lon) == pytest.approx(positions.position_of(text))


@pytest.mark.parametrize(
    ("text", "meant", "error"),
    [
        ("33S001E", "33S001W", EntryError.HEMISPHERE),
        ("33S001E", "33N001E", EntryError.HEMISPHERE),
        ("3330S00100E", "3300S00100E", EntryError.HALF_DEGREE),
        ("3300S00100E", "3330S00100E", EntryError.HALF_DEGREE),
        ("50N040W", "40N050W", EntryError.LATITUDE_LONGITUDE),
        ("5015N04030W", "4030N05015W", EntryError.LATITUDE_LONGITUDE),
        ("3350S00100E", "3305S00100E", EntryError.DIGITS_SWAPPED),
        ("52N030W", "52N020W", EntryError.DIGIT_CHANGED),
    ],
)
def test_each_kind_by_hand(text, meant, error):
    assert (meant, error) in positions.positions_one_error_away(text)


@pytest.mark.parametrize(
    ("text", "never"),
    [
        ("50N140W", "40N150W"),  # three digits of longitude go into no latitude
        ("33S001E", "3330S00100E"),  # another form
        ("33S180E", "33S190E"),
        ("90S000E", "91S000E"),
        ("5006N00000E", "5060N00000E"),  # 60 minutes
    ],
)
def test_what_is_impossible_or_of_another_form_is_never_proposed(text, never):
    assert never not in dict(positions.positions_one_error_away(text))


def test_a_whole_degree_has_no_half_and_other_minutes_have_none():
    for text in ("33S001E", "3315S00100E"):
        assert EntryError.HALF_DEGREE not in dict(positions.positions_one_error_away(text)).values()


@pytest.mark.parametrize(
    "text", ["", "PIKAR", "33S1E", "33S00100E", "3300S001E", "S33E001", "33X001E", "3300S00075E", "91S000E"]
)
def test_what_is_no_possible_position_has_no_value(text):
    assert positions.position_of(text) is None


@pytest.mark.parametrize("text", ["", "PIKAR", "33S00100E", "S33E001"])
def test_what_has_no_form_of_a_position_is_one_error_off_none(text):
    assert positions.positions_one_error_away(text) == []


def test_an_impossible_position_is_one_error_off_possible_ones():
    found = dict(positions.positions_one_error_away("3300S00075E"))
    assert found["3300S00045E"] is EntryError.DIGIT_CHANGED
    assert all(positions.position_of(other) is not None for other in found)
