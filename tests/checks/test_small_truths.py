"""Sentences and weights that said a little less, or a little more, than was so: each symptom a test."""

import datetime as dt
import math
import re

import pytest

from routecheck.checks.catalogue import collect
from routecheck.formatting import distinct_figures
from routecheck.model import AircraftSheet, AltitudeWindow, RouteInput, Weight
from routecheck.pipeline import assess
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)


def findings(route, demo, check, departure="XVAL", destination="XVOR", **more):
    answer = assess(RouteInput(route, departure, destination, **more), demo, Settings(), DAY)
    return [finding for finding in answer.findings if finding.check == check]


def reasons(route, demo, check, **more):
    answer = assess(RouteInput(route, "XVAL", "XVOR", **more), demo, Settings(), DAY)
    return [one.because for one in answer.not_checked if one.check == check]


@pytest.mark.parametrize("route", ["LENDU 00N180E 00N180W 10N180W", "90N010W 90N170E 80N170E"])
def test_a_leg_of_no_length_has_no_course(demo, route):
    """The symptom: over ±180° and at a pole one spot has two longitudes, and the leg had a course of 270°."""
    legs = assess(RouteInput(route), demo, Settings(), DAY).route.legs
    (still,) = [leg for leg in legs if leg.distance_nm is not None and leg.distance_nm < 0.001]
    assert (still.distance_nm, still.course_true_deg, still.course_magnetic_deg) == (0.0, None, None)


def test_a_change_of_rules_behind_a_slash_is_said(demo):
    (finding,) = findings("LENDU DCT PIKAR/VFR DCT SARNO", demo, "misplaced-word")
    assert (finding.weight, "behind a slash" in finding.message) == (Weight.NOTE, True)


@pytest.mark.parametrize(("turned", "limit"), [("31S003E", 140.0), ("34S005E", 90.0)])
def test_a_sharp_turn_shows_the_limit_that_it_is_beyond(demo, turned, limit):
    """The symptom: the Note of a turn over 90° gave 140° as its limit."""
    (check,) = [check for check in collect() if check.name == "sharp-turn"]
    answer = assess(RouteInput(f"31S000E 31S006E {turned} 33S009E"), demo, Settings(), DAY)
    finding = next(check.function(answer.route, check.defaults))
    values = {fact.name: fact.value for fact in finding.facts}
    assert values["limit"] == limit
    assert values["turn"] > limit or values["turn"] < -limit


def test_a_figure_beyond_a_limit_never_looks_like_it():
    assert distinct_figures(412.3, 400.0) == ("412", "400")
    assert distinct_figures(400.3, 400.0) == ("400.3", "400.0")
    assert distinct_figures(400.04, 400.0) == ("400.04", "400.00")
    assert distinct_figures(400.001, 400.0) == ("a little more than 400", "400")


def test_needs_400_where_the_steepest_is_400_is_never_printed(demo):
    sheet = AircraftSheet("own", greatest_climb_ft_nm=400.0, greatest_descent_ft_nm=400.0)
    apart = assess(RouteInput("31S002E 31S003E"), demo, Settings(), DAY).route.legs[1].distance_nm
    windows = AltitudeWindow("31S002E", 30_000.0, None), AltitudeWindow("31S003E", None, 30_000.0 - 400.3 * apart)
    (finding,) = findings("31S002E 31S003E", demo, "windows-conflict", sheet=sheet, windows=windows)
    assert "needs 400.3 ft/NM down; this sheet's steepest is 400.0." in finding.message


def test_no_turn_is_tighter_than_3_degrees_a_second(demo):
    """At 100 kt and 25° of bank the formula gives 0.31 NM; at 3° a second it is 0.53 NM (ICAO Doc 8168, I-2-3-2)."""
    leg = "31S000E 31S002E 3100S00201E 3101S00201E 31S004E"
    (check,) = [check for check in collect() if check.name == "leg-too-short"]
    route = assess(RouteInput(leg, "XVAL", "XVOR", speed="N0100", level="F080"), demo, Settings(), DAY).route
    finding = next(check.function(route, check.defaults))
    turns = [min(abs(route.turns[index].turn_deg), 90.0) for index in finding.points]
    radius = 100.0 / (20.0 * math.pi * 3.0)
    needed = next(fact.value for fact in finding.facts if fact.name == "needed")
    assert needed == round(sum(radius * math.tan(math.radians(turn) / 2.0) for turn in turns), 1)


def test_a_typed_radial_and_distance_has_a_precision(demo):
    """Half a degree and half a mile: at 40 NM 0.35 NM aside and 0.5 NM along."""
    words = assess(RouteInput("KEL106040 4530N01010W PIKAR"), demo, Settings(), DAY).route.parsed.words
    assert [round(word.precision_nm, 2) for word in words] == [0.61, 0.5, 0.0]


def test_metric_levels_are_left_alone_for_the_true_reason(demo):
    """The symptom: with S1130 filed the reason was that no level is filed that the tables divide by direction."""
    (why,) = reasons("LENDU DCT PIKAR", demo, "level-for-direction", speed="K0830", level="S1130")
    assert "metric" in why
    (why,) = reasons("LENDU DCT PIKAR", demo, "level-for-direction")
    assert "metric" not in why


@pytest.mark.parametrize(
    ("route", "weights"),
    [
        ("N0450F360 31S001E 31S004E 31S006E", [Weight.DOUBTFUL]),
        ("N0450F360 31S001E 31S009E 31S006E", [Weight.NOTE]),
        ("N0450F360 31S001E 31S004E/N0450F350 31S009E", [Weight.NOTE]),
        ("N0450F270 31S004E/N0450F260 31S001E 31S009E", [Weight.NOTE]),
    ],
)
def test_a_level_for_the_other_direction_is_doubtful_where_the_whole_high_cruise_has_it(demo, route, weights):
    assert [finding.weight for finding in findings(route, demo, "level-for-direction")] == weights


def test_the_right_levels_are_named(demo):
    (finding,) = findings("N0450F360 31S001E 31S004E 31S006E", demo, "level-for-direction")
    assert re.search("the levels near it are FL350 and FL370", finding.message)
