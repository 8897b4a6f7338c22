"""Published pairs of stated and true figures: what the checks of claims make of each."""

import datetime as dt
from dataclasses import replace
from itertools import accumulate

import pytest

from routecheck.checks.catalogue import collect
from routecheck.model import Claim, PlanTotals, RouteInput, Weight
from routecheck.pipeline import assess
from routecheck.settings import Settings

CLAIM_CHECKS = {check.name for check in collect() if check.family == "Claims and totals"} | {"position-disagrees"}
DAY = dt.date(2026, 12, 3)


@pytest.fixture(scope="module")
def found(demo):
    """The findings about claims of a route, by check."""

    def made(route, claims=(), *, departure="XVAL", destination="XVOR", database=demo, off_block=DAY, **given):
        route_input = RouteInput(route, departure, destination, claims=tuple(claims), off_block=off_block, **given)
        answer = assess(route_input, database, Settings(), off_block)
        return {one.check: one for one in answer.findings if one.check in CLAIM_CHECKS}

    return made


OCEAN = "57N020W 57N030W 57N040W 56N050W"
SLIP = "57N020W 57N030W 57N040W 57N050W"
PLAN = (
    Claim("57N030W", course_true_deg=274.2, distance_nm=327.9),
    Claim("57N040W", course_true_deg=274.2, distance_nm=327.9),
)
"""Forward point left at the latitude of those before, the commonest cause of gross errors by NAT Doc 007, 15.3.1 (2010
edition). Lengths and courses computed with another geodesic library: 993.3 against 983.6 NM, the last leg 337.6 NM at
263.9° against 327.9 NM at 274.2°."""
LAST = {"course_true_deg": 263.9, "distance_nm": 337.6}


def test_a_degree_of_latitude_in_the_last_point_is_seen_by_its_leg(found):
    slip = found(SLIP, [*PLAN, Claim("57N050W", **LAST)], departure="EGPF", destination="CYYR")
    assert {*slip} == {"claimed-distance", "claimed-course"}
    assert "57N040W–57N050W" in slip["claimed-distance"].message
    assert [fact.value for fact in slip["claimed-distance"].facts[:2]] == [337.6, pytest.approx(327.9, abs=0.05)]
    assert slip["claimed-course"].facts[1].value == pytest.approx(274.2, abs=0.05)


def test_and_the_plan_as_it_was_meant_is_quiet(found):
    assert found(OCEAN, [*PLAN, Claim("56N050W", **LAST)], departure="EGPF", destination="CYYR") == {}


def test_a_total_does_not_see_it(found, demo):
    """9.7 NM in 993 and the way to and from the ocean: less than 1 %."""
    answer = assess(RouteInput(OCEAN, "EGPF", "CYYR"), demo, Settings(), DAY)
    less = PlanTotals(distance_nm=round(answer.route.totals.distance_nm - 9.7, 1))
    assert found(OCEAN, departure="EGPF", destination="CYYR", stated_totals=less) == {}


TENTH = (("course_true_deg", 0.05),)


def test_two_degrees_and_six_miles_on_a_long_leg_are_seen(found):
    """Cape Hallett to the NDB, 188.9° and 337 NM, against 191° and 343 NM after the change of the plan.

    Report of the Royal Commission on the accident at Mount Erebus, 28 November 1979. What is tested is the difference
    of 2.1° and 6 NM, on a leg near it between whole degrees: 364.5 NM at 185.9°.
    """
    right = Claim("78S167E", course_true_deg=185.9, distance_nm=364.5)
    assert found("72S170E 78S167E", [right]) == {}
    changed = found("72S170E 78S167E", [replace(right, course_true_deg=188.0, distance_nm=370.5, halves=TENTH)])
    assert {"claimed-distance", "claimed-course"} <= {*changed}
    assert changed["claimed-course"].weight is Weight.DOUBTFUL  # beyond 70° of latitude


@pytest.mark.parametrize(
    ("claim", "is_in_order"),
    [  # Pilot's Handbook of Aeronautical Knowledge, FAA-H-8083-25, basic calculations
        (Claim("PIKAR", distance_nm=210.0, ground_speed_kt=140.0, time_min=90.0), True),
        (Claim("PIKAR", distance_nm=210.0, ground_speed_kt=120.0, time_min=105.0), True),
        (Claim("PIKAR", distance_nm=270.0, ground_speed_kt=90.0, time_min=180.0), True),
        (Claim("PIKAR", distance_nm=210.0, ground_speed_kt=140.0, time_min=100.0), False),
        (Claim("PIKAR", distance_nm=270.0, ground_speed_kt=90.0, time_min=108.0), False),
    ],
)
def test_speed_time_and_distance_of_the_handbook(found, claim, is_in_order):
    assert ("sums" not in found("LENDU DCT PIKAR", [claim])) is is_in_order


CUMULATIVE = {"HGR": 6.02, "KEMAR": 34.48, "EMI": 48.49, "KBWI": 72.47}
"""ICAO FF-ICE/R1 manual, Appendix E-3.7, the trajectory as FIXM 4.3 has it; the route tables have 6.12 and 48.67."""


@pytest.fixture(scope="module")
def flight(found, country):
    def made(**changed):
        claims = [Claim(name, distance_so_far_nm=nm) for name, nm in {**CUMULATIVE, **changed}.items()]
        return found(
            "N0160A050 DCT HGR V268 EMI DCT",
            claims,
            departure="KHGR",
            destination="KBWI",
            database=country,
            off_block=dt.date(2023, 2, 1),
        )

    return made


def test_the_cumulative_distances_of_the_manual_agree_with_its_trajectory(flight):
    assert "claimed-distance" not in flight()
    assert "total-distance" not in flight()


def test_the_published_cumulative_distances_are_ours_too(country):
    """72.47 NM in all; the two tables of the manual differ by up to 0.2 NM, so that 0.25 is allowed."""
    given = RouteInput("N0160A050 DCT HGR V268 EMI DCT", "KHGR", "KBWI")
    route = assess(given, country, Settings(), dt.date(2023, 2, 1)).route
    so_far = dict(
        zip(
            [point.text for point in route.points],
            accumulate((leg.distance_nm for leg in route.legs), initial=0.0),
            strict=False,
        )
    )
    for name, published in CUMULATIVE.items():
        assert so_far[name] == pytest.approx(published, abs=0.25)


def test_the_errors_of_its_route_tables_are_found(flight):
    first = flight(HGR=6.12, EMI=48.67)["claimed-distance"]
    assert first.message.startswith("The plan gives KHGR–HGR 6.12 NM; computed it is 6.02 NM.")
    assert "behind it" in first.message
    second = flight(EMI=48.67)["claimed-distance"]
    assert second.message.startswith("The plan gives KEMAR–EMI 14.19 NM; computed it is 14.0")


def test_its_reversal_at_the_first_point_is_no_error(country):
    answer = assess(
        RouteInput("N0160A050 DCT HGR V268 EMI DCT", "KHGR", "KBWI"), country, Settings(), dt.date(2023, 2, 1)
    )
    turn = answer.route.turns[1]
    assert abs(turn.turn_deg) == pytest.approx(157.5, abs=0.25)
    assert [one.check for one in answer.findings if one.weight is Weight.WRONG] == []


@pytest.mark.parametrize(
    ("stated", "cause"),
    [
        ({"course_true_deg": 113.0}, "It is the magnetic course."),
        ({"course_magnetic_deg": 91.0}, "It is the true course."),
        ({"course_true_deg": 270.5}, "It is the reciprocal: the way back."),
        ({"course_magnetic_deg": 271.0}, "It is the reciprocal of the true course."),
        ({"course_true_deg": 120.0}, ""),
    ],
)
def test_mix_ups_of_courses_are_named(found, stated, cause):
    """31S from 1°E to 3°E: 090.5° true, variation 21.9° west by the WMM2025 of the day."""
    message = found("31S001E 31S003E", [Claim("31S003E", **stated)])["claimed-course"].message
    assert message.endswith(cause or "112°M." if "course_magnetic_deg" in stated else cause or "computed it is 091°T.")


def test_the_old_alignment_of_a_station_is_no_error_and_three_degrees_beyond_it_are(found, demo):
    """V14 rests on the alignment of KEL, set years ago: its course is charted otherwise than the field lies today."""
    answer = assess(RouteInput("SOLPA V14 KEL", "XVAL", "XVOR"), demo, Settings(), DAY)
    end = next(i for i, point in enumerate(answer.route.points) if point.text == "KEL")
    leg, station = answer.route.legs[end - 1], answer.route.points[end].place
    by_alignment = (leg.course_true_deg - station.declination_deg) % 360.0
    assert abs(by_alignment - leg.course_magnetic_deg) > 3.5
    beyond = 6.0 if by_alignment > leg.course_magnetic_deg else -6.0
    for course, is_flagged in ((by_alignment, False), (by_alignment + beyond, True)):
        claims = [Claim("KEL", course_magnetic_deg=round(course, 1), halves=(("course_magnetic_deg", 0.05),))]
        assert ("claimed-course" in found("SOLPA V14 KEL", claims)) is is_flagged


def test_the_sums_of_the_plan_are_looked_at_first(found):
    """A leg printed 15.5 in place of 51.5 between sums that are right: the plan contradicts itself, not the route."""
    steps = {"31S002E": (51.5, 551.5), "31S003E": (15.5, 603.0), "31S004E": (51.5, 654.5)}
    claims = [Claim(to, distance_nm=nm, distance_so_far_nm=so_far) for to, (nm, so_far) in steps.items()]
    answer = found("31S001E 31S002E 31S003E 31S004E", claims)
    assert {*answer} == {"sums"}
