"""Checks of procedures and runways beyond their own examples: what they say, what explains a gap, what steps aside."""

import datetime as dt

import pytest

from routecheck.checks.catalogue import collect
from routecheck.checks.runways import may_be_same_runway
from routecheck.model import Outcome, RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.procedures.wording import runway_in_approach_name
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()


def assessed(route, database=DEMO, departure="XVAL", destination="XVOR", **given):
    return assess(RouteInput(route, departure, destination, **given), database, Settings(), DAY)


def told(assessment, name):
    return [(finding.weight, finding.message) for finding in assessment.findings if finding.check == name]


def because(assessment, name):
    return [said.because for said in assessment.not_checked if said.check == name]


def test_the_family_is_complete():
    assert [check.name for check in collect() if check.family == "Procedures and runways"] == [
        "early-turn",
        "ends-differ",
        "ends-exchanged",
        "first-leg-away",
        "join-gap",
        "procedure-elsewhere",
        "runway-not-served",
        "runway-unknown",
        "runways-differ",
        "unknown-procedure",
    ]


# ---- runways


def test_a_runway_that_is_not_there_names_those_that_are():
    answer = assessed("LENDU1 LENDU DCT SARNO SARNO2", departure_runway="33", destination_runway="31")
    assert told(answer, "runway-unknown") == [
        (Weight.WRONG, "XVAL has no runway 33 in the loaded data, only 09 and 27."),
        (Weight.WRONG, "XVOR has no runway 31 in the loaded data, only 04, 09, 22 and 27."),
    ]
    assert told(answer, "runway-not-served") == []  # one cause, told once


def test_runways_that_are_not_loaded_are_not_checked():
    answer = assessed("DCT", departure="EGLL", destination="EIDW", departure_runway="09L")
    assert because(answer, "runway-unknown") == ["no runways of EGLL are loaded"]
    assert dict(answer.outcomes)["runway-unknown"] is Outcome.NOT_CHECKED


def test_a_procedure_says_which_runways_it_is_for():
    answer = assessed("XVAL/27 FINAR2 FINAR DCT SARNO")
    assert told(answer, "runway-not-served") == [
        (Weight.WRONG, "FINAR2 is not for runway 27: its branches are for 09.")
    ]


def test_a_typed_runway_is_as_good_as_one_beside_the_text():
    typed = assessed("XVAL/27 LENDU1 LENDU DCT SARNO SARNO2 XVOR/22")
    given = assessed("LENDU1 LENDU DCT SARNO SARNO2", departure_runway="27", destination_runway="22")
    assert [leg.gap for leg in typed.route.legs] == [leg.gap for leg in given.route.legs]
    assert typed.route.totals.distance_nm == given.route.totals.distance_nm
    assert told(typed, "runway-unknown") == told(given, "runway-unknown") == []


@pytest.mark.parametrize(
    ("given", "weight"),
    [
        ({"approach": "R09", "destination_runway": "27"}, Weight.WRONG),
        ({"approach": "R09", "destination_runway": "09"}, None),
        ({"approach": "R09"}, None),
    ],
)
def test_the_approach_and_the_runway_of_the_landing(given, weight):
    answer = assessed("LENDU DCT SARNO SARNO2", **given)
    assert [heavy for heavy, _ in told(answer, "runways-differ")] == ([weight] if weight else [])
    assert answer.route.own_mistakes == ()


def test_parallels_of_one_direction_are_doubtful(country):
    """FAA CIFP cycle 2301: I04R at KBOS leads to 04R."""
    other = assessed("DCT", country, "KBDL", "KBOS", approach="I04R", destination_runway="04L")
    away = assessed("DCT", country, "KBDL", "KBOS", approach="I04R", destination_runway="22L")
    assert [weight for weight, _ in told(other, "runways-differ")] == [Weight.DOUBTFUL]
    assert told(away, "runways-differ") == [
        (Weight.WRONG, "Approach I04R is for runway 04R, but 22L is stated for the landing.")
    ]


def test_an_approach_for_circling_is_asked_about_unless_it_leads_to_the_runway(country):
    """FAA CIFP cycle 2301: RNV-A of 0H1 ends at the threshold of 17."""
    answer = assessed("DCT", country, "KMHK", "0H1", approach="RNV-A", destination_runway="35")
    assert told(answer, "runways-differ") == [
        (Weight.DOUBTFUL, "Approach RNV-A is for circling; runway 35 is stated. Is that meant?")
    ]
    straight = assessed("DCT", country, "KMHK", "0H1", approach="RNV-A", destination_runway="17")
    assert told(straight, "runways-differ") == []


@pytest.mark.parametrize(
    ("name", "runway"),
    [("I27", "27"), ("R09", "09"), ("H08LY", "08L"), ("R32-Y", "32"), ("VORA", ""), ("VDM-A", ""), ("R029", "")],
)
def test_the_runway_in_an_approach_s_name(name, runway):
    """ARINC 424, 5.10; the names stand in FAA CIFP cycle 2301 or the demo region."""
    assert runway_in_approach_name(name) == runway


def test_a_missing_letter_is_no_other_runway():
    assert may_be_same_runway("12", "12L")
    assert not may_be_same_runway("12L", "12R")
    assert not may_be_same_runway("12", "30")


# ---- joints


def test_a_point_on_no_branch_is_told_with_the_transitions_there_are():
    answer = assessed("LENDU1 SEBRO DCT SARNO SARNO2")
    assert told(answer, "join-gap") == [
        (Weight.WRONG, "SEBRO is on no branch of LENDU1 that fits; its transition is PIKAR.")
    ]
    assert answer.route.totals.gaps > 0  # never closed silently


def test_a_typed_direct_leaves_open_from_where():
    answer = assessed("LENDU1 LENDU DCT HADRU DCT SARNO2")
    ((weight, message),) = told(answer, "join-gap")
    assert weight is Weight.DOUBTFUL
    assert message == (
        "HADRU is on no branch of SARNO2 that fits; its transitions are TEMGU and FELTU. DCT stands between: "
        "to which of its points?"
    )


def test_a_joint_that_nothing_names_is_not_checked():
    assert because(assessed("LENDU1"), "join-gap") == ["nothing says where LENDU1 is left"]
    assert because(assessed("XXXXX SARNO2"), "join-gap") == ["nothing says where SARNO2 is joined"]


@pytest.mark.parametrize("joins", ["LENDU1 TILBU", "LENDU1 RESKO", "LENDU1 PIKAR", "LENDU1 UM12 UVAGI"])
def test_any_point_joins(joins):
    assert told(assessed(f"{joins} DCT SARNO SARNO2"), "join-gap") == []


@pytest.mark.parametrize("runway", ["", "13"])
def test_vectors_explain_the_gap(runway, northeast):
    """FAA CIFP cycle 2301: TNNIS6 of KLGA ends with an FM leg, for vectors."""
    answer = assessed("TNNIS6 SAX J6 LRP", northeast, "KLGA", "KDCA", departure_runway=runway)
    assert told(answer, "join-gap") == []
    assert any("for vectors" in leg.gap for leg in answer.route.legs)


def test_a_procedure_without_its_number_right_is_not_also_a_gap():
    answer = assessed("LENDU7 SEBRO DCT SARNO SARNO2")
    assert told(answer, "unknown-procedure")
    assert told(answer, "join-gap") == []


# ---- the first turn


def test_the_turn_is_told_with_its_height():
    """35 ft over the end and 200 ft/NM from there: FAA AIM 5-2-9. The position is good to half a minute."""
    answer = assessed("3141S00322W DCT BALDU DCT VAL", departure_runway="09")
    ((weight, message),) = told(answer, "early-turn")
    assert weight is Weight.NOTE
    assert message.startswith("3141S00322W, 1.2 NM beyond the end of runway 09, is passed at most 380 ft above it,")


def test_without_a_runway_it_is_not_checked():
    assert because(assessed("LENDU DCT SARNO"), "early-turn") == ["no departure runway is stated"]
    assert because(assessed("LENDU1 LENDU DCT SARNO"), "early-turn") == []
