"""What a proposal changes beside the text, in the result line: which value, what stands there, what would."""

import datetime as dt
import json

import pytest

from routecheck.model import AltitudeWindow, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.report import jsonl
from routecheck.settings import Settings

WHOLE = "LENDU1 LENDU UM12 TOVIK DCT SARNO SARNO2"


def offered(route_input: RouteInput) -> list[dict]:
    answer = assess(route_input, demo_database(), Settings(), dt.date(2026, 12, 3))
    result = json.loads(jsonl.format_line(answer))
    return [offer for finding in result["findings"] for offer in finding["likely_intended"]]


@pytest.mark.parametrize(
    ("route_input", "edit", "beside"),
    [
        (
            RouteInput("ULDET1 ULDET DCT SARNO", "XVAL", "XVOR", departure_runway="09"),
            None,
            [{"field": "departure_runway", "point": None, "old": "09", "new": "27"}],
        ),
        (
            RouteInput(WHOLE, "XVAL", "XVOR", level="F350", windows=(AltitudeWindow("KEBUL", 1_100.0),)),
            None,
            [{"field": "window", "point": "KEBUL", "old": [1_100.0, None], "new": [11_000.0, None]}],
        ),
        (RouteInput("XVAL/09 ULDET1 ULDET DCT SARNO", "XVAL", "XVOR"), [5, 7, "27"], []),
        (
            RouteInput("XVAL/09 ULDET1 ULDET DCT SARNO", "XVAL", "XVOR", departure_runway="RW09"),
            [5, 7, "27"],
            [{"field": "departure_runway", "point": None, "old": "09", "new": "27"}],
        ),
    ],
)
def test_what_changes_stands_with_its_name(route_input, edit, beside):
    (offer,) = offered(route_input)
    assert (offer["edit"], offer["beside"]) == (edit, beside)


def test_both_ends_are_two_values():
    offers = offered(RouteInput("LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS", "XVOR", "XVAL"))
    assert {"field": "departure", "point": None, "old": "XVOR", "new": "XVAL"} in offers[0]["beside"]
    assert {"field": "destination", "point": None, "old": "XVAL", "new": "XVOR"} in offers[0]["beside"]
