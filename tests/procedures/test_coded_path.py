"""Coded legs come to a path: what is fixed has a length, what is not has a cause, and nothing is joined in silence.

What each leg type fixes on the map: AIXM 5.1, CodeSegmentPathType, and public descriptions of ARINC 424.
"""

import math
from itertools import pairwise

import pytest
from hand_coded import FIELD, STATION, THRESHOLD, A, B, C, D, apart_nm, common, leg, off, runway, sid, star

from routecheck.earth import geo
from routecheck.model import AltitudeLimits, CodedLeg, LegType, Place, ProcedurePath, SpeedLimit
from routecheck.procedures.flown_procedure import trace_procedure
from routecheck.procedures.wording import describe_leg

NO_FIXED_END = {
    "CA": leg("CA", course_deg=91.0, window=AltitudeLimits(700.0, None)),
    "VA": leg("VA", course_deg=91.0, window=AltitudeLimits(700.0, None)),
    "FA": leg("FA", A, course_deg=91.0, window=AltitudeLimits(700.0, None)),
    "CI": leg("CI", course_deg=91.0),
    "VI": leg("VI", course_deg=91.0),
    "VM": leg("VM", course_deg=91.0),
    "FM": leg("FM", A, course_deg=91.0),
    "VD": leg("VD", course_deg=91.0, distance_nm=9.0, navaid=STATION, navaid_ident="ZQV"),
    "VR": leg("VR", course_deg=91.0, theta_deg=154.0, navaid=STATION, navaid_ident="ZQV"),
    "CR": leg("CR", course_deg=91.0, theta_deg=154.0, navaid=STATION, navaid_ident="ZQV"),
}
HOLDS = {
    "HA": leg("HA", A, course_deg=91.0, window=AltitudeLimits(4_000.0, None)),
    "HF": leg("HF", A, course_deg=91.0, distance_nm=4.0),
    "HM": leg("HM", A, course_deg=91.0, time_min=1.0),
}


def path(*legs: CodedLeg) -> ProcedurePath:
    return trace_procedure(sid(common(*legs)))


def gaps(found: ProcedurePath) -> list[str]:
    return [one.gap for one in found.legs]


# Legs without a fixed end


@pytest.mark.parametrize("leg_type", NO_FIXED_END)
@pytest.mark.parametrize("ending", ["DF", "CF", "TF", "IF"])
def test_a_leg_without_a_fixed_end_is_a_gap_to_the_next_fix(leg_type: str, ending: str) -> None:
    found = path(leg("IF", A), NO_FIXED_END[leg_type], leg(ending, B, course_deg=110.0))
    assert [p.name for p in found.points] == ["ALPHZ", "BRAVZ"]
    (gap,) = found.legs
    assert (gap.distance_nm, gap.course_deg, gap.end_course_deg, gap.shape) == (None, None, None, ())
    assert gap.gap.startswith("not fixed on the map: ")
    assert "BRAVZ" in gap.gap
    assert [coded.type for coded in gap.coded] == [leg_type, ending]


def test_several_of_them_are_one_gap_with_all_its_causes() -> None:
    legs = (NO_FIXED_END["VA"], NO_FIXED_END["VM"], leg("DF", B))
    assert gaps(path(leg("IF", A), *legs)) == [
        "not fixed on the map: heading 091°M to 700 ft, then heading 091°M for vectors, then direct to BRAVZ"
    ]


@pytest.mark.parametrize("before", [(), (NO_FIXED_END["VA"], NO_FIXED_END["VM"]), (leg("IF", A), NO_FIXED_END["FM"])])
def test_a_transition_by_vectors_does_not_lead_from_the_airport(before: tuple[CodedLeg, ...]) -> None:
    """As SFO4 of KSFO: heading for vectors, then "IF KSFO, DF CCR" stands for vectors to CCR."""
    found = path(*before, leg("IF", FIELD), leg("DF", B))
    assert [p.name for p in found.points] == (["ALPHZ", "BRAVZ"] if before and before[0].fix else ["BRAVZ"])
    gap = found.legs[0] if found.legs else found.before
    assert gap is not None
    assert gap.distance_nm is None
    assert gap.gap.endswith("direct to BRAVZ")
    assert "XVZZ" not in gap.gap


def test_a_departure_that_comes_back_over_the_join_is_left_there_the_second_time() -> None:
    """As LEDVE1 of KCEZ, CATH1 of KPSP and 18 others in cycle 2301: over the navaid, out, back and on."""
    there = leg("IF", A), leg("TF", B), leg("TF", A, window=AltitudeLimits(9_800.0, None))
    found = trace_procedure(sid(common(*there)), None, "ALPHZ")
    assert [p.name for p in found.points] == ["ALPHZ", "BRAVZ", "ALPHZ"]
    assert found.points[-1].window == AltitudeLimits(9_800.0, None)
    assert (found.joined, found.after) == (True, None)
    arrival = trace_procedure(star(common(*there)), None, "ALPHZ")
    assert [p.name for p in arrival.points] == ["ALPHZ", "BRAVZ", "ALPHZ"]


def test_what_follows_the_gap_is_fixed_again() -> None:
    found = path(leg("IF", A), NO_FIXED_END["VI"], leg("CF", B, course_deg=1.0), leg("TF", C))
    assert found.legs[0].distance_nm is None
    assert found.legs[1].distance_nm == pytest.approx(apart_nm(B, C), abs=1e-6)


def test_at_the_runway_and_at_the_end_they_are_the_gaps_before_and_after() -> None:
    found = path(NO_FIXED_END["VA"], leg("DF", A), leg("TF", B), NO_FIXED_END["VM"])
    assert [p.name for p in found.points] == ["ALPHZ", "BRAVZ"]
    assert found.before is not None
    assert found.before.gap == "not fixed on the map: heading 091°M to 700 ft, then direct to ALPHZ"
    assert [coded.type for coded in found.before.coded] == ["VA", "DF"]
    arrival = trace_procedure(star(common(leg("IF", A), leg("TF", B), NO_FIXED_END["VM"])))
    assert arrival.after is not None
    assert arrival.after.gap == "not fixed on the map: heading 091°M for vectors"


def test_a_course_that_begins_nowhere_is_no_beginning() -> None:
    found = path(leg("CF", A, course_deg=50.0), leg("TF", B))
    assert found.before is not None
    assert found.before.gap == "not fixed on the map: course 050°M to ALPHZ"


def test_nothing_but_headings_is_a_path_without_points() -> None:
    found = path(NO_FIXED_END["VA"], NO_FIXED_END["VM"])
    assert (found.points, found.legs) == ((), ())
    assert found.before is not None
    assert "for vectors" in found.before.gap


def test_a_leg_of_an_unknown_kind_opens_the_path() -> None:
    found = path(leg("IF", A), CodedLeg(None), leg("TF", B))
    assert gaps(found) == ["not fixed on the map: a leg of a kind that is not known, then to BRAVZ"]


# Fixes


def test_tracks_between_fixes_are_geodesics() -> None:
    found = path(leg("IF", A), leg("TF", B), leg("DF", C))
    assert gaps(found) == ["", ""]
    assert [one.distance_nm for one in found.legs] == [
        pytest.approx(apart_nm(*ends), abs=1e-6) for ends in ((A, B), (B, C))
    ]
    assert found.legs[0].course_deg == pytest.approx(90.0, abs=0.01)  # B was laid out so


def test_a_manual_leg_repeats_its_fix_without_a_leg_of_no_length() -> None:
    found = trace_procedure(star(common(leg("IF", A), leg("TF", B), leg("FM", B, course_deg=91.0))))
    assert [p.name for p in found.points] == ["ALPHZ", "BRAVZ"]
    assert found.after is not None
    assert found.after.gap == "not fixed on the map: from BRAVZ course 091°M for vectors"


@pytest.mark.parametrize("leg_type", HOLDS)
def test_holdings_add_no_length_and_are_told(leg_type: str) -> None:
    found = path(leg("IF", A), HOLDS[leg_type], leg("TF", B))
    assert [p.name for p in found.points] == ["ALPHZ", "BRAVZ"]
    assert found.legs[0].distance_nm == pytest.approx(12.0, abs=1e-3)
    assert found.points[0].note.startswith("holding at ALPHZ")


def test_a_branch_may_begin_with_a_holding() -> None:
    found = path(HOLDS["HF"], leg("TF", B))
    assert [(p.name, p.note) for p in found.points] == [("ALPHZ", "holding at ALPHZ once"), ("BRAVZ", "")]


def test_a_holding_elsewhere_is_not_reached_in_silence() -> None:
    assert gaps(path(leg("IF", B), HOLDS["HF"])) == ["how ALPHZ is reached from BRAVZ is not coded"]


def test_a_procedure_turn_comes_back_to_its_fix_or_leaves_a_gap() -> None:
    turn = leg("PI", A, course_deg=256.0)
    found = path(leg("IF", A), turn, leg("CF", A, course_deg=75.0, distance_nm=4.0), leg("TF", B))
    assert [(p.name, p.note) for p in found.points] == [("ALPHZ", "procedure turn at ALPHZ"), ("BRAVZ", "")]
    away = path(leg("IF", A), turn, leg("CF", B, course_deg=111.0))
    assert gaps(away) == ["not fixed on the map: procedure turn at ALPHZ, then course 111°M to BRAVZ"]


def test_another_beginning_elsewhere_is_a_gap() -> None:
    found = path(leg("IF", A), leg("IF", B), leg("TF", C))
    assert gaps(found) == ["BRAVZ begins another branch: no coded leg leads there from ALPHZ", ""]


def test_a_fix_that_is_not_in_the_data_leaves_gaps_on_both_sides() -> None:
    lost = CodedLeg(LegType.TRACK_TO_FIX, "NOSUQ")
    found = path(leg("IF", A), lost, leg("TF", B))
    assert [(p.name, p.place is None) for p in found.points] == [("ALPHZ", False), ("NOSUQ", True), ("BRAVZ", False)]
    assert gaps(found) == ["NOSUQ is not in the loaded data"] * 2


# Courses to a fix


@pytest.mark.parametrize(
    ("course", "fixed"), [(110.0, True), (107.2, True), (112.8, True), (113.2, False), (120.0, False), (290.0, False)]
)
def test_a_coded_course_must_come_from_the_fix_before(course: float, fixed: bool) -> None:
    """B lies 12 NM at about 090° true of A; variation 20° W. At 3 degrees A lies 0.6 NM aside of the line."""
    (only,) = path(leg("IF", A), leg("CF", B, course_deg=course)).legs
    assert (only.gap == "") == fixed
    assert (only.distance_nm is not None) == fixed


def test_the_alignment_of_the_navaid_counts_and_a_true_course_needs_none() -> None:
    old = Place("ZOLD", -31.0, 12.1, STATION.kind, declination_deg=-35.0)
    assert gaps(path(leg("IF", A), leg("CF", B, course_deg=125.0, navaid=old, navaid_ident="ZOLD"))) == [""]
    assert gaps(path(leg("IF", A), leg("CF", B, course_deg=125.0))) != [""]
    assert gaps(path(leg("IF", A), leg("CF", B, course_deg=90.0, course_is_true=True))) == [""]


def test_near_the_fix_a_bend_of_a_few_degrees_is_no_gap() -> None:
    near = off(A, 90.0, 2.0, "NEARZ")
    assert gaps(path(leg("IF", A), leg("CF", near, course_deg=120.0))) == [""]  # 10 degrees, 0.35 NM aside


def test_the_cause_names_both_fixes_and_the_course() -> None:
    assert gaps(path(leg("IF", A), leg("CF", B, course_deg=140.0))) == [
        "the coded course 140°M to BRAVZ does not come from ALPHZ (30° off)"
    ]


# Ends that can be computed


def test_a_course_for_a_distance_ends_where_it_leads() -> None:
    found = path(leg("FC", A, course_deg=72.0, distance_nm=5.5, navaid=STATION), leg("DF", B))
    assert [p.name for p in found.points] == ["ALPHZ", "ALPHZ+5.5", "BRAVZ"]
    assert found.points[1].place is not None
    assert apart_nm(found.points[1].place, off(A, 50.0, 5.5)) < 1e-6  # 72 magnetic at a station 22 W
    assert found.legs[0].distance_nm == pytest.approx(5.5, abs=1e-9)


@pytest.mark.parametrize("leg_type", ["CD", "FD"])
@pytest.mark.parametrize(
    ("course", "distance"), [(110.0, 18.0), (200.0, 12.0), (170.0, 9.0), (10.0, 30.0), (202.0, 3.0), (210.0, 3.0)]
)
def test_a_course_to_a_dme_distance_ends_on_it(leg_type: str, course: float, distance: float) -> None:
    fields = {"course_deg": course, "distance_nm": distance, "navaid": STATION, "navaid_ident": "ZQV"}
    found = path(leg("IF", A), leg(leg_type, A if leg_type == "FD" else None, **fields))
    (only,) = found.legs
    end = found.points[-1].place
    assert end is not None
    assert found.points[-1].name == f"ZQV D{distance:.1f}"
    assert apart_nm(STATION, end) == pytest.approx(distance, abs=1e-5)
    assert only.course_deg == pytest.approx((course - 22.0) % 360, abs=1e-6)
    assert only.distance_nm is not None
    before = off(A, only.course_deg or 0.0, only.distance_nm * 0.99)  # it is the first time that it is met
    assert (apart_nm(STATION, before) - distance) * (apart_nm(STATION, A) - distance) > 0


def test_a_dme_distance_that_is_never_met_has_no_place() -> None:
    away = {"course_deg": 22.0, "distance_nm": 3.0, "navaid": STATION, "navaid_ident": "ZQV"}
    found = path(leg("IF", A), leg("CD", **away), leg("DF", B))
    assert gaps(found) == ["not fixed on the map: course 022°M to 3.0 NM from ZQV, then direct to BRAVZ"]


@pytest.mark.parametrize("lost", ["course_deg", "distance_nm"])
def test_without_course_or_distance_there_is_no_end(lost: str) -> None:
    fields = {"course_deg": 72.0, "distance_nm": 5.5, lost: None}
    assert gaps(path(leg("FC", A, **fields), leg("DF", B)))[0].startswith("not fixed on the map: from ALPHZ course")


# Arcs


def quarter(turn: str) -> tuple[Place, Place, Place]:
    """Centre, start and end of a quarter of a circle of 3 NM, clockwise (R) or not."""
    return A, off(A, 0.0, 3.0, "STARZ"), off(A, 90.0 if turn == "R" else 270.0, 3.0, "ENDZZ")


@pytest.mark.parametrize("turn", ["L", "R"])
@pytest.mark.parametrize("leg_type", ["RF", "AF"])
def test_an_arc_is_as_long_as_its_circle_says(turn: str, leg_type: str) -> None:
    """Source: length of a circular arc, radius times angle; 3 NM and a quarter turn give 4.712 NM."""
    centre, start, end = quarter(turn)
    about = {"centre": centre} if leg_type == "RF" else {"navaid": centre, "navaid_ident": "ALPHZ"}
    (arc,) = path(leg("IF", start), leg(leg_type, end, turn=turn, radius_nm=3.0, **about)).legs
    assert arc.gap == ""
    assert arc.distance_nm == pytest.approx(3.0 * math.pi / 2, abs=1e-4)
    assert arc.course_deg == pytest.approx(90.0 if turn == "R" else 270.0, abs=0.1)
    assert arc.end_course_deg == pytest.approx(180.0, abs=0.1)


def test_the_points_of_an_arc_lie_on_it_close_together_from_end_to_end() -> None:
    centre, start, end = quarter("R")
    (arc,) = path(leg("IF", start), leg("RF", end, turn="R", centre=centre)).legs
    places = [Place("", *at, A.kind) for at in arc.shape]
    assert all(apart_nm(centre, one) == pytest.approx(3.0, abs=1e-6) for one in places)
    assert (arc.shape[0], arc.shape[-1]) == ((start.lat, start.lon), (end.lat, end.lon))
    steps = [apart_nm(a, b) for a, b in pairwise(places)]
    assert max(steps) < 0.3
    assert sum(steps) == pytest.approx(arc.distance_nm, rel=1e-3)


def test_the_other_way_round_it_is_three_quarters() -> None:
    centre, start, end = quarter("R")
    (arc,) = path(leg("IF", start), leg("RF", end, turn="L", centre=centre)).legs
    assert arc.distance_nm == pytest.approx(3.0 * math.pi * 1.5, abs=1e-3)


def test_an_arc_without_its_side_its_centre_or_its_ends_is_a_gap() -> None:
    centre, start, end = quarter("R")
    assert gaps(path(leg("IF", start), leg("RF", end, centre=centre))) == [
        "the coded arc to ENDZZ does not go by STARZ"
    ]
    assert gaps(path(leg("IF", start), leg("RF", end, turn="R"))) == [
        "the arc to ENDZZ has no centre: its centre is not in the loaded data"
    ]
    outside = off(centre, 0.0, 3.6, "OUTZZ")
    assert gaps(path(leg("IF", outside), leg("AF", end, turn="R", navaid=centre, navaid_ident="ALPHZ"))) == [
        "the coded arc to ENDZZ does not go by OUTZZ"
    ]


def test_an_arc_after_a_heading_is_a_gap_to_its_fix() -> None:
    centre, _, end = quarter("R")
    found = path(leg("IF", B), leg("VI", course_deg=1.0), leg("AF", end, turn="R", navaid=centre, navaid_ident="ALPHZ"))
    assert gaps(found) == ["not fixed on the map: heading 001°M to the next leg, then along an arc to ENDZZ"]


# Windows and speeds


def test_the_window_of_a_fix_that_two_branches_share_is_what_both_leave() -> None:
    low, high = AltitudeLimits(5_000.0, None), AltitudeLimits(None, 9_000.0)
    found = path(leg("IF", A), leg("TF", B, window=low), leg("IF", B, window=high), leg("TF", C))
    assert [p.window for p in found.points] == [None, AltitudeLimits(5_000.0, 9_000.0), None]
    later = AltitudeLimits(None, 4_000.0)
    replaced = path(leg("IF", A), leg("TF", B, window=low), leg("IF", B, window=later), leg("TF", C))
    assert replaced.points[1].window == later


def test_of_two_lowest_heights_the_higher_holds_and_of_two_highest_the_lower() -> None:
    one, other = AltitudeLimits(5_000.0, 9_000.0), AltitudeLimits(3_000.0, 12_000.0)
    for first, second in ((one, other), (other, one)):
        assert path(leg("IF", A, window=first), leg("HF", A, window=second)).points[0].window == one


def most(found: ProcedurePath) -> list[float | None]:
    return [one.most_kt for one in found.legs]


def limited(kt: float, code: str = "-") -> dict[str, object]:
    return {"speed": SpeedLimit(kt, code)}


def test_a_greatest_speed_of_a_departure_holds_back_to_the_one_before() -> None:
    """ARINC 424 5.261, public paraphrase: in a SID backwards to its start or the limit before, the coded leg too."""
    found = path(leg("IF", A), leg("TF", B, **limited(210)), leg("TF", C), leg("TF", D, **limited(250)))
    assert most(found) == [210, 250, 250]
    assert most(path(leg("IF", A), leg("TF", B, **limited(210)), leg("TF", C))) == [210, None]


def test_of_an_arrival_it_holds_on_until_another_follows() -> None:
    """ARINC 424 5.261, public paraphrase: in a STAR forward until superseded."""
    legs = (leg("IF", A), leg("TF", B, **limited(250)), leg("TF", C, **limited(210)), leg("TF", D))
    assert most(trace_procedure(star(common(*legs)))) == [None, 250, 210]


def test_a_least_speed_is_the_mirror_and_a_mandatory_one_stays_at_its_fix() -> None:
    departure = path(leg("IF", A), leg("TF", B, **limited(210, "+")), leg("TF", C))
    assert [one.least_kt for one in departure.legs] == [None, 210]
    arrival = trace_procedure(star(common(leg("IF", A), leg("TF", B), leg("TF", C, **limited(250, "+")))))
    assert [one.least_kt for one in arrival.legs] == [250, 250]
    mandatory = path(leg("IF", A), leg("TF", B, **limited(230, "@")), leg("TF", C))
    assert [(one.most_kt, one.least_kt) for one in mandatory.legs] == [(None, None)] * 2
    assert mandatory.points[1].speed == SpeedLimit(230, "@")


def test_a_gap_has_the_limit_in_force_where_it_ends() -> None:
    found = path(leg("IF", A), leg("VM", course_deg=1.0), leg("DF", B, **limited(230)), leg("TF", C))
    assert most(found) == [230, None]


# Words


def test_every_leg_type_has_its_words() -> None:
    for leg_type in LegType:
        told = describe_leg(leg(leg_type, A, course_deg=91.0, distance_nm=4.0, theta_deg=154.0, navaid_ident="ZQV"))
        assert told
        assert "None" not in told
        assert "given" not in told or leg_type in ("CA", "VA", "FA", "HA")  # whose altitude is missing here


@pytest.mark.parametrize("leg_type", [*NO_FIXED_END, "CD", "FD", "FC"])
def test_what_is_not_given_is_said_to_be_missing(leg_type: str) -> None:
    assert "not given" in describe_leg(leg(leg_type, A))


def test_a_departure_from_its_own_runway_has_no_gap_before_it() -> None:
    found = trace_procedure(sid(runway("RW09", leg("IF", THRESHOLD), leg("TF", A))), "09")
    assert found.before is None
    assert found.legs[0].distance_nm == pytest.approx(apart_nm(THRESHOLD, A), abs=1e-6)


def test_true_courses_are_those_of_the_ellipsoid() -> None:
    found = path(leg("IF", A), leg("TF", C))
    course, end_course, _ = geo.inverse(A.lat, A.lon, C.lat, C.lon)
    assert (found.legs[0].course_deg, found.legs[0].end_course_deg) == (course, end_course)
