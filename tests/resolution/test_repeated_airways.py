"""An airway written again right behind itself: one airway, without a junction with itself, and said."""

import datetime as dt

import pytest

from routecheck.model import RouteInput, Via, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

DEMO = demo_database()


def assessed(route):
    return assess(RouteInput(route, "XVAL", "XVOR"), DEMO, Settings(), dt.date(2026, 12, 3))


@pytest.mark.parametrize(("times", "stands"), [(2, "twice"), (3, "3 times"), (1_200, "1,200 times")])
def test_it_is_flown_once_and_said(times, stands):
    answer = assessed(f"LENDU {'UM12 ' * times} PIKAR")
    once = assessed("LENDU UM12 PIKAR")
    assert answer.route.totals.distance_nm == once.route.totals.distance_nm
    assert [point.text for point in answer.route.points] == [point.text for point in once.route.points]
    (finding,) = [one for one in answer.findings if one.check == "misplaced-word"]
    assert finding.weight is Weight.DOUBTFUL
    assert finding.message == f"UM12 stands {stands} in a row: a point or another airway between may be missing."
    assert len(finding.spans) == times - 1


def test_an_open_ended_one_is_one_too():
    airways = [one for one in assessed("UM12 UM12 TOVIK").route.resolved.connections if one.via is Via.AIRWAY]
    assert [one.words for one in airways] == [(0, 1)]


def test_airways_in_turn_have_their_junctions():
    connections = assessed("LENDU UM12 UN21 UM12 PIKAR").route.resolved.connections
    assert [one.name for one in connections if one.via is Via.AIRWAY] == ["UM12", "UN21", "UM12"]
    assert not [one for one in assessed("LENDU UM12 J61 SARNO").findings if one.check == "misplaced-word"]
