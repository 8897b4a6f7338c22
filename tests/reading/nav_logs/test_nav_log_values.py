"""Cells of a nav log in the forms they are written in."""

import time

import pytest

from routecheck.reading.nav_logs import values


@pytest.mark.parametrize(
    ("text", "degrees", "half"),
    [
        ("N5130.5", 51.508333, 0.05 / 60),
        ("5130.5N", 51.508333, 0.05 / 60),
        ("N51305", 51.508333, 0.05 / 60),
        ("N51 30.5", 51.508333, 0.05 / 60),
        ("51°30.5'N", 51.508333, 0.05 / 60),
        ("51°30′18″N", 51.505, 0.5 / 3600),
        ("N513018", 51.505, 0.5 / 3600),
        ("51N", 51.0, 0.5),
        ("S51.5083", -51.5083, 0.00005),
        ("-51.5083", -51.5083, 0.00005),
        ("N5130", 51.5, 0.5 / 60),
    ],
)
def test_latitudes(text, degrees, half):
    found = values.read_coordinate(text, "NS")
    assert found.value == pytest.approx(degrees, abs=1e-6)
    assert found.half == pytest.approx(half)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "N",
        "N91",
        "N5160.0",
        "E010",
        "5130",
        "N51W",
        "LENDU",
        "N5130.5N",
        "-N5130.5",
        "-S51.5",
        "+-51.5",
        "N51--30.5",
    ],
)
def test_no_latitude(text):
    found = values.read_coordinate(text, "NS")
    assert found is None or text == "5130"  # degrees without a letter may be a number alone


@pytest.mark.parametrize(
    "text", ["N5130.5W00010.2", "5130.5N 00010.2W", "N51 30.5 / W000 10.2", "51°30.5'N, 000°10.2'W"]
)
def test_positions(text):
    lat, lon = values.read_position(text)
    assert (lat.value, lon.value) == (pytest.approx(51.508333, abs=1e-6), pytest.approx(-0.17, abs=1e-6))


@pytest.mark.parametrize(
    ("text", "minutes"), [("1:12", 72), ("01+12", 72), ("0112", 72), ("12", 12), ("0:12:30", 12.5), ("7.5", 7.5)]
)
def test_times(text, minutes):
    assert values.read_time(text).value == minutes


@pytest.mark.parametrize("text", ["", "1:75", "0175", "soon", "123456"])
def test_no_time(text):
    assert values.read_time(text) is None


@pytest.mark.parametrize(
    ("text", "wind"),
    [("280/45", (280, 45)), ("28045KT", (280, 45)), ("280045", (280, 45)), ("370/10", None), ("VRB", None)],
)
def test_winds(text, wind):
    assert values.read_wind(text) == wind


@pytest.mark.parametrize(
    ("text", "level"),
    [("FL350", "F350"), ("350", "F350"), ("F085", "F085"), ("5000", "A050"), ("4500 ft", "A045"), ("CLB", "")],
)
def test_levels(text, level):
    assert values.read_level(text) == level


@pytest.mark.parametrize("text", ["50 NM", "50NM.", "50 .", "50 KTS", "50"])
def test_what_stands_behind_a_number_is_no_part_of_it(text):
    assert values.read_number(text) == (50.0, 0.5)


def test_a_cell_that_is_too_long_for_a_position_is_not_looked_at():
    begun = time.process_time()
    assert values.read_position("1" * 200_000) is None
    assert time.process_time() - begun < 0.1
