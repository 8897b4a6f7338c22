"""Speeds and levels as filed in knots and feet, and which of them holds on each leg."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.geometry.legs import compute_routes
from routecheck.model import RouteInput
from routecheck.performance.speeds import change_words_by_leg, filed_by_leg, tas_kt
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.vertical.levels import level_ft

DAY = dt.date(2026, 12, 3)
FORMS = "ICAO Doc 4444 Appendix 2, Item 15: K0830, N0485, M082; F330, S1130, A045, M0840, VFR"


@pytest.mark.parametrize(
    ("level", "feet"),
    [
        ("F330", 33_000.0),
        ("F085", 8_500.0),
        ("A045", 4_500.0),
        ("A100", 10_000.0),
        ("S1130", 11_300 / 0.3048),  # tens of metres
        ("M0840", 8_400 / 0.3048),
    ],
)
def test_levels_of_item_15_in_feet(level, feet):
    assert level_ft(level) == pytest.approx(feet), FORMS


@pytest.mark.parametrize("level", ["", "VFR", "330", "F33", "F3A0", "S113", "M084", "FL330", "X330", "f330"])
def test_what_is_no_level_has_no_height(level):
    assert level_ft(level) is None


def test_a_cruise_climb_is_taken_at_its_lowest():
    assert level_ft("F290F350") == 29_000.0


@pytest.mark.parametrize(("speed", "knots"), [("N0485", 485.0), ("N0090", 90.0), ("K0830", 448.164), ("K1852", 1000.0)])
def test_speeds_of_item_15_in_knots(speed, knots):
    """1 NM = 1,852 m exactly (ICAO Annex 5)."""
    assert tas_kt(speed, "") == pytest.approx(knots, abs=0.001), FORMS


SPEED_OF_SOUND_KT = [
    (0, 661.5), (50, 650.0), (80, 643.0), (100, 638.3), (180, 619.2), (200, 614.3), (240, 604.4), (290, 591.9),
    (300, 589.3), (350, 576.4), (390, 573.6), (410, 573.6), (450, 573.6),
]  # fmt: skip


@pytest.mark.parametrize(("level", "sound"), SPEED_OF_SOUND_KT)
def test_a_mach_number_is_that_share_of_the_speed_of_sound(level, sound):
    """The standard atmosphere by the constants of ICAO Doc 7488 (15 °C, 6.5 K/km to 11 km, then 216.65 K)."""
    assert tas_kt("M082", f"F{level:03d}") == pytest.approx(0.82 * sound, abs=0.05)
    assert tas_kt("M100", f"F{level:03d}") == pytest.approx(sound, abs=0.051)


def test_a_mach_number_in_warm_air_is_faster_by_the_root_of_the_temperature():
    """ICAO Doc 7488: the speed of sound goes with the root of the temperature; 216.65 K above 11 km."""
    assert tas_kt("M082", "F390", 10.0) == pytest.approx(tas_kt("M082", "F390") * (226.65 / 216.65) ** 0.5)
    assert tas_kt("N0470", "F390", 10.0) == 470.0, "a true airspeed stays what was filed"


@pytest.mark.parametrize(("speed", "level"), [("M082", ""), ("M082", "VFR"), ("M082", "F990"), ("M082", "S3000")])
def test_a_mach_number_where_the_air_is_not_known_is_no_speed(speed, level):
    assert tas_kt(speed, level) is None


@pytest.mark.parametrize("speed", ["", "0485", "N485", "N04850", "M82", "M0820", "X0485", "n0485", "N 485"])
def test_what_is_no_speed_has_none(speed):
    assert tas_kt(speed, "F350") is None


@given(st.text(max_size=6), st.text(max_size=6))
def test_any_text_gets_an_answer(speed, level):
    assert tas_kt(speed, level) is None or tas_kt(speed, level) >= 0.0
    assert level_ft(level) is None or level_ft(level) >= 0.0


# ---- along a route


@pytest.fixture
def filed(demo):
    def made(route, speed="N0430", level="F350"):
        route_input = RouteInput(route, "XVAL", "XVOR", speed=speed, level=level)
        resolved = resolve(read_route(route_input), demo, DAY)
        return compute_routes([resolved], [DAY])[0]

    return made


def by_point(route):
    """What holds on the leg that leaves each point."""
    return {point.text: held for point, held in zip(route.points, filed_by_leg(route), strict=False)}


def test_without_changes_what_stands_beside_the_text_holds_throughout(filed):
    route = filed("LENDU UM12 UVAGI DCT SARNO")
    assert filed_by_leg(route) == [("N0430", "F350")] * len(route.legs)
    assert change_words_by_leg(route) == [None] * len(route.legs)


def test_a_change_holds_from_its_point_until_the_next(filed):
    route = filed("LENDU DCT PIKAR/N0440F370 DCT UVAGI DCT TOVIK/M082F390 DCT SARNO")
    assert by_point(route) == {
        "XVAL": ("N0430", "F350"),
        "LENDU": ("N0430", "F350"),
        "PIKAR": ("N0440", "F370"),
        "UVAGI": ("N0440", "F370"),
        "TOVIK": ("M082", "F390"),
        "SARNO": ("M082", "F390"),
    }


def test_it_holds_on_the_points_inside_an_airway(filed):
    route = filed("LENDU/N0440F370 UM12 TOVIK/N0450F390 DCT SARNO")
    held = by_point(route)
    assert held["PIKAR"] == held["UVAGI"] == held["LENDU"] == ("N0440", "F370")
    assert held["TOVIK"] == ("N0450", "F390")


def test_a_group_before_the_first_point_holds_from_the_start(filed):
    route = filed("N0410F330 LENDU DCT SARNO", "", "")
    assert filed_by_leg(route) == [("N0410", "F330")] * len(route.legs)


def test_where_nothing_is_filed_nothing_is_in_force(filed):
    route = filed("LENDU DCT PIKAR/N0440F370 DCT SARNO", "", "")
    assert by_point(route) == {
        "XVAL": ("", ""), "LENDU": ("", ""), "PIKAR": ("N0440", "F370"), "SARNO": ("N0440", "F370"),
    }  # fmt: skip


def test_a_change_that_cannot_be_read_changes_nothing(filed):
    for wrong in ("F370", "N0440", "N044F370", "N0440F385X"):
        route = filed(f"LENDU DCT PIKAR/{wrong} DCT SARNO")
        assert set(filed_by_leg(route)) == {("N0430", "F350")}


def test_lower_case_beside_the_text_is_read_as_upper(filed):
    assert set(filed_by_leg(filed("LENDU DCT SARNO", " n0430", "f350 "))) == {("N0430", "F350")}
