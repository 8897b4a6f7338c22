"""Which branches a route means, where it joins and leaves them: on the demo region and by hand."""

import pytest
from demo_coded import coded, demo_procedures, names, place
from hand_coded import FIELD, A, B, C, D, E, branch, common, leg, off, runway, sid, star, transition

from routecheck.model import (
    AltitudeLimits,
    CodedProcedure,
    NotJoined,
    Part,
    Place,
    PlaceKind,
    RunwayNotServed,
)
from routecheck.procedures.flown_procedure import trace_procedure
from routecheck.procedures.wording import branch_serves, describe_not_joined, runway_ident

# Runways


@pytest.mark.parametrize(
    ("typed", "ident"),
    [
        ("09", "09"),
        ("9", "09"),
        ("RW09", "09"),
        ("RWY 27R", "27R"),
        ("27l", "27L"),
        (None, ""),
        (" ", ""),
        ("X1", "X1"),
    ],
)
def test_a_runway_as_typed(typed: str | None, ident: str) -> None:
    assert runway_ident(typed) == ident


@pytest.mark.parametrize(
    ("ident", "runway_typed", "expected"),
    [
        ("RW08B", "08L", True),
        ("RW08B", "08R", True),
        ("RW08B", "08", True),
        ("RW08B", "26L", False),
        ("RW08L", "08L", True),
        ("RW08L", "08R", False),
        ("RW08L", "08", True),  # which of the parallels is not said
        ("RW08", "08", True),
        ("RW08", "08L", False),
        ("ALL", "08L", True),
        ("", "26", True),
    ],
)
def test_which_runways_a_branch_is_for(ident: str, runway_typed: str, expected: bool) -> None:
    """ARINC 424-18 as found in the FAA CIFP, cycle 2301: RW08B is both parallels, ALL and blank are common."""
    assert branch_serves(branch(Part.RUNWAY, ident), runway_typed) == expected


def test_the_branch_of_the_stated_runway_is_used() -> None:
    found = trace_procedure(coded("XVOR", "STAR", "SARNO2"), "27", "SARNO")
    assert names(found) == ["SARNO", "KEBUL", "RIPAS", "HUNSA", "GRELA"]
    assert (found.joined, found.remarks, found.faults) == (True, (), ())
    assert found.after is not None
    assert found.after.gap == "not fixed on the map: from GRELA course 091°M for vectors"
    windows = [(w.low_ft, w.high_ft) if w else None for w in (point.window for point in found.points)]
    assert windows == [(20_000, 24_000), (11_000, None), (9_000, 12_000), (5_000, 5_000), (4_000, 4_000)]


def test_parallels_share_a_branch() -> None:
    left, right = (trace_procedure(coded("XVMA", "SID", "RULPO1"), mark, "RULPO") for mark in ("12L", "12R"))
    assert left == right
    assert left.before is not None
    assert left.before.gap == "not fixed on the map: heading 121°M to 600 ft, then direct to FOLDE"


def test_without_a_runway_only_what_all_branches_share_is_used_and_that_is_said() -> None:
    found = trace_procedure(coded("XVOR", "STAR", "SARNO2"), None, "SARNO")
    assert names(found) == ["SARNO", "KEBUL", "RIPAS", "HUNSA"]
    assert found.remarks == ("no runway is stated: of the 3 runway branches of SARNO2 only what they share is used",)
    assert found.after is not None
    assert found.after.gap == "the branches of SARNO2 differ after HUNSA and no runway says which"


def test_a_departure_shares_its_end() -> None:
    found = trace_procedure(coded("XVAL", "SID", "LENDU1"), "", "LENDU")
    assert names(found) == ["TILBU", "RESKO", "LENDU"]
    assert found.before is not None
    assert found.before.gap == "the branches of LENDU1 differ before TILBU and no runway says which"


def test_what_branches_share_is_said_only_as_far_as_they_agree() -> None:
    low, high = AltitudeLimits(3_000.0, None), AltitudeLimits(5_000.0, None)
    found = trace_procedure(
        star(
            common(leg("IF", A), leg("TF", B, window=low)),
            runway("RW09", leg("IF", B), leg("TF", C, window=low), leg("TF", D)),
            runway("RW27", leg("IF", B), leg("TF", C, window=high), leg("TF", E)),
        )
    )
    assert [(p.name, p.window) for p in found.points] == [("ALPHZ", None), ("BRAVZ", low), ("CHARZ", None)]


def test_the_same_point_reached_another_way_is_shared_but_not_the_way() -> None:
    centre = off(B, 0.0, 5.0)
    arc_end = off(centre, 90.0, 5.0, "ARCZZ")
    found = trace_procedure(
        star(
            runway("RW09", leg("IF", A), leg("TF", B), leg("TF", arc_end)),
            runway("RW27", leg("IF", A), leg("TF", B), leg("RF", arc_end, turn="L", centre=centre)),
        )
    )
    assert names(found) == ["ALPHZ", "BRAVZ"]


def test_branches_that_agree_wholly_leave_no_question() -> None:
    arrival = star(
        common(leg("IF", A), leg("TF", B)),
        *(runway(ident, leg("IF", B), leg("TF", C), leg("FM", C, course_deg=9.0)) for ident in ("RW09", "RW27")),
    )
    found = trace_procedure(arrival)
    assert (found.legs, found.after) == (trace_procedure(arrival, "09").legs, trace_procedure(arrival, "09").after)
    assert names(found) == ["ALPHZ", "BRAVZ", "CHARZ"]
    assert found.after is not None
    assert found.after.gap.startswith("not fixed on the map: from CHARZ")


def test_the_only_branch_is_used_and_that_is_said() -> None:
    found = trace_procedure(coded("XVAL", "SID", "FINAR2"), None, "FINAR")
    assert names(found) == ["TILBU", "MODAN", "FINAR"]
    assert found.before is not None
    assert found.before.gap == "not fixed on the map: heading 091°M to 700 ft, then direct to TILBU"
    assert found.remarks == ("no runway is stated: the branch for 09, the only one that fits, is used",)


def test_a_runway_that_is_not_served() -> None:
    found = trace_procedure(coded("XVAL", "SID", "FINAR2"), "27", "FINAR")
    assert found.faults == (RunwayNotServed("FINAR2", "27", ("09",)),)
    assert names(found) == ["TILBU", "MODAN", "FINAR"]
    assert found.before is not None
    assert found.before.gap == "FINAR2 has no branch for runway 27"


def test_a_common_part_may_be_for_one_runway_only() -> None:
    """As SERFR4 of KSFO (RW28B) and 40 departures in cycle 2301."""
    only = sid(branch(Part.COMMON, "RW09", leg("VA", course_deg=91.0), leg("DF", A), leg("TF", B)))
    assert names(trace_procedure(only, "09", B)) == ["ALPHZ", "BRAVZ"]
    refused = trace_procedure(only, "27", B)
    assert [type(fault) for fault in refused.faults] == [RunwayNotServed, NotJoined]
    assert refused.points == ()


def test_a_runway_without_its_letter_leaves_the_parallels_open() -> None:
    found = trace_procedure(coded("XVMA", "SID", "RULPO1"), "30", "RULPO")
    assert names(found) == ["FOLDE", "RULPO"]
    assert found.remarks == ("runway 30 has several branches in RULPO1: only what they share is used",)


# Joining and leaving


def test_any_point_of_any_branch_joins() -> None:
    """Joining at any point of a SID, STAR or transition is in order: our choice."""
    tried = 0
    for procedure in demo_procedures():
        for part in procedure.branches:
            for point in {one.fix for one in part.legs if one.fix is not None and not one.missed}:
                found = trace_procedure(procedure, part.ident if part.part is Part.RUNWAY else None, point)
                assert found.joined, (procedure.name, part.ident, point.ident)
                assert found.points[-1 if procedure.kind == "SID" else 0].place == point
                assert not any(isinstance(fault, NotJoined) for fault in found.faults)
                tried += 1
    assert tried > 100


def test_a_transition_is_used_only_as_far_as_the_route_goes_with_it() -> None:
    arrival = coded("XVOR", "STAR", "SARNO2")
    assert names(trace_procedure(arrival, "27", "FELTU"))[:3] == ["FELTU", "SARNO", "KEBUL"]
    assert names(trace_procedure(arrival, "27", "TEMGU"))[:2] == ["TEMGU", "SARNO"]
    assert names(trace_procedure(arrival, "27", "RIPAS"))[:2] == ["RIPAS", "HUNSA"]
    assert names(trace_procedure(coded("XVAL", "SID", "LENDU1"), "09", "PIKAR")) == ["TILBU", "RESKO", "LENDU", "PIKAR"]
    assert names(trace_procedure(coded("XVAL", "SID", "LENDU1"), "09", "RESKO")) == ["TILBU", "RESKO"]


def test_without_a_join_no_transition_is_used() -> None:
    found = trace_procedure(coded("XVAL", "SID", "LENDU1"), "09")
    assert names(found) == ["TILBU", "RESKO", "LENDU"]
    assert (found.joined, found.after, found.faults) == (False, None, ())


def test_a_point_on_no_branch_is_a_gap_that_is_told() -> None:
    found = trace_procedure(coded("XVOR", "STAR", "TIBOK1"), "09", place("OPSIN"))
    assert not found.joined
    assert found.faults == (NotJoined("OPSIN", "TIBOK1", ("MUVEK",)),)
    assert found.before is not None
    assert found.before.gap == "OPSIN is on no branch of TIBOK1"
    assert describe_not_joined(found.faults[0]) == "OPSIN is on no branch of TIBOK1 that fits; its transition is MUVEK"


def test_another_point_of_the_same_name_does_not_join() -> None:
    elsewhere = Place("SARNO", -29.0, 2.0, PlaceKind.FIX)
    assert not trace_procedure(coded("XVOR", "STAR", "SARNO2"), "27", elsewhere).joined


@pytest.mark.parametrize(("away_nm", "joined"), [(0.0, True), (0.95, True), (1.05, False)])
def test_a_typed_position_within_a_mile_joins(away_nm: float, joined: bool) -> None:
    sarno = place("SARNO")
    at = off(sarno, 200.0, away_nm)
    typed = Place("3013S00640E", at.lat, at.lon, PlaceKind.TYPED)
    assert trace_procedure(coded("XVOR", "STAR", "SARNO2"), "27", typed).joined == joined
    named = Place("NEARZ", at.lat, at.lon, PlaceKind.FIX)
    assert trace_procedure(coded("XVOR", "STAR", "SARNO2"), "27", named).joined == (away_nm == 0)


def test_a_coded_manual_leg_explains_a_point_on_no_branch() -> None:
    vectors = sid(branch(Part.RUNWAY, "RW09", leg("VA", course_deg=91.0), leg("VM", course_deg=91.0)))
    found = trace_procedure(vectors, "09", B)
    assert (found.joined, found.faults) == (False, ())
    later = sid(common(leg("IF", A), leg("TF", B), leg("VM", course_deg=91.0)))
    explained = trace_procedure(later, None, D)
    assert explained.faults == ()
    assert explained.remarks == ("DELTZ is on no branch of ZAQIP1 that fits",)
    assert explained.after is not None
    assert explained.after.gap == "not fixed on the map: heading 091°M for vectors"


def test_a_point_on_one_runway_branch_tells_which_is_meant() -> None:
    found = trace_procedure(coded("XVOR", "STAR", "SARNO2"), None, "LIRKA")
    assert names(found) == ["LIRKA"]
    assert found.remarks[0] == "LIRKA lies only on the branches for 22"


def test_of_several_transitions_the_shortest_way_is_used_and_that_is_said() -> None:
    departure = sid(
        common(leg("IF", A), leg("TF", B)),
        transition("CHARZ", leg("IF", B), leg("TF", C), leg("TF", D)),
        transition("ECHOZ", leg("IF", B), leg("TF", C), leg("TF", E), leg("TF", D)),
    )
    found = trace_procedure(departure, None, D)
    assert names(found) == ["ALPHZ", "BRAVZ", "CHARZ", "DELTZ"]
    assert found.remarks == ("DELTZ lies on 2 transitions: CHARZ, the shortest way, is used",)
    assert trace_procedure(departure, None, C).remarks == ()  # the same way on both


def test_a_transition_of_the_name_of_the_point_comes_first() -> None:
    departure = sid(
        common(leg("IF", A), leg("TF", B)),
        transition("ECHOZ", leg("IF", B), leg("TF", D)),
        transition("DELTZ", leg("IF", B), leg("TF", C), leg("TF", D)),
    )
    assert names(trace_procedure(departure, None, D)) == ["ALPHZ", "BRAVZ", "CHARZ", "DELTZ"]


def test_the_missed_approach_is_left_out() -> None:
    found = trace_procedure(coded("XVAL", "APPROACH", "I27"), None, "RESKO")
    assert names(found) == ["RESKO", "TILBU", "CUPLA", "VODGE", "RW27"]
    assert found.after is None


def test_an_approach_goes_on_from_where_its_transition_ends() -> None:
    """As S06 of 16G in cycle 2301: the transition ends at the final approach fix, behind the first of the final."""
    approach = CodedProcedure(
        "XVZZ",
        "APPROACH",
        "S09",
        (
            transition("CHARZ", leg("IF", C), leg("TF", B), leg("PI", B, course_deg=1.0)),
            common(leg("IF", A), leg("CF", B), leg("CF", D)),
        ),
        FIELD,
    )
    found = trace_procedure(approach, None, C)
    assert [(p.name, p.note) for p in found.points] == [
        ("CHARZ", ""),
        ("BRAVZ", "procedure turn at BRAVZ"),
        ("DELTZ", ""),
    ]


# Arcs and courses of the demo region, as resources/demo/plan.toml says


def test_the_arcs_of_the_demo_region() -> None:
    """plan.toml: BRUHE and XALBI 14 NM from VAL on 345° and 40°; a quarter turn of 3 NM radius from QUDEN to OLVEK."""
    dme = trace_procedure(coded("XVAL", "APPROACH", "I27"), None, "BRUHE")
    assert dme.legs[0].distance_nm == pytest.approx(14.0 * 0.017453293 * 55.0, abs=0.01)
    turn = trace_procedure(coded("XVOR", "APPROACH", "R09"), None, "HUNSA")
    arcs = [one for one in turn.legs if one.shape]
    assert [one.distance_nm for one in arcs] == [pytest.approx(3.0 * 1.5707963, abs=0.002)]


def test_coded_figures_of_the_demo_region_are_the_computed_ones() -> None:
    seen = 0
    for procedure in demo_procedures():
        for part in procedure.transitions or [None]:  # type: ignore[list-item]
            found = trace_procedure(procedure, None, part.ident if part else None)
            for one in found.legs:
                if len(one.coded) == 1 and one.distance_nm is not None and one.coded[0].distance_nm is not None:
                    assert one.coded[0].distance_nm == pytest.approx(one.distance_nm, abs=0.06)
                    seen += 1
    assert seen > 15


def test_an_approach_begins_with_the_transition_named_after_the_joining_point() -> None:
    """As S30 of KLGB in cycle 2301: the final passes SLI, but from SLI it begins with a holding there."""
    approach = CodedProcedure(
        "XVZZ",
        "APPROACH",
        "S09",
        (
            transition("BRAVZ", leg("HF", B, course_deg=300.0, window=AltitudeLimits(1_500.0, None))),
            common(leg("IF", A), leg("CF", B), leg("CF", C)),
        ),
        FIELD,
    )
    found = trace_procedure(approach, None, B)
    assert [(point.name, point.note) for point in found.points] == [("BRAVZ", "holding at BRAVZ once"), ("CHARZ", "")]
    assert found.points[0].window == AltitudeLimits(1_500.0, None)
    assert [point.note for point in trace_procedure(approach, None, A).points] == ["", "", ""]
