"""Where a route crosses its own line, against lines drawn by hand and against a search by another way."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import geo
from routecheck.geometry.crossings import line_crossings


def position(lat, lon):
    north, east = f"{abs(lat):02d}{'S' if lat < 0 else 'N'}", f"{abs(lon):03d}{'W' if lon < 0 else 'E'}"
    return north + east


def met(route):
    """The pairs of legs between the places given: the leg before them comes from a departure that is not there."""
    return [(c.first - 1, c.second - 1) for c in line_crossings(route)]


@pytest.fixture
def over(flown):
    """A route over whole degrees, no airports."""

    def made(*places):
        return flown(" ".join(position(*place) for place in places), "", "")

    return made


def test_a_loop_is_found_once_with_its_length(over):
    route = over((0, 0), (0, 4), (2, 4), (2, 2), (-2, 2))
    (found,) = line_crossings(route)
    assert met(route) == [(0, 3)]
    assert found.from_departure_nm == pytest.approx(geo.inverse(0, 0, 0, 2)[2], abs=0.01)
    assert found.to_destination_nm == pytest.approx(geo.inverse(0, 2, -2, 2)[2], abs=0.01)
    round_it = [geo.inverse(0, 2, 0, 4), geo.inverse(0, 4, 2, 4), geo.inverse(2, 4, 2, 2), geo.inverse(2, 2, 0, 2)]
    assert found.loop_nm == pytest.approx(sum(leg[2] for leg in round_it), abs=0.01)
    assert sum((found.from_departure_nm, found.loop_nm, found.to_destination_nm)) == pytest.approx(
        route.totals.distance_nm
    )


def test_a_loop_across_180_east_is_found_as_one_anywhere_else(over):
    here = over((10, 0), (10, 4), (12, 4), (12, 2), (8, 2))
    there = over((10, 178), (10, -178), (12, -178), (12, 180), (8, 180))
    (one,), (other,) = line_crossings(here), line_crossings(there)
    assert met(here) == met(there) == [(0, 3)]
    assert other.from_departure_nm == pytest.approx(one.from_departure_nm, abs=0.01)
    assert other.loop_nm == pytest.approx(one.loop_nm, abs=0.01)


@pytest.mark.parametrize(
    "places",
    [
        [(0, 0), (0, 2), (0, 4), (0, 6)],
        [(10, 170), (11, 175), (10, 180), (11, -175), (10, -170)],
        [(0, 0), (2, 2), (0, 4), (2, 6), (0, 8)],  # turns more than 180° in all, never meets itself
        [(0, 0), (0, 4), (2, 4), (2, 2), (1, 2)],  # a hook that stops short
        [(0, 0), (0, 2), (2, 2), (2, 0), (0, 0)],  # a closed round: meets itself at its ends alone
        [(0, 0), (0, 4), (0, 2), (2, 2)],  # back along itself: doubling back, no crossing
    ],
)
def test_a_line_that_does_not_cross_itself(over, places):
    assert list(line_crossings(over(*places))) == []


def test_the_line_on_the_far_side_of_the_earth_is_not_met(over):
    """Along 0°E over the equator, and along a line over 0N 180E: the great circles meet at both places."""
    turns_a_lot = [(40, 3), (2, 6)]
    assert met(over((-2, 0), (2, 0), *turns_a_lot, (2, 60), (2, 120), (1, 179), (-1, -179))) == []


def test_legs_wholly_nearer_an_end_than_asked_are_left_out(over):
    route = over((0, 0), (0, 4), (2, 4), (2, 2), (-2, 2))
    assert min(route.legs[1].distance_nm, route.legs[4].distance_nm) > 230.0
    assert len(list(line_crossings(route, 230.0))) == 1
    assert list(line_crossings(route, 250.0)) == []


def test_a_line_that_goes_on_northward_meets_itself_where_a_leg_bends_over_the_point_after_it(over):
    """The geodesic from 60°N to 61°N runs at nearly 65°N in its middle, beyond the point at 62°N."""
    assert met(over((60, -30), (61, 30), (62, 0), (66, 0))) == [(0, 2)]


def test_a_figure_of_eight_and_a_star_are_counted_crossing_by_crossing(over):
    eight = met(over((0, 0), (0, 4), (2, 4), (-2, 2), (-2, 0), (2, 1)))
    assert eight == [(0, 2), (0, 4)]
    star = [(0, 0), (6, 2), (0, 4), (4, -1), (4, 5), (0, 0)]
    assert len(list(line_crossings(over(*star)))) == 5


def test_legs_without_a_fixed_path_are_no_part_of_the_line(flown):
    """The stretch to the name that is not found has no path, so nothing crosses it."""
    route = flown("00N000E ZZZZZ 02N004E 02N002E 02S002E", "", "")
    assert met(route) == []


def test_too_few_legs_cannot_cross(flown):
    for text in ("", "00N000E", "00N000E 00N002E 02N000E"):
        assert list(line_crossings(flown(text, "", ""))) == []


def side(a, b, p):
    """On which side of a line drawn on paper a point lies: near the equator paper will do."""
    return (b[1] - a[1]) * (p[0] - a[0]) - (b[0] - a[0]) * (p[1] - a[1])


grid = st.lists(st.tuples(st.integers(-9, 9), st.integers(-9, 9)), min_size=4, max_size=7)


@given(grid)
def test_as_on_paper_near_the_equator(over_session, places):
    """Crossings well inside both legs: what a plane drawing says there the sphere says too."""
    route = over_session(*places)
    found = met(route)
    for (i, (a, b)), (j, (c, d)) in combinations(enumerate(pairwise(places)), 2):
        if j == i + 1 or a == b or c == d:
            continue
        sides = [side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)]
        sizes = [math.dist(a, b)] * 2 + [math.dist(c, d)] * 2
        if min(abs(s) / size for s, size in zip(sides, sizes, strict=True)) < 0.3:
            continue  # an end so near the other line that the curve of the earth decides
        assert ((i, j) in found) == (sides[0] * sides[1] < 0 and sides[2] * sides[3] < 0), (i, j)


@pytest.fixture(scope="session")
def over_session(flown):
    """The same for hypothesis, which wants what lasts."""

    def made(*places):
        return flown(" ".join(position(*place) for place in places), "", "")

    return made
