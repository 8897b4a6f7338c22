"""The Picture draws what could be placed, where it is, and nothing else."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from routecheck.earth import geo
from routecheck.model import Assessment, Finding, Place, PlaceKind, Weight
from routecheck.navdata.database import NavDatabase
from routecheck.presentation.drawn_map import empty_picture
from routecheck.presentation.map_scene import draw_picture, draw_plain_picture, leg_weights
from routecheck.presentation.symbols import Symbol, symbol_of

Assess = Callable[..., Assessment]
PLANTED = "LENDU DCT PIKOR UM12 TOVIK DCT SARNO"


def test_points_stand_where_they_are(assessed: Assess) -> None:
    assessment = assessed("LENDU DCT 31S002E DCT TOVIK")
    drawn = draw_picture(assessment)
    assert [p.name for p in drawn.points][:3] == ["XVAL", "LENDU", "31S002E"]
    for point in drawn.points:
        place = assessment.route.points[point.index].place
        assert place is not None
        assert drawn.projection.place(place.lat, place.lon) == pytest.approx((point.x, point.y))


def test_symbols_follow_the_kind(assessed: Assess) -> None:
    drawn = {p.name: p.symbol for p in draw_picture(assessed("LENDU DCT 31S002E DCT MAV")).points}
    assert drawn["XVAL"] is Symbol.AIRPORT
    assert drawn["LENDU"] is Symbol.TRIANGLE
    assert drawn["31S002E"] is Symbol.DOT
    assert drawn["MAV"] is Symbol.HEXAGON_IN_SQUARE


def test_every_kind_of_place_has_a_symbol_and_a_waypoint_of_the_data_its_star() -> None:
    for kind in PlaceKind:
        assert symbol_of(Place("ABCDE", 0.0, 0.0, kind)) is not Symbol.STAR
    assert symbol_of(Place("ABCDE", 0.0, 0.0, PlaceKind.FIX, rnav=True)) is Symbol.STAR


def test_the_data_says_which_fix_is_an_rnav_waypoint(northeast: NavDatabase) -> None:
    # Column 27 of EA records, cycle 2301: W = RNAV waypoint alone, C = also a named intersection.
    assert [northeast.places(name)[0].rnav for name in ("MERIT", "SSOXS", "IKNAV")] == [False, False, True]


def test_points_inside_an_airway_are_minor(assessed: Assess) -> None:
    minor = {p.name for p in draw_picture(assessed("LENDU UM12 TOVIK")).points if p.minor}
    assert minor == {"PIKAR", "UVAGI"}


def test_past_one_unknown_name_leads_one_dotted_line_with_the_name_on_it(assessed: Assess) -> None:
    drawn = draw_picture(assessed("LENDU DCT PIKUR DCT TOVIK"))
    assert "PIKUR" not in {p.name for p in drawn.points}
    assert [(leg.index, leg.is_gap) for leg in drawn.legs] == [(0, False), (1, True), (3, False)]
    gap = drawn.legs[1]
    assert not np.isnan(gap.curve).any()
    assert (gap.figures, gap.ends) == ("PIKUR?", ())
    assert (gap.last, gap.is_about([2]), gap.is_about([3])) == (3, True, False)
    assert (drawn.marks[0].x, drawn.marks[0].y) == pytest.approx(tuple(gap.curve[len(gap.curve) // 2]))


def test_two_unknown_names_in_a_row_are_not_drawn_and_leave_a_gap(assessed: Assess) -> None:
    drawn = draw_picture(assessed("LENDU DCT PIKUR DCT QQQQQ DCT TOVIK"))
    gap = drawn.legs[1]
    assert gap.is_gap
    assert np.isnan(gap.curve).any()
    assert (drawn.marks[0].x, drawn.marks[0].y) == (gap.ends[0].x, gap.ends[0].y)


def test_a_name_unknown_at_the_end_of_what_is_placed_has_no_mark(assessed: Assess) -> None:
    drawn = draw_picture(assessed("LENDU DCT PIKUR", destination="XVQZ"))
    assert drawn.marks == ()


def test_a_gap_is_open_in_the_middle_and_no_path(assessed: Assess) -> None:
    gap = next(leg for leg in draw_picture(assessed(PLANTED)).legs if leg.is_gap)
    assert np.isnan(gap.curve).any()
    start, end = gap.curve[0], gap.curve[~np.isnan(gap.curve[:, 0])][-1]
    middle = (start + end) / 2
    away = np.hypot(*(gap.curve[~np.isnan(gap.curve[:, 0])] - middle).T)
    assert away.min() > 0.25 * np.hypot(*(end - start))
    assert gap.figures == ""


def test_each_open_end_says_whose_gap_it_is(assessed: Assess) -> None:
    drawn = draw_picture(assessed(PLANTED))
    gap = next(leg for leg in drawn.legs if leg.is_gap)
    near, far = gap.ends
    assert (near.text, far.text) == ("gap to TOVIK", "gap from PIKOR")
    start, end = (next(p for p in drawn.points if p.name == name) for name in ("PIKOR", "TOVIK"))
    assert (near.x, near.y) == pytest.approx((start.x + 0.2 * (end.x - start.x), start.y + 0.2 * (end.y - start.y)))
    assert near.towards == pytest.approx((-far.towards[0], -far.towards[1]))
    assert np.hypot(*near.towards) == pytest.approx(1.0)
    assert not any(leg.ends for leg in drawn.legs if not leg.is_gap)


@pytest.mark.parametrize("route", [PLANTED, "LENDU9 LENDU DCT PIKOX DCT XYZZY DCT TOVIK DCT SARNO SARNO7"])
def test_a_plain_picture_tells_nobody_where_to_look(route: str, assessed: Assess) -> None:
    """An airway that leads nowhere, procedures of another number, unknown names: one calm line from end to end."""
    assessment = assessed(route)
    marked, plain = draw_picture(assessment), draw_plain_picture(assessment)
    assert marked.marks
    assert any(leg.is_gap for leg in marked.legs)
    assert (plain.marks, plain.others, plain.points) == ((), (), marked.points)
    assert {(leg.figures, leg.is_gap, leg.weight, leg.ends) for leg in plain.legs} == {("", False, None, ())}
    assert not any(np.isnan(leg.curve).any() for leg in plain.legs)
    assert [leg.last for leg in plain.legs[:-1]] == [leg.index for leg in plain.legs[1:]]


def test_what_was_not_chosen_is_kept_with_how_much_longer_it_is(assessed: Assess) -> None:
    drawn = draw_picture(assessed("LENDU UM12 UVAGI DCT TOVIK DCT SARNO"))
    assert {other.lost.place.ident for other in drawn.others} == {"TOVIK"}
    other = drawn.others[0]
    assert other.name == "TOVIK, 8.9 NM longer"
    assert drawn.projection.place(other.lost.place.lat, other.lost.place.lon) == pytest.approx((other.x, other.y))
    assert next(p for p in drawn.points if p.index == other.point).name == "TOVIK"


def test_long_legs_are_drawn_along_the_geodesic(assessed: Assess) -> None:
    leg = draw_picture(assessed("60N170E DCT 60N130W", "RJAA", "KSFO")).legs[1]
    assert len(leg.curve) > 10
    drawn = draw_picture(assessed("60N170E DCT 60N130W", "RJAA", "KSFO"))
    x, y = leg.curve[len(leg.curve) // 2]
    back = drawn.projection.back(float(x), float(y))
    assert back is not None
    cross, _ = geo.cross_track(60.0, 170.0, 60.0, -130.0, *back)
    assert abs(cross) < 0.1
    assert back[0] == pytest.approx(63.4, abs=0.1)


def test_flagged_legs_have_the_weight_and_notes_leave_them_calm(assessed: Assess) -> None:
    assessment = assessed(PLANTED)
    weights = leg_weights(assessment)
    assert weights[1] is Weight.WRONG
    assert 0 not in weights
    note = Finding(assessment.findings[0].spans, "worth knowing", Weight.NOTE, points=(1,))
    import dataclasses

    assert leg_weights(dataclasses.replace(assessment, findings=(note,))) == {}


def test_the_heavier_weight_wins_on_a_leg(assessed: Assess) -> None:
    import dataclasses

    assessment = assessed("LENDU DCT PIKAR DCT TOVIK")
    doubtful = Finding((), "looks odd", Weight.DOUBTFUL, points=(1, 2))
    wrong = Finding((), "cannot be", Weight.WRONG, points=(1, 2))
    for findings in ((doubtful, wrong), (wrong, doubtful)):
        assert leg_weights(dataclasses.replace(assessment, findings=findings)) == {1: Weight.WRONG}


def test_marks_stand_on_the_spot_with_their_number(assessed: Assess) -> None:
    drawn = draw_picture(assessed(PLANTED))
    mark = drawn.marks[0]
    spot = next(p for p in drawn.points if p.name == "PIKOR")
    assert (mark.index, mark.x, mark.y) == (0, spot.x, spot.y)


def test_a_finding_about_an_airway_is_marked_at_its_stretch(assessed: Assess) -> None:
    assessment = assessed("SOR T16 EMPUR DCT BURLO V27 HOSTU", "XVSU", "XVAL")
    airway_alone = replace(assessment.findings[0], spans=assessment.findings[0].spans[:1], points=())
    drawn = draw_picture(replace(assessment, findings=(airway_alone,)))
    gap = next(leg for leg in drawn.legs if leg.is_gap)
    ends = gap.curve[~np.isnan(gap.curve[:, 0])]
    assert (drawn.marks[0].x, drawn.marks[0].y) == pytest.approx(tuple(ends[0] + 0.2 * (ends[-1] - ends[0])), abs=1.0)


def test_figures_along_a_leg(assessed: Assess) -> None:
    leg = draw_picture(assessed("LENDU DCT PIKAR")).legs[1]
    course, distance = leg.figures.split("  ")
    assert course.endswith("°M")
    assert len(course) == len("099°M")
    assert distance.endswith(" NM")


def test_direct_line_only_between_placed_ends(assessed: Assess) -> None:
    assert len(draw_picture(assessed("LENDU")).direct) >= 2
    assert len(draw_picture(assessed("LENDU", departure="")).direct) == 0


def test_islands_belong_to_the_invented_region(assessed: Assess) -> None:
    assert len(draw_picture(assessed("LENDU")).islands) == 9


def test_real_coast_is_there(assessed: Assess) -> None:
    drawn = draw_picture(assessed("40N060W", "KJFK", "EGLL"))
    views = (-2000.0, -1500.0, 2000.0, 1500.0), (-3000.0, -2000.0, 3000.0, 2000.0)
    fine, coarse = (np.isfinite(drawn.outline(view).coast[:, 0]).sum() for view in views)
    assert fine > 5 * coarse > 2500


def test_the_coast_is_cut_as_far_beyond_the_view_as_the_view_is_wide(assessed: Assess) -> None:
    drawn = draw_picture(assessed("40N060W", "KJFK", "EGLL"))
    x, y = drawn.projection.place(48.5, -56.0)
    coast = drawn.outline((x - 100.0, y - 100.0, x + 100.0, y + 100.0)).coast
    off = np.abs(coast - (x, y))
    assert 300.0 < np.nanmax(off) < 500.0
    assert drawn.outline((x - 99.0, y - 99.0, x + 101.0, y + 101.0)).coast is coast, "a little on it is the same"


def test_nothing_placed_gives_no_box(assessed: Assess) -> None:
    drawn = draw_picture(assessed("", departure="", destination=""))
    assert drawn.box is None
    assert drawn.points == ()
    assert empty_picture().box is None


@pytest.mark.parametrize(
    ("route", "departure", "destination"),
    [
        ("40N170E 42N175W 35N160W", "RJAA", "KSFO"),
        ("80N030W 89N060W 85N160E 70N150E", "ENSB", "UHMM"),
        ("90N000E", "ENSB", "UHMM"),
        ("89S000E 89S180E", "SCCI", "NZCH"),
        ("00N090E 00N090W", "", ""),
        ("31S002E 31S002E", "", ""),
    ],
)
def test_date_line_and_poles_are_no_special_case(
    assessed: Assess, route: str, departure: str, destination: str
) -> None:
    drawn = draw_picture(assessed(route, departure, destination))
    assert drawn.box is not None
    west, south, east, north = drawn.box
    assert np.isfinite(drawn.box).all()
    for point in drawn.points:
        assert west <= point.x <= east
        assert south <= point.y <= north
    for leg in drawn.legs:
        steps = np.hypot(*np.diff(leg.curve, axis=0).T)
        assert np.nanmax(steps) < 600, "a leg leaps across the map"


def test_one_point_still_has_a_view_around_it(assessed: Assess) -> None:
    drawn = draw_picture(assessed("31S002E", departure="", destination=""))
    assert drawn.box is not None
    assert drawn.box[2] - drawn.box[0] >= 40


def test_two_pictures_look_alike_only_where_nothing_drawn_differs(assessed: Assess) -> None:
    drawn = draw_picture(assessed("LENDU DCT XYZZA DCT SARNO"))
    assert drawn.looks_like(draw_picture(assessed("LENDU DCT XYZZA DCT SARNO")))
    assert drawn.legs[1].is_gap
    first, gap, *rest = drawn.legs
    shifted = replace(gap, curve=gap.curve + 0.5)
    for other in (
        draw_picture(assessed("LENDU DCT SARNO")),
        replace(drawn, legs=(first, shifted, *rest)),
        replace(drawn, legs=(replace(first, weight=Weight.DOUBTFUL), gap, *rest)),
        replace(drawn, marks=()),
        replace(drawn, direct=drawn.direct[:1]),
        empty_picture(),
    ):
        assert not drawn.looks_like(other)


def test_a_station_of_an_undated_list_is_drawn_as_no_place(assessed: Assess) -> None:
    drawn = draw_picture(assessed("YWG DCT YQL", departure="CYYZ", destination="CYVR"))
    assert [other.name for other in drawn.others] == ["YWG, by an undated world list", "YQL, by an undated world list"]
    assert [point.name for point in drawn.points] == ["CYYZ", "CYVR"]
