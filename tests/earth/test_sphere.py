"""Distances and turns on the sphere against the ellipsoid."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from routecheck.earth import geo, sphere

latitudes = st.floats(-89.0, 89.0)
longitudes = st.floats(-180.0, 180.0)
positions = st.tuples(latitudes, longitudes)


@given(positions, positions)
@example((50.0, 179.5), (50.0, -179.5))
@example((-89.0, 0.0), (-89.0, 180.0))
def test_distances_are_within_six_in_a_thousand_of_the_geodesic(a, b):
    exact = geo.inverse(*a, *b)[2]
    assert sphere.distance_nm(sphere.unit_vector(*a), sphere.unit_vector(*b)) == pytest.approx(
        exact, rel=0.006, abs=1e-3
    )


@given(positions, positions)
@example((10.0, 20.0), (-10.0, -160.0))
def test_the_chord_gives_what_the_haversine_formula_gives(a, b):
    (phi1, lam1), (phi2, lam2) = ((math.radians(lat), math.radians(lon)) for lat, lon in (a, b))
    square = math.sin((phi2 - phi1) / 2) ** 2 + math.cos(phi1) * math.cos(phi2) * math.sin((lam2 - lam1) / 2) ** 2
    haversine = 2 * sphere.EARTH_RADIUS_NM * math.asin(min(1.0, math.sqrt(square)))
    assert sphere.distance_nm(sphere.unit_vector(*a), sphere.unit_vector(*b)) == pytest.approx(haversine, abs=1e-3)
    assert geo.rough_nm(*a, *b) == sphere.distance_nm(sphere.unit_vector(*a), sphere.unit_vector(*b))


def test_a_place_is_no_distance_from_itself():
    here = sphere.unit_vector(-31.7, -3.4)
    assert sphere.distance_nm(here, here) == 0.0


def flown(start, course, legs_and_turns):
    """A line from direct geodesics: its places, each leg turning from the end course of the one before."""
    places, heading = [start], course
    for length, turn in legs_and_turns:
        heading += turn
        there = geo.direct(*places[-1], heading % 360, length)
        heading = geo.inverse(*places[-1], *there)[1]
        places.append(there)
    return places


stretches = st.lists(st.tuples(st.floats(10, 500), st.floats(-179, 179)), min_size=2, max_size=6)


@given(st.tuples(st.floats(-65, 65), longitudes), st.floats(0, 360), stretches)
def test_legs_and_turns_of_a_line_are_those_that_it_was_flown_with(start, course, given_legs):
    places = flown(start, course, given_legs)
    assume(all(abs(lat) < 75 for lat, _ in places))
    legs, turns = sphere.legs_and_turns([sphere.unit_vector(*place) for place in places])
    assert legs == pytest.approx([length for length, _ in given_legs], rel=0.006)
    assert turns == pytest.approx([abs(turn) for _, turn in given_legs[1:]], abs=0.5)


@pytest.mark.parametrize("turn", [0.0, 30.0, -90.0, 135.0, 179.0])
def test_turns_near_home(turn):
    """A course on the sphere is up to 0.1° off that on the ellipsoid, so a turn up to 0.2°."""
    places = flown((-31.7, -3.4), 80.0, [(60.0, 0.0), (60.0, turn)])
    assert sphere.legs_and_turns([sphere.unit_vector(*p) for p in places])[1] == pytest.approx([abs(turn)], abs=0.2)


def test_a_leg_of_no_length_has_no_turn_and_hides_none():
    a, b, c = (sphere.unit_vector(0.0, 0.0), sphere.unit_vector(0.0, 1.0), sphere.unit_vector(1.0, 1.0))
    legs, turns = sphere.legs_and_turns([a, b, b, c])
    assert legs[1] == 0.0
    assert turns == pytest.approx([90.0], abs=0.02)


@pytest.mark.parametrize("line", [[], [(0.0, 0.0)], [(0.0, 0.0), (0.0, 0.0)]])
def test_a_line_without_legs_has_no_turns(line):
    legs, turns = sphere.legs_and_turns([sphere.unit_vector(*p) for p in line])
    assert legs == [0.0] * max(0, len(line) - 1)
    assert turns == []


@given(st.tuples(st.floats(-65, 65), longitudes), st.floats(0, 360), stretches)
def test_the_profile_of_a_line_tells_the_same_as_its_measures(start, course, given_legs):
    places = flown(start, course, given_legs)
    line = [sphere.unit_vector(*place) for place in places]
    along, turns = sphere.miles_and_turns(line)
    legs, measured = sphere.legs_and_turns(line)
    assert along == pytest.approx([sum(legs[:i]) for i in range(len(line))])
    assert (turns[0], turns[-1]) == (0.0, 0.0)
    for here, there in zip(turns[1:-1], measured, strict=True):
        assert here == pytest.approx(there, abs=1e-5) or (here == 0.0 and there < 20.1)


def test_in_a_profile_the_turn_of_a_leg_of_no_length_stands_where_the_next_begins():
    a, b, c = (sphere.unit_vector(0.0, 0.0), sphere.unit_vector(0.0, 1.0), sphere.unit_vector(1.0, 1.0))
    along, turns = sphere.miles_and_turns([a, b, b, c])
    assert along[1] == along[2]
    assert turns == pytest.approx([0.0, 0.0, 90.0, 0.0], abs=0.02)


@pytest.mark.parametrize("line", [[], [(0.0, 0.0)]])
def test_the_profile_of_no_line(line):
    along, turns = sphere.miles_and_turns([sphere.unit_vector(*p) for p in line])
    assert (along, turns) == ([0.0], [0.0] * len(line))
