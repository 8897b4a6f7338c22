"""Cells of one degree against the plain distance: what is near, also across the date line and at the poles."""

import functools

import pytest
from arinc_records import HEADERS, airport, fix, read
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import geo
from routecheck.model import Place, PlaceKind
from routecheck.navdata import grid_index
from routecheck.navdata.coverage import RecordKind
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


@pytest.mark.parametrize("at", [(float("nan"), 0.0), (0.0, float("nan")), (91.0, 0.0), (0.0, float("inf"))])
def test_no_position_no_answer(at: tuple[float, float]) -> None:
    data = covered(fix("ZAQIP", 50.5, 10.5))
    for ask in (
        functools.partial(data.covers, RecordKind.FIX),
        data.mora_ft,
        lambda lat, lon: list(data.places_within(lat, lon, 10.0)),
    ):
        with pytest.raises(geo.ImpossiblePositionError):
            ask(*at)


def test_near_gives_fixes_navaids_and_airports() -> None:
    data = covered(fix("ZAQIP", 50.5, 10.5), airport("XVZZ", 50.6, 10.5), fix("TOVIZ", 52.0, 10.5))
    assert {one.ident for one in data.places_within(50.5, 10.5, 30.0)} == {"ZAQIP", "XVZZ"}
