"""Cells of one degree against the plain distance: what is near, also across the date line and at the poles."""

import pytest
from arinc_records import HEADERS, airport, fix, read, terminal_fix
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import geo
from routecheck.model import Place, PlaceKind
from routecheck.navdata import grid_index
from routecheck.navdata.database import NavDatabase

lats = st.one_of(st.floats(-90, 90), st.sampled_from([-90.0, -89.5, 0.0, 89.99, 90.0, 60.0]))
lons = st.one_of(st.floats(-180, 180), st.sampled_from([-180.0, 180.0, 179.99, -179.99, 0.0]))
positions = st.tuples(lats, lons)


def place(at: tuple[float, float]) -> Place:
    return Place("ZAQIP", *at, PlaceKind.FIX)


def covered(*lines: str) -> NavDatabase:
    return NavDatabase.from_tables(read([*HEADERS, *lines], "test"))


@given(st.lists(positions, max_size=20), positions, st.floats(0, 11_000))
def test_within_is_what_plain_distances_say(
    spots: list[tuple[float, float]], at: tuple[float, float], radius_nm: float
) -> None:
    places = [place(spot) for spot in spots]
    expected = [one for one in places if geo.rough_nm(*at, one.lat, one.lon) <= radius_nm]
    found = list(grid_index.places_within(grid_index.sort_into_cells(places), *at, radius_nm))
    assert sorted(map(id, found)) == sorted(map(id, expected))


@given(positions, positions)
def test_covered_surely_within_35_and_surely_not_beyond_206(spot: tuple[float, float], at: tuple[float, float]) -> None:
    distance_nm = geo.rough_nm(*spot, *at)
    answer = grid_index.cell_of(*at) in grid_index.neighbourhood(grid_index.cell_of(*spot))
    assert answer or distance_nm > 35
    assert not answer or distance_nm < 206


@given(positions, st.floats(0, 360), st.floats(0, 260))
def test_covered_near_the_rim(spot: tuple[float, float], course: float, distance_nm: float) -> None:
    lat, lon = geo.direct(*spot, course, distance_nm)
    test_covered_surely_within_35_and_surely_not_beyond_206.hypothesis.inner_test(spot, (lat, lon))  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("spot", "at", "answer"),
    [
        ((50.5, 179.5), (50.5, -179.5), True),
        ((50.5, -179.5), (50.5, 179.5), True),
        ((89.9, 10.0), (89.9, -170.0), True),
        ((-89.9, 10.0), (-89.9, -170.0), True),
        ((50.5, 10.5), (52.5, 10.5), True),
        ((50.5, 10.5), (53.5, 10.5), False),
        ((50.5, 10.5), (50.5, 13.5), True),
        ((50.5, 10.5), (50.5, 14.5), False),
    ],
)
def test_covers(spot: tuple[float, float], at: tuple[float, float], answer: bool) -> None:
    assert covered(fix("ZAQIP", *spot)).covers(*at) is answer


def test_airports_cover_and_terminal_fixes_alone_do_not() -> None:
    assert covered(airport("XVZZ", 50.5, 10.5)).covers(50.5, 10.5)
    assert not covered(terminal_fix("XVZZ", "ZAQIP", 50.5, 10.5)).covers(50.5, 10.5)


@pytest.mark.parametrize("at", [(float("nan"), 0.0), (0.0, float("nan")), (91.0, 0.0), (0.0, float("inf"))])
def test_no_position_no_answer(at: tuple[float, float]) -> None:
    data = covered(fix("ZAQIP", 50.5, 10.5))
    for ask in (data.covers, data.mora_ft, lambda lat, lon: list(data.places_within(lat, lon, 10.0))):
        with pytest.raises(geo.ImpossiblePositionError):
            ask(*at)


def test_near_gives_fixes_navaids_and_airports() -> None:
    data = covered(fix("ZAQIP", 50.5, 10.5), airport("XVZZ", 50.6, 10.5), fix("TOVIZ", 52.0, 10.5))
    assert {one.ident for one in data.places_within(50.5, 10.5, 30.0)} == {"ZAQIP", "XVZZ"}
