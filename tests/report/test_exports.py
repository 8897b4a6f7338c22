"""Exports of a route, read back by readers that are not ours: gpxpy and geojson."""

import datetime as dt
from itertools import pairwise

import geojson
import gpxpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import geo
from routecheck.model import RouteInput
from routecheck.pipeline import assess
from routecheck.report.exports import EXPORTS
from routecheck.report.geojson import write_geojson
from routecheck.report.gpx import write_gpx
from routecheck.report.lines_on_earth import cut_at_date_line, unbroken_lines
from routecheck.settings import Settings


@pytest.fixture
def answer(demo):
    """An assessment on the demo region."""

    def made(text, departure="XVAL", destination="XVOR", **beside):
        route_input = RouteInput(text, departure, destination, **beside)
        return assess(route_input, demo, Settings(), dt.date(2026, 12, 3))

    return made


WHOLE = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"
BROKEN = "LENDU DCT QQQQQ DCT TOVIK DCT SARNO"
PACIFIC = "20N170E 25N175W 20N170W"


def test_gpx_has_every_placed_point_and_the_path_between(answer):
    assessed = answer(WHOLE)
    read = gpxpy.parse(write_gpx(assessed))
    assert [point.name for point in read.routes[0].points] == [point.text for point in assessed.route.points]
    segments = read.tracks[0].segments
    assert len(segments) == 1
    length = sum(
        geo.inverse(a.latitude, a.longitude, b.latitude, b.longitude)[2] for a, b in pairwise(segments[0].points)
    )
    assert length == pytest.approx(assessed.route.totals.distance_nm, abs=0.01)


def test_a_gap_breaks_the_track_and_is_said_at_its_point(answer):
    read = gpxpy.parse(write_gpx(answer(BROKEN)))
    assert "QQQQQ" not in [point.name for point in read.routes[0].points]
    assert len(read.tracks[0].segments) == 2
    assert read.routes[0].points[1].comment.startswith("No fixed path from here")
    assert "Wrong: QQQQQ is not in the loaded data" in read.description
    assert "not for navigation" in read.description


def test_geojson_is_valid_and_cut_at_the_date_line(answer):
    read = geojson.loads(write_geojson(answer(PACIFIC, "", "")))
    assert read.is_valid
    lines = [one for one in read.features if one.properties["kind"] == "path"]
    assert [one.geometry.type for one in lines] == ["MultiLineString"]
    for part in lines[0].geometry.coordinates:
        assert all(abs(b[0] - a[0]) < 180 for a, b in pairwise(part))
    assert {part[end][0] for part in lines[0].geometry.coordinates for end in (0, -1)} >= {180.0, -180.0}


def test_geojson_names_its_points_and_carries_the_cautions(answer):
    read = geojson.loads(write_geojson(answer(BROKEN)))
    names = [one.properties["name"] for one in read.features if one.properties["kind"] == "point"]
    assert names == ["XVAL", "LENDU", "TOVIK", "SARNO", "XVOR"]
    assert "not for navigation" in read.cautions
    assert "QQQQQ" in read.headline


@given(st.lists(st.tuples(st.floats(-80, 80), st.floats(-180, 180)), min_size=2, max_size=8))
def test_cutting_keeps_every_point_and_crosses_nothing(line):
    parts = cut_at_date_line(line)
    assert all(abs(b[1] - a[1]) <= 180 for part in parts for a, b in pairwise(part))
    assert [spot for part in parts for spot in part if spot in line] != []
    assert {*line} <= {spot for part in parts for spot in part}


@pytest.mark.parametrize("text", ["", "?", "\x00\x1b[31m <&>", "QQQQQ", "LENDU " * 40])
@pytest.mark.parametrize("suffix", EXPORTS)
def test_any_text_is_exported(answer, suffix, text):
    assessed = answer(text, title="<b>&\x07")
    content = EXPORTS[suffix].write(assessed)
    if suffix == ".gpx":
        gpxpy.parse(content)
    elif suffix == ".geojson":
        assert geojson.loads(content).is_valid
    assert unbroken_lines(assessed.route) is not None
