"""Lines of latitude and longitude suit the view wherever it is, and the scale bar fits in."""

import math

import numpy as np
import pytest

from routecheck.earth.projection import Projection
from routecheck.presentation.graticule import Edge, graticule, scale_bar_nm
from routecheck.presentation.projected_lines import join_curves

VIEW = (-300.0, -200.0, 300.0, 200.0)


def names(projection: Projection, box: tuple[float, float, float, float]) -> set[str]:
    return {name.text for name in graticule(projection, box).edge_names(box)}


def test_lines_carry_whole_degrees() -> None:
    assert {"32°S", "30°S", "000°", "005°E"} <= names(Projection(-31.0, 2.0), (-300.0, -200.0, 300.0, 200.0))


def test_close_by_the_lines_carry_minutes_as_positions_do() -> None:
    found = names(Projection(40.0, -73.0), (-15.0, -15.0, 15.0, 15.0))
    assert {"39°55′N", "40°00′N", "40°10′N", "073°00′W", "072°50′W"} <= found
    assert not any("." in name for name in found)


@pytest.mark.parametrize("half_nm", [1.0, 7.0, 40.0, 200.0, 900.0])
def test_lines_are_named_on_all_four_sides(half_nm: float) -> None:
    box = (-half_nm * 1.6, -half_nm, half_nm * 1.6, half_nm)
    found = graticule(Projection(47.0, 11.0), box).edge_names(box)
    for edge in Edge:
        assert 2 <= sum(name.edge is edge for name in found) <= 14, edge
    for opposite in ((Edge.WEST, Edge.EAST), (Edge.SOUTH, Edge.NORTH)):
        one, other = ({name.text for name in found if name.edge is edge} for edge in opposite)
        assert one & other


def test_the_date_line_is_no_seam() -> None:
    found = names(Projection(40.0, 180.0), VIEW)
    assert "180°" in found
    assert any(name.endswith("W") for name in found)
    assert any(name.endswith("E") for name in found)


@pytest.mark.parametrize("pole", [90.0, -90.0])
def test_round_a_pole_the_parallels_are_whole_circles(pole: float) -> None:
    drawn = graticule(Projection(pole, 0.0), (-1500.0, -1500.0, 1500.0, 1500.0)).lines
    away = np.hypot(drawn[:, 0], drawn[:, 1])
    ring = drawn[np.abs(away - 600.0) < 1.0]
    assert {tuple(np.sign(p)) for p in ring} >= {(1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)}


def test_a_name_stands_where_its_line_meets_an_edge() -> None:
    projection = Projection(-31.0, 2.0)
    found = graticule(projection, VIEW).edge_names(VIEW)
    assert {name.edge for name in found} == set(Edge)
    for name in found:
        axis, which = name.edge.value
        assert (name.x, name.y)[axis] == pytest.approx(VIEW[which]), name
        position = projection.back(name.x, name.y)
        assert position is not None
        degrees = position[name.edge in (Edge.SOUTH, Edge.NORTH)]
        assert abs(degrees) == pytest.approx(float(name.text.split("°")[0]), abs=0.01), name


def test_every_parallel_and_meridian_across_the_view_is_named_on_both_sides() -> None:
    found = graticule(Projection(-31.0, 2.0), VIEW).edge_names(VIEW)
    on = {edge: {name.text for name in found if name.edge is edge} for edge in Edge}
    assert {"34°S", "32°S", "30°S", "28°S"} <= on[Edge.WEST] & on[Edge.EAST]
    assert {"000°", "005°E"} <= on[Edge.SOUTH] & on[Edge.NORTH]


def test_lines_are_there_for_a_view_that_is_dragged_a_little() -> None:
    drawn = graticule(Projection(-31.0, 2.0), VIEW)
    dragged = (-100.0, -150.0, 500.0, 250.0)
    assert drawn.covers(VIEW)
    assert drawn.covers(dragged)
    assert {name.edge for name in drawn.edge_names(dragged)} == set(Edge)
    assert not drawn.covers((0.0, 0.0, 900.0, 400.0))


@pytest.mark.parametrize("pole", [89.0, -89.0])
def test_near_a_pole_a_line_is_named_where_it_runs_across_the_edge(pole: float) -> None:
    view = (-1500.0, -1500.0, 1500.0, 1500.0)
    found = graticule(Projection(pole, 0.0), view).edge_names(view)
    circles = [name for name in found if name.text.endswith(("N", "S"))]
    assert circles
    assert len(circles) < len(found)
    for name in circles:
        assert min(abs(name.x), abs(name.y)) > 700, f"{name} runs along the edge there"


@pytest.mark.parametrize("wide", [3.0, 40.0, 700.0, 5000.0, 21000.0])
def test_the_bar_takes_at_most_a_fifth(wide: float) -> None:
    bar = scale_bar_nm(wide)
    assert bar <= wide / 5 or bar == 1
    assert bar >= wide / 12 or bar == 2000


def test_joined_curves_are_kept_apart() -> None:
    line = np.array([[0.0, 0.0], [1.0, 1.0]])
    assert np.isnan(join_curves([line, line])[2]).all()
    assert join_curves([]).shape == (0, 2)


def test_the_view_may_be_larger_than_the_globe() -> None:
    drawn = graticule(Projection(10.0, 20.0), (-20000.0, -20000.0, 20000.0, 20000.0)).lines
    assert np.nanmax(np.hypot(drawn[:, 0], drawn[:, 1])) <= math.pi * 3438 * 1.001
