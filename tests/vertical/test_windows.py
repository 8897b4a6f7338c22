"""Windows put to points, what holds where several stand, and the room of a whole route on the demo region."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.model import AltitudeWindow, PathPoint, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings
from routecheck.vertical.room import UNBOUNDED
from routecheck.vertical.windows import (
    altitude_bounds,
    assign_windows,
    effective_bounds,
    route_room,
    unassigned_windows,
    unbroken_lengths_nm,
)

DAY = dt.date(2026, 12, 3)
POINTS = [PathPoint(text, None, None, None) for text in ("XVAL", "Lendu", "PIKAR", "TOVIK", "PIKAR")]


def test_a_window_goes_to_the_point_it_names():
    lendu, tovik = AltitudeWindow("LENDU", 9_000, None), AltitudeWindow("TOVIK", None, 12_000)
    assert assign_windows([tovik, lendu, lendu], POINTS) == ((), (lendu, lendu), (), (tovik,), ())
    assert assign_windows([], POINTS) == ()


def test_a_window_that_belongs_to_no_point_or_to_several_is_said():
    lost, twice = AltitudeWindow("KEBUL", 9_000, None), AltitudeWindow("PIKAR", 9_000, None)
    assert assign_windows([lost, twice], POINTS) == ((),) * 5
    assert [why for _, why in unassigned_windows([lost, twice], POINTS)] == [
        "the route has no such point",
        "the route goes by PIKAR 2 times",
    ]
    assert list(unassigned_windows([], POINTS)) == []


CODED = AltitudeWindow("A", 9_000, 12_000, "SARNO2")


@pytest.mark.parametrize(
    ("windows", "holds"),
    [
        ([], UNBOUNDED),
        ([CODED], (9_000, 12_000)),
        ([AltitudeWindow("A", 10_000, None)], (10_000, None)),
        ([CODED, AltitudeWindow("A", 10_000, None)], (10_000, 12_000)),
        ([CODED, AltitudeWindow("A", 13_000, None)], (13_000, None)),  # they contradict: what was stated holds
        ([AltitudeWindow("A", 12_000, 9_000)], UNBOUNDED),  # upside down: a finding of its own
        ([AltitudeWindow("A", 12_000, 9_000, "SARNO2")], UNBOUNDED),
        ([CODED, AltitudeWindow("A", 12_000, 9_000)], (9_000, 12_000)),
        ([AltitudeWindow("A", 5_000, None), AltitudeWindow("A", None, 4_000)], UNBOUNDED),
    ],
)
def test_what_holds_where_several_windows_stand(windows, holds):
    assert effective_bounds(windows) == holds


HEIGHTS = st.none() | st.floats(0, 45_000)
ANY = st.lists(st.builds(AltitudeWindow, st.just("A"), HEIGHTS, HEIGHTS, st.sampled_from(["", "SARNO2"])), max_size=4)


@given(ANY)
def test_what_is_stated_is_never_upside_down(windows):
    stated = [window for window in windows if window.typed]
    low, high = effective_bounds(stated)
    assert low is None or high is None or low <= high


def reckoned(route, *windows, sheet="Medium jet", **ends):
    route_input = RouteInput(
        route, **({"departure": "XVAL", "destination": "XVOR"} | ends), windows=windows, aircraft_sheet=sheet
    )
    return assess(route_input, demo_database(), Settings(), DAY).route


def test_the_room_of_a_route_begins_and_ends_at_the_fields():
    """XVAL lies at 184 ft, XVOR at 321 ft; the sheet climbs 550 and descends 450 ft/NM at most."""
    route = reckoned("LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS", AltitudeWindow("RIPAS", 9_000, 12_000))
    bands = route_room(route).bands
    assert bands[0] == (184, 184)
    assert bands[-1] == (321, 321)
    assert bands[-2] == (9_000, 12_000)
    assert bands[-3] == (
        pytest.approx(9_000 - 550 * route.legs[-2].distance_nm),
        pytest.approx(12_000 + 450 * route.legs[-2].distance_nm),
    )


def test_without_a_sheet_there_is_no_room_to_show():
    assert route_room(reckoned("LENDU DCT PIKAR", sheet="")) is None


def test_no_elevation_is_taken_from_a_navaid_or_made_up():
    route = reckoned("KEL", departure="", destination="")
    assert altitude_bounds(route) == [UNBOUNDED] * len(route.points)
    assert altitude_bounds(reckoned("DCT", destination="KJFK"))[-1] == UNBOUNDED


def test_a_gap_lets_any_height_follow():
    route = reckoned(
        "LENDU DCT NOSUCH DCT PIKAR", AltitudeWindow("LENDU", 30_000, None), AltitudeWindow("PIKAR", None, 1_000)
    )
    room = route_room(route)
    assert room.conflicts == ()
    assert None not in room.bands


def test_behind_a_holding_any_height_may_follow():
    """As over SLI before S30 of KLGB: what is lost in the holding is not known."""
    windows = AltitudeWindow("KEBUL", 16_000, None), AltitudeWindow("RIPAS", None, 6_000)
    route = reckoned("LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS", *windows)
    assert len(route_room(route).conflicts) == 1
    points = [replace(p, note="holding at KEBUL once") if p.text == "KEBUL" else p for p in route.points]
    held = replace(route, points=tuple(points))
    assert route_room(held).conflicts == ()
    assert [n is None for n in unbroken_lengths_nm(held)] == [p.text == "KEBUL" for p in held.points[:-1]]
