"""Whatever stands beside the text, the route gets its answer: any heights, runways, approaches and levels."""

import datetime as dt
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from routecheck.model import AltitudeWindow, RouteInput
from routecheck.navdata.database import NavDatabase, demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings
from routecheck.settings.sheets import shipped_sheets

DAY = dt.date(2026, 12, 3)
HEIGHTS = st.none() | st.floats(-10_000, 1_000_000) | st.sampled_from([-500.0, 0.0, 1_100.0, 11_000.0, 110_000.0])
POINTS = st.sampled_from(["LENDU", "PIKAR", "TOVIK", "SARNO", "KEBUL", "RIPAS", "HUNSA", "XVOR", "NOWHERE"])
RUNWAYS = st.sampled_from(["", "09", "27", "9", "36", "09L", "RW27", "??", "99X"])


@cache
def region() -> NavDatabase:
    return demo_database()


@given(
    windows=st.lists(st.builds(AltitudeWindow, POINTS, HEIGHTS, HEIGHTS), max_size=4).map(tuple),
    runways=st.tuples(RUNWAYS, RUNWAYS),
    approach=st.sampled_from(["", "R09", "I27", "R90", "r09 ", "-"]),
    level=st.sampled_from(["", "F350", "F035", "F999", "A100", "VFR", "M0840"]),
    sheet=st.sampled_from(["", "Medium jet", "Piston single"]),
)
@settings(max_examples=60, deadline=None)
@pytest.mark.slow
def test_any_window_runway_approach_and_level_has_an_answer(windows, runways, approach, level, sheet):
    route_input = RouteInput(
        "LENDU1 LENDU UM12 TOVIK DCT SARNO SARNO2",
        "XVAL",
        "XVOR",
        departure_runway=runways[0],
        destination_runway=runways[1],
        approach=approach,
        speed="N0450",
        level=level,
        windows=windows,
        aircraft_sheet=sheet,
    )
    answer = assess(route_input, region(), Settings(sheets=shipped_sheets()), DAY)
    assert answer.could_not_run == ()
    assert answer.route.own_mistakes == ()
    for finding in answer.findings:
        assert len(finding.likely_intended) <= 3


def test_no_speed_of_zero_is_proposed():
    """The symptom: N0400F090 is doubted for a jet, N0000 is one digit away, and its logarithm stopped the search."""
    route_input = RouteInput("N0400F090 LENDU DCT PIKAR", "XVAL", "XVOR", aircraft_sheet="Medium jet")
    answer = assess(route_input, region(), Settings(), DAY)
    assert answer.could_not_run == ()
    assert not [one for finding in answer.findings for one in finding.likely_intended if "N0000" in one.route]
