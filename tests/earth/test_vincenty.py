"""The second reader of lengths against geographiclib, where it is easy, and where its method does not settle."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import geo, vincenty

places = st.tuples(st.floats(-90, 90), st.floats(-180, 180))
MILLIMETRE_NM = 0.001 / geo.METRES_PER_NM


def one(a, b):
    return vincenty.distances_nm(*(np.array([value]) for value in (*a, *b)))[0]


@given(st.lists(st.tuples(places, places), max_size=6))
def test_within_a_millimetre_of_the_other_library_each_as_if_alone(pairs):
    table = np.array([(*a, *b) for a, b in pairs]).reshape(-1, 4)
    together = vincenty.distances_nm(*table.T)
    assert together.shape == (len(pairs),)
    for (a, b), found in zip(pairs, together, strict=True):
        assert found == pytest.approx(geo.second_distance_nm(*a, *b), abs=MILLIMETRE_NM)
        assert found == pytest.approx(one(a, b), abs=MILLIMETRE_NM)


@pytest.mark.parametrize(
    ("a", "b"),
    [
        ((0, 0), (0, 0)), ((-33, 5), (-33, 5)), ((0, 0), (0, 60)), ((0, -179), (0, 179)), ((10, 180), (11, -180)),
        ((90, 0), (80, 30)), ((90, 0), (-90, 0)), ((0, 0), (0, 179.7)), ((0, 0), (0.5, 179.5)), ((30, 0), (-30, 180)),
        ((30, 0), (-29.9, 179.9)), ((1e-9, 0), (-1e-9, 90)), ((45, 10), (45, 10 + 1e-9)),
    ],
)  # fmt: skip
def test_on_one_spot_along_the_equator_at_the_poles_and_right_across_the_earth(a, b):
    assert one(a, b) == pytest.approx(geo.second_distance_nm(*a, *b), abs=MILLIMETRE_NM)


def test_it_is_another_method_where_it_settles(monkeypatch):
    def never(*_):
        raise AssertionError("asked the library")

    monkeypatch.setattr(geo, "second_distance_nm", never)
    assert one((-31, 0), (-31, 2)) == pytest.approx(103.135, abs=0.001)
    with pytest.raises(AssertionError):
        one((0, 0), (0.5, 179.7))


@pytest.mark.parametrize("bad", [(90.1, 0.0), (0.0, -180.1), (float("nan"), 0.0), (0.0, float("inf"))])
def test_an_impossible_position_is_refused(bad):
    for ends in ((bad, (0.0, 0.0)), ((0.0, 0.0), bad)):
        with pytest.raises(geo.ImpossiblePositionError):
            one(*ends)
