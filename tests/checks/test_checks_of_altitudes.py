"""Checks of altitudes beyond their own examples: own and typical sheets, coded windows, what cannot be judged."""

import datetime as dt
import time
from dataclasses import replace

import pytest

from routecheck.checks.altitude_queries import departure_and_arrival
from routecheck.checks.catalogue import collect
from routecheck.checks.preconditions import NO_WINDOWS
from routecheck.checks.runner import run_checks
from routecheck.model import AircraftSheet, AltitudeWindow, Outcome, RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()
OWN = AircraftSheet("Ours", greatest_climb_ft_nm=500, greatest_descent_ft_nm=450, ceiling_ft=39_000)
SETTINGS = replace(Settings(), sheets=(OWN, *Settings().sheets))
ROUTE = "N0450F350 LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS"
ALTITUDES = [check.name for check in collect() if check.family == "Altitudes"]


def assessed(route=ROUTE, *windows, sheet="Ours", **given):
    ends = {"departure": "XVAL", "destination": "XVOR"}
    route_input = RouteInput(route, **(ends | given), windows=windows, aircraft_sheet=sheet)
    return assess(route_input, DEMO, SETTINGS, DAY)


def found(assessment, name):
    return [finding for finding in assessment.findings if finding.check == name]


def because(assessment, name):
    return [said.because for said in assessment.not_checked if said.check == name]


STEEP = AltitudeWindow("KEBUL", 15_000, None), AltitudeWindow("RIPAS", None, 6_000)
EMPTY = AltitudeWindow("KEBUL", 16_000, None), AltitudeWindow("RIPAS", None, 6_000)


# ---- whose sheet it is


@pytest.mark.parametrize(("sheet", "weight"), [("Ours", Weight.WRONG), ("Medium jet", Weight.DOUBTFUL)])
def test_a_typical_sheet_makes_nothing_wrong(sheet, weight):
    conflict = assessed(ROUTE, *EMPTY, sheet=sheet)
    climb = assessed(ROUTE, AltitudeWindow("KEBUL", None, 9_000), AltitudeWindow("RIPAS", 10_000, None), sheet=sheet)
    high = assessed(ROUTE.replace("F350", "F430"), sheet=sheet)
    assert [f.weight for f in found(conflict, "windows-conflict")] == [weight]
    assert [f.weight for f in found(climb, "climb-in-arrival")] == [weight]
    assert [f.weight for f in found(high, "above-ceiling")] == [weight]


def test_a_level_of_no_table_is_still_wrong_above_the_ceiling():
    answer = assessed(ROUTE.replace("F350", "F420"))
    weights = {f.check: f.weight for f in answer.findings if f.check in ("level-unknown", "above-ceiling")}
    assert weights == {"above-ceiling": Weight.WRONG, "level-unknown": Weight.DOUBTFUL}


def test_the_first_two_are_wrong_whatever_the_sheet():
    upside_down = assessed(ROUTE, AltitudeWindow("KEBUL", 12_000, 9_000), sheet="")
    below = assessed(ROUTE, AltitudeWindow("RIPAS", None, 100), sheet="")
    assert [f.weight for f in found(upside_down, "window-upside-down")] == [Weight.WRONG]
    assert [f.weight for f in found(below, "window-error")] == [Weight.WRONG]


def test_against_a_field_it_is_never_wrong():
    """RIPAS lies 47.6 NM before XVOR: 25,000 ft would need 518 ft/NM in a straight line."""
    (finding,) = found(assessed(ROUTE, AltitudeWindow("RIPAS", 25_000, None)), "windows-conflict")
    assert finding.weight is Weight.DOUBTFUL
    assert finding.points == (7, 8)


# ---- what they say


def test_the_pair_and_its_gradient_are_said():
    (finding,) = found(assessed(ROUTE, *EMPTY), "windows-conflict")
    assert finding.message == (
        "KEBUL at or above 16,000 ft, then RIPAS at or below 6,000 ft 18.4 NM later: needs 544 ft/NM down; this "
        "sheet's steepest is 450."
    )
    assert {fact.name: fact.value for fact in finding.facts} == {
        "first": 16_000,
        "then": 6_000,
        "distance": 18.4,
        "needed": 544,
    }


def test_one_cause_one_finding():
    answer = assessed(ROUTE, *EMPTY)
    assert found(answer, "steep") == []
    assert because(answer, "steep") == ["explained by windows-conflict"]


def test_a_window_ten_times_too_high_does_not_hide_that_it_is_above_the_ceiling():
    mistyped = assessed(
        ROUTE,
        AltitudeWindow("SARNO", 20_000, None),
        AltitudeWindow("KEBUL", 160_000, None),
        AltitudeWindow("RIPAS", 12_000, None),
    )
    weights = {f.check: f.weight for f in mistyped.findings if f.check in ALTITUDES}
    assert weights == {"above-ceiling": Weight.WRONG, "window-error": Weight.DOUBTFUL}


@pytest.mark.parametrize(
    ("lowest", "weight"), [(12_000, None), (12_200, Weight.NOTE), (13_200, Weight.NOTE), (13_500, Weight.DOUBTFUL)]
)
def test_steep_by_its_two_limits(lowest, weight):
    """18.37 NM at 330 ft/NM are 6,063 ft, at 400 ft/NM 7,349 ft."""
    answer = assessed(ROUTE, AltitudeWindow("KEBUL", lowest, None), AltitudeWindow("RIPAS", None, 6_000))
    assert [f.weight for f in found(answer, "steep")] == ([weight] if weight else [])


def test_steep_judges_descents_without_a_sheet_and_says_so():
    answer = assessed(ROUTE, *STEEP, sheet="")
    assert len(found(answer, "steep")) == 1
    assert because(answer, "steep") == ["climbs: no Aircraft sheet is chosen"]


# ---- rounding of what was typed


def test_positions_in_minutes_leave_a_doubt():
    """Half a minute at each end: 10 NM may be 11, which is enough for 4,900 ft at 450 ft/NM, but not for 5,500."""
    near = "N0450F350 31S001E 3100S00200E 3110S00200E 31S004E"
    first, then = AltitudeWindow("3100S00200E", 10_000, None), AltitudeWindow("3110S00200E", None, 5_100)
    sure = AltitudeWindow("3110S00200E", None, 4_500)
    assert found(assessed(near, first, then), "windows-conflict") == []
    assert len(found(assessed(near, first, sure), "windows-conflict")) == 1


# ---- coded windows


def with_coded(*coded, stated=()):
    route = assessed(ROUTE, *stated).route
    windows = list(route.windows) or [()] * len(route.points)
    for window in coded:
        index = next(i for i, point in enumerate(route.points) if point.text == window.point)
        windows[index] = (*windows[index], window)
    return run_checks(replace(route, windows=tuple(windows)), collect(), {})


CODED = AltitudeWindow("KEBUL", 16_000, None, "SARNO2"), AltitudeWindow("RIPAS", None, 6_000, "SARNO2")


def test_one_procedure_by_itself_is_believed():
    answer = with_coded(*CODED)
    assert [f for f in answer.findings if f.check in ALTITUDES] == []
    assert dict(answer.outcomes)["windows-conflict"] is Outcome.NOTHING_FOUND


def test_a_procedure_is_believed_against_the_field():
    """XVOR lies 47.6 NM behind RIPAS: 30,000 ft there is too high for 450 ft/NM, but what a procedure codes stands."""
    high = AltitudeWindow("RIPAS", 30_000, None, "SARNO2")
    assert found(with_coded(high), "windows-conflict") == []
    assert len(found(with_coded(replace(high, procedure="")), "windows-conflict")) == 1


def test_a_procedure_is_believed_where_another_asks_for_no_more():
    """As DUNNN5 of KAPA, 463 ft/NM to the XBEEE at which the approach begins at the same altitude."""
    for low, high in ((None, 6_000), (3_000, None), (None, 7_000)):
        wider = AltitudeWindow("RIPAS", low, high, "I09")
        expected = 1 if (low, high) == (3_000, None) else 0
        assert len(found(with_coded(*CODED, wider), "windows-conflict")) == expected
    assert len(found(with_coded(*CODED, AltitudeWindow("RIPAS", None, 5_900, "I09")), "windows-conflict")) == 1
    assert found(with_coded(*CODED, stated=(AltitudeWindow("RIPAS", None, 6_000),)), "windows-conflict") == []


def test_two_procedures_or_a_stated_window_are_questioned():
    other = replace(CODED[1], procedure="TIBOK1")
    assert len(found(with_coded(CODED[0], other), "windows-conflict")) == 1
    stated = AltitudeWindow("RIPAS", None, 6_000)
    assert len(found(with_coded(CODED[0], stated=(stated,)), "windows-conflict")) == 1


@pytest.mark.parametrize(
    ("feet", "said"),
    [
        (61_000, "RIPAS at 61,000 ft is the coded 16,000 ft with two digits exchanged."),
        (160_000, "RIPAS at 160,000 ft is ten times the coded 16,000 ft."),
        (1_600, "RIPAS at 1,600 ft is a tenth of the coded 16,000 ft."),
        (160, "RIPAS at 160 ft is below the field, 184 ft."),
        (15_000, None),
        (16_000, None),
    ],
)
def test_a_stated_altitude_against_the_coded_one(feet, said):
    stated = AltitudeWindow("RIPAS", feet, feet)
    answer = with_coded(AltitudeWindow("RIPAS", 16_000, None, "SARNO2"), stated=(stated,))
    assert [f.message for f in found(answer, "window-error")] == ([said] if said else [])


# ---- where arrival and departure lie


def test_the_arrival_goes_by_the_filed_level():
    """FL350 takes 105 NM: KEBUL (66 NM before XVOR) is arrival, SARNO (109 NM) is not; LENDU (101 NM) is departure."""
    route = assessed().route
    assert departure_and_arrival(route) == (1, 6)
    assert departure_and_arrival(assessed(ROUTE.replace("F350", "F370")).route) == (1, 5)
    assert departure_and_arrival(assessed(ROUTE.removeprefix("N0450F350 ")).route) is None


def test_a_star_is_arrival_whatever_the_level():
    route = assessed("LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2").route
    assert departure_and_arrival(route)[1] <= len(route.points) - 2


def test_on_a_short_way_the_middle_divides():
    """210 NM: FL390 takes 117 NM of them at either end, past both points, which are 95 NM from the nearer aerodrome."""
    route = assessed("N0450F390 3053S00149W 3042S00129W", destination="XVKE").route
    whole, out, back = sum(leg.distance_nm for leg in route.legs), route.legs[0].distance_nm, route.legs[2].distance_nm
    assert whole / 3 < min(out, back) < max(out, back) < whole / 2 < whole - max(out, back) < 39_000 * 3 / 1000
    assert departure_and_arrival(route) == (1, 2)


# ---- what cannot be judged is said


NO_SHEET = "no Aircraft sheet is chosen"


@pytest.mark.parametrize(
    ("given", "name", "why"),
    [
        ({}, "windows-conflict", NO_WINDOWS),
        ({}, "steep", NO_WINDOWS),
        ({}, "window-error", NO_WINDOWS),
        ({}, "window-upside-down", NO_WINDOWS),
        ({}, "climb-in-arrival", NO_WINDOWS),
        ({}, "descent-in-departure", NO_WINDOWS),
        ({"sheet": ""}, "above-ceiling", NO_SHEET),
        ({"sheet": ""}, "level-never-reached", NO_SHEET),
        ({"sheet": "Balloon"}, "above-ceiling", "there is no Aircraft sheet “Balloon”"),
        ({"route": "LENDU DCT PIKAR"}, "above-ceiling", "no level is filed"),
        ({"route": "LENDU DCT PIKAR"}, "level-never-reached", "no level is filed"),
        ({"route": "LENDU DCT PIKAR"}, "level-for-direction", "no level is filed that the tables"),
        ({"route": "LENDU DCT PIKAR"}, "speed-limit", "no speed and level are filed"),
        ({"route": "N0350A080 DCT"}, "speed-limit", "the limit below 10,000 ft goes by the class of airspace"),
        ({"route": "N0450F350 LENDU DCT NOSUCH"}, "level-never-reached", "part of the route has no known length"),
        ({"route": "N0450F350 DCT", "destination": "KJFK"}, "level-never-reached", "no elevation is known for KJFK"),
        (
            {"route": "N0450F350 88N010E 88N040E", "departure": "", "destination": ""},
            "level-for-direction",
            "no magnetic",
        ),
    ],
)
def test_what_is_missing_is_said(given, name, why):
    answer = assessed(**given)
    assert dict(answer.outcomes)[name] is Outcome.NOT_CHECKED
    assert any(said.startswith(why) for said in because(answer, name)), because(answer, name)


@pytest.mark.parametrize("name", ["windows-conflict", "steep", "window-error", "climb-in-arrival"])
def test_a_window_at_no_point_of_the_route_is_said(name):
    answer = assessed(ROUTE, AltitudeWindow("GORVE", 9_000, None))
    assert "the altitude window stated for GORVE: the route has no such point" in because(answer, name)


def test_windows_without_a_sheet_or_a_level_are_not_judged():
    answer = assessed("LENDU DCT PIKAR", AltitudeWindow("LENDU", 9_000, None), sheet="")
    assert because(answer, "windows-conflict") == [NO_SHEET]
    assert because(answer, "climb-in-arrival") == [
        "neither a STAR nor a level is filed: where the arrival begins is not known"
    ]
    assert len(because(answer, "descent-in-departure")) == 1


def test_a_sheet_that_is_not_there_is_said_with_the_result():
    (unused,) = assessed(sheet="Balloon").not_used
    assert unused.sentence.startswith(
        "Not used: the Aircraft sheet “Balloon”; there is none of that name, only Ours, Piston"
    )


# ---- levels and directions: ICAO Annex 2, Appendix 3, as restated in SERA (EU) No 923/2012, Appendix 3

EAST = [10, 30, 50, 270, 290, 310, 330, 350, 370, 390, 410, 450, 490]
WEST = [20, 40, 280, 300, 320, 340, 360, 380, 400, 430, 470, 510]
EAST_VFR, WEST_VFR = [35, 55, 195], [45, 65, 185]


@pytest.mark.parametrize("level", [*EAST, *WEST, *EAST_VFR, *WEST_VFR])
def test_every_level_of_the_table_has_its_direction(level):
    check = next(c for c in collect() if c.name == "level-for-direction")
    eastward = assessed(f"N0450F{level:03d} 31S001E 31S004E 31S006E", sheet="")
    westward = assessed(f"N0450F{level:03d} 31S006E 31S004E 31S001E", sheet="", departure="XVOR", destination="XVAL")
    is_east = level in (*EAST, *EAST_VFR)
    assert bool(run_checks(eastward.route, [check], {}).findings) == (not is_east)
    assert bool(run_checks(westward.route, [check], {}).findings) == is_east


@pytest.mark.parametrize(("track", "half"), [(179.4, 1), (180.0, 2), (359.4, 2), (0.0, 1)])
def test_the_border_between_the_halves(track, half):
    """Magnetic 179.x is east, 180.0 west, 359.x west, 000 east. With the margin of 2° they count for neither."""
    check = next(c for c in collect() if c.name == "level-for-direction")
    route = assessed("N0450F350 31S001E 31S004E").route
    legs = tuple(replace(leg, course_magnetic_deg=track, end_course_magnetic_deg=track) for leg in route.legs)
    turned = replace(route, legs=legs)
    exact = run_checks(turned, [check], {"level-for-direction": {"margin_deg": 0.0 if track % 180 else -1.0}})
    assert bool(exact.findings) == (half == 2)
    assert not run_checks(turned, [check], {}).findings


def test_another_states_division_can_be_set():
    """Northbound level for the half 270–089: switched by one limit."""
    check = next(c for c in collect() if c.name == "level-for-direction")
    route = assessed("N0450F360 31S001E 31S004E 31S006E").route
    assert run_checks(route, [check], {}).findings
    assert not run_checks(route, [check], {"level-for-direction": {"first_half_from_deg": 180.0}}).findings


# ---- many windows


def test_five_hundred_windows_are_answered_quickly():
    points = [f"{31 + i // 60 % 5:02d}{i % 60:02d}S{i // 300:03d}{i % 60:02d}E" for i in range(500)]
    windows = [AltitudeWindow(point, 9_000 + 10 * i, None) for i, point in enumerate(points)]
    route = assessed(f"N0450F350 {' '.join(points)}", *windows).route
    checks = [check for check in collect() if check.family == "Altitudes"]
    start = time.perf_counter()
    answer = run_checks(route, checks, {})
    assert time.perf_counter() - start < 1.0
    assert answer.could_not_run == ()


# ---- coded speeds


def test_a_coded_limit_is_held_against_what_is_filed_where_it_is_in_force():
    """SARNO2 of the demo region: at most 210 kt from TAMPU on."""
    fast = assessed("HUNSA DCT TAMPU/N0300A060 SARNO2", destination_runway="09")
    (finding,) = found(fast, "speed-limit")
    assert finding.weight is Weight.NOTE
    assert finding.message == ("N0300 at 6,000 ft is about 276 kt indicated; SARNO2 allows 210 kt from TAMPU on.")
    for quiet in ("HUNSA DCT TAMPU/N0225A060 SARNO2", "N0450F350 HUNSA DCT SARNO SARNO2"):
        assert found(assessed(quiet, destination_runway="09"), "speed-limit") == []


@pytest.mark.parametrize("change", ["N0300F999", "N9999A060", "M999F350", "K9999S9999"])
def test_a_speed_and_level_that_nobody_flies_bring_nothing_down(change):
    answer = assessed(f"HUNSA DCT TAMPU/{change} SARNO2", destination_runway="09")
    assert answer.could_not_run == ()
