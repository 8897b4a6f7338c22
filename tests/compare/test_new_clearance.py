"""A clearance put into the route in hand: what it says is put where it belongs, what it does not say is said."""

import datetime as dt
from dataclasses import replace

import pytest

from routecheck.compare.new_clearance import put_in_clearance, sentences_of
from routecheck.model import DifferenceKind, Load, Role, RouteInput
from routecheck.pipeline import assess
from routecheck.settings import Settings

FILED = RouteInput(
    "N0430F350 LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2",
    "XVAL",
    "XVOR",
    role=Role.FILED,
    departure_runway="09",
)


@pytest.fixture(scope="module")
def put_in(demo):
    assessment = assess(FILED, demo, Settings(), dt.date(2026, 12, 3))
    return lambda text: put_in_clearance(assessment.route, text)


SPLICED = [
    ("Cleared direct TOVIK, then as filed", "N0430F350 LENDU1 LENDU DCT TOVIK DCT SARNO SARNO2"),
    ("direct UVAGI", "N0430F350 LENDU1 LENDU DCT UVAGI UM12 TOVIK DCT SARNO SARNO2"),
    ("LENDU2 departure, then as filed", "N0430F350 LENDU2 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2"),
    ("SARNO3 arrival", "N0430F350 LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO3"),
    ("cleared as filed, climb FL370", "N0430F370 LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2"),
    ("LENDU2 departure, PIKAR transition, then as filed", "N0430F350 LENDU2 PIKAR UM12 TOVIK DCT SARNO SARNO2"),
    ("cleared to XVOR via LENDU DCT SARNO then as filed", "N0430F350 LENDU1 LENDU DCT SARNO SARNO2"),
]


@pytest.mark.parametrize(("text", "route"), SPLICED)
def test_it_is_put_where_it_belongs(put_in, text, route):
    version = put_in(text).version
    assert (version.route, version.role, version.other) == (route, Role.CLEARED, FILED)


def test_what_was_not_said_is_said(put_in):
    assert put_in("direct UVAGI").notes[1:] == (
        "What follows UVAGI was not said: it is kept as it was.",
        "No longer on the route: PIKAR.",
    )
    assert put_in("cleared direct KEPOR").notes[-1].startswith("The route as cleared ends at KEPOR: nothing is kept")


def test_where_the_rest_begins_is_never_guessed(put_in):
    new = put_in("cleared direct KEPOR, then as filed")
    assert new.version is None
    assert "cannot be known where the rest as filed begins" in new.fault


def test_what_is_no_clearance_is_none(put_in):
    assert put_in("good morning").version is None


def test_hold_and_expect_further_clearance_are_said_to_be_unread(put_in):
    new = put_in("LENDU2 departure then as filed, hold at LENDU, expect further clearance 1230")
    assert [one.label for one in new.version.not_used] == [
        "“hold at LENDU, expect further clearance 1230” of the clearance"
    ]
    assert list(sentences_of(new))[-1] == (
        "Not read: “hold at LENDU, expect further clearance 1230”. Look at it yourself."
    )


def test_level_runway_and_first_altitude(put_in):
    version = put_in("departure runway 27, climb and maintain 5,000, expect FL370").version
    assert (version.departure_runway, version.first_altitude) == ("27", "A050")
    assert version.route.startswith("N0430F370 ")


def test_it_is_a_comparison_with_the_version_before(put_in, demo):
    version = put_in("Cleared direct UVAGI, then as filed").version
    comparison = assess(version, demo, Settings(), dt.date(2026, 12, 3)).comparison
    extra = [one.second for one in comparison.differences if one.kind is DifferenceKind.EXTRA]
    assert extra == [("PIKAR",)]


def test_another_weight_is_a_difference(demo):
    one, other = (replace(FILED, load=Load("kg", zero_fuel_weight=kg)) for kg in (55_000.0, 45_000.0))
    comparison = assess(replace(one, other=other), demo, Settings(), dt.date(2026, 12, 3)).comparison
    (difference,) = comparison.differences
    assert (difference.kind, difference.first, difference.second) == (DifferenceKind.LOAD, ("55,000",), ("45,000",))
