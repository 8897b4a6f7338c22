"""Wind typed in one line: one value or one a level; what is none is told in a sentence and never half used."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.model import RouteInput, Wind
from routecheck.reading.route_file import read_route_file, write_route_file
from routecheck.reading.wind import format_wind, parse_wind


@pytest.mark.parametrize(
    ("text", "winds"),
    [
        ("280/45", (Wind(280, 45),)),
        (" 280 / 45 kt ", (Wind(280, 45),)),
        ("0/0", (Wind(0, 0),)),
        ("360/300", (Wind(360, 300),)),
        ("F350 280/45, F240 270/30", (Wind(280, 45, "F350"), Wind(270, 30, "F240"))),
        (
            "fl350 280/45kt\nA090 250/20; M0840 28.5/3",
            (Wind(280, 45, "F350"), Wind(250, 20, "A090"), Wind(28.5, 3, "M0840")),
        ),
        ("to PIKAR 280/45, to TOVIK 270/30", (Wind(280, 45, to="PIKAR"), Wind(270, 30, to="TOVIK"))),
        ("280/45, TO pikar 270/30", (Wind(280, 45), Wind(270, 30, to="PIKAR"))),
        ("", ()),
    ],
)
def test_winds_as_they_are_typed(text, winds):
    assert parse_wind(text) == (winds, "")


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (
            "280",
            "“280” is no wind: it is written 280/45 (from degrees true, knots), by level: F350 280/45, F240 270/30, or",
        ),
        ("361/45", "“361/45” is no wind"),
        ("280/301", "“280/301” is no wind"),
        ("F350 280/45, F24 270/30", "“F24 270/30” is no wind"),
        ("F350 280/45, 270/30", "of several winds each gives its level or its leg"),
        ("F350 280/45, F350 270/30", "the wind at F350 is given twice"),
        ("to PIKAR 280/45, to pikar 270/30", "the wind to PIKAR is given twice"),
    ],
)
def test_what_is_no_wind_is_said_and_nothing_of_it_used(text, why):
    winds, said = parse_wind(text)
    assert winds == ()
    assert said.startswith(why)


WINDS = st.builds(
    Wind, st.integers(0, 360).map(float), st.integers(0, 300).map(float), st.sampled_from(["F350", "A090"])
)
OF_LEGS = st.builds(
    Wind, st.integers(0, 360).map(float), st.integers(0, 300).map(float), st.just(""), st.sampled_from(["PIKAR", "A1"])
)


@given(st.lists(WINDS | OF_LEGS, max_size=4, unique_by=lambda wind: (wind.level, wind.to)).map(tuple))
def test_a_wind_is_read_as_it_is_shown_and_as_it_is_written(winds):
    assert parse_wind(format_wind(winds)) == (winds, "")
    written = read_route_file(write_route_file(RouteInput("A B", wind=winds)), "f.toml")
    assert written.wind == winds
    assert (written.remarks, written.not_used) == ((), ())


@given(st.text())
def test_any_text_gives_winds_or_a_reason(text):
    winds, why = parse_wind(text)
    assert not (winds and why)


def test_what_could_not_be_read_stays_in_the_file():
    text = 'route = "A"\nwind = "280/4x"\noff_block = "tomorrow"\n'
    route_input = read_route_file(text, "")
    assert route_input.typed == (("off_block", "tomorrow"), ("wind", "280/4x"))
    assert write_route_file(dataclasses.replace(route_input, level="F350"), text) == text + 'level = "F350"\n'
    mended = dataclasses.replace(route_input, wind=(Wind(280, 45),), typed=())
    assert 'wind = "280/45"' in write_route_file(mended, text)


def test_by_level_in_one_line_of_a_file():
    route_input = read_route_file('route = "A"\nwind = "F350 280/45, F240 270/30"\n', "")
    assert route_input == RouteInput("A", wind=(Wind(280, 45, "F350"), Wind(270, 30, "F240")))
