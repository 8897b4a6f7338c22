"""The runner: what a check asks of a route beforehand changes nothing in what it says, and brings nobody down."""

import datetime as dt
from dataclasses import replace

import pytest

from routecheck.checks.catalogue import collect
from routecheck.checks.runner import run_checks
from routecheck.model import AltitudeWindow, Outcome, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

ALL = collect()
ENTRIES = [
    RouteInput("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", "XVAL", "XVOR"),
    RouteInput("N0450F350 LENDU DCT PIKOR UM12 TOVIK VFR DCT SARNO", "XVAL", "XVOR", rules="I"),
    RouteInput("LENDU1 LENDU UM13 UVAGI DCT SARNO SARNO2", "XVAL", "XVOR", departure_runway="09"),
    RouteInput(
        "31S000E 31S002E 3175S00400E T 31S006E", "XVAL", "XVOR", windows=(AltitudeWindow("31S002E", 9_000, 8_000),)
    ),
    RouteInput("", "", ""),
]


def route_of(route_input):
    return assess(route_input, demo_database(), Settings(), dt.date(2026, 12, 3)).route


@pytest.mark.parametrize("route_input", ENTRIES)
def test_what_is_said_beforehand_is_what_each_check_says_by_itself(route_input):
    """One check alone with nothing asked beforehand but by itself, against all of them together."""
    route = route_of(route_input)
    together = run_checks(route, ALL, {})
    for place, check in enumerate(ALL):
        lacking = [why for need in check.requires if (why := need(route))]
        there = check.applies_to is None or check.applies_to(route)
        expected = []
        if there and not lacking:
            alone = run_checks(route, [replace(check, applies_to=None, requires=())], {})
            expected = [n.because for n in alone.not_checked]
            assert bool(alone.findings) or together.outcomes[place][1] is not Outcome.FINDINGS
        elif there:
            expected = lacking[:1]
            assert together.outcomes[place] == (check.name, Outcome.NOT_CHECKED)
        else:
            assert together.outcomes[place] == (check.name, Outcome.NOTHING_FOUND)
        said = [n.because for n in together.not_checked if n.check == check.name and not n.explained_by]
        assert said == expected


@pytest.mark.parametrize("route_input", ENTRIES)
def test_a_check_that_finds_nothing_to_look_at_would_have_found_nothing(route_input):
    route = route_of(route_input)
    idle = [check for check in ALL if check.applies_to and not check.applies_to(route) and check.name != "unread-row"]
    assert idle
    for check in idle:
        answer = run_checks(route, [replace(check, applies_to=None)], {})
        assert not answer.findings
        assert not answer.could_not_run


def test_what_is_not_checked_stands_in_the_order_of_the_catalogue():
    order = {check.name: place for place, check in enumerate(ALL)}
    for route_input in ENTRIES:
        places = [order[told.check] for told in run_checks(route_of(route_input), ALL, {}).not_checked]
        assert places == sorted(places)


def test_a_question_that_raises_brings_down_those_alone_who_ask_it():
    def broken(route):
        raise ZeroDivisionError("told")

    asking = {"dogleg", "best-edit"}
    checks = [replace(c, applies_to=broken) if c.name in asking else c for c in ALL]
    route = route_of(ENTRIES[0])
    answer, sound = run_checks(route, checks, {}), run_checks(route, ALL, {})
    assert answer.could_not_run == (("best-edit", "ZeroDivisionError: told"), ("dogleg", "ZeroDivisionError: told"))
    assert [(n, o) for n, o in answer.outcomes if n not in asking] == [
        (n, o) for n, o in sound.outcomes if n not in asking
    ]
    assert answer.not_checked == tuple(n for n in sound.not_checked if n.check not in asking)
