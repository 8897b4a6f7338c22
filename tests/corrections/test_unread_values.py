"""Proposals for values beside the text that cannot be read."""

import datetime as dt

import pytest

from routecheck.corrections.candidate import with_proposal
from routecheck.model import Assessment, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

DEMO = demo_database()


def said(route_input: RouteInput) -> Assessment:
    return assess(route_input, DEMO, Settings(), dt.date(2026, 12, 3))


@pytest.mark.parametrize(
    ("typed", "then"),
    [
        ({"level": "F35O"}, {"level": "F350"}),
        ({"speed": "N045O"}, {"speed": "N0450"}),
        ({"speed": "N045O", "level": "F35O"}, {"speed": "N0450", "level": "F350"}),
        ({"level": "F3500"}, {"level": "F350"}),
        ({"speed": "N0450", "level": "F35"}, {"level": "F350"}),
        ({"departure_runway": "O9"}, {"departure_runway": "09"}),
    ],
)
def test_a_value_unread_for_one_sign_is_offered_as_it_is_read(typed: dict[str, str], then: dict[str, str]) -> None:
    """The symptom: F35O beside the text was Wrong, and its finding offered nothing."""
    answer = said(RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR", **typed))
    found = [finding for finding in answer.findings if finding.check == "field-unread"]
    assert len(found) == len(then)
    ((proposal,),) = {finding.likely_intended for finding in found}
    assert {change.field: change.new for change in proposal.beside} == then
    assert {change.field: change.old for change in proposal.beside} == {name: typed[name] for name in then}
    made = with_proposal(answer.route.route_input, proposal)
    assert made.typed == ()
    assert {name: getattr(made, name) for name in typed} == typed | then


@pytest.mark.parametrize("typed", [{"level": "banana"}, {"level": "F35O", "off_block": "soon"}])
def test_what_no_single_error_explains_is_offered_nothing(typed: dict[str, str]) -> None:
    answer = said(RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR", typed=tuple(typed.items())))
    unread = [finding for finding in answer.findings if finding.check == "field-unread"]
    assert [finding.likely_intended for finding in unread] == [()] * len(typed)
