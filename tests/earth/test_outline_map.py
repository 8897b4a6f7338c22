"""The shipped outline map: it loads, lies on this earth, and draws nothing that is no coast."""

from importlib.resources import files

import numpy as np
import pytest

SCALES = ["land_110m.npz", "land_50m.npz"]


def load(name):
    with files("routecheck.resources").joinpath("outline", name).open("rb") as stream, np.load(stream) as arrays:
        return arrays["lat"], arrays["lon"]


def lines(name):
    lat, lon = load(name)
    ends = np.flatnonzero(np.isnan(lat))
    starts = np.concatenate([[0], ends[:-1] + 1])
    return [np.column_stack([lat[a:b], lon[a:b]]) for a, b in zip(starts, ends, strict=True)]


@pytest.mark.parametrize(("name", "at_least"), [("land_110m.npz", 5_000), ("land_50m.npz", 60_000)])
def test_it_loads_and_lies_on_this_earth(name, at_least):
    lat, lon = load(name)
    assert lat.dtype == lon.dtype == np.float32
    assert lat.shape == lon.shape
    assert lat.size > at_least
    assert (np.isnan(lat) == np.isnan(lon)).all()
    assert np.nanmin(lat) >= -90
    assert np.nanmax(lat) <= 90
    assert np.nanmin(lon) >= -180
    assert np.nanmax(lon) <= 180


@pytest.mark.parametrize("name", SCALES)
def test_both_hemispheres_are_there(name):
    lat, lon = load(name)
    for north in (lat > 10, lat < -10):
        for east in (lon > 10, lon < -10):
            assert np.count_nonzero(north & east) > 100


@pytest.mark.parametrize("name", SCALES)
def test_every_line_is_closed_or_ends_on_the_date_line(name):
    for line in lines(name):
        assert len(line) >= 2
        closed = (line[0] == line[-1]).all()
        assert closed or (np.abs(line[[0, -1], 1]) > 179.9).all()


@pytest.mark.parametrize("name", SCALES)
def test_no_line_leaps_over_the_map(name):
    for line in lines(name):
        assert np.abs(np.diff(line[:, 1])).max() < 10
        assert np.abs(np.diff(line[:, 0])).max() < 3


@pytest.mark.parametrize("name", SCALES)
def test_neither_the_date_line_nor_the_pole_is_drawn_as_a_coast(name):
    for line in lines(name):
        on_date_line = np.abs(line[:, 1]) > 179.99
        assert not (on_date_line[1:] & on_date_line[:-1]).any()
        assert line[:, 0].min() > -89.9


@pytest.mark.parametrize(("name", "off_deg"), [("land_110m.npz", 1.0), ("land_50m.npz", 0.35)])
@pytest.mark.parametrize(("cape", "lat", "lon"), [("Agulhas", -34.83, 20.00), ("Roca", 38.78, -9.50)])
def test_well_known_capes_are_where_they_are(name, off_deg, cape, lat, lon):
    """Positions of the southern end of Africa and the western end of Europe, as any atlas gives them."""
    lats, lons = load(name)
    assert np.nanmin(np.hypot(lats - lat, (lons - lon) * np.cos(np.radians(lat)))) < off_deg


def test_both_scales_are_small():
    sizes = [len(files("routecheck.resources").joinpath("outline", name).read_bytes()) for name in SCALES]
    assert sum(sizes) < 600_000
