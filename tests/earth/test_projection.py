"""The projection of the Picture: distances and directions from the centre are true, and the way back fits."""

import math
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import geo, sphere
from routecheck.earth.projection import RADIUS_NM, Projection, centre_on, straighten

LAT = st.floats(-89.9, 89.9)
LON = st.floats(-180, 180)


def test_published_example() -> None:
    # Snyder, USGS Professional Paper 1395 (1987), Appendix A, azimuthal equidistant, sphere of radius 3.0:
    # centre 40 N 100 W, point 20 S 100 E: x = -5.8311398, y = 5.5444634.
    x, y = Projection(40.0, -100.0).place(-20.0, 100.0)
    assert x / RADIUS_NM * 3.0 == pytest.approx(-5.8311398, abs=0.5e-7)
    assert y / RADIUS_NM * 3.0 == pytest.approx(5.5444634, abs=0.5e-7)


@given(LAT, LON, LAT, LON)
def test_there_and_back(lat0: float, lon0: float, lat: float, lon: float) -> None:
    projection = Projection(lat0, lon0)
    x, y = projection.place(lat, lon)
    if math.hypot(x, y) > 0.999 * math.pi * RADIUS_NM:
        return  # the point opposite the centre is a whole circle on the map
    back = projection.back(x, y)
    assert back is not None
    assert projection.place(*back) == pytest.approx((x, y), abs=1e-5)


def test_a_degree_is_sixty_miles_from_the_centre_in_every_direction() -> None:
    projection = Projection(-31.0, 179.0)
    assert projection.place(-30.0, 179.0) == pytest.approx((0.0, 60.0))
    x, y = projection.place(-31.0, -179.0)
    assert x == pytest.approx(2 * 60.0 * math.cos(math.radians(31)), rel=1e-3)
    assert abs(y) < 2


def test_beyond_the_rim_there_is_nothing() -> None:
    assert Projection(0.0, 0.0).back(math.pi * RADIUS_NM + 1, 0.0) is None


def test_the_point_opposite_the_centre_is_drawn_at_the_rim_and_never_at_the_centre() -> None:
    for lat, lon in ((40.0, -100.0), (0.0, 0.0), (90.0, 0.0)):
        assert math.hypot(*Projection(lat, lon).place(-lat, lon + 180.0)) == pytest.approx(math.pi * RADIUS_NM)


def test_the_same_projection_serves_two_threads() -> None:
    projection, lat, lon = Projection(41.0, -73.0), np.linspace(-80, 80, 50_000), np.linspace(-179, 179, 50_000)
    expected = projection.forward(lat, lon)
    with ThreadPoolExecutor(4) as threads:
        drawn = list(threads.map(lambda _: projection.forward(lat, lon), range(16)))
    assert all(np.array_equal(one, expected) for one in drawn)


def test_breaks_stay_breaks() -> None:
    drawn = Projection(0.0, 0.0).forward(np.array([1.0, np.nan]), np.array([1.0, np.nan]))
    assert np.isnan(drawn[1]).all()
    assert np.isfinite(drawn[0]).all()


def test_centre_across_the_date_line() -> None:
    centre = centre_on(np.array([40.0, 40.0]), np.array([170.0, -170.0]))
    assert centre.lat == pytest.approx(40.0, abs=1)
    assert abs(centre.lon) == pytest.approx(180.0)


def test_centre_over_the_pole() -> None:
    assert centre_on(np.array([80.0, 80.0]), np.array([0.0, 180.0])).lat == pytest.approx(90.0)


def test_centre_of_nothing_and_of_opposites() -> None:
    assert centre_on(np.empty(0), np.empty(0)) == Projection(0.0, 0.0)
    assert centre_on(np.array([10.0, -10.0]), np.array([0.0, 180.0])) == Projection(0.0, 90.0)


@pytest.mark.parametrize(
    ("start", "end"),
    [
        ((40.6, -73.8), (51.5, -0.5)),
        ((35.8, 140.4), (37.6, -122.4)),  # across the date line: PROJ 9.5 has to be helped there
        ((37.6, -122.4), (35.8, 140.4)),
        ((-33.9, 151.2), (-33.4, -70.8)),
        ((78.2, 15.5), (59.9, 150.7)),
        ((51.0, 0.0), (51.0, 179.5)),  # over the pole
    ],
)
def test_straightened_the_ends_lie_on_the_axis_and_every_place_is_as_far_from_both_as_on_the_globe(
    start: tuple[float, float], end: tuple[float, float]
) -> None:
    projection = straighten(start, end)
    assert projection is not None
    half = projection.apart_nm / 2
    assert projection.place(*start) == pytest.approx((-half, 0.0), abs=1e-3)
    assert projection.place(*end) == pytest.approx((half, 0.0), abs=1e-3)
    direct = projection.forward(*geo.lat_lon_columns(geo.points_along(*start, *end, 100.0)))
    assert np.abs(direct[:, 1]).max() < 0.001 * projection.apart_nm  # the earth is no sphere
    rng = np.random.default_rng(3)
    places = np.column_stack((np.degrees(np.arcsin(rng.uniform(-1, 1, 200))), rng.uniform(-180, 180, 200)))
    spots = projection.forward(*places.T)
    for (lat, lon), (x, y) in zip(places.tolist(), spots.tolist(), strict=True):
        there = sphere.unit_vector(lat, lon)
        for focus, at in ((-half, start), (half, end)):
            away = sphere.distance_nm(sphere.unit_vector(*at), there) * RADIUS_NM / sphere.EARTH_RADIUS_NM
            assert np.hypot(x - focus, y) == pytest.approx(away, abs=0.01)
    assert projection.back_many(spots) == pytest.approx(places, abs=1e-6)
    assert (np.hypot(*(spots / projection.rim_nm).T) <= 1.0 + 1e-9).all()
    assert projection.back(0.0, 1.01 * projection.rim_nm[1]) is None


def test_no_line_is_straightened_between_one_place_and_itself_or_its_opposite() -> None:
    assert straighten((40.0, 10.0), (40.0, 10.0)) is None
    assert straighten((40.0, 10.0), (40.02, 10.0)) is None
    assert straighten((40.0, 10.0), (-40.0, -170.0)) is None
