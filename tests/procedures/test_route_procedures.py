"""Routes from runway to runway: what lies between the words once SID, STAR and approach are followed."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import pytest

from routecheck.geometry.legs import compute_routes
from routecheck.model import Assessment, PlaceKind, ProcedureOutOfPlace, Route, RouteInput, Via
from routecheck.navdata.database import NavDatabase, demo_database, load_navdata
from routecheck.pipeline import assess
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.settings import Settings
from routecheck.vertical.windows import unbroken_lengths_nm

if TYPE_CHECKING:
    from pathlib import Path

DAY = dt.date(2026, 12, 3)


@cache
def region() -> NavDatabase:
    return demo_database()


def assessed(route: str, runways: tuple[str, str] = ("", ""), **more: str) -> Assessment:
    route_input = RouteInput(
        route,
        more.pop("departure", "XVAL"),
        more.pop("destination", "XVOR"),
        departure_runway=runways[0],
        destination_runway=runways[1],
        approach=more.pop("approach", ""),
    )
    return assess(route_input, region(), Settings(), DAY)


def flown(route: str, runways: tuple[str, str] = ("", ""), **more: str) -> Route:
    return assessed(route, runways, **more).route


def texts(route: Route) -> list[str]:
    return [point.text for point in route.points]


def test_from_runway_to_runway() -> None:
    route = flown("LENDU1 LENDU UM12 PIKAR DCT SARNO SARNO2", ("09", "09"), approach="R09")
    assert texts(route)[0] == "XVAL"
    assert route.points[0].place is not None
    assert route.points[0].place.kind is PlaceKind.RUNWAY
    assert route.points[-1].place is not None
    assert route.points[-1].place.ident == "RW09"
    assert {leg.via for leg in route.legs} == {"LENDU1", "UM12", "DCT", "SARNO2", "R09"}
    assert not route.own_mistakes


def test_the_stated_runway_chooses_the_branch_and_the_gap_says_what_is_not_fixed() -> None:
    by_09 = flown("SARNO SARNO2", ("", "09"))
    by_27 = flown("SARNO SARNO2", ("", "27"))
    assert "TAMPU" in texts(by_09)
    assert "TAMPU" not in texts(by_27)
    assert "GRELA" in texts(by_27)
    assert "for vectors" in by_09.legs[-1].gap


def test_without_a_runway_only_what_all_branches_share_is_used_and_that_is_said() -> None:
    route = flown("SARNO SARNO2")
    assert texts(route)[-2:] == ["HUNSA", "XVOR"]
    assert "no runway says which" in route.legs[-1].gap
    assert route.legs[-1].distance_nm is None
    assert route.totals.gaps == 1


def test_a_runway_typed_in_the_text_counts_like_one_beside_it() -> None:
    typed = flown("XVAL/27 LENDU1 LENDU DCT SARNO SARNO2 XVOR/22")
    beside = flown("LENDU1 LENDU DCT SARNO SARNO2", ("27", "22"))
    assert texts(typed) == texts(beside)
    assert typed.resolved.runways == ("27", "22")


def test_coded_windows_stand_at_their_points_and_are_told_from_typed_ones() -> None:
    route = flown("SARNO SARNO2", ("", "09"))
    at = {point.text: route.windows[i] for i, point in enumerate(route.points)}
    (window,) = at["SARNO"]
    assert (window.low_ft, window.high_ft, window.procedure) == (20_000.0, 24_000.0, "SARNO2")
    assert not window.typed


def test_points_inside_are_not_the_users_and_are_not_judged_by_shape() -> None:
    route = flown("LENDU1 LENDU DCT SARNO SARNO2", ("09", "09"))
    inside = [i for i, point in enumerate(route.points) if point.route_point is None]
    assert inside
    assert all(route.points[i].procedure in ("LENDU1", "SARNO2") for i in inside)
    assert all(route.turns[i] is None for i in inside)


def test_where_a_procedure_meets_the_route_the_turn_is_judged_as_next_to_an_airport() -> None:
    route = flown("LENDU1 LENDU DCT SARNO SARNO2", ("09", "09"))
    turn = route.turns[texts(route).index("LENDU")]
    assert turn is not None
    assert turn.next_to_airport


def test_an_arc_is_longer_than_its_chord_and_drawn_as_one() -> None:
    route = flown("LENDU DCT BRUHE", ("", "27"), departure="XVOR", destination="XVAL", approach="I27")
    arc = next(leg for leg in route.legs if leg.shape)
    assert arc.distance_nm is not None
    assert len(arc.shape) > 5
    assert not route.own_mistakes


@pytest.mark.parametrize(("longer", "fault"), [(1.0004, False), (1.002, True), (0.998, True)])
def test_an_arc_that_is_not_as_long_as_its_chords_is_our_fault_and_shown(longer: float, fault: bool) -> None:
    """The second reader measures the chords: an arc in steps of 5° is longer than these by at most 0.04 %."""
    route_input = RouteInput("LENDU DCT BRUHE", "XVOR", "XVAL", destination_runway="27", approach="I27")
    resolved = resolve(read_route(route_input), region(), DAY)
    *others, last = resolved.connections
    assert last.procedure is not None
    legs = tuple(
        replace(one, distance_nm=one.distance_nm and one.distance_nm * longer) if one.shape else one
        for one in last.procedure.legs
    )
    wrong = replace(resolved, connections=(*others, replace(last, procedure=replace(last.procedure, legs=legs))))
    (route,) = compute_routes([wrong], [DAY])
    assert bool(route.own_mistakes) is fault
    assert all("two computations of the total differ" in said for said in route.own_mistakes)


def test_an_approach_brings_its_runway_and_joins_where_the_star_ends() -> None:
    route = flown("SARNO SARNO2", approach="R09")
    assert route.resolved.runways[1] == "09"
    kinds = [connection.procedure_kind for connection in route.resolved.connections]
    assert kinds[-2:] == ["STAR", "APPROACH"]
    junction = route.resolved.route_points[-2]
    assert junction.implied
    assert junction.word is None


def test_an_approach_that_the_data_does_not_have_is_said() -> None:
    route = flown("SARNO SARNO2", approach="I99")
    assert route.resolved.other_approaches == ("R09",)
    assert not any(connection.procedure_kind == "APPROACH" for connection in route.resolved.connections)


def test_a_sid_and_an_airway_in_a_row_meet_at_the_point_they_share() -> None:
    route = flown("LENDU1 UM12 PIKAR")
    assert [route_point.text for route_point in route.resolved.route_points] == ["XVAL", "LENDU", "PIKAR", "XVOR"]
    assert route.resolved.connections[0].via is Via.PROCEDURE
    assert route.resolved.connections[1].via is Via.AIRWAY


def test_a_sid_and_a_star_in_a_row_without_a_common_point_are_a_gap() -> None:
    route = flown("LENDU1 SARNO2")
    assert route.totals.gaps >= 1
    assert any("no point in common" in leg.gap for leg in route.legs)


def test_a_star_in_the_midst_of_a_route_leads_nowhere() -> None:
    route = flown("LENDU SARNO2 PIKAR")
    assert route.resolved.connections[1].fault == ProcedureOutOfPlace()
    assert "leads nowhere" in next(leg.gap for leg in route.legs if leg.gap)


@pytest.mark.parametrize("words", ["LENDU1", "SARNO2", "LENDU1 DCT"])
def test_a_procedure_alone_says_that_nothing_tells_where_it_is_left(words: str) -> None:
    route = flown(words, ("09", "09"))
    assert any("nothing says where" in leg.gap for leg in route.legs)
    assert route.totals.gaps


def test_of_places_with_the_same_name_the_one_on_the_procedure_is_taken() -> None:
    route = flown("NILAK1 SEBRO DCT TOVIK", departure="XVOR", destination="XVAL")
    assert route.resolved.connections[0].procedure is not None
    assert route.resolved.connections[0].procedure.joined


def test_vectors_between_star_and_approach_are_told_where_both_have_the_point() -> None:
    route = flown("SARNO SARNO2", ("", "09"), approach="R09")
    at = texts(route).index("TAMPU")
    assert "for vectors" in route.points[at].note
    assert unbroken_lengths_nm(route)[at] is None
    assert route.legs[at].distance_nm is not None


def test_an_approach_is_for_the_runway_in_its_name_where_no_leg_of_it_comes_to_a_threshold(test_data: Path) -> None:
    """FAA CIFP cycle 2301: L33 of KBDL ends at its missed-approach point, a fix before runway 33."""
    excerpt = load_navdata([test_data / "faa_cifp_2301_northeast.txt.xz"])
    route_input = RouteInput("DCT", "KJFK", "KBDL", approach="L33")
    route = assess(route_input, excerpt, Settings(), dt.date(2023, 2, 1)).route
    assert route.resolved.runways == ("", "33")
    assert route.points[-1].place is not None
    assert route.points[-1].place.ident == "RW33"
    assert route.legs[-1].gap.endswith("the missed-approach point")
