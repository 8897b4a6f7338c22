"""One rule for data that is not for the day of the route, and the words of European flight plans."""

import datetime as dt

import pytest

from routecheck.model import RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

DEMO = demo_database()
IN_CYCLE, LATER = dt.date(2026, 12, 3), dt.date(2027, 5, 6)


def weights(route, check, day):
    answer = assess(RouteInput(route, "XVAL", "XVOR"), DEMO, Settings(), day)
    return {finding.weight for finding in answer.findings if finding.check == check}


@pytest.mark.parametrize(
    ("check", "route", "weight"),
    [
        ("unknown-name", "LENDU DCT ZZZZZ DCT TOVIK", Weight.WRONG),
        ("unknown-airway", "LENDU UM99 TOVIK", Weight.WRONG),
        ("off-airway", "LENDU UM12 PIKOR DCT SARNO", Weight.WRONG),
        ("unknown-procedure", "LENDU DCT SARNO MEKOT2", Weight.WRONG),
        ("unknown-procedure", "LENDU7 LENDU UM12 TOVIK", Weight.DOUBTFUL),
    ],
)
def test_what_contradicts_data_for_other_days_is_a_note(check, route, weight):
    assert weights(route, check, IN_CYCLE) == {weight}
    assert weights(route, check, LATER) == {Weight.NOTE}


def test_a_likely_correction_stays_on_the_list_then():
    route = RouteInput("LENDU DCT PIKER DCT UVAGI DCT SARNO", "XVAL", "XVOR")
    (best,) = (one for one in assess(route, DEMO, Settings(), LATER).findings if one.check == "best-edit")
    assert best.weight is Weight.DOUBTFUL
    assert [proposal.new for proposal in best.likely_intended] == ["PIKAR"]


def test_an_aerodrome_is_looked_up_in_the_world_list_too_which_has_no_cycle():
    answer = assess(RouteInput("LENDU DCT PIKAR", "XVQZ", "XVOR"), DEMO, Settings(), LATER)
    assert Weight.WRONG in {finding.weight for finding in answer.findings if finding.check == "unknown-name"}


@pytest.mark.parametrize("word", ["STAY1/0030", "OAT", "GAT", "IFPSTOP", "IFPSTART"])
def test_european_words_are_named_and_not_checked(word):
    answer = assess(RouteInput(f"LENDU UM12 TOVIK {word} DCT SARNO", "XVAL", "XVOR"), DEMO, Settings(), IN_CYCLE)
    assert answer.findings == ()
    assert f"{word} is a word of European flight plans" in " ".join(one.because for one in answer.not_checked)
    assert answer.route.totals.gaps == 0
