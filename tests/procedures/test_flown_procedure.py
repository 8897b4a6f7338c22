"""The path between the runway and the neighbouring route point: on the demo region and by hand."""

from itertools import pairwise

import pytest
from demo_coded import DEMO, demo_procedures, names, place
from hand_coded import A, B, apart_nm, common, leg, off

from routecheck.model import (
    CodedProcedure,
    FlownProcedure,
    NoSuchProcedure,
    NoSuchRunway,
    Place,
    PlaceKind,
)
from routecheck.procedures.flown_procedure import fly_procedure, trace_procedure

# Between the runway and the neighbouring route point


def test_a_departure_leads_from_its_threshold_to_the_next_stop() -> None:
    found = fly_procedure(DEMO, "XVAL", "SID", "LENDU1", "09", place("PIKAR"))
    assert names(found) == ["RW09", "TILBU", "RESKO", "LENDU", "PIKAR"]
    assert (found.runway, found.joined, found.faults) == ("09", True, ())
    assert found.points[-1].place == place("PIKAR")
    assert [bool(one.gap) for one in found.legs] == [True, False, False, False]
    assert found.legs[0].gap == "not fixed on the map: heading 091°M to 700 ft, then direct to TILBU"


def test_an_arrival_leads_from_the_stop_before_to_its_threshold() -> None:
    found = fly_procedure(DEMO, "XVOR", "STAR", "SARNO2", "27", place("FELTU"))
    assert names(found) == ["FELTU", "SARNO", "KEBUL", "RIPAS", "HUNSA", "GRELA", "RW27"]
    assert [bool(one.gap) for one in found.legs] == [False] * 5 + [True]
    assert [one.most_kt for one in found.legs] == [None] * 5 + [210.0]  # from GRELA on


def test_an_approach_ends_on_its_runway() -> None:
    found = fly_procedure(DEMO, "XVOR", "APPROACH", "R09", None, place("TAMPU"))
    assert names(found) == ["TAMPU", "TAMPU+6.0", "QUDEN", "OLVEK", "RW09"]
    assert [one.gap for one in found.legs] == [""] * 4


def test_without_a_runway_it_begins_at_the_airport() -> None:
    found = fly_procedure(DEMO, "XVAL", "SID", "VAL3B", None, place("VAL"))
    assert names(found) == ["XVAL", "BALDU", "VAL"]
    assert (found.points[0].place, found.runway) == (DEMO.airport("XVAL"), "")


def test_a_runway_that_the_airport_has_not() -> None:
    found = fly_procedure(DEMO, "XVOR", "STAR", "TIBOK1", "33", place("TIBOK"))
    assert found.faults == (NoSuchRunway(),)
    assert names(found) == ["TIBOK", "ODVER", "TAMPU", "XVOR"]
    with_branches = fly_procedure(DEMO, "XVOR", "STAR", "SARNO2", "33", place("SARNO"))
    assert with_branches.faults == (NoSuchRunway(),)  # one cause, told once
    assert with_branches.legs[-1].gap == "SARNO2 has no branch for runway 33"


def test_a_procedure_that_is_not_there() -> None:
    found = fly_procedure(DEMO, "XVOR", "STAR", "SARNO9", "27", place("SARNO"))
    assert (found.points, found.legs) == ((), ())
    assert found.faults == (NoSuchProcedure(),)


def test_a_stop_on_no_branch_is_reached_over_a_gap() -> None:
    found = fly_procedure(DEMO, "XVOR", "STAR", "TIBOK1", "09", place("OPSIN"))
    assert names(found) == ["OPSIN", "TIBOK", "ODVER", "TAMPU", "RW09"]
    assert found.legs[0].gap == "OPSIN is on no branch of TIBOK1"
    leaving = fly_procedure(DEMO, "XVAL", "SID", "LENDU1", "09", place("OPSIN"))
    assert leaving.legs[-1].gap == "OPSIN is on no branch of LENDU1"


def test_a_typed_stop_is_reached_from_the_point_where_it_joins() -> None:
    at = off(place("SARNO"), 200.0, 0.5)
    typed = Place("TYPED", at.lat, at.lon, PlaceKind.TYPED)
    found = fly_procedure(DEMO, "XVOR", "STAR", "SARNO2", "27", typed)
    assert names(found)[:2] == ["TYPED", "SARNO"]
    assert found.legs[0].distance_nm == pytest.approx(0.5, abs=1e-6)
    assert found.legs[0].course_deg == pytest.approx(20.0, abs=0.01)


def test_without_a_neighbour_it_ends_with_its_own_last_point() -> None:
    assert names(fly_procedure(DEMO, "XVAL", "SID", "LENDU1", "09")) == ["RW09", "TILBU", "RESKO", "LENDU"]
    assert names(fly_procedure(DEMO, "XVOR", "STAR", "TIBOK1", "09")) == ["TIBOK", "ODVER", "TAMPU", "RW09"]


def test_every_way_through_the_demo_region_is_whole() -> None:
    """One leg fewer than points; a leg is a gap with its cause or has a length, and lengths are the geodesics."""
    for procedure in demo_procedures():
        route_points = [one.fix for part in procedure.branches for one in part.legs if one.fix and not one.missed]
        for mark in ("", *(one.ident for one in DEMO.runways(procedure.airport)), "33"):
            for route_point in (*route_points, place("OPSIN"), None):
                assert_whole(fly_procedure(DEMO, procedure.airport, procedure.kind, procedure.name, mark, route_point))


def assert_whole(found: FlownProcedure) -> None:
    assert len(found.legs) == max(len(found.points) - 1, 0)
    for (start, end), one in zip(pairwise(found.points), found.legs, strict=True):
        assert bool(one.gap) == (one.distance_nm is None)
        assert start.place is not None
        assert end.place is not None
        if one.distance_nm is not None:
            apart = apart_nm(start.place, end.place)
            assert one.distance_nm > 0
            assert one.distance_nm >= apart - 1e-6 if one.shape else one.distance_nm == pytest.approx(apart, abs=1e-6)


def test_a_procedure_of_no_known_airport_still_has_its_path() -> None:
    alone = CodedProcedure("XVQZ", "SID", "ZAQIP1", (common(leg("IF", A), leg("CF", B, course_deg=200.0)),))
    assert trace_procedure(alone).legs[0].gap == ""  # without a variation its course cannot speak against it
