"""Speeds and levels of a wrong size: what explains what, which times rest on them, and what is filed every day."""

import datetime as dt
from dataclasses import replace

import pytest

from routecheck.checks.altitudes.level_size import level_size
from routecheck.model import RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.performance.times import route_times
from routecheck.pipeline import assess
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()
ROUTE = "LENDU DCT PIKAR DCT SARNO"
SIZES = ("speed-size", "level-size")
USUAL = [
    *[(f"N0{kt}", f"F{level}") for kt in (430, 460, 490) for level in (280, 350, 410)],
    *[(mach, f"F{level}") for mach in ("M074", "M080", "M086") for level in (280, 350, 410)],
    *[(f"N0{kt}", f"F{level}") for kt in (250, 290, 330) for level in (180, 230, 270)],
    *[(f"N0{kt}", f"A{level:03d}") for kt in (100, 150, 200) for level in (40, 80, 120)],
]


def assessed(route, database=DEMO, **beside):
    route_input = RouteInput(route, **({"departure": "XVAL", "destination": "XVOR"} | beside))
    return assess(route_input, database, Settings(), DAY)


def said(answer, *checks):
    return [(finding.check, finding.weight) for finding in answer.findings if finding.check in checks]


def first_proposal(answer, check):
    return next(finding for finding in answer.findings if finding.check == check).likely_intended[0]


@pytest.mark.parametrize("speed", ["M820", "N4500", "N9999", "N0045", "N0145"])
def test_a_speed_that_no_aircraft_flies_is_wrong_and_gives_no_time(speed):
    """N0045F350 passed and took 68 hours and 174,000 kg of fuel."""
    answer = assessed(f"{speed}F350 {ROUTE}", aircraft_sheet="Medium jet")
    assert said(answer, *SIZES) == [("speed-size", Weight.WRONG)]
    times = route_times(answer.route)
    assert times.minutes is times.fuel_kg is None
    assert any("no time is computed from it" in note for note in times.notes)


@pytest.mark.parametrize(
    ("typed", "meant", "check"),
    [
        ("N0045F350", "N0450F350", "speed-size"),
        ("N4500F350", "N0450F350", "speed-size"),
        ("N0540F350", "N0450F350", "speed-size"),
        ("M820F330", "M082F330", "speed-size"),
        ("N0830F350", "K0830F350", "speed-size"),
        ("K0450F350", "N0450F350", "speed-size"),
        ("N0450F035", "N0450F350", "level-size"),
        ("N0450F530", "N0450F350", "level-size"),
        ("N0450F3500", "N0450F350", "speed-or-level-form"),
        ("N4500F3500", "N0450F350", "speed-or-level-form"),
        ("N0250F170", "N0250A170", "level-unknown"),
        ("N0450A350", "N0450F350", "level-unknown"),
    ],
)
def test_what_was_meant_is_proposed(typed, meant, check):
    answer = assessed(f"{typed} {ROUTE}")
    assert first_proposal(answer, check).route == f"{meant} {ROUTE}"


def test_a_level_of_no_table_is_no_altitude_above_every_transition_altitude():
    """FL301 had no proposal: A301 was thought as likely as F310."""
    answer = assessed("N0450F301 LENDU DCT PIKAR DCT SARNO", departure="EDDF", destination="EDDM")
    assert first_proposal(answer, "level-unknown").new == "N0450F310"


def test_what_was_meant_is_proposed_beside_the_text_too():
    answer = assessed(ROUTE, speed="N0045", level="F350")
    (change,) = first_proposal(answer, "speed-size").beside
    assert (change.field, change.old, change.new) == ("speed", "N0045", "N0450")


def test_the_sheet_says_what_is_unusual():
    slow = f"N0340F350 {ROUTE}"
    assert said(assessed(slow), *SIZES) == []
    assert said(assessed(slow, aircraft_sheet="Medium jet"), *SIZES) == [("speed-size", Weight.DOUBTFUL)]


def test_a_speed_explains_what_follows_from_it_on_every_leg():
    short = "31S000E 31S002E 31S004E 31S005E 3102S00505E 33S005E 33S006E"
    assert said(assessed(f"N0480F350 {short}"), "leg-too-short")
    answer = assessed(f"N0830F350 {short}")
    assert not said(answer, "leg-too-short")
    assert "speed-size" in {one.explained_by for one in answer.not_checked if one.check == "leg-too-short"}


def test_a_level_beside_the_text_explains_what_follows_from_it():
    answer = assessed(ROUTE, speed="N0450", level="F035")
    assert said(answer, "level-size", "level-unknown") == [("level-size", Weight.DOUBTFUL)]


@pytest.mark.parametrize("level", ["S9990", "A999", "F000", "F005", "F990"])
def test_a_level_that_no_aircraft_flies_is_wrong(level):
    assert said(assessed(f"N0430{level} {ROUTE}"), "level-size") == [("level-size", Weight.WRONG)]


@pytest.mark.parametrize("climb", ["F350F290", "F290F290", "F290A350"])
def test_a_cruise_climb_that_does_not_go_up_is_wrong(climb):
    answer = assessed(f"N0450F290 LENDU DCT C/PIKAR/M082{climb} SARNO")
    assert ("level-size", Weight.WRONG) in said(answer, "level-size")


def test_an_altitude_below_the_field_is_wrong():
    place = DEMO.airport("XVAL")
    assert place is not None
    answer = assessed(f"N0120A060 {ROUTE}")
    high = replace(answer.route.points[0], place=replace(place, elevation_ft=6_500.0))
    route = replace(answer.route, points=(high, *answer.route.points[1:]))
    assert [finding.weight for finding in level_size.function(route, level_size.defaults)] == [Weight.WRONG]


def test_where_the_transition_altitude_is_not_known_no_letter_is_doubted():
    assert not said(assessed("N0250F170 LENDU DCT PIKAR", departure="", destination=""), "level-unknown")


@pytest.mark.parametrize(("speed", "level"), USUAL)
def test_what_is_filed_every_day_stays_quiet(speed, level):
    assert said(assessed(f"{speed}{level} {ROUTE}"), *SIZES) == []


def test_a_level_that_is_not_flown_is_not_called_missing():
    """With a sheet FL990 gave “no level is filed”."""
    times = route_times(assessed(f"N0450F990 {ROUTE}", aircraft_sheet="Medium jet").route)
    assert not any("no level is filed" in note for note in times.notes)
