"""What is read out under the mouse: figures with their ground, and every place that a name could have been."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace

import pytest

from routecheck.earth import geo, magnetic
from routecheck.formatting import nm, variation
from routecheck.model import Assessment, RouteInput
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.presentation import tooltips
from routecheck.settings import Settings

Assess = Callable[..., Assessment]
PLANTED = "LENDU DCT PIKOR UM12 TOVIK DCT SARNO"


def test_a_point_says_how_far_along_it_is_and_its_variation(assessed: Assess) -> None:
    route = assessed("LENDU DCT PIKAR DCT TOVIK").route
    said = tooltips.point_tooltip(route, 2)
    assert said.startswith("PIKAR: ")
    before = sum(leg.distance_nm or 0.0 for leg in route.legs[:2])
    after = sum(leg.distance_nm or 0.0 for leg in route.legs[2:])
    assert f"{nm(before)} from XVAL, {nm(after)} to XVOR" in said
    place = route.points[2].place
    assert place is not None
    field = magnetic.declination(place.lat, place.lon, route.date)
    assert field is not None
    assert f"Variation {variation(field.declination_deg)} (WMM2025)" in said


def test_past_a_gap_it_is_at_least_so_far(assessed: Assess) -> None:
    route = assessed(PLANTED).route
    assert "at least" not in tooltips.point_tooltip(route, 1).split(" from XVAL")[0]
    assert "at least" in tooltips.point_tooltip(route, 3).split(" from XVAL")[0]
    assert " from " not in tooltips.point_tooltip(route, 0)
    assert " to " not in tooltips.point_tooltip(route, len(route.points) - 1)


def test_a_point_names_its_namesakes(assessed: Assess) -> None:
    route = assessed("LENDU UM12 UVAGI DCT TOVIK DCT SARNO").route
    index = next(i for i, p in enumerate(route.points) if p.text == "TOVIK")
    (line,) = [line for line in tooltips.point_tooltip(route, index).split("\n") if line.startswith("Also TOVIK: ")]
    assert "with it the route is 8.9 NM longer" in line


def test_many_namesakes_are_counted(assessed: Assess) -> None:
    route = assessed("LENDU UM12 UVAGI DCT TOVIK DCT SARNO").route
    index = next(i for i, p in enumerate(route.points) if p.text == "TOVIK")
    route_point = route.points[index].route_point
    assert route_point is not None
    route_points = list(route.resolved.route_points)
    route_points[route_point] = replace(
        route_points[route_point], lost_choices=route_points[route_point].lost_choices * 9
    )
    many = replace(route, resolved=replace(route.resolved, route_points=tuple(route_points)))
    said = tooltips.point_tooltip(many, index)
    assert said.count("Also TOVIK") == 5
    assert said.endswith("and 4 more places of that name")


def test_a_leg_says_what_its_magnetic_course_rests_on(assessed: Assess) -> None:
    route = assessed("LENDU DCT PIKAR").route
    said = tooltips.leg_tooltip(route, 1, 2)
    assert said.startswith("LENDU to PIKAR, DCT\n")
    assert "(WMM2025)" in said
    leg = route.legs[1]
    assert leg.course_true_deg is not None
    assert leg.course_magnetic_deg is not None
    used = geo.wrap180(leg.course_true_deg - leg.course_magnetic_deg)
    assert f"At LENDU: variation {variation(used)} (WMM2025)" in said


def test_near_the_magnetic_pole_there_is_no_magnetic_course(assessed: Assess) -> None:
    """The symptom: legs carried °M although the Note beside them said that a compass is of no use there."""
    assessment = assessed("80N030W 86N140E 70N150E", "ENSB", "UHMM")
    route = assessment.route
    assert any("of no use" in f.message for f in assessment.findings)
    useless = magnetic.compass_is_unusable(86.0, 140.0, route.date)
    assert useless
    leaving = next(i for i, p in enumerate(route.points) if p.text == "86N140E")
    assert route.legs[leaving].course_magnetic_deg is None
    assert route.legs[leaving - 1].end_course_magnetic_deg is None
    assert route.legs[leaving - 1].course_magnetic_deg is not None
    for said in (tooltips.point_tooltip(route, leaving), tooltips.leg_tooltip(route, leaving, leaving + 1)):
        assert "too near a magnetic pole" in said
    assert "too near" in tooltips.position_tooltip(route, 86.0, 140.0)


def test_a_gap_says_why_and_how_much_at_least(assessed: Assess) -> None:
    said = tooltips.leg_tooltip(assessed(PLANTED).route, 2, 3)
    assert said.startswith("Gap, PIKOR to TOVIK\nat least ")
    assert "not on UM12" in said
    assert tooltips.leg_tooltip(assessed("LENDU DCT PIKUR DCT TOVIK").route, 1, 3).endswith("Not placed: PIKUR")


def test_a_position_says_its_distance_from_both_ends(assessed: Assess) -> None:
    route = assessed("LENDU DCT PIKAR").route
    said = tooltips.position_tooltip(route, -31.0, 2.0)
    first, last = route.points[0].place, route.points[-1].place
    assert first is not None
    assert last is not None
    course, _, away = geo.inverse(first.lat, first.lon, -31.0, 2.0)
    field = magnetic.declination(first.lat, first.lon, route.date)
    assert field is not None
    magnetic_course = (course - field.declination_deg) % 360.0
    assert f"from XVAL {course:03.0f}°T  {magnetic_course:03.0f}°M  {nm(away)}" in said
    assert f"to XVOR {geo.inverse(-31.0, 2.0, last.lat, last.lon)[0]:03.0f}°T" in said
    assert "WMM2025" in said


@pytest.mark.parametrize("ends", [("", ""), ("ZZZ9", "ZZZ9")])
def test_without_ends_it_is_the_position_alone(assessed: Assess, ends: tuple[str, str]) -> None:
    said = tooltips.position_tooltip(assessed("LENDU", *ends).route, 10.0, 20.0)
    assert said.split("\n")[0] == "10°00.0′N 020°00.0′E"
    assert "from" not in said


def test_what_is_to_be_kept_at_a_point_is_read_out(assessed: Assess) -> None:
    route = assessed("LENDU UM12 TOVIK DCT SARNO SARNO2").route
    kebul = next(i for i, p in enumerate(route.points) if p.text == "KEBUL")
    assert "Window: at or above 11,000 ft, coded in SARNO2" in tooltips.point_tooltip(route, kebul)
    lendu = next(i for i, p in enumerate(route.points) if p.text == "LENDU")
    assert "Window" not in tooltips.point_tooltip(route, lendu)


def test_an_arc_and_its_speed_are_read_out(demo_library: NavDatabase) -> None:
    route_input = RouteInput("SARNO SARNO2", "XVAL", "XVOR", destination_runway="09", approach="R09")
    route = assess(route_input, demo_library, Settings(), dt.date(2026, 12, 3)).route
    quden = next(i for i, leg in enumerate(route.legs) if leg.shape)
    assert "R09, an arc: courses at its start" in tooltips.leg_tooltip(route, quden, quden + 1)
    tampu = next(i for i, p in enumerate(route.points) if p.text == "TAMPU")
    said = tooltips.point_tooltip(route, tampu)
    assert "Speed: ≤ 210 kt indicated" in said
    assert route.points[tampu].note[1:] in said
    limited = next(i for i, leg in enumerate(route.legs) if leg.most_kt)
    assert f"Speed: ≤ {route.legs[limited].most_kt:.0f} kt indicated" in tooltips.leg_tooltip(
        route, limited, limited + 1
    )


def test_a_leg_reads_out_the_charted_course_beside_the_computed_one(assessed: Assess) -> None:
    route = assessed("SOLPA V14 GORIT").route
    at = next(i for i, point in enumerate(route.points) if point.text == "KEL")
    assert "102°M; charted 106°, KEL aligned 25°W  63.0 NM" in tooltips.leg_tooltip(route, at, at + 1)
    assert "charted" not in tooltips.leg_tooltip(route, 0, 1)


def test_outside_the_model_a_station_says_whose_variation_is_used(assessed: Assess, demo_library: NavDatabase) -> None:
    """The symptom: at KEL, aligned 25° W, the read-out gave 25° W for the field of 20.6° W."""
    route = replace(assessed("SOLPA V14 GORIT").route.route_input, off_block=dt.date(2031, 1, 1))
    later = assess(route, demo_library, Settings(), dt.date(2031, 1, 1)).route
    at = next(i for i, point in enumerate(later.points) if point.text == "KEL")
    said = tooltips.point_tooltip(later, at)
    assert "25.0°W" not in said
    assert "(a nearby fix's record)" in said or "No variation is known here for this date" in said
