"""A place along the route is the same place in the Picture and in the Side view; a gap has none."""

import dataclasses
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import geo
from routecheck.model import Assessment
from routecheck.presentation.drawn_map import DrawnLeg, empty_picture
from routecheck.presentation.map_scene import draw_picture
from routecheck.presentation.place_along import PlaceAlong, RouteLine, distance_of, place_at
from routecheck.presentation.side_view import empty_side_view, lay_out_side_view

Assess = Callable[..., Assessment]
ROUTE = "LENDU UM12 TOVIK DCT SARNO"
PLANTED = "LENDU DCT PIKOR UM12 TOVIK DCT SARNO"


def line_of(*curves: list[tuple[float, float]]) -> RouteLine:
    legs = tuple(
        DrawnLeg(i, i + 1, curve=np.array(curve), weight=None, is_gap=False, figures="")
        for i, curve in enumerate(curves)
    )
    return RouteLine(dataclasses.replace(empty_picture(), legs=legs))


def test_halfway_in_the_one_is_halfway_in_the_other(assessed: Assess) -> None:
    assessment = assessed(ROUTE)
    drawn, side = draw_picture(assessment), lay_out_side_view(assessment)
    for leg, (a, b) in enumerate(zip(side.points[:-1], side.points[1:], strict=True)):
        place = place_at(side, (a.nm + b.nm) / 2)
        assert place == PlaceAlong(leg, pytest.approx(0.5))
        assert distance_of(side, place) == pytest.approx((a.nm + b.nm) / 2)
        spot = RouteLine(drawn).spot(place)
        assert spot is not None
        position = drawn.projection.back(*spot)
        assert position is not None
        ends = [point.place for point in assessment.route.points[leg : leg + 2]]
        away = [geo.inverse(end.lat, end.lon, *position)[2] for end in ends]
        assert away[0] == pytest.approx(away[1], abs=0.2)
        assert sum(away) == pytest.approx(b.nm - a.nm, abs=0.1)


def test_a_gap_has_no_place_on_the_map(assessed: Assess) -> None:
    assessment = assessed(PLANTED)
    drawn, side = draw_picture(assessment), lay_out_side_view(assessment)
    gap = next(leg for leg in drawn.legs if leg.is_gap)
    middle = place_at(side, (side.points[gap.index].nm + side.points[gap.last].nm) / 2)
    assert middle is not None
    line = RouteLine(drawn)
    assert line.spot(middle) is None
    on_stub = tuple((gap.curve[0] + gap.curve[1]) / 2)
    assert line.leg_at(on_stub, 1.0) == gap.index
    assert line.place_at(on_stub, 1.0) is None


def test_beyond_the_ends_there_is_no_place(assessed: Assess) -> None:
    side = lay_out_side_view(assessed(ROUTE))
    assert place_at(side, -1.0) is None
    assert place_at(side, side.whole_nm + 1.0) is None
    assert place_at(empty_side_view(), 0.0) is None
    assert distance_of(side, PlaceAlong(99, 0.5)) is None
    assert line_of().place_at((0.0, 0.0), 1e9) is None
    assert line_of().leg_at((0.0, 0.0), 1e9) is None


@given(st.integers(0, 1), st.floats(0.0, 1.0))
def test_there_and_back(leg: int, share: float) -> None:
    line = line_of([(0, 0), (30, 0), (30, 40)], [(30, 40), (100, 40)])
    spot = line.spot(PlaceAlong(leg, share))
    assert spot is not None
    found = line.place_at(spot, 1e-3)
    assert found is not None
    assert line.spot(found) == pytest.approx(spot, abs=1e-6)


def test_a_break_in_a_leg_has_no_length() -> None:
    line = line_of([(0, 0), (0, 50), (np.nan, np.nan), (200, 90), (200, 140)])
    assert line.spot(PlaceAlong(0, 0.25)) == pytest.approx((0.0, 25.0))
    assert line.spot(PlaceAlong(0, 0.75)) == pytest.approx((200.0, 115.0))
    assert line.place_at((100.0, 70.0), 30.0) is None
    assert line.place_at((201.0, 115.0), 30.0) == PlaceAlong(0, pytest.approx(0.75))


def test_only_what_is_near_enough_is_met() -> None:
    line = line_of([(0, 0), (100, 0)])
    assert line.place_at((25.0, 3.0), 5.0) == PlaceAlong(0, 0.25)
    assert line.place_at((25.0, 6.0), 5.0) is None
    assert line.leg_at((25.0, 6.0), 7.0) == 0


def test_two_points_in_one_spot_divide_by_nothing() -> None:
    line = line_of([(5, 5), (5, 5)])
    assert line.place_at((5.0, 5.0), 1.0) == PlaceAlong(0, 0.0)
    assert line.spot(PlaceAlong(0, 0.5)) == (5.0, 5.0)
