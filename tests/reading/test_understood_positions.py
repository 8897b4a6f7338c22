"""Positions in other forms than those of Item 15: which one each means, and where it stays open."""

import datetime as dt

import pytest

from routecheck.model import RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.presentation.headline import headline
from routecheck.reading.understood_positions import read_short_code, read_shorthand
from routecheck.settings import Settings

DEMO = demo_database()


def assessed(typed):
    route_input = RouteInput(f"46N060W {typed} 46N040W 47N030W")
    return assess(route_input, DEMO, Settings(), dt.date(2026, 12, 3))


@pytest.mark.parametrize(
    ("typed", "meant", "weight"),
    [
        ("N45W050", "45N050W", Weight.WRONG),
        ("45N50W", "45N050W", Weight.WRONG),
        ("45/50", "45N050W", Weight.WRONG),
        ("4530/050", "4530N05000W", Weight.WRONG),
        ("4550N", "45N050W", Weight.DOUBTFUL),
        ("H4550", "4530N05000W", Weight.DOUBTFUL),
    ],
)
def test_an_understood_position_is_placed_keeps_its_finding_and_is_offered_in_full(typed, meant, weight):
    """Four such forms were explained in words, lay nowhere, and opened the route on both sides."""
    answer = assessed(typed)
    point = next(point for point in answer.route.points if point.text == typed)
    assert point.place is not None
    assert point.taken_for == meant
    found = [finding for finding in answer.findings if finding.check in ("unread-word", "short-code-trap")]
    assert [(finding.weight, finding.likely_intended[0].new) for finding in found] == [(weight, meant)]
    assert f"{typed} is taken for {meant}" in headline(answer).sentence
    assert answer.route.totals.checked_share != 1.0


@pytest.mark.parametrize("typed", ["45N050", "N4550", "95/50", "45N200W", "☂"])
def test_what_has_two_readings_or_none_is_not_placed(typed):
    assert next(point for point in assessed(typed).route.points if point.text == typed).place is None


@pytest.mark.parametrize(
    ("text", "positions", "meant"),
    [
        ("45/50", ["46N060W", "4630N04000W"], "45N050W"),
        ("45/050", ["46S060E"], "45S050E"),
        ("4530/05030", ["46N060W"], "4530N05030W"),
        ("45/50", ["46N060W", "46N010E"], ""),
        ("45/50", [], ""),
        ("4510/50", ["46N060W"], ""),
    ],
)
def test_the_hemispheres_of_a_shorthand_are_those_of_all_other_positions_or_open(text, positions, meant):
    assert read_shorthand(text, positions) == meant


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("4550N", "45N050W"),
        ("4550E", "45N050E"),
        ("4550S", "45S050E"),
        ("4550W", "45S050W"),
        ("H4550", "4530N05000W"),
        ("9550N", ""),
        ("H9050", ""),
        ("N4550", ""),
        ("45N50", ""),
    ],
)
def test_short_codes(text, meant):
    assert read_short_code(text) == meant
