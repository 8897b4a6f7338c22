"""Alternates: placed, measured from the destination, by their own route where one is given."""

import datetime as dt

import pytest
from geographiclib.geodesic import Geodesic

from routecheck.model import RouteInput, Weight
from routecheck.pipeline import assess
from routecheck.presentation.alternate_view import alternate_views, brief_alternate
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)


@pytest.fixture
def ask(demo):
    def find(*alternate, **beside):
        given = RouteInput("N0430F350 LENDU DCT PIKAR", "XVAL", "XVOR", alternate=alternate, **beside)
        return assess(given, demo, Settings(), DAY)

    return find


def test_an_alternate_is_measured_from_the_destination(ask):
    assessment = ask("XVMA", aircraft_sheet="Medium jet")
    (view,) = alternate_views(assessment.route)
    there, here = (assessment.route.alternates[0].points[i].place for i in (-1, 0))
    assert here.ident == "XVOR"
    oracle = Geodesic.WGS84.Inverse(here.lat, here.lon, there.lat, there.lon)
    assert view.distance_nm == pytest.approx(oracle["s12"] / 1852.0, abs=0.001)
    assert view.course_true_deg == pytest.approx(oracle["azi1"] % 360.0, abs=0.001)
    assert view.time_min > 0.0
    assert view.fuel_kg > 0.0
    assert assessment.not_used == ()


def test_without_a_speed_there_is_no_time(demo):
    given = RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR", alternate=("XVMA",))
    (view,) = alternate_views(assess(given, demo, Settings(), DAY).route)
    assert (view.time_min, view.fuel_kg) == (None, None)


def test_its_own_route_is_flown(ask):
    direct, by_route = (alternate_views(ask("XVMA", alternate_route=text).route)[0] for text in ("", "SARNO"))
    assert by_route.distance_nm > direct.distance_nm
    assert by_route.direct_nm == direct.direct_nm
    assert "by SARNO" in by_route.sentence


def test_one_at_no_known_place_is_named_and_nothing_is_in_order(ask):
    assessment = ask("XVZZ")
    assert [one.name for one in assessment.not_used] == ["alternate XVZZ"]
    assert alternate_views(assessment.route)[0].sentence == (
        "Alternate XVZZ: in neither the loaded data nor the list of the world's airports."
    )
    assert brief_alternate(assessment.route) == "alternate XVZZ at a distance not known"
    because = {one.check: one.because for one in assessment.not_checked}
    assert because["alternate-same"] == "where the alternate XVZZ is, is not known"


def test_the_destination_as_alternate_is_wrong(ask):
    (finding,) = [one for one in ask("XVOR").findings if one.check == "alternate-same"]
    assert (finding.weight, finding.message) == (Weight.WRONG, "The alternate XVOR is the destination XVOR.")
