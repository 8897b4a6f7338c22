"""The Picture of procedures: arcs as arcs, runways as bars that lie as they do, heights and speeds at points."""

import datetime as dt
import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from routecheck.earth import geo
from routecheck.model import Assessment
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.presentation.drawn_map import Picture
from routecheck.presentation.map_scene import draw_on_map, draw_picture
from routecheck.presentation.symbols import Symbol
from routecheck.reading.inputs import read_input
from routecheck.settings import Settings

Assess = Callable[..., Assessment]
SAMPLES = Path(__file__).resolve().parents[2] / "sample_routes"


@pytest.fixture
def drawn(demo_library: NavDatabase) -> tuple[Picture, Assessment]:
    path = SAMPLES / "clean" / "runway-to-runway.route.toml"
    route_input = next(iter(read_input(path.read_bytes(), path.name)))
    assessment = assess(route_input, demo_library, Settings(), dt.date(2026, 12, 3))
    return draw_picture(assessment), assessment


def test_an_arc_is_drawn_as_one(drawn: tuple[Picture, Assessment]) -> None:
    """R09 of XVOR turns from QUDEN to OLVEK 3 NM about WIFTO: no point of the line is off the circle."""
    shown, assessment = drawn
    arcs = [i for i, leg in enumerate(assessment.route.legs) if leg.shape]
    assert [assessment.route.points[i].text for i in arcs] == ["QUDEN"]
    leg = next(leg for leg in shown.legs if leg.index == arcs[0])
    assert len(leg.curve) == len(assessment.route.legs[arcs[0]].shape) > 10
    bends = [math.atan2(*step) for step in np.diff(leg.curve, axis=0)]
    assert math.degrees(abs(np.unwrap(bends)[-1] - np.unwrap(bends)[0])) > 60
    assert leg.figures
    assert np.hypot(*np.diff(leg.curve, axis=0).T).sum() == pytest.approx(
        assessment.route.legs[arcs[0]].distance_nm, rel=0.01
    )


@pytest.mark.parametrize(("name", "number"), [("XVAL", 9), ("XVOR", 9)])
def test_a_runway_is_a_bar_that_lies_by_its_number(drawn: tuple[Picture, Assessment], name: str, number: int) -> None:
    shown, assessment = drawn
    point = next(p for p in shown.points if p.name == name)
    assert point.symbol is Symbol.RUNWAY
    place = assessment.route.points[point.index].place
    variation = geo.wrap180(place.variation_deg) if place.variation_deg is not None else -20.0
    x, y = shown.projection.place(*geo.direct(place.lat, place.lon, 10.0 * number + variation, 1.0))
    lies = math.degrees(math.atan2(point.y - y, x - point.x))
    assert point.turned == pytest.approx(lies, abs=5.0)


def test_heights_and_speeds_stand_at_their_points(drawn: tuple[Picture, Assessment]) -> None:
    held = {p.name: p.limits for p in drawn[0].points}
    assert held["SARNO"] == "FL200–FL240"
    assert held["KEBUL"] == "≥ 11,000 ft"
    assert held["HUNSA"] == "at 5,000 ft"
    assert held["TAMPU"] == "≥ 4,000 ft, ≤ 210 kt"
    assert held["TOVIK"] == held["XVOR"] == ""


def test_a_superseded_procedure_is_drawn_dotted_by_the_present_one(assessed: Assess) -> None:
    """The stretch stays a gap without a length; only what is drawn is that of the number in the data."""
    runways = {"departure_runway": "09", "destination_runway": "27"}
    route = "LENDU9 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO7"
    superseded = assessed(route, **runways)
    picture = draw_picture(superseded)
    legs = picture.legs
    present, _ = draw_on_map(assessed(route.replace("9 ", "1 ").replace("7", "2"), **runways), picture.projection)
    assert [(leg.is_gap, leg.figures) for leg in (legs[0], legs[-1])] == [(True, "if LENDU1"), (True, "if SARNO2")]
    drawn = {tuple(spot) for leg in present for spot in leg.curve.round(3).tolist()}
    for leg in (legs[0], legs[-1]):
        along = leg.curve[~np.isnan(leg.curve[:, 0])]
        assert len(along) > 4
        assert {tuple(spot) for spot in along.round(3).tolist()} <= drawn
    assert superseded.route.totals.gaps == 2
