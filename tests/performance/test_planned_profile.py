"""The planned profile of a route: as its windows let it be flown, the same for times, Leg table and Side view."""

import datetime as dt
from dataclasses import replace

import pytest

from routecheck.model import AltitudeWindow, RouteInput
from routecheck.performance.planned_profile import planned_altitudes
from routecheck.performance.times import route_times
from routecheck.pipeline import assess
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
PLAIN = RouteInput(
    "LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS",
    "XVAL",
    "XVOR",
    speed="N0450",
    level="F350",
    aircraft_sheet="Medium jet",
)
LOW_EARLY = replace(PLAIN, windows=(AltitudeWindow("SARNO", None, 20_000.0),))


def flown(route_input, demo):
    return assess(route_input, demo, Settings(), DAY).route


def test_times_are_those_of_the_profile_that_is_shown(demo):
    """Down to FL200 at SARNO and level there, 100 NM earlier than by the plain plan: slower, and more fuel."""
    plain, low = flown(PLAIN, demo), flown(LOW_EARLY, demo)
    sarno = next(i for i, point in enumerate(low.points) if point.text == "SARNO")
    assert planned_altitudes(low)[sarno] == pytest.approx(20_000.0)
    assert planned_altitudes(plain)[sarno] > 30_000.0
    before, after = route_times(plain), route_times(low)
    assert after.minutes > before.minutes
    assert after.profile.altitude_at(sum(leg.distance_nm for leg in low.legs[:sarno])) == pytest.approx(20_000.0)
    assert any("within the altitude windows" in note for note in after.notes)
    assert not any("within the altitude windows" in note for note in before.notes)


def test_without_a_sheet_or_a_level_nothing_is_planned(demo):
    for route_input in (replace(PLAIN, aircraft_sheet=""), replace(PLAIN, level="", speed="")):
        assert set(planned_altitudes(flown(route_input, demo))) == {None}


def test_the_plan_begins_and_ends_at_the_fields(demo):
    route = flown(LOW_EARLY, demo)
    ends = [route.points[i].place.elevation_ft for i in (0, -1)]
    assert [planned_altitudes(route)[i] for i in (0, -1)] == pytest.approx(ends)
