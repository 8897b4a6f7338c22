"""Lines of latitude and longitude suit the view wherever it is, and the scale bar fits in."""

import math

import numpy as np
import pytest

from routecheck.earth.projection import Projection
from routecheck.presentation.graticule import graticule, joined, scale_bar_nm

VIEW = (-300.0, -200.0, 300.0, 200.0)


def names(projection: Projection, box: tuple[float, float, float, float]) -> set[str]:
    return {text for text, _, _ in graticule(projection, box).names}


def test_lines_carry_whole_degrees() -> None:
    assert {"32°S", "30°S", "000°", "005°E"} <= names(Projection(-31.0, 2.0), (-300.0, -200.0, 300.0, 200.0))


def test_close_by_the_lines_carry_tenths() -> None:
    assert any("." in name for name in names(Projection(40.0, -73.0), (-5.0, -5.0, 5.0, 5.0)))


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


def test_a_name_stands_on_the_edge_of_the_view() -> None:
    for text, x, y in graticule(Projection(-31.0, 2.0), VIEW).names:
        assert x == pytest.approx(VIEW[0]) or y == pytest.approx(VIEW[1]), text


@pytest.mark.parametrize("wide", [3.0, 40.0, 700.0, 5000.0, 21000.0])
def test_the_bar_takes_at_most_a_fifth(wide: float) -> None:
    bar = scale_bar_nm(wide)
    assert bar <= wide / 5 or bar == 1
    assert bar >= wide / 12 or bar == 2000


def test_joined_curves_are_kept_apart() -> None:
    line = np.array([[0.0, 0.0], [1.0, 1.0]])
    assert np.isnan(joined([line, line])[2]).all()
    assert joined([]).shape == (0, 2)


def test_the_view_may_be_larger_than_the_globe() -> None:
    drawn = graticule(Projection(10.0, 20.0), (-20000.0, -20000.0, 20000.0, 20000.0)).lines
    assert np.nanmax(np.hypot(drawn[:, 0], drawn[:, 1])) <= math.pi * 3438 * 1.001
