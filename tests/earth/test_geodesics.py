"""Geodesics: round trips, symmetry, the awkward places of the globe, and refusal of what is no position."""

import itertools
import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import assume, given
from hypothesis import strategies as st

from routecheck.earth import geo

NAN, INF = math.nan, math.inf
MICROMETRE_NM = 1e-6 / 1852
HALF_GLOBE_NM = 10801.2589  # two meridian quadrants of WGS 84, 2 x 10 001 965.729 m

lats = st.floats(-90, 90)
lons = st.floats(-180, 180)
places = st.tuples(lats, lons)
tame = st.tuples(st.floats(-85, 85), lons)
courses = st.floats(0, 360, exclude_max=True)


def turned(a: float, b: float) -> float:
    return abs((a - b + 180) % 360 - 180)


# --- inverse and direct -------------------------------------------------------------------------------------------


@given(tame, courses, st.floats(0.01, 9000))
def test_direct_then_inverse_gives_back_course_and_distance(start, course, distance):
    back_course, _, back_distance = geo.inverse(*start, *geo.direct(*start, course, distance))
    assert back_distance == pytest.approx(distance, abs=1e-8)
    assert turned(back_course, course) < 1e-5 / min(1.0, distance)


@given(places, places)
def test_inverse_then_direct_arrives(start, end):
    course, _, distance = geo.inverse(*start, *end)
    assert geo.inverse(*geo.direct(*start, course, distance), *end)[2] < 1e-7


@given(places, places)
def test_there_and_back_measure_the_same(a, b):
    course, end_course, distance = geo.inverse(*a, *b)
    back, end_back, distance_back = geo.inverse(*b, *a)
    assert distance_back == pytest.approx(distance, abs=2 * MICROMETRE_NM)
    assume(1e-3 < distance < HALF_GLOBE_NM - 60)  # beyond, several shortest lines differ in course
    assert turned(back, end_course + 180) < 1e-6
    assert turned(end_back, course + 180) < 1e-6


@given(places, places, places)
def test_no_way_round_is_shorter(a, b, c):
    assert geo.inverse(*a, *c)[2] <= geo.inverse(*a, *b)[2] + geo.inverse(*b, *c)[2] + 1e-8


@given(places, places)
def test_courses_are_compass_courses_and_distances_possible(a, b):
    course, end_course, distance = geo.inverse(*a, *b)
    assert 0 <= course < 360
    assert 0 <= end_course < 360
    assert 0 <= distance <= HALF_GLOBE_NM


@given(places, places)
def test_the_two_libraries_agree(a, b):
    assert geo.second_distance_nm(*a, *b) == pytest.approx(geo.inverse(*a, *b)[2], abs=1e-8)


@pytest.mark.parametrize("slight", [1e-18, 1e-15, 1e-14, 1e-13, 1e-12])
def test_a_hair_west_of_north_is_never_360(slight):
    """-1e-15 modulo 360 is 360.0 in floating point."""
    course, end_course, _ = geo.inverse(40.0, 0.0, 45.0, -slight)
    assert course < 360
    assert end_course < 360


def test_many_at_once_is_the_same_as_one_by_one():
    lat1, lon1 = np.array([0.0, 52.0, -90.0]), np.array([179.0, -20.0, 12.0])
    lat2, lon2 = np.array([0.0, 52.0, 90.0]), np.array([-179.0, -30.0, 99.0])
    together = np.array(geo.inverse_many(lat1, lon1, lat2, lon2)).T
    assert together.tolist() == [list(geo.inverse(*row)) for row in zip(lat1, lon1, lat2, lon2, strict=True)]


def test_many_of_none_is_none():
    assert [a.size for a in geo.inverse_many(*(np.array([]),) * 4)] == [0, 0, 0]


def test_many_leaves_its_input_alone():
    given_ = [np.array([1.0, 2.0]) for _ in range(4)]
    geo.inverse_many(*given_)
    assert all(a.tolist() == [1.0, 2.0] for a in given_)


# --- awkward places -----------------------------------------------------------------------------------------------


@given(places)
def test_coincident_points_have_no_distance(a):
    assert geo.inverse(*a, *a)[2] == 0
    assert geo.second_distance_nm(*a, *a) == 0
    assert geo.rough_nm(*a, *a) == 0


@given(lats)
def test_both_names_of_the_date_line_are_one_place(lat):
    assert geo.inverse(lat, 180.0, lat, -180.0)[2] == 0


@given(lons, lons, st.sampled_from([90.0, -90.0]))
def test_a_pole_is_one_place_whatever_its_longitude(lon1, lon2, pole):
    assert geo.inverse(pole, lon1, pole, lon2)[2] == 0


@given(st.floats(-80, 80), st.floats(0.001, 5), st.floats(0.001, 5))
def test_the_date_line_is_like_any_other_meridian(lat, west, east):
    over = geo.inverse(lat, 180 - west, lat, -180 + east)
    elsewhere = geo.inverse(lat, -west, lat, east)
    assert over == pytest.approx(elsewhere, abs=1e-9)


def test_crossing_the_date_line_by_direct_stays_in_range():
    lat, lon = geo.direct(0.0, 179.5, 90.0, 60.0)
    assert lat == pytest.approx(0, abs=1e-12)
    assert lon == pytest.approx(-179.5 - (1 - 60 * 1852 / 111319.4907932), abs=1e-9)  # a degree of the WGS 84 equator


@given(lons)
def test_over_the_pole(lon):
    lat2, lon2 = geo.direct(89.0, lon, 0.0, 120.0)
    assert turned(lon2, lon + 180) < 1e-6
    assert 88.9 < lat2 < 89.1


@given(lons, lons)
def test_pole_to_pole_is_half_the_globe(lon1, lon2):
    assert geo.inverse(90.0, lon1, -90.0, lon2)[2] == pytest.approx(HALF_GLOBE_NM, abs=1e-3)


@given(places)
def test_antipodes_are_half_the_globe_away(a):
    """By way of a pole: the equator would be longer."""
    lat, lon = a
    opposite = lon - 180 if lon > 0 else lon + 180
    assert geo.inverse(lat, lon, -lat, opposite)[2] == pytest.approx(HALF_GLOBE_NM, abs=1e-3)


@given(st.floats(-0.6, 0.6), st.floats(179.3, 180))
def test_nearly_antipodal_points_agree_in_both_libraries(lat, lon):
    assert geo.inverse(0.0, 0.0, lat, lon)[2] == pytest.approx(geo.second_distance_nm(0.0, 0.0, lat, lon), abs=1e-8)


# --- refusal ------------------------------------------------------------------------------------------------------

BAD_LATS = [90.000001, -91.0, NAN, INF, -INF]
BAD_LONS = [180.000001, -181.0, 360.0, NAN, INF, -INF]
BAD_PLACES = [(lat, 0.0) for lat in BAD_LATS] + [(0.0, lon) for lon in BAD_LONS]
GOOD = (10.0, 20.0)


@pytest.mark.parametrize("bad", BAD_PLACES)
def test_impossible_positions_are_refused_everywhere(bad):
    calls = [
        lambda: geo.refuse_impossible(*bad),
        lambda: geo.inverse(*bad, *GOOD),
        lambda: geo.inverse(*GOOD, *bad),
        lambda: geo.second_distance_nm(*bad, *GOOD),
        lambda: geo.second_distance_nm(*GOOD, *bad),
        lambda: geo.rough_nm(*bad, *GOOD),
        lambda: geo.rough_nm(*GOOD, *bad),
        lambda: geo.direct(*bad, 90.0, 1.0),
        lambda: geo.points_along(*bad, *GOOD, 50.0),
        lambda: geo.points_along(*GOOD, *bad, 50.0),
        lambda: geo.cross_track(*bad, *GOOD, 0.0, 0.0),
        lambda: geo.cross_track(*GOOD, *bad, 0.0, 0.0),
        lambda: geo.cross_track(0.0, 0.0, *GOOD, *bad),
        lambda: geo.crossing(*bad, 90.0, *GOOD, 180.0),
        lambda: geo.crossing(*GOOD, 90.0, *bad, 180.0),
    ]
    for call in calls:
        with pytest.raises(geo.ImpossiblePositionError):
            call()


@pytest.mark.parametrize("bad", [NAN, INF, -INF])
def test_courses_and_distances_that_are_no_number_are_refused(bad):
    calls = [
        lambda: geo.direct(*GOOD, bad, 1.0),
        lambda: geo.direct(*GOOD, 1.0, bad),
        lambda: geo.crossing(*GOOD, bad, 0.0, 0.0, 1.0),
        lambda: geo.crossing(*GOOD, 1.0, 0.0, 0.0, bad),
        lambda: geo.wrap180(bad),
    ]
    for call in calls:
        with pytest.raises(geo.ImpossiblePositionError):
            call()


def test_one_bad_row_among_many_is_refused():
    lat = np.array([1.0, NAN, 3.0])
    with pytest.raises(geo.ImpossiblePositionError):
        geo.inverse_many(lat, lat * 0, lat * 0, lat * 0)


# --- wrap180, rough_nm, along, columns ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given_", "wrapped"),
    [(0, 0), (180, 180), (-180, 180), (181, -179), (-181, 179), (540, 180), (-540, 180), (719, -1), (360, 0)],
)
def test_angles_are_wrapped(given_, wrapped):
    assert geo.wrap180(given_) == wrapped


@given(st.floats(-1e6, 1e6))
def test_a_wrapped_angle_points_the_same_way(angle):
    wrapped = geo.wrap180(angle)
    assert -180 < wrapped <= 180
    assert math.cos(math.radians(wrapped)) == pytest.approx(math.cos(math.radians(angle)), abs=1e-7)
    assert math.sin(math.radians(wrapped)) == pytest.approx(math.sin(math.radians(angle)), abs=1e-7)


@given(places, places)
def test_the_rough_distance_is_within_what_it_promises(a, b):
    distance = geo.inverse(*a, *b)[2]
    assert abs(geo.rough_nm(*a, *b) - distance) <= 0.006 * distance + 1e-6


@given(places, places, st.floats(20, 400))
def test_points_along_a_line_lie_on_it_and_close_enough(a, b, step):
    points = geo.points_along(*a, *b, step)
    assert points[0] == a
    assert points[-1] == b
    pieces = [geo.inverse(*p, *q)[2] for p, q in itertools.pairwise(points)]
    assert max(pieces) <= step
    assert sum(pieces) == pytest.approx(geo.inverse(*a, *b)[2], abs=1e-6)


def test_points_along_a_line_are_not_fewer_where_the_sphere_is_short():
    """Along the equator the sphere measures 0.11 % short: 1000.9 NM look like 999.8."""
    points = geo.points_along(0.0, 0.0, 0.0, 1000.9 / 60.1077, 100.0)
    assert max(geo.inverse(*p, *q)[2] for p, q in itertools.pairwise(points)) <= 100.0


def test_columns():
    lat, lon = geo.lat_lon_columns([(1.0, 2.0), (3.0, 4.0)])
    assert (lat.tolist(), lon.tolist()) == ([1.0, 3.0], [2.0, 4.0])
    assert geo.lat_lon_columns([])[0].shape == (0,)


# --- cross-track and crossing, against lines drawn by geographiclib -----------------------------------------------

OTHER = Geodesic.WGS84


def other_direct(lat: float, lon: float, course: float, nm: float) -> tuple[float, float, float]:
    there = OTHER.Direct(lat, lon, course, nm * 1852)
    return there["lat2"], there["lon2"], there["azi2"]


@given(places, courses, st.floats(5, 4000), st.floats(-0.5, 1.5), st.floats(-3000, 3000))
def test_cross_track_gives_back_the_offset_it_was_made_with(start, course, length, share, offset):
    """Turning square right off a line and flying x puts the foot of the perpendicular where one turned."""
    assume(abs(start[0]) < 89.9)
    end = other_direct(*start, course, length)[:2]
    foot = other_direct(*start, course, length * share)
    point = other_direct(foot[0], foot[1], foot[2] + 90, offset)[:2]
    cross, along = geo.cross_track(*start, *end, *point)
    assert cross == pytest.approx(offset, abs=1e-5)
    assert along == pytest.approx(length * share, abs=1e-5)


@given(places, courses, st.floats(5, 4000), st.floats(0, 1))
def test_a_point_on_the_line_is_not_off_it(start, course, length, share):
    end = other_direct(*start, course, length)[:2]
    point = other_direct(*start, course, length * share)[:2]
    assert abs(geo.cross_track(*start, *end, *point)[0]) < 1e-5


def test_cross_track_over_the_date_line():
    cross, along = geo.cross_track(0.0, 179.0, 0.0, -179.0, -1.0, 180.0)
    assert cross * 1852 == pytest.approx(110_574.4, abs=0.05)  # a degree of latitude, from the axes; right = south
    assert along * 1852 == pytest.approx(111_319.5, abs=0.05)  # one degree of the equator


@given(places, courses, st.floats(5, 175), st.sampled_from([-1, 1]), st.floats(0.1, 3500), st.floats(0.1, 3500))
def test_lines_drawn_back_from_a_place_meet_there_again(meeting, course, angle, side, away1, away2):
    first = other_direct(*meeting, course, away1)
    second = other_direct(*meeting, course + side * angle, away2)
    found = geo.crossing(first[0], first[1], first[2] + 180, second[0], second[1], second[2] + 180)
    assert found is not None
    assert geo.inverse(*found, *meeting)[2] < 1e-4


@pytest.mark.parametrize("course", [0.0, 45.0, 137.0, 270.0])
def test_a_line_that_starts_on_the_other_one_meets_it_there(course):
    on_it = geo.direct(50.0, -20.0, 280.0, 300.0)
    found = geo.crossing(50.0, -20.0, 280.0, *on_it, course)
    assert found is not None
    assert geo.inverse(*found, *on_it)[2] < 1e-4


def test_two_lines_from_one_place_meet_there():
    assert geo.crossing(10.0, 10.0, 90.0, 10.0, 10.0, 45.0) == pytest.approx((10.0, 10.0))


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ((0.0, 0.0, 270.0), (10.0, 10.0, 180.0)),  # they cross behind the first, and again beyond half the globe
        ((0.0, 0.0, 90.0), (0.0, 10.0, 90.0)),  # the same line
        ((0.0, 0.0, 90.0), (0.0, 10.0, 270.0)),  # the same line, head on
    ],
)
def test_lines_that_do_not_meet_ahead(first, second):
    found = geo.crossing(*first, *second)
    assert found is None


@pytest.mark.parametrize("course", [20.0, 60.0, 150.0])
def test_a_crossing_is_judged_on_the_ellipsoid_not_on_the_sphere(course):
    """5,000 NM away the sphere puts this meeting miles behind the first point, which lies half a mile before it."""
    meeting = (20.0, 30.0)
    first = other_direct(*meeting, 280.0, 0.5)
    second = other_direct(*meeting, course, 5000.0)
    found = geo.crossing(first[0], first[1], first[2] + 180, second[0], second[1], second[2] + 180)
    assert found is not None
    assert geo.inverse(*found, *meeting)[2] < 1e-4
