"""Time and fuel against published problems, against a fine sum of our own, and what is said where nothing is known."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import air
from routecheck.model import AircraftSheet, PathPoint, Place, PlaceKind, Wind
from routecheck.performance.times import NO_WIND, FlownLeg, WindGiven, Winds, compute_times
from routecheck.reading.route_file import read_route_file, write_route_file
from routecheck.settings import shipped_sheets
from routecheck.vertical.profile import plan_profile

CALM = Winds.from_stated([Wind(0.0, 0.0)])
JET = next(sheet for sheet in shipped_sheets() if sheet.name == "Medium jet")


def field(text, elevation_ft):
    return PathPoint(text, None, Place(text, 0.0, 0.0, PlaceKind.AIRPORT, elevation_ft=elevation_ft), 0)


WEST, EAST = field("XVAL", 100.0), field("XVOR", 400.0)


def leg(distance, speed="", level="", course=90.0):
    return FlownLeg(
        distance_nm=distance, course_deg=course, end_course_deg=course, speed=speed, level=level, least_nm=distance
    )


def times(*legs, sheet=None, winds=CALM, deviation=0.0, start=WEST, end=EAST):
    return compute_times(legs, sheet, winds, deviation, start, end)


# ---- published problems: PHAK FAA-H-8083-25, "Basic Calculations" (the fuel figures of the fourth from memory), and a
# dead-reckoning leaflet of the 1940s (its own pencil answers: 330 gal for 332.5, 95 gal/h for 94.3).

PHAK = [(210, "N0140", 90), (210, "N0120", 105), (270, "N0090", 180), (400, "N0100", 240)]


@pytest.mark.parametrize(("distance", "speed", "minutes"), PHAK)
def test_distance_over_speed_is_time(distance, speed, minutes):
    assert times(leg(distance, speed)).minutes == pytest.approx(minutes, abs=0.005)


LEAFLET = [(3.5, 95, 332.5), (2.875, 80, 230), (145 / 60, 94.3, 228)]


@pytest.mark.parametrize(("hours", "flow", "fuel"), [(4, 5, 20), *LEAFLET])
def test_time_at_a_flow_is_fuel(hours, flow, fuel):
    """Gallons there, kilograms here: the sum is the same."""
    sheet = AircraftSheet("own", cruise_fuel_kg_h=flow)
    assert times(leg(100 * hours, "N0100"), sheet=sheet).fuel_kg == pytest.approx(fuel, abs=0.5)


def test_a_wind_makes_the_printed_ground_speed():
    """PHAK Figure 15-21: course 090, 120 kt, wind 045/40: 88 kt."""
    found = times(leg(88, "N0120", course=90.0), winds=Winds.from_stated([Wind(45, 40)]))
    assert found.minutes == pytest.approx(60, abs=0.4)
    assert found.legs[0].ground_speed_kt == pytest.approx(88, abs=0.5)
    assert found.legs[0].tas_kt == pytest.approx(120)


# ---- speeds as filed


@pytest.mark.parametrize(
    ("speed", "level", "tas"),
    [
        ("N0450", "F350", 450),
        ("K0830", "F350", 830 / 1.852),
        ("M082", "F350", 0.82 * 576.4),
        ("M082", "S1067", 0.82 * 576.4),
    ],
)
def test_speeds_of_every_form(speed, level, tas):
    assert times(leg(100, speed, level)).legs[0].tas_kt == pytest.approx(tas, abs=0.05)


def test_warm_air_quickens_a_mach_number_and_nothing_else():
    for speed, quicker in (("M082", True), ("N0450", False)):
        warm, standard = (times(leg(500, speed, "F350"), deviation=d).minutes for d in (10.0, 0.0))
        assert (warm < standard - 0.5) == quicker


def test_without_a_filed_speed_that_of_the_sheet_is_taken_and_said():
    found = times(leg(450), sheet=replace(JET, usual_climb_ft_nm=None))
    assert found.minutes == pytest.approx(60)
    assert "no speed is known: that of the sheet “Medium jet” is taken" in found.notes


@pytest.mark.parametrize(
    "given", [leg(100), leg(100, "M082"), leg(100, "N0000"), leg(100, "rubbish"), leg(100, "M082", "F990")]
)
def test_without_any_speed_there_is_no_time(given):
    found = times(given)
    assert found.legs == (None,)
    assert (found.minutes, found.fuel_kg, found.gaps) == (None, None, 1)
    assert not found.may_be_compared


# ---- wind


def test_no_wind_is_not_calm():
    found = times(leg(450, "N0450"), winds=Winds())
    assert found.minutes == pytest.approx(60)
    assert NO_WIND in found.notes
    assert found.wind is WindGiven.NOWHERE
    assert not found.may_be_compared
    calm = times(leg(450, "N0450"))
    assert NO_WIND not in calm.notes
    assert calm.may_be_compared


def test_wind_by_level_is_taken_in_proportion():
    winds = Winds.from_stated([Wind(270, 100, "F390"), Wind(270, 20, "F180"), Wind(270, 60, "F340")])
    speeds = [winds.wind_at(0, feet).speed_kt for feet in (5_000, 18_000, 26_000, 34_000, 36_500, 45_000)]
    assert speeds == pytest.approx([20, 20, 40, 60, 80, 100])


def test_winds_turn_by_components_through_north():
    middle = Winds.from_stated([Wind(350, 40, "F100"), Wind(10, 40, "F200")]).wind_at(0, 15_000)
    assert (middle.from_deg_true + 180) % 360 == pytest.approx(180)
    assert middle.speed_kt == pytest.approx(40 * 0.98480775)


def test_a_wind_of_a_leg_goes_first():
    winds = Winds(by_level=((0.0, Wind(270, 50)),), by_leg=(Wind(90, 50), None))
    assert [winds.wind_at(n, None).from_deg_true for n in (0, 1, 2)] == [90, 270, 270]
    eastward = times(leg(400, "N0450"), leg(500, "N0450"), winds=winds)
    assert [part.ground_speed_kt for part in eastward.legs] == pytest.approx([400, 500])


def test_a_wind_of_a_leg_is_named_by_the_point_at_its_end():
    winds = Winds.from_stated([Wind(90, 50, to="B"), Wind(80, 40, to="X")], ["A", "b", "C"])
    assert [winds.wind_at(n, None) for n in range(3)] == [None, Wind(90, 50, to="B"), None]
    found = times(leg(100, "N0450"), leg(100, "N0450"), leg(100, "N0450"), winds=winds)
    assert found.wind is WindGiven.IN_PART
    assert found.notes[-2:] == (
        "the wind to X is not used: no leg ends there",
        "wind given on 1 of 3 legs: elsewhere ground speed is true airspeed",
    )


def test_warmer_air_is_told_with_the_times_and_read_from_a_route_file():
    assert "air 10 °C warmer than standard" in times(leg(500, "M080", "F350"), deviation=10.0).notes
    assert not any("standard" in note for note in times(leg(500, "M080", "F350")).notes)
    route_input = read_route_file('route = "A"\nisa_deviation_c = -5\n', "f")
    assert route_input.isa_deviation_c == -5.0
    assert "isa_deviation_c = -5\n" in write_route_file(route_input)
    assert "a number from -60 to 60" in read_route_file('route = "A"\nisa_deviation_c = 90\n', "f").not_used[0].because


def test_winds_on_some_legs_only_are_not_a_wind_given():
    assert Winds(by_leg=(Wind(90, 50), None)).given_on(2) is WindGiven.IN_PART
    assert Winds().given_on(1) is WindGiven.NOWHERE
    assert Winds(by_leg=(Wind(90, 50), Wind(90, 50))).given_on(2) is WindGiven.EVERYWHERE


def test_a_level_that_is_none_has_no_wind():
    assert Winds.from_stated([Wind(90, 50, "high")]) == Winds()


def test_a_wind_stronger_than_the_aircraft_is_said():
    found = times(leg(100, "N0060", course=360.0), winds=Winds.from_stated([Wind(360, 80)]))
    assert found.legs == (None,)
    assert "the wind given lets no way be made on some leg" in found.notes


def test_on_a_long_leg_the_course_turns():
    """From north-east to south-east in a west wind: a little less tail wind than due east all the way."""
    turning = FlownLeg(distance_nm=2_000, course_deg=45.0, end_course_deg=135.0, speed="N0450", level="F350")
    found = times(turning, winds=Winds.from_stated([Wind(270, 50)])).legs[0]
    one_by_one = [air.wind_triangle(45 + 90 * (i + 0.5) / 1_000, 450, Wind(270, 50)) for i in range(1_000)]
    assert found.minutes == pytest.approx(sum(2 * 60 / triangle.ground_speed_kt for triangle in one_by_one), rel=1e-4)
    assert 490 < found.ground_speed_kt < 496
    through_north = FlownLeg(distance_nm=1_000, course_deg=350.0, end_course_deg=10.0, speed="N0450", level="F350")
    found = times(through_north, winds=Winds.from_stated([Wind(360, 50)])).legs[0]
    assert found.ground_speed_kt == pytest.approx(400, abs=0.5)


@pytest.mark.parametrize(("course", "end_course"), [(0.0, 90.0), (90.0, 0.0), (350.0, 80.0)])
def test_wind_meets_each_slice_at_its_middle(course, end_course):
    """The course turns one way, so that taking it at either end of each slice would add up, slice after slice."""
    wind, miles = Wind(270, 100), 2_000
    turning = FlownLeg(distance_nm=miles, course_deg=course, end_course_deg=end_course, speed="N0450", level="F350")
    found = times(turning, winds=Winds.from_stated([wind])).legs[0]
    turned = (end_course - course + 180.0) % 360.0 - 180.0
    courses = [course + turned * (mile + 0.5) / miles for mile in range(miles)]
    fine = sum(60.0 / air.wind_triangle(one % 360.0, 450, wind).ground_speed_kt for one in courses)
    assert found.minutes == pytest.approx(fine, rel=1e-4)


# ---- climb, level flight, descent


def test_climb_and_descent_from_field_to_field():
    own = AircraftSheet("own", usual_climb_ft_nm=300, usual_descent_ft_nm=310)
    plan = plan_profile([100, 300, 100], [35_000.0] * 3, own, WEST, EAST)
    profile = plan.profile
    assert profile.breaks[0] == (0.0, 100.0)
    assert profile.breaks[-1] == (500.0, 400.0)
    assert profile.altitude_at(50) == pytest.approx(100 + 300 * 50)
    assert profile.altitude_at(34_900 / 300) == pytest.approx(35_000)
    assert profile.altitude_at(500 - 34_600 / 310) == pytest.approx(35_000)
    assert profile.altitude_at(450) == pytest.approx(400 + 310 * 50)
    assert plan.notes == ("climb 300 and descent 310 ft/NM by the sheet “own”",)


def test_a_step_begins_where_it_is_filed():
    own = AircraftSheet("own", usual_climb_ft_nm=200, usual_descent_ft_nm=300)
    profile = plan_profile([300, 300, 300], [31_000.0, 35_000.0, 33_000.0], own, WEST, EAST).profile
    assert profile.altitude_at(300) == pytest.approx(31_000)
    assert profile.altitude_at(320) == pytest.approx(35_000)
    assert profile.altitude_at(600) == pytest.approx(35_000)
    assert profile.altitude_at(603) == pytest.approx(34_100)
    assert profile.altitude_at(610) == pytest.approx(33_000)


def test_a_short_flight_never_reaches_its_level():
    own = AircraftSheet("own", usual_climb_ft_nm=300, usual_descent_ft_nm=300)
    profile = plan_profile([60.0], [35_000.0], own, field("A", 0.0), field("B", 0.0)).profile
    assert profile.breaks == ((0.0, 0.0), (30.0, 9_000.0), (60.0, 0.0))


def test_unknown_levels_keep_the_one_before_and_unknown_fields_are_said():
    own = AircraftSheet("own", usual_climb_ft_nm=300, usual_descent_ft_nm=300)
    nowhere = field("EGLL", None)
    plan = plan_profile([300.0, 300.0], [None, 30_000.0], own, nowhere, field("XVBAD", 99_999.0))
    profile = plan.profile
    assert profile.altitude_at(299) == 30_000
    assert profile.altitude_at(0) == 0
    assert plan.unknown_elevations == (
        "no elevation of EGLL is known: counted from sea level",
        "no elevation of XVBAD is known: counted from sea level",
    )


@pytest.mark.parametrize(
    ("sheet", "level", "note"),
    [
        (None, "F350", "no Aircraft sheet: climb and descent are not counted"),
        (AircraftSheet("own"), "F350", "the sheet “own” has no usual gradients: climb and descent are not counted"),
        (JET, "VFR", "no level to climb to is known: climb and descent are not counted"),
        (JET, "F990", "no civil aircraft flies at the filed level: climb and descent are not counted"),
    ],
)
def test_without_a_ground_for_climb_and_descent_that_is_said(sheet, level, note):
    found = times(leg(450, "N0450", level), sheet=sheet)
    assert note in found.notes
    assert found.minutes == pytest.approx(60)
    assert (found.begins, found.ends) == ("overhead XVAL at level", "overhead XVOR at level")


def test_the_total_says_where_it_begins_and_ends():
    found = times(leg(300, "N0450", "F350"), leg(300, "N0450", "F350"), sheet=JET)
    assert (found.begins, found.ends) == ("take-off at XVAL", "landing at XVOR")
    assert found.minutes == pytest.approx(sum(part.minutes for part in found.legs))
    assert found.fuel_kg == pytest.approx(sum(part.fuel_kg for part in found.legs))
    assert any("typical figures" in note for note in found.notes)


def test_climb_and_descent_against_a_fine_sum():
    """Every tenth of a mile by itself: speed of the sheet at that height, wind at that height."""
    winds = Winds.from_stated([Wind(250, 10, "F050"), Wind(280, 90, "F350")])
    found = times(leg(150, "N0450", "F350"), leg(250, "N0450", "F350"), sheet=JET, winds=winds)
    minutes = fuel = 0.0
    for tenth in range(4_000):
        height = found.profile.altitude_at(tenth / 10 + 0.05)
        change = found.profile.altitude_at(tenth / 10 + 0.1) - found.profile.altitude_at(tenth / 10)
        cas, mach, flow = (JET.climb_cas_kt, JET.climb_mach, JET.climb_fuel_kg_h)
        if change < -1:
            cas, mach, flow = (JET.descent_cas_kt, JET.descent_mach, JET.descent_fuel_kg_h)
        cas = min(cas, 250.0) if height < 10_000.0 else cas  # 14 CFR 91.117
        tas = min(450.0, air.cas_to_tas_kt(cas, height), air.mach_to_tas_kt(mach, height))
        if abs(change) <= 1:
            tas, flow = 450.0, JET.cruise_fuel_kg_h
        ground = air.wind_triangle(90.0, tas, winds.wind_at(0, height)).ground_speed_kt
        minutes += 6.0 / ground
        fuel += 0.1 / ground * flow
    assert found.minutes == pytest.approx(minutes, rel=0.001)
    assert found.fuel_kg == pytest.approx(fuel, rel=0.001)


def test_a_sheet_without_one_flow_gives_no_fuel():
    found = times(leg(400, "N0450", "F350"), sheet=replace(JET, climb_fuel_kg_h=None))
    assert found.minutes is not None
    assert found.fuel_kg is None


# ---- gaps and nothing at all


def test_a_gap_has_no_time_and_the_rest_is_at_least():
    gap = FlownLeg(distance_nm=None, course_deg=None, end_course_deg=None, speed="N0450", level="F350", least_nm=40.0)
    found = times(gap, leg(450, "N0450", "F350"), FlownLeg(distance_nm=None, course_deg=None, end_course_deg=None))
    assert found.legs[0] is None
    assert found.minutes == pytest.approx(60)
    assert found.gaps == 2
    assert not found.may_be_compared


def test_a_leg_without_length_takes_no_time():
    found = times(leg(0.0, "N0450", "F350"), leg(450, "N0450", "F350"), sheet=JET)
    assert found.legs[0].minutes == 0.0
    assert found.legs[0].ground_speed_kt is None
    assert found.gaps == 0


def test_no_legs_at_all():
    assert times(sheet=JET).minutes is None


# ---- properties

SHEETS = st.sampled_from([None, *shipped_sheets()])
LEGS = st.lists(
    st.builds(
        FlownLeg,
        distance_nm=st.none() | st.floats(0, 3_000),
        course_deg=st.none() | st.floats(0, 360),
        end_course_deg=st.none() | st.floats(0, 360),
        speed=st.sampled_from(["", "N0450", "M082", "K0830", "N0000", "N0010"]),
        level=st.sampled_from(["", "F350", "A045", "VFR", "S1130", "F999", "M0840"]),
        least_nm=st.none() | st.floats(0, 3_000),
    ),
    max_size=6,
)
WINDS = st.lists(
    st.builds(Wind, st.floats(0, 360), st.floats(0, 200), st.sampled_from(["", "F100", "F350"])), max_size=3
).map(Winds.from_stated)
FIELDS = st.sampled_from(
    [WEST, EAST, field("C", None), field("D", 14_000.0), PathPoint("E", None, None, 0, why="unplaced")]
)


@given(LEGS, SHEETS, WINDS, st.floats(-30, 30), FIELDS, FIELDS)
def test_whatever_is_given_sums_hold_and_nothing_is_below_zero(legs, sheet, winds, deviation, start, end):
    found = compute_times(legs, sheet, winds, deviation, start, end)
    assert len(found.legs) == len(legs)
    known = [part for part in found.legs if part is not None]
    assert found.gaps == len(legs) - len(known)
    for part in known:
        assert part.minutes >= 0
        assert part.fuel_kg is None or part.fuel_kg >= 0
    if known:
        assert found.minutes == pytest.approx(sum(part.minutes for part in known))
    if found.profile:
        distances = [d for d, _ in found.profile.breaks]
        assert distances == sorted(distances)
        for (d0, h0), (d1, h1) in pairwise(found.profile.breaks):
            gradients = max(sheet.usual_climb_ft_nm, sheet.usual_descent_ft_nm)
            assert abs(h1 - h0) <= gradients * (d1 - d0) + 0.01


@given(st.lists(st.floats(0.5, 400), min_size=1, max_size=5), st.floats(0.1, 0.9))
def test_cutting_a_leg_in_two_changes_no_time(lengths, share):
    whole = [leg(length, "N0450", "F350") for length in lengths]
    cut = [leg(lengths[0] * share, "N0450", "F350"), leg(lengths[0] * (1 - share), "N0450", "F350"), *whole[1:]]
    one, other = (times(*legs, sheet=JET, winds=Winds.from_stated([Wind(200, 60)])) for legs in (whole, cut))
    assert one.minutes == pytest.approx(other.minutes, rel=0.002)
    assert one.fuel_kg == pytest.approx(other.fuel_kg, rel=0.002)
