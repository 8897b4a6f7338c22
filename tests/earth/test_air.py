"""Atmosphere, airspeeds and wind against published figures, and against themselves the other way round."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import air
from routecheck.earth.air import wind_triangle
from routecheck.model import Wind

# The standard atmosphere: ft, °C, hPa, speed of sound in kt. Computed from the constants of ICAO Doc 7488 (as public
# documents restate them) by another program than ours; the document's own table was not at hand.
STANDARD = [
    (0, 15.00, 1013.25, 661.5),
    (5_000, 5.09, 843.07, 650.0),
    (8_000, -0.85, 752.62, 643.0),
    (10_000, -4.81, 696.82, 638.3),
    (18_000, -20.66, 506.00, 619.2),
    (20_000, -24.62, 465.63, 614.3),
    (24_000, -32.55, 392.71, 604.4),
    (29_000, -42.45, 314.85, 591.9),
    (30_000, -44.44, 300.90, 589.3),
    (35_000, -54.34, 238.42, 576.4),
    (36_089, -56.50, 226.32, 573.6),
    (39_000, -56.50, 196.77, 573.6),
    (41_000, -56.50, 178.74, 573.6),
    (45_000, -56.50, 147.48, 573.6),
]


@pytest.mark.parametrize(("feet", "celsius", "hpa", "knots"), STANDARD)
def test_the_standard_atmosphere(feet, celsius, hpa, knots):
    assert air.temperature_k(feet) - 273.15 == pytest.approx(celsius, abs=0.005 + 1e-9)
    assert air.pressure_hpa(feet) == pytest.approx(hpa, abs=0.005 + 1e-9)
    assert air.speed_of_sound_kt(feet) == pytest.approx(knots, abs=0.05 + 1e-9)


# CAS kt, ft, Mach, TAS kt. Computed from the compressible relations in the standard atmosphere by another program than
# ours; no published worked answer was found.
SPEEDS = [
    (120, 8_000, None, 135.2),
    (250, 0, 0.3779, None),
    (250, 10_000, 0.4523, 288.7),
    (280, 20_000, 0.6098, 374.6),
    (300, 29_000, 0.7752, 458.8),
    (320, 25_000, 0.7613, 458.2),
    (280, 35_000, 0.8213, 473.4),
]


@pytest.mark.parametrize(("cas", "feet", "mach", "tas"), SPEEDS)
def test_calibrated_airspeed_to_mach_and_true_airspeed(cas, feet, mach, tas):
    if mach is not None:
        assert air.cas_to_mach(cas, feet) == pytest.approx(mach, abs=0.00005)
    if tas is not None:
        assert air.cas_to_tas_kt(cas, feet) == pytest.approx(tas, abs=0.05)


HEIGHTS = st.floats(-2_000, 65_000)


@given(st.floats(40, 350), st.floats(-2_000, 41_000), st.floats(-30, 30))
def test_there_and_back_is_the_same_speed(cas, feet, deviation):
    tas = air.cas_to_tas_kt(cas, feet, deviation)
    assert air.tas_to_cas_kt(tas, feet, deviation) == pytest.approx(cas, rel=1e-9)
    assert air.mach_to_cas_kt(air.cas_to_mach(cas, feet), feet) == pytest.approx(cas, rel=1e-9)


def test_at_sea_level_calibrated_is_true():
    assert air.cas_to_tas_kt(250, 0) == pytest.approx(250)


def test_warm_air_makes_the_same_mach_number_faster():
    assert air.mach_to_tas_kt(0.8, 35_000, 10) == pytest.approx(0.8 * 576.4 * math.sqrt(228.81 / 218.81), abs=0.1)


@given(HEIGHTS, HEIGHTS)
def test_pressure_falls_with_height(one, other):
    if abs(one - other) > 1e-3:
        assert (air.pressure_hpa(one) < air.pressure_hpa(other)) == (one > other)


def test_the_two_layers_meet():
    assert air.pressure_hpa(36_089.2) == pytest.approx(air.pressure_hpa(36_089.3), abs=0.01)


@pytest.mark.parametrize("feet", [-2_001, 65_700, float("nan"), float("inf")])
def test_no_atmosphere_is_made_up(feet):
    for ask in (air.temperature_k, air.pressure_hpa, air.speed_of_sound_kt):
        with pytest.raises(ValueError, match="no atmosphere"):
            ask(feet)


# Wind triangles as printed. PHAK: FAA-H-8083-25, Figure 15-21. Training text: a public one, TT 180. War Dept:
# Mathematics for Air Crew Trainees, where the airspeed is the answer. Leaflet: for a dead-reckoning computer of the
# 1940s, "about" 154/34. Navy: P-203, Figure 4.6-2, the wind implied by it.
# course, TAS, wind from, wind speed, heading (None = not printed), ground speed, how far it may be off: half a knot, or
# one where the answer was drawn with a pencil (the airspeed of War Dept 3 is 251.2 by formula, 252 there).
TRIANGLES = [
    ("PHAK", 90, 120, 45, 40, None, 88, 0.5),
    ("training text", 180, 180, 100, 18, 174, 176, 0.5),
    ("War Dept 1", 351, 269, 33, 47, 358, 232, 0.5),
    ("War Dept 2", 27, 160, 165, 42, 37, 189, 0.5),
    ("War Dept 3", 271, 252, 316, 48, 279, 215, 1.0),
    ("War Dept 4", 304, 150, 45, 30, 315, 153, 0.5),
    ("leaflet", 94, 165, 154, 34, 104, 146, 1.0),
    ("Navy", 45, 250, 92, 41, 52, 220, 0.5),
]


@pytest.mark.parametrize(("source", "course", "tas", "wind_from", "speed", "heading", "ground", "off"), TRIANGLES)
def test_published_wind_triangles(source, course, tas, wind_from, speed, heading, ground, off):
    found = wind_triangle(course, tas, Wind(wind_from, speed))
    assert found is not None
    assert found.ground_speed_kt == pytest.approx(ground, abs=off)
    if heading is not None:
        assert found.heading_deg == pytest.approx(heading, abs=0.5)


def test_the_formula_for_the_printed_figure():
    """The inputs of FAA-H-8083-25 (PHAK), Figure 15-21, by formula, computed by another program than ours."""
    found = wind_triangle(90, 120, Wind(45, 40))
    assert found is not None
    assert found.heading_deg == pytest.approx(76.37, abs=0.005)
    assert found.correction_deg == pytest.approx(-13.63, abs=0.005)
    assert found.ground_speed_kt == pytest.approx(88.33, abs=0.005)


@given(st.floats(0, 360), st.floats(60, 600), st.floats(0, 360), st.floats(0, 250))
def test_airspeed_and_wind_add_up_to_the_course(course, tas, wind_from, speed):
    found = wind_triangle(course, tas, Wind(wind_from, speed))
    if found is None:
        across = speed * math.sin(math.radians(wind_from - course))
        against = speed * math.cos(math.radians(wind_from - course))
        assert abs(across) >= tas or math.sqrt(tas**2 - across**2) <= against + 1e-6
        return
    east = tas * math.sin(math.radians(found.heading_deg)) - speed * math.sin(math.radians(wind_from))
    north = tas * math.cos(math.radians(found.heading_deg)) - speed * math.cos(math.radians(wind_from))
    assert east == pytest.approx(found.ground_speed_kt * math.sin(math.radians(course)), abs=1e-6)
    assert north == pytest.approx(found.ground_speed_kt * math.cos(math.radians(course)), abs=1e-6)


def test_a_wind_too_strong_to_make_way_in():
    assert wind_triangle(360, 60, Wind(90, 60)) is None
    assert wind_triangle(360, 60, Wind(360, 60)) is None
    assert wind_triangle(180, 60, Wind(360, 90)).ground_speed_kt == pytest.approx(150)
