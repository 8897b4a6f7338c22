"""Geodesics against published numbers. Each value stands beside its source; none of them was made with this program."""

import gzip
import math

import numpy as np
import pytest

from routecheck.earth import geo, sphere, vincenty

KARNEY = "C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013)"
LIBRARY = "documentation of the geographiclib library"
COMPUTED = "places of the geographiclib documentation, computed with it for the project's list of published values"
MICROMETRE = 1e-6


def metres(nm):
    return nm * 1852


def direct_metres(lat, lon, course, distance_m):
    return geo.direct(lat, lon, course, distance_m / 1852)


def turned(a, b):
    return np.abs((a - b + 180) % 360 - 180)


# --- Karney's test set: C. F. F. Karney, Test set for geodesics (2010), doi 10.5281/zenodo.32156 --------------------
# Columns: lat1 lon1 azi1 lat2 lon2 azi2 s12 (m) a12 m12 (m) S12.


def check_set(rows):
    lat1, lon1, azi1, lat2, lon2, azi2, s12, _, m12, _ = rows.T
    course, end_course, distance = geo.inverse_many(lat1, lon1, lat2, lon2)
    assert np.abs(metres(distance) - s12).max() < MICROMETRE
    for off in (turned(course, azi1), turned(end_course, azi2)):
        # m12 is how far a turn of one radian swings the far end: what moves it by less than a micrometre is no error
        assert ((off < 1e-9) | (np.radians(off) * np.abs(m12) < MICROMETRE)).all()


def test_committed_rows_of_the_test_set(test_data):
    rows = np.loadtxt(test_data / "geodesics_every_50th.dat")
    assert rows.shape == (200, 10)
    check_set(rows)


def test_committed_rows_by_the_second_library_and_forward(test_data):
    for lat1, lon1, azi1, lat2, lon2, _, s12, *_ in np.loadtxt(test_data / "geodesics_every_50th.dat"):
        assert metres(geo.second_distance_nm(lat1, lon1, lat2, lon2)) == pytest.approx(s12, abs=MICROMETRE)
        arrived = direct_metres(lat1, lon1, azi1, s12)
        assert metres(geo.inverse(*arrived, lat2, lon2)[2]) < 20 * MICROMETRE  # azi1 is printed to 1e-12 degrees


def check_second_reader(rows):
    lat1, lon1, _, lat2, lon2, _, s12, *_ = rows.T
    assert np.abs(metres(vincenty.distances_nm(lat1, lon1, lat2, lon2)) - s12).max() < 0.001


def test_committed_rows_by_the_second_reader_of_lengths(test_data):
    check_second_reader(np.loadtxt(test_data / "geodesics_every_50th.dat"))


def test_the_whole_test_set(shared_data):
    with gzip.open(shared_data / "GeodTest-short.dat.gz", "rt") as lines:
        rows = np.loadtxt(lines)
    assert rows.shape == (10_000, 10)
    check_set(rows)
    check_second_reader(rows)


# --- Single cases ---------------------------------------------------------------------------------------------------


def test_karney_table_2():
    """Karney (2013), Table 2: from 40 N on 30 degrees for 10,000 km."""
    lat, lon = direct_metres(40.0, 0.0, 30.0, 10_000_000)
    assert lat == pytest.approx(41.79331020506, abs=5e-12)
    assert lon == pytest.approx(137.84490004377, abs=5e-12)
    assert geo.inverse(40.0, 0.0, lat, lon)[1] == pytest.approx(149.09016931807, abs=5e-12)


INVERSES = [
    # what, from, to, metres, half its last digit, course, end course, half their last digit, source
    # Table 3 prints more digits of the courses than these, which are cut, not rounded: a whole last digit
    ("Table 3, 5 m", (-30.12345, 0), (-30.12344, 0.00005), 4.944208, 5e-7, 77.043533, 77.043508, 1e-6, KARNEY),
    ("Tables 4, 5", (-30, 0), (29.9, 179.8), 19_989_832.828, 5e-4, 161.890525, None, 5e-7, KARNEY),
    ("NZ–Spain", (-41.32, 174.81), (40.96, -5.50), 19_959_679.267, 5e-4, 161.067669986, 18.825195123, 5e-10, LIBRARY),
    ("JFK–LHR", (40.6, -73.8), (51.6, -0.5), 5_551_759.400, 5e-4, 51.198883, 107.821777, 5e-7, COMPUTED),
    ("JFK–SIN", (40.64, -73.78), (1.36, 103.99), 15_347_512.941, 5e-4, 3.3058, 177.4878, 5e-5, COMPUTED),
]


@pytest.mark.parametrize(("what", "start", "end", "m", "m_off", "course", "end_course", "deg_off", "source"), INVERSES)
def test_inverse(what, start, end, m, m_off, course, end_course, deg_off, source):
    found_course, found_end, found_nm = geo.inverse(*start, *end)
    assert metres(found_nm) == pytest.approx(m, abs=m_off), source
    assert found_course == pytest.approx(course, abs=deg_off), source
    assert end_course is None or found_end == pytest.approx(end_course, abs=deg_off), source


DIRECTS = [
    ("Perth, 20,000 km south-west", (-32.06, 115.74), 225, 20_000_000, (32.11195529, -63.95925278), LIBRARY),
    ("New York, 10,000 km north-east", (40.6, -73.8), 45, 10_000_000, (32.64284433, 49.01103958), LIBRARY),
]


@pytest.mark.parametrize(("what", "start", "course", "m", "end", "source"), DIRECTS)
def test_direct(what, start, course, m, end, source):
    assert direct_metres(*start, course, m) == pytest.approx(end, abs=5e-9), source


def dms(degrees, minutes, seconds):
    return math.copysign(abs(degrees) + minutes / 60 + seconds / 3600, degrees)


def test_flinders_peak_to_buninyong():
    """Geocentric Datum of Australia technical manual, worked example on GRS80, which is WGS 84 to 0.1 mm in size.

    The other way round its azimuth at the far end is the reverse one, 127°10′25.07″.
    """
    flinders = dms(-37, 57, 3.72030), dms(144, 25, 29.52440)
    buninyong = dms(-37, 39, 10.15610), dms(143, 55, 35.38390)
    course, end_course, distance = geo.inverse(*flinders, *buninyong)
    assert metres(distance) == pytest.approx(54_972.271, abs=5e-4)
    assert course == pytest.approx(dms(306, 52, 5.37), abs=0.005 / 3600)
    assert end_course - 180 == pytest.approx(dms(127, 10, 25.07), abs=0.005 / 3600)


@pytest.mark.parametrize(("lat", "nm"), [(0, 59.71), (50, 60.06), (57, 60.13), (70, 60.24)])
def test_a_degree_of_latitude_north_of(lat, nm):
    """WGS 84: from the published axes, a = 6 378 137 m, 1/f = 298.257 223 563, by the meridian's own integral."""
    a, f = 6_378_137.0, 1 / 298.257223563
    e2 = f * (2 - f)
    phi = np.radians(np.linspace(lat, lat + 1, 2001))
    along = a * (1 - e2) / (1 - e2 * np.sin(phi) ** 2) ** 1.5
    by_integral = np.trapezoid(along, phi) / 1852
    found = geo.inverse(lat, 10.0, lat + 1.0, 10.0)[2]
    assert found == pytest.approx(by_integral, abs=1e-6)
    assert found == pytest.approx(nm, abs=0.005)


TEN_DEGREES_OF_LONGITUDE = [(0, 601.1), (30, 520.8), (45, 425.5), (50, 386.8), (55, 345.2), (57, 327.9), (60, 301.0)]
TEN_DEGREES_OF_LONGITUDE += [(70, 206.0)]


@pytest.mark.parametrize(("lat", "nm"), TEN_DEGREES_OF_LONGITUDE)
def test_ten_degrees_of_longitude(lat, nm):
    """WGS 84, computed for the project's list of published values with another library."""
    assert geo.inverse(lat, 0.0, lat, 10.0)[2] == pytest.approx(nm, abs=0.05)


@pytest.mark.parametrize(("lat", "course"), [(60, 85.7), (50, 86.2), (30, 87.5)])
def test_course_of_an_eastbound_leg_of_ten_degrees(lat, course):
    """WGS 84, as above: the great circle leaves the parallel to the north."""
    assert geo.inverse(lat, 0.0, lat, 10.0)[0] == pytest.approx(course, abs=0.05)


# --- Aviation Formulary V1.46 (E. Williams): a sphere, so within 0.5 % of the ellipsoid; its west is positive --------

LAX = (math.degrees(0.592539), -math.degrees(2.066470))
JFK = (math.degrees(0.709186), -math.degrees(1.287762))
POINT_D = (34.5, -116.5)
SPHERE_NM = 10_800 / math.pi
"""A radian where one nautical mile is one minute of arc."""


def apart(a, b):
    return geo.inverse(*a, *b)[2]


def test_formulary_distance_and_course():
    course, _, distance = geo.inverse(*LAX, *JFK)
    assert distance == pytest.approx(0.623585 * SPHERE_NM, rel=0.005)
    assert course == pytest.approx(math.degrees(1.150035), abs=0.1)


def test_formulary_pair_on_the_ellipsoid():
    """The same pair computed with another library for the project's list of published values: 2149.892 NM."""
    found = geo.inverse(33 + 57 / 60, -(118 + 24 / 60), 40 + 38 / 60, -(73 + 47 / 60))
    assert found == (
        pytest.approx(65.9335, abs=5e-5),
        pytest.approx(93.9034, abs=5e-5),
        pytest.approx(2149.892, abs=5e-4),
    )


def test_formulary_distances_on_the_sphere():
    """The rough distance is on a sphere too: the same angle, six digits."""
    assert geo.rough_nm(*LAX, *JFK) / sphere.EARTH_RADIUS_NM == pytest.approx(0.623585, abs=1e-6)
    assert geo.rough_nm(*LAX, *POINT_D) / sphere.EARTH_RADIUS_NM == pytest.approx(0.02905, abs=5e-6)
    reo, bke = (42.600, -117.866), (44.840, -117.806)
    assert geo.rough_nm(*reo, *bke) / sphere.EARTH_RADIUS_NM == pytest.approx(0.039103, abs=1e-6)


def test_formulary_point_at_course_and_distance():
    """100 NM on 66 degrees from LAX: 34°37′N 116°33′W."""
    expected = math.degrees(0.604180), -math.degrees(2.034206)
    assert apart(geo.direct(*LAX, 66.0, 100.0), expected) < 0.5


def test_formulary_latitude_where_the_track_crosses_a_meridian():
    """LAX–JFK crosses 111 W at 36°24′ (0.635200)."""
    course = geo.inverse(*LAX, *JFK)[0]
    lat, lon = geo.crossing(*LAX, course, 30.0, -111.0, 0.0)
    assert lon == pytest.approx(-111.0, abs=1e-6)
    assert lat == pytest.approx(math.degrees(0.635200), abs=0.005 * 380 / 60)  # LAX–111 W is 380 NM


def test_formulary_cross_track_and_along_track():
    """D lies 7.4512 NM right of LAX–JFK, 99.588 NM along; LAX–D is 99.87 NM on 70.17."""
    course, _, distance = geo.inverse(*LAX, *POINT_D)
    assert distance == pytest.approx(99.87, rel=0.005)
    assert course == pytest.approx(70.17, abs=0.3)
    cross, along = geo.cross_track(*LAX, *JFK, *POINT_D)
    assert cross == pytest.approx(7.4512, abs=0.005 * 99.87)
    assert along == pytest.approx(99.588, rel=0.005)


def test_formulary_forty_per_cent_of_the_way():
    """38°40.167′N 101°37.570′W."""
    course, _, distance = geo.inverse(*LAX, *JFK)
    expected = 38 + 40.167 / 60, -(101 + 37.570 / 60)
    assert apart(geo.direct(*LAX, course, 0.4 * distance), expected) < 0.005 * 0.4 * distance


def test_formulary_intersection_of_two_radials():
    """REO radial 51 and BKE radial 137, true courses, meet at 43.572N 116.189W; 93.8 NM from REO, 103.1 from BKE."""
    met = geo.crossing(42.600, -117.866, 51.0, 44.840, -117.806, 137.0)
    assert apart(met, (43.572, -116.189)) < 0.5
    assert apart(met, (42.600, -117.866)) == pytest.approx(0.027290 * SPHERE_NM, rel=0.005)
    assert apart(met, (44.840, -117.806)) == pytest.approx(0.029986 * SPHERE_NM, rel=0.005)
