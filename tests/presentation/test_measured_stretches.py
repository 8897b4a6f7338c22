"""What the ruler says and draws: a geodesic with its courses both ways, across the date line and near a pole too."""

import datetime as dt

import numpy as np
import pytest

from routecheck.earth import geo
from routecheck.earth.projection import Projection
from routecheck.presentation.ruler import measure, typed_place

DAY = dt.date(2026, 12, 3)


def test_a_geodesic_across_the_date_line_is_drawn_unbroken() -> None:
    stretch = measure(typed_place(50.0, 170.0), typed_place(50.0, -170.0), DAY)
    curve = stretch.curve(Projection(50.0, 180.0))
    assert not np.isnan(curve).any()
    assert np.hypot(*np.diff(curve, axis=0).T).sum() == pytest.approx(stretch.distance_nm, rel=0.005)
    course, _, _ = geo.inverse(50.0, 170.0, 50.0, -170.0)
    assert stretch.lines[1].startswith(f"there {course:03.0f}°T")


def test_no_magnetic_course_is_said_where_none_is_known() -> None:
    outside_the_model = measure(typed_place(50.0, 10.0), typed_place(51.0, 11.0), dt.date(2031, 1, 1))
    too_near_the_pole = measure(typed_place(86.0, 142.0), typed_place(86.2, 143.0), DAY)
    for stretch in (outside_the_model, too_near_the_pole):
        assert "°M" not in "".join(stretch.lines)
        assert "°T" in stretch.lines[2]


def test_one_place_has_no_course() -> None:
    here = typed_place(50.0, 10.0)
    assert measure(here, here, DAY).lines[1:] == ("one place",)
