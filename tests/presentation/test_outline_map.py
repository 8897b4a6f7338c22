"""The shipped outline map: it loads, lies on this earth, fills land and lakes, and draws nothing that is no coast."""

from importlib.resources import files

import numpy as np
import pytest

from routecheck.earth.projection import Projection, straighten
from routecheck.presentation.map_areas import is_inside, share_of_rim
from routecheck.presentation.outline import cut_outline

EVERYWHERE = (-11000.0, -11000.0, 11000.0, 11000.0)
SCALES = ["land_110m.npz", "land_50m.npz"]
LAKES = ["lakes_110m.npz", "lakes_50m.npz"]


def load(name):
    with files("routecheck.resources").joinpath("outline", name).open("rb") as stream, np.load(stream) as arrays:
        return arrays["lat"], arrays["lon"]


def rings(name):
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


@pytest.mark.parametrize("name", SCALES + LAKES)
def test_every_ring_is_closed_and_has_an_inside(name):
    for ring in rings(name):
        assert len(ring) >= 4
        assert (ring[0] == ring[-1]).all()


@pytest.mark.parametrize("name", LAKES)
def test_lakes_lie_on_land(name):
    land = load(name.replace("lakes", "land"))
    lakes = rings(name)
    middles = [ring[:-1].mean(axis=0) for ring in lakes if np.ptp(ring, axis=0).max() > 3.0]
    assert len(middles) > 10
    assert all(is_inside(*land, *middle) for middle in middles)


@pytest.mark.parametrize("detail", ["110m", "50m"])
@pytest.mark.parametrize("centre", [(-31.0, 2.0), (40.0, 180.0), (85.0, 30.0), (-90.0, 0.0), (-25.0, -45.0)])
def test_no_shore_leaps_over_the_map_or_runs_along_its_cuts(centre, detail):
    """The cut of the flat map along the date line and the pole is no coast; (-25, -45) lies opposite of land."""
    coast = cut_outline(Projection(*centre), detail, EVERYWHERE).coast
    assert np.nanmax(np.hypot(*np.diff(coast, axis=0).T)) < 1500.0
    places = Projection(*centre).back_many(coast[~np.isnan(coast[:, 0])])
    on_cut = (np.abs(np.abs(places[:, 1]) - 180.0) < 1e-6) & (places[:, 0] < -84.8)
    assert not on_cut.any()
    assert places[:, 0].min() > -89.9


KNOWN = {
    "central Spain": ((40.0, -4.0), "land"),
    "Kansas": ((38.5, -98.0), "land"),
    "the South Pole": ((-89.0, 40.0), "land"),
    "Chukotka, beyond the date line": ((66.8, -175.0), "land"),
    "Chukotka, before it": ((67.5, 177.0), "land"),
    "central Australia": ((-25.0, 134.0), "land"),
    "the Atlantic": ((30.0, -40.0), "sea"),
    "the North Pole": ((89.5, 0.0), "sea"),
    "the Pacific on the date line": ((0.0, 180.0), "sea"),
    "the Ross Sea": ((-74.0, 178.0), "sea"),
    "Lake Superior": ((47.6, -87.5), "lake"),
    "Lake Victoria": ((-1.0, 33.0), "lake"),
    "Lake Baikal": ((53.2, 108.0), "lake"),
}


CENTRES = [(-31.0, 2.0), (40.0, 180.0), (90.0, 0.0), (-90.0, 0.0), (-38.5, 82.0), (25.0, -46.0), (-40.0, 176.0)]
"""Whose opposite points are at sea, on land, at a pole."""
ENDS = [
    ((40.6, -73.8), (51.5, -0.5)),
    ((35.8, 140.4), (37.6, -122.4)),
    ((-33.9, 151.2), (-33.4, -70.8)),
    ((78.2, 15.5), (59.9, 150.7)),
    ((1.4, 104.0), (40.7, -74.2)),
    ((-31.7, -3.4), (-31.2, 8.4)),
]


@pytest.mark.parametrize("detail", ["110m", "50m"])
@pytest.mark.parametrize(
    "projection", [*(Projection(*centre) for centre in CENTRES), *(straighten(*ends) for ends in ENDS)]
)
def test_land_sea_and_lakes_are_filled_as_such_on_every_map(projection, detail):
    """All places but those too near the rim of the globe."""
    drawn = cut_outline(projection, detail, EVERYWHERE)
    for name, ((lat, lon), expected) in KNOWN.items():
        x, y = projection.place(lat, lon)
        if share_of_rim(np.array([(x, y)]), projection.rim_nm)[0] > 0.82:
            continue
        on_land, in_lake = (is_inside(area[:, 1], area[:, 0], y, x) for area in (drawn.land, drawn.lakes))
        assert ("lake" if in_lake else "land" if on_land else "sea") == expected, name


def test_what_is_cut_to_a_view_is_filled_as_the_whole():
    projection, box = Projection(43.0, -85.0), (-400.0, -300.0, 500.0, 200.0)
    whole, cut = (cut_outline(projection, "50m", b) for b in (EVERYWHERE, box))
    grid = np.random.default_rng(1).uniform((box[0], box[1]), (box[2], box[3]), (300, 2))
    for area in ("land", "lakes"):
        of_whole, of_cut = (
            [is_inside(ring[:, 1], ring[:, 0], y, x) for x, y in grid]
            for ring in (getattr(whole, area), getattr(cut, area))
        )
        assert of_whole == of_cut
        assert 3 < sum(of_cut) < 297
    assert np.nanmin(cut.land[:, 0]) >= box[0] - 1e-6
    assert np.nanmax(cut.land[:, 1]) <= box[3] + 1e-6
    assert len(cut.land) < len(whole.land) / 10


@pytest.mark.parametrize(("name", "off_deg"), [("land_110m.npz", 1.0), ("land_50m.npz", 0.35)])
@pytest.mark.parametrize(("cape", "lat", "lon"), [("Agulhas", -34.83, 20.00), ("Roca", 38.78, -9.50)])
def test_well_known_capes_are_where_they_are(name, off_deg, cape, lat, lon):
    """Positions of the southern end of Africa and the western end of Europe, as any atlas gives them."""
    lats, lons = load(name)
    assert np.nanmin(np.hypot(lats - lat, (lons - lon) * np.cos(np.radians(lat)))) < off_deg


def test_all_scales_are_small():
    sizes = [len(files("routecheck.resources").joinpath("outline", name).read_bytes()) for name in SCALES + LAKES]
    assert sum(sizes) < 600_000
