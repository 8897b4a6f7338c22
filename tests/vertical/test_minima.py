"""Published minima along the legs: every cell that a geodesic crosses, airways both ways, and what is unknown."""

import datetime as dt
import lzma
import math
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from routecheck.earth import geo
from routecheck.geometry.legs import compute_routes
from routecheck.model import RouteInput
from routecheck.navdata.database import empty_database
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.vertical.minima import add_minima, crossed_cells, has_level, route_minima

DAY = dt.date(2026, 12, 3)
LAT, LON = st.floats(-90, 90), st.floats(-180, 180)


def brute(lat1, lon1, lat2, lon2, count):
    """The cells of many points of the line, with the point that lies deepest in each: how deep in degrees."""
    course, _, length = geo.inverse(lat1, lon1, lat2, lon2)
    found = {}
    for i in range(count + 1):
        lat, lon = geo.direct(lat1, lon1, course, length * i / count)
        cell = min(math.floor(lat), 89), (math.floor(lon) + 180) % 360 - 180
        deep = min(lat - math.floor(lat), math.ceil(lat) - lat, lon - math.floor(lon), math.ceil(lon) - lon)
        found[cell] = max(deep, found.get(cell, 0.0))
    return found


def check_no_cell_is_missed(lat1, lon1, lat2, lon2, count=2000):
    crossed = crossed_cells(lat1, lon1, lat2, lon2)
    cells = [cell[:2] for cell in crossed]
    assert len(cells) == len(set(cells))
    missed = {cell for cell, deep in brute(lat1, lon1, lat2, lon2, count).items() if deep > 1e-8} - set(cells)
    assert not missed
    assert all(-90 <= row <= 89 and -180 <= column <= 179 for row, column in cells)
    assert all(0.0 <= begins <= ends <= 1.0 for _, _, begins, ends in crossed)
    assert [cell[2] for cell in crossed] == sorted(cell[2] for cell in crossed)
    return crossed


@given(LAT, LON, st.floats(-6, 6), st.floats(-12, 12))
@example(50.0, -20.0, 0.0, -10.0)
@example(0.0, 10.5, 0.0, 7.0)
@example(50.5, 179.5, 0.2, 3.0)
@example(49.99, 10.2, 0.0, 0.7)
@example(89.9, 10.0, 0.05, 170.0)
@example(-89.9, 10.0, 0.05, -170.0)
@example(10.25, 20.25, 1.0, 1.0)
def test_no_cell_is_missed_on_legs_of_usual_length(lat, lon, north, east):
    other_lat = max(-90.0, min(90.0, lat + north))
    other_lon = geo.wrap180(lon + east)
    check_no_cell_is_missed(lat, lon, other_lat, other_lon)


@given(LAT, LON, LAT, LON)
@example(60.0, 0.0, 60.0, 180.0)
@example(40.6, -73.8, 1.36, 103.99)
def test_no_cell_is_missed_across_the_world(lat1, lon1, lat2, lon2):
    check_no_cell_is_missed(lat1, lon1, lat2, lon2, 4000)


@given(st.floats(-80, 80), LON, st.floats(-4, 4), st.floats(-4, 4))
def test_no_cell_is_added(lat, lon, north, east):
    """The middle of what is said to be crossed lies in the cell, or as near as the shares are good."""
    other = lat + north, geo.wrap180(lon + east)
    course, _, length = geo.inverse(lat, lon, *other)
    for row, column, begins, ends in crossed_cells(lat, lon, *other):
        here = geo.direct(lat, lon, course, length * (begins + ends) / 2.0)
        assert row - 0.002 <= here[0] <= row + 1.002
        past = (here[1] - column + 180.0) % 360.0 - 180.0
        assert -0.002 / math.cos(math.radians(here[0])) <= past <= 1 + 0.002 / math.cos(math.radians(here[0]))


def test_shares_join_without_a_hole():
    crossed = crossed_cells(-31.9, -3.4, -30.2, 8.7)
    assert crossed[0][2] == 0.0
    assert crossed[-1][3] == 1.0
    for before, after in pairwise(crossed):
        assert before[3] == pytest.approx(after[2], abs=1e-9)


def test_a_meridian_of_whole_degrees_belongs_to_both_sides():
    assert [cell[:2] for cell in crossed_cells(50.5, -20.0, 51.5, -20.0)] == [
        (50, -21),
        (50, -20),
        (51, -21),
        (51, -20),
    ]
    assert {cell[:2] for cell in crossed_cells(0.0, 0.5, 0.0, 1.5)} == {(-1, 0), (0, 0), (-1, 1), (0, 1)}
    assert {cell[:2] for cell in crossed_cells(10.5, 180.0, 10.7, 180.0)} == {(10, 179), (10, -180)}


def test_a_line_over_the_pole_has_both_its_ends():
    cells = {cell[:2] for cell in crossed_cells(88.5, 30.5, 88.5, -149.5)}
    assert {(88, 30), (89, 30), (89, -150), (88, -150)} <= cells


def test_a_bulge_over_the_next_parallel_counts():
    """Both ends lie under 50N, and so does the middle of the chord on the chart; the geodesic does not."""
    cells = {cell[:2] for cell in crossed_cells(49.99, 10.2, 49.99, 14.8)}
    assert (50, 12) in cells
    assert cells >= {(49, 10), (49, 14)}


def test_no_length_is_one_cell():
    assert crossed_cells(10.5, 20.5, 10.5, 20.5) == [(10, 20, 0.0, 1.0)]


# ---- of a route


def test_the_airway_minimum_goes_by_the_direction_flown(flown, demo):
    there = route_minima(flown("FINAR V14 KEL", "", ""), demo)
    back = route_minima(flown("KEL V14 FINAR", "", ""), demo)
    assert [m.minimum_ft for m in there if m.on_airway] == [7000, 7000]
    assert [m.minimum_ft for m in back if m.on_airway] == [8000, 7000]
    assert {m.maximum_ft for m in there if m.on_airway} == {17500}


def test_an_unknown_minimum_is_none_and_never_zero(flown, demo):
    minima = route_minima(flown("NIR V27 HOSTU", "", ""), demo)
    assert [m.minimum_ft for m in minima if m.on_airway] == [4000, None]


def test_off_airways_there_is_the_grid_alone(flown, demo):
    route = flown("LENDU DCT IMPEK DCT MAV", "", "")
    minima = route_minima(route, demo)
    assert len(minima) == len(route.legs)
    assert not any(m.on_airway for m in minima)
    assert [m.mora_ft for m in minima if m.cells] == [7300, 7300]
    assert all(m.mora_in_full for m in minima if m.cells)


def test_a_cell_without_a_figure_is_said(flown, demo):
    (minimum,) = [m for m in route_minima(flown("31S008W 3130S00400W", "", ""), demo) if m.cells]
    assert minimum.mora_ft == 3900
    assert not minimum.mora_in_full
    (nowhere,) = [m for m in route_minima(flown("10S008W 10S005W", "", ""), demo) if m.cells]
    assert nowhere.mora_ft is None
    assert not nowhere.mora_in_full


def test_an_arc_is_followed_point_by_point(demo):
    """I27 of XVAL comes from BRUHE along an arc of 14 NM about VAL: the arc bulges north-east of its chord."""
    route_input = RouteInput("HOSTU DCT BRUHE", "XVMA", "XVAL", approach="I27")
    route = compute_routes([resolve(read_route(route_input), demo, DAY)], [DAY])[0]
    (arc,) = [i for i, leg in enumerate(route.legs) if leg.shape]
    cells = route_minima(route, demo)[arc].cells
    there = {(math.floor(lat), math.floor(lon)) for lat, lon in route.legs[arc].shape}
    assert {(cell.lat, cell.lon) for cell in cells} >= there
    assert cells[0].begins == 0.0
    assert cells[-1].ends == pytest.approx(1.0)
    assert all(before.ends == pytest.approx(after.begins) for before, after in pairwise(cells))


def test_a_gap_has_no_cells(flown, demo):
    route = flown("LENDU UM12 PIKOR DCT SARNO")
    minima = route_minima(route, demo)
    gaps = [m for m, leg in zip(minima, route.legs, strict=True) if leg.distance_nm is None]
    assert gaps
    assert all(m.cells == () and m.mora_ft is None and not m.mora_in_full for m in gaps)


@pytest.mark.parametrize(
    ("text", "known"),
    [
        ("N0450F350 LENDU DCT PIKAR", True),
        ("LENDU/N0450F350 DCT PIKAR", True),
        ("LENDU DCT PIKAR", False),
        ("N0120VFR LENDU DCT PIKAR", False),
    ],
)
def test_they_are_looked_up_where_a_level_is_filed(text, known, flown, demo):
    route = flown(text)
    assert has_level(route) is known
    assert bool(add_minima(route, demo).minima) is known


def test_another_library_has_its_own(flown, demo):
    route = flown("LENDU DCT IMPEK", "", "")
    route_minima(route, demo)
    assert all(m.mora_ft is None for m in route_minima(route, empty_database()))


# ---- the figures of the country file


def test_the_grid_of_the_country_file(northeast, test_data):
    """The records (AS, FAA CIFP cycle 2301) are read here a second time, by themselves."""
    text = lzma.decompress((test_data / "faa_cifp_2301_northeast.txt.xz").read_bytes()).decode("latin-1")
    rows = [line for line in text.splitlines() if line[4:6] == "AS" and line[13:16] in ("N40", "N41")]
    figures = {}
    for line in rows:
        west = int(line[17:20]) * (-1 if line[16] == "W" else 1)
        figures |= {(int(line[14:16]), west + i): line[30 + 3 * i : 33 + 3 * i] for i in range(30)}
    route = compute_routes([resolve(read_route(RouteInput("4015N07430W 4145N07210W")), northeast, DAY)], [DAY])[0]
    (minimum,) = [m for m in route_minima(route, northeast) if m.cells]
    told = [(cell.lat, cell.lon) for cell in minimum.cells]
    assert told == [(40, -75), (40, -74), (41, -74), (41, -73)]
    assert minimum.mora_ft == max(int(figures[cell]) * 100 for cell in told)
