"""The answer in a terminal: what was changed in a window before stands on it until it is ticked."""

import datetime as dt
import json

import pytest

from routecheck.model import Change, Claim, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.report import jsonl, text
from routecheck.settings import Settings


@pytest.mark.parametrize("form", [text.describe_route, text.describe_briefly])
@pytest.mark.parametrize("ticked", [True, False])
def test_what_was_changed_stands_on_the_sheet_until_it_is_ticked(form, ticked):
    route_input = RouteInput("LENDU DCT PIKAR", departure="XVAL", destination="XVOR")
    changed = RouteInput(
        route_input.route,
        route_input.departure,
        route_input.destination,
        changed=(Change("PIKOR", "PIKAR", 10, ticked),),
    )
    said = " ".join(form(assess(changed, demo_database(), Settings(), dt.date(2026, 12, 3))).split())
    assert ("1 word differs from what you entered: PIKOR → PIKAR. Correct it in the aircraft unit" in said) == (
        not ticked
    )


def test_the_other_version_of_a_route_is_never_passed_over():
    other = RouteInput("LENDU DCT TOVIK", "XVAL", "XVOR", claims=(Claim("NOWHR", distance_nm=10.0),))
    given = RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR", other=other)
    answer = assess(given, demo_database(), Settings(), dt.date(2026, 12, 3))
    whole, brief = (" ".join(form(answer).split()) for form in (text.describe_route, text.describe_briefly))
    for said in (whole, brief, " ".join(json.loads(jsonl.format_line(answer))["remarks"])):
        assert "Compared with another version: 1 difference." in said
        assert "Of the other version 1 value not used: claim 1." in said
    assert "TOVIK in place of PIKAR" in whole
