"""Limits that the user sets for a check hold in the corrections too; the day is the route's."""

import datetime as dt

import pytest

from routecheck.checks.airways.off_airway import AHEAD, FURTHER
from routecheck.corrections import aerodrome_edits
from routecheck.corrections.scoring import AS_SHIPPED, CLEAR_GAP, Thresholds
from routecheck.entry_errors.kinds import WORTH_SAYING
from routecheck.model import RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

DEMO = demo_database()
DAY = dt.date(2026, 12, 3)


def said(route, changed, departure="XVAL", destination="XVOR", date=None):
    return assess(RouteInput(route, departure, destination, off_block=date), DEMO, Settings(changed), DAY)


def offered(answer):
    return {proposal.new for finding in answer.findings for proposal in finding.likely_intended}


def test_as_shipped_they_are_the_defaults_of_the_checks():
    assert Thresholds(WORTH_SAYING, AHEAD.default, FURTHER.default) == AS_SHIPPED
    assert AS_SHIPPED.least_gain == pytest.approx(WORTH_SAYING - CLEAR_GAP)


@pytest.mark.parametrize("changed", [{"ahead_deg": 0.0}, {"further_nm": 1.0}])
def test_an_airway_that_may_have_been_shortened_is_left_as_the_limits_of_off_airway_say(changed):
    """ANDOS lies ahead beyond the end of J30: as shipped the airway may have led there once."""
    exits = {"LAMPO", "ORO", "RENDA"}
    as_shipped, strict = (said("DUL J30 ANDOS", limits) for limits in ({}, {"off-airway": changed}))
    assert {f.weight for f in as_shipped.findings if f.check == "off-airway"} == {Weight.DOUBTFUL}
    assert {f.weight for f in strict.findings if f.check == "off-airway"} == {Weight.WRONG}
    assert not exits & offered(as_shipped)
    assert exits <= offered(strict)


def test_what_a_correction_must_win_is_the_limit_of_best_edit():
    """UVAGI for SEBRO wins 0.6, PIKAR for PIKOR 30."""
    little, much = "PIKAR M12 SEBRO DCT OSDEK UM12 DUL", "LENDU DCT PIKOR UM12 TOVIK DCT SARNO"
    assert "UVAGI" in offered(said(little, {}))
    for gain in (5.0, 20.0):
        dear = {"best-edit": {"gain": gain}}
        assert said(little, dear).route.best_edits == ()
        assert offered(said(little, dear)) == set()
        assert "PIKAR" in offered(said(much, dear))
    clean = "33S002W 33S000E 33S002E 33S004E 33S006E"
    cheap = [edit.corrections[0].gain for edit in said(clean, {"best-edit": {"gain": -5.0}}).route.best_edits]
    assert said(clean, {}).route.best_edits == ()
    assert cheap
    assert all(-5.0 - CLEAR_GAP < gain < WORTH_SAYING for gain in cheap)


@pytest.mark.parametrize("date", [None, dt.date(2027, 5, 6)])
def test_another_aerodrome_is_judged_as_the_route_reads_with_it_on_the_day_of_the_route(monkeypatch, date):
    days, real = [], aerodrome_edits.resolve

    def noted(parsed, database, day):
        days.append(day)
        return real(parsed, database, day)

    monkeypatch.setattr(aerodrome_edits, "resolve", noted)
    assert "destination XVSU" in offered(said("ORO J30 NUBEL DCT SOR", {}, "XVOR", "XVDU", date))
    assert set(days) == {date or DAY}
