"""What a plan states of its legs speaks for one correction and against another."""

import datetime as dt

import pytest

from routecheck.model import Claim, RouteInput
from routecheck.pipeline import assess
from routecheck.settings import Settings

TYPED = "LENDU DCT PIKOR DCT UVAGI"
FITS = (Claim("PIKOR", distance_nm=94.0), Claim("UVAGI", distance_nm=87.6))
"""The lengths of LENDU–PIKAR–UVAGI beside a PIKOR that was typed for PIKAR."""


@pytest.fixture(scope="module")
def proposals(demo):
    def made(claims):
        answer = assess(RouteInput(TYPED, "XVAL", "XVOR", claims=claims), demo, Settings(), dt.date(2026, 12, 3))
        return {one.new: one for finding in answer.findings for one in finding.likely_intended}

    return made


def test_legs_that_fit_the_plan_then_are_said(proposals):
    assert "; 2 legs then have the length that the plan states;" in proposals(FITS)["PIKAR"].why


def test_without_claims_nothing_is_said_of_them(proposals):
    assert "the plan states" not in proposals(())["PIKAR"].why


def test_what_the_plan_states_goes_with_the_name(demo):
    answer = assess(RouteInput(TYPED, "XVAL", "XVOR", claims=FITS), demo, Settings(), dt.date(2026, 12, 3))
    proposal = next(one for finding in answer.findings for one in finding.likely_intended if one.new == "PIKAR")
    assert {"claimed-distance", "best-edit"} & {*proposal.clears}


def test_a_plan_that_means_the_point_as_typed_keeps_it(demo):
    """The plan gives the lengths of the route as typed: the dogleg is meant, or the plan has the same error."""
    plain = assess(RouteInput(TYPED, "XVAL", "XVOR"), demo, Settings(), dt.date(2026, 12, 3)).route
    claims = tuple(
        Claim(point.text, distance_nm=round(leg.distance_nm, 1))
        for leg, point in zip(plain.legs, plain.points[1:], strict=True)
    )
    answer = assess(RouteInput(TYPED, "XVAL", "XVOR", claims=claims), demo, Settings(), dt.date(2026, 12, 3))
    assert all("the plan states" not in one.why for finding in answer.findings for one in finding.likely_intended)
