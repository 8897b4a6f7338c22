"""Check leg-too-long where legs have no length."""

import datetime as dt

import pytest

from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

DEMO = demo_database()


@pytest.mark.parametrize("route", ["SARNO SARNO SARNO SARNO", "31S001E " * 9 + "31S012E 3030S01200E", "SARNO " * 30])
@pytest.mark.parametrize("ends", [("XVAL", "XVOR"), ("", ""), ("XVAL", "KJFK")])
def test_points_that_stand_twice_are_no_usual_leg(route, ends):
    answer = assess(RouteInput(route, *ends), DEMO, Settings(), dt.date(2026, 12, 3))
    assert answer.could_not_run == ()
    assert "repeated-point" in {finding.check for finding in answer.findings}
    assert not [one for one in answer.findings if one.check == "leg-too-long" and "usual leg" not in one.message]
