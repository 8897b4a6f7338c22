"""Places for which few can be meant: of the airway or procedure beside, a second visit, an aerodrome that is none."""

import datetime as dt

import pytest

from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()


def proposals(route, departure="XVAL", destination="XVOR"):
    answer = assess(RouteInput(route, departure, destination), DEMO, Settings(), DAY)
    return [proposal for finding in answer.findings for proposal in finding.likely_intended]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        # Two letters off, on the airway.
        ("LENDU UM12 TUVOK DCT SARNO", "LENDU UM12 TOVIK DCT SARNO"),
        # The same letters in another order.
        ("LENDU DCT RAPIK UM12 TOVIK DCT SARNO", "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"),
        # Two letters off at the end of the SID.
        ("LENDU1 LINDO UM12 TOVIK DCT SARNO SARNO2", "LENDU1 LENDU UM12 TOVIK DCT SARNO SARNO2"),
        # The same typed position twice in a row.
        ("LENDU DCT 3130S00240E 3130S00240E DCT SARNO", "LENDU DCT 3130S00240E DCT SARNO"),
        # LITTR BWG FEWWW behind BWG: a point of the route typed once more.
        ("LENDU DCT PIKAR UM12 TOVIK PIKAR DCT SARNO", "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"),
        ("LENDU DCT PIKAR UM12 TOVIK DCT PIKAR DCT SARNO", "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"),
    ],
)
def test_what_was_meant_is_proposed_first(typed, meant):
    assert proposals(typed)[0].route == meant


def test_a_change_of_level_at_a_second_visit_is_never_dropped():
    assert all("N0430F370" in one.route for one in proposals("LENDU DCT PIKAR UM12 TOVIK PIKAR/N0430F370 DCT SARNO"))


def test_two_letters_off_away_from_an_airway_or_procedure_prove_nothing():
    assert not any(one.new == "PIKAR" for one in proposals("LENDU DCT PAKER DCT SARNO"))


@pytest.mark.parametrize(("typed", "meant"), [("XVAK", "XVAL"), ("XVVL", "XVAL"), ("XVL", "XVAL")])
def test_an_aerodrome_that_is_none_is_one_letter_off_the_one_nearest_the_route(typed, meant):
    """63 of 200 had the right one proposed first."""
    first = proposals("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", departure=typed)[0]
    assert [(change.field, change.new) for change in first.beside] == [("departure", meant)]


def test_an_owner_of_the_procedure_two_letters_off_is_proposed():
    """LENDU1 is a SID of XVAL: XCVL alone would say nothing."""
    first = proposals("LENDU1 LENDU UM12 TOVIK DCT SARNO", departure="XCVL")[0]
    assert [(change.field, change.new) for change in first.beside] == [("departure", "XVAL")]
