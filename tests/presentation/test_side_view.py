"""The Side view as values: places along the way, brackets, room, lines, marks, and what is read out."""

import datetime as dt
import math
from dataclasses import replace
from pathlib import Path

import pytest

from routecheck.model import AircraftSheet, AltitudeWindow, Assessment, RouteInput, Weight
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.presentation.side_lines import AIRWAY, GRID, altitude_on, window_label
from routecheck.presentation.side_view import SideView, lay_out_side_view, with_trial
from routecheck.presentation.side_words import band_at, describe_place, describe_side_view
from routecheck.reading.inputs import read_input
from routecheck.settings import Settings
from routecheck.vertical.windows import route_room

SAMPLES = Path(__file__).resolve().parents[2] / "sample_routes"
DAY = dt.date(2026, 12, 3)
JET = "Medium jet"
STAR = RouteInput("LENDU UM12 TOVIK DCT SARNO SARNO2", "XVAL", "XVOR", level="F350", aircraft_sheet=JET)
TYPED = (AltitudeWindow("KEBUL", 24_000.0), AltitudeWindow("RIPAS", None, 6_000.0))


@pytest.fixture
def seen(demo_library: NavDatabase):
    def made(route_input: RouteInput) -> tuple[SideView, Assessment]:
        assessment = assess(route_input, demo_library, Settings(), DAY)
        return lay_out_side_view(assessment), assessment

    return made


def sample(name: str) -> RouteInput:
    path = SAMPLES / f"{name}.route.toml"
    return next(iter(read_input(path.read_bytes(), path.name)))


def at(view: SideView, name: str) -> int:
    return next(p.index for p in view.points if p.name == name)


def read(view: SideView, assessment: Assessment, nm: float) -> str:
    return describe_place(view, assessment, nm)


# ---- along the way


def test_points_stand_at_their_distances(seen) -> None:
    view, assessment = seen(replace(STAR, route="LENDU UM12 TOVIK DCT SARNO"))
    lengths = [leg.distance_nm for leg in assessment.route.legs]
    assert [b.nm - a.nm for a, b in zip(view.points, view.points[1:], strict=False)] == pytest.approx(lengths)
    assert view.gaps == ()
    assert view.whole_nm == pytest.approx(assessment.route.totals.distance_nm)


def test_a_gap_is_drawn_at_its_least_and_never_said_as_a_distance(seen) -> None:
    view, assessment = seen(sample("clean/runway-to-runway"))
    (gap,) = view.gaps
    assert gap.least_nm == pytest.approx(assessment.route.legs[0].least_nm)
    assert gap.ends - gap.begins == pytest.approx(gap.least_nm)
    assert gap.label == "gap, at least 18.3 NM"
    assert "at least 9.0 NM" not in read(view, assessment, 9.0)
    assert "Gap from XVAL to TILBU, at least 18.3 NM" in read(view, assessment, 9.0)
    assert "at least 100 NM from XVAL" in read(view, assessment, 100.2)
    assert any("at least" in note for note in view.notes)


def test_a_gap_of_no_known_length_is_a_notch_that_counts_nothing(seen) -> None:
    view, assessment = seen(RouteInput("LENDU DCT PIKAR", "XVAL", "ZZZ9", level="F350", aircraft_sheet=JET))
    (gap,) = view.gaps
    assert gap.least_nm is None
    assert gap.label == "gap"
    known = assessment.route.totals.distance_nm
    assert gap.begins == pytest.approx(known)
    assert f"at least {known:.0f} NM from XVAL" in read(view, assessment, gap.ends - 0.01)
    assert view.guessed == ()


def test_a_gap_over_a_point_not_placed_is_one(seen) -> None:
    view, _ = seen(RouteInput("LENDU DCT XYZZY DCT PIKAR", "XVAL", "XVOR", level="F350"))
    assert [(g.first, g.last) for g in view.gaps] == [(1, 3)]
    assert view.gaps[0].least_nm == pytest.approx(93.95, abs=0.01)


# ---- windows and room


def test_stated_and_coded_windows_are_told_apart(seen) -> None:
    view, _ = seen(replace(STAR, windows=TYPED[:1]))
    kebul = [b for b in view.brackets if b.point == at(view, "KEBUL")]
    assert [(b.typed, b.label) for b in kebul] == [(True, "≥ FL240"), (False, "≥ 11,000 ft")]
    assert view.brackets[0].label == "FL200–FL240"


@pytest.mark.parametrize(
    ("window", "label"),
    [
        ((11_000, None), "≥ 11,000 ft"),
        ((None, 24_000), "≤ FL240"),
        ((5_000, 5_000), "at 5,000 ft"),
        ((9_000, 12_000), "9,000–12,000 ft"),
        ((10_000, 21_000), "10,000 ft–FL210"),
        ((None, None), ""),
    ],
)
def test_a_window_is_written_with_its_unit(window: tuple[float | None, float | None], label: str) -> None:
    assert window_label(*window, 18_000) == label


def test_the_band_is_the_room_that_was_reckoned(seen) -> None:
    view, assessment = seen(STAR)
    room = route_room(assessment.route)
    assert room is not None
    ceiling = assessment.route.route_input.sheet.ceiling_ft
    corners = {round(nm, 6): (low, high) for piece in view.band for nm, low, high in piece}
    assert len(corners) > len(view.points)
    for point, band in zip(view.points[:-1], room.bands, strict=False):  # the last one lies behind a gap
        low, high = corners[round(point.nm, 6)]
        assert band is not None
        assert (low if math.isfinite(low) else None) == (band[0] and pytest.approx(band[0]))
        assert high == pytest.approx(min(band[1] or math.inf, ceiling))


def test_the_band_closes_where_windows_cannot_be_kept(seen) -> None:
    view, assessment = seen(sample("planted/windows-that-cannot-be-met"))
    ((begins, ends),) = view.shut
    kebul, ripas = view.points[at(view, "KEBUL")].nm, view.points[at(view, "RIPAS")].nm
    assert begins < kebul < ripas < ends
    assert not [p for p in view.band if p[0][0] < kebul < p[-1][0] or p[0][0] < ripas < p[-1][0]]
    said = read(view, assessment, (kebul + ripas) / 2)
    assert "No room here" in said
    (finding,) = [f for f in assessment.findings if f.check == "windows-conflict"]
    assert "needs 653 ft/NM down" in finding.message
    assert "KEBUL ≥ FL240 to RIPAS 9,000–12,000 ft in 18.4 NM: needs 653 ft/NM down (6.1°)" in said
    assert "this sheet's steepest is 450" in said
    assert "No room about KEBUL and RIPAS." in describe_side_view(view)
    assert view.weight_between(begins, ends) is Weight.DOUBTFUL
    assert {b.weight for b in view.brackets if b.point in finding.points} == {Weight.DOUBTFUL}
    assert {b.weight for b in view.brackets if b.point not in finding.points} == {None}


def test_no_sheet_no_band_and_it_is_said_where_to_get_one(seen) -> None:
    view, assessment = seen(replace(STAR, aircraft_sheet=""))
    assert view.brackets
    assert view.band == view.shut == view.profile == ()
    assert view.notes[0] == "No room, no climb and no descent: choose an Aircraft sheet in the strip."
    assert "Room not known" in read(view, assessment, 50.0)
    assert [(s.begins, s.feet) for s in view.levels] == [(0.0, 35_000.0)]


def test_nothing_is_said_of_room_in_a_gap(seen) -> None:
    view, _ = seen(sample("clean/runway-to-runway"))
    assert not [piece for piece in view.band if piece[0][0] < view.gaps[0].ends - 1e-6]


def test_two_windows_in_level_flight_need_no_gradient(seen) -> None:
    view, assessment = seen(STAR)
    said = read(view, assessment, view.points[at(view, "SARNO")].nm + 5)
    assert "SARNO FL200–FL240 to KEBUL ≥ 11,000 ft in 43.2 NM: can be kept in level flight" in said


def test_windows_on_both_sides_of_a_gap_ask_for_no_gradient(seen) -> None:
    view, assessment = seen(RouteInput("LENDU DCT XYZZY DCT PIKAR", "XVAL", "XVOR", level="F350"))
    assert "a gap lies between, no gradient is reckoned" in read(view, assessment, 20.0)


def test_behind_a_holding_any_altitude_may_follow(seen) -> None:
    view, assessment = seen(sample("clean/runway-to-runway"))
    tampu = at(view, "TAMPU")
    assert assessment.route.points[tampu].note
    said = read(view, assessment, view.points[tampu].nm + 2.0)
    assert "Room: behind the holding at TAMPU any altitude may follow" in said
    assert "a holding lies between, no gradient is reckoned" in said


# ---- lines


@pytest.mark.parametrize(
    "route_input",
    [
        STAR,
        replace(STAR, route="LENDU1 LENDU UM12 TOVIK DCT SARNO SARNO2", departure_runway="09", destination_runway="27"),
        replace(STAR, route="LENDU UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS", windows=TYPED),
        replace(STAR, route="31S002E 31S012E 31S022E 31S032E"),
    ],
)
def test_the_plan_lies_inside_the_room_wherever_there_is_room(seen, route_input: RouteInput) -> None:
    """The symptom: over 645 NM of a long leg the plan lay above a room whose corner at the ceiling was missing."""
    view, _ = seen(route_input)
    assert view.band
    for piece in view.band:
        for share in range(101):
            nm = piece[0][0] + (piece[-1][0] - piece[0][0]) * share / 100
            low, high = band_at(piece, nm)
            (feet,) = [altitude_on(line, nm) for line in view.profile if line[0][0] - 1e-6 <= nm <= line[-1][0] + 1e-6]
            assert (-math.inf if low is None else low - 1.0) <= feet <= (math.inf if high is None else high + 1.0)


def test_no_filed_level_stands_over_the_final_approach(seen) -> None:
    """The symptom: behind the vectors that lead to it FL350 was drawn over the approach down to the runway."""
    route_input = replace(sample("clean/runway-to-runway"), aircraft_sheet="", sheet=None)
    view, assessment = seen(route_input)
    approach = {i for i, one in enumerate(assessment.route.resolved.connections) if one.procedure_kind == "APPROACH"}
    legs = [i for i, leg in enumerate(assessment.route.legs) if leg.connection in approach]
    assert legs
    assert view.levels
    assert max(step.ends for step in view.levels) <= view.points[legs[0]].nm + 1e-6


def test_a_level_reached_before_a_gap_is_not_drawn_again_behind_it(seen) -> None:
    view, _ = seen(sample("clean/runway-to-runway"))
    assert view.profile
    assert view.levels == ()


def test_the_planned_profile_begins_and_ends_at_the_fields(seen) -> None:
    view, assessment = seen(replace(STAR, route="LENDU UM12 TOVIK DCT SARNO DCT KEBUL"))
    (line,) = view.profile
    fields = [assessment.route.points[i].place.elevation_ft for i in (0, -1)]
    assert [line[0][1], line[-1][1]] == pytest.approx(fields)
    assert [g.elevation_ft for g in view.grounds] == fields
    assert altitude_on(line, 300.0) == 35_000.0
    assert max(feet for _, feet in line) == 35_000.0
    assert "Planned FL350, level" in read(view, assessment, 300.0)


def test_a_level_that_is_never_reached_is_drawn_where_it_is_filed(seen) -> None:
    view, _ = seen(sample("planted/level-never-reached"))
    assert [(s.label, s.begins, s.ends) for s in view.levels] == [("filed level FL390", 0.0, view.whole_nm)]
    assert max(feet for line in view.profile for _, feet in line) < 39_000
    assert seen(STAR)[0].levels == ()


def test_a_tried_window_stands_beside_what_is_there(seen) -> None:
    wrong, _ = seen(sample("planted/window-a-tenth"))
    right, _ = seen(replace(sample("planted/window-a-tenth"), windows=(AltitudeWindow("KEBUL", 11_000.0),)))
    tried = [b for b in with_trial(wrong, right).brackets if b.tried]
    assert [(b.label, b.point) for b in tried] == [("≥ 11,000 ft, if changed", at(wrong, "KEBUL"))]
    assert with_trial(wrong, right).tried == ()


def test_a_tried_level_brings_its_profile_but_not_along_another_way(seen) -> None:
    now, _ = seen(STAR)
    lower, _ = seen(replace(STAR, level="F290"))
    assert with_trial(now, lower).tried == lower.profile != ()
    other, _ = seen(replace(STAR, route="LENDU DCT SARNO SARNO2"))
    assert with_trial(now, other) is now


def test_the_profile_through_a_gap_is_only_guessed(seen) -> None:
    view, _ = seen(sample("clean/runway-to-runway"))
    assert [round(nm, 6) for nm in (view.guessed[0][0][0], view.guessed[0][-1][0])] == [
        0.0,
        round(view.gaps[0].ends, 6),
    ]
    assert view.profile[0][0][0] == pytest.approx(view.gaps[0].ends)


def test_minima_are_drawn_where_they_are_known(seen) -> None:
    view, assessment = seen(replace(STAR, route="LENDU UM12 TOVIK DCT SARNO"))
    airway = [s for s in view.minima if s.what == AIRWAY]
    assert [(s.begins, s.ends, s.feet) for s in airway] == [
        (view.points[1].nm, view.points[at(view, "TOVIK")].nm, 24_500.0)
    ]
    assert airway[0].label == "airway minimum FL245"
    assert max(s.feet for s in view.minima if s.what == GRID) == max(leg.mora_ft for leg in assessment.route.minima)
    assert "Airway minimum FL245, grid MORA" in read(view, assessment, 150.0)


def test_unknown_minima_are_not_drawn_but_said(seen) -> None:
    view, assessment = seen(RouteInput("NIR V27 HOSTU", "XVAL", "XVOR", level="F100"))
    derus = next(i for i, p in enumerate(view.points) if p.name == "DERUS")
    nm = view.points[derus].nm + 1.0
    assert not [s for s in view.minima if s.what == AIRWAY and s.begins <= nm <= s.ends]
    assert "Airway minimum not known" in read(view, assessment, nm)


def test_without_a_level_there_are_no_minima_and_it_is_said(seen) -> None:
    view, _ = seen(replace(STAR, level=""))
    assert view.minima == view.profile == view.levels == ()
    assert "No planned profile and no minima: file a level in the strip." in view.notes


def test_only_missing_gradients_are_said_whatever_the_sheet_is_called(seen) -> None:
    sheet = AircraftSheet("usual gradients", usual_climb_ft_nm=300.0, usual_descent_ft_nm=300.0)
    view, _ = seen(replace(STAR, sheet=sheet, aircraft_sheet=""))
    assert not any("climb 300" in note for note in view.notes)
    view, _ = seen(replace(STAR, sheet=AircraftSheet("own"), aircraft_sheet=""))
    assert "The sheet “own” has no usual gradients: climb and descent are not counted." in view.notes


# ---- the whole


@pytest.mark.parametrize(
    "given", [("",), ("XYZZY",), ("//// $%&",), ("N0450F360 NUNTO L610 LAM", "EGLL", "EHAM")], ids=" ".join
)
def test_nothing_to_show_is_said_calmly(seen, given: tuple[str, ...]) -> None:
    view, assessment = seen(RouteInput(*given))
    assert view.missing == "The Side view appears with the first leg whose length is known."
    assert describe_side_view(view) == view.missing
    assert read(view, assessment, 0.0) == ""


def test_a_way_without_any_altitude_says_what_is_missing(seen) -> None:
    view, _ = seen(RouteInput("31S002E DCT 31S004E"))
    assert view.missing.startswith("No altitudes are known yet.")


def test_marks_stand_at_what_they_are_about(seen) -> None:
    view, assessment = seen(RouteInput("LENDU DCT PIKOR DCT TOVIK", "XVAL", "XVOR", level="F350"))
    assert assessment.findings
    assert {mark.index for mark in view.marks} <= set(range(len(assessment.findings)))
    for mark in view.marks:
        assert 0.0 <= mark.nm <= view.whole_nm
        assert mark.weight is assessment.findings[mark.index].weight


def test_departure_and_arrival_hold_their_windows(seen) -> None:
    view, _ = seen(sample("clean/runway-to-runway"))
    (_, last), (first, whole) = view.departure, view.arrival
    assert last > view.points[at(view, "RESKO")].nm
    assert last < view.points[at(view, "UVAGI")].nm
    assert first < view.points[at(view, "SARNO")].nm
    assert first > view.points[at(view, "TOVIK")].nm
    assert whole == view.whole_nm


def test_what_is_read_at_a_point_names_its_windows(seen) -> None:
    view, assessment = seen(replace(STAR, windows=TYPED[:1]))
    said = describe_place(view, assessment, view.points[at(view, "KEBUL")].nm, at(view, "KEBUL"))
    assert "Window: at or above FL240, stated beside the route" in said
    assert "Window: at or above 11,000 ft, coded in SARNO2" in said


def test_two_points_at_one_place_need_no_division(seen) -> None:
    route_input = RouteInput(
        "31S002E DCT 31S002E DCT 31S004E",
        aircraft_sheet=JET,
        level="F350",
        windows=(AltitudeWindow("31S004E", 9_000.0, 3_000.0),),
    )
    view, assessment = seen(route_input)
    for nm in (0.0, 1.0, view.whole_nm):
        assert read(view, assessment, nm)
    assert describe_side_view(view)


# ---- from where on levels are flown


def with_transition(assessment: Assessment, departure: float | None, destination: float | None) -> Assessment:
    route = assessment.route
    ends = [
        replace(point, place=replace(point.place, transition_altitude_ft=feet, transition_level_ft=None))
        for point, feet in ((route.points[0], departure), (route.points[-1], destination))
    ]
    return replace(assessment, route=replace(route, points=(ends[0], *route.points[1:-1], ends[1])))


def test_altitudes_turn_into_levels_above_the_transition_altitude_of_the_aerodrome(seen) -> None:
    """At 18,000 ft everywhere, whatever the aerodrome: a window at FL100 was read out as 10,000 ft."""
    typed = (
        AltitudeWindow("LENDU", 10_000.0),
        AltitudeWindow("KEBUL", 10_000.0),
        AltitudeWindow("RIPAS", None, 6_000.0),
    )
    assessment = with_transition(seen(replace(STAR, level="F330", windows=typed))[1], 5_000.0, 18_000.0)
    view = lay_out_side_view(assessment)
    labels = {view.points[one.point].name: one.label for one in view.brackets if one.typed}
    assert labels == {"LENDU": "≥ FL100", "KEBUL": "≥ 10,000 ft", "RIPAS": "≤ 6,000 ft"}
    assert "LENDU at or above FL100; " in describe_side_view(view)
    assert view.notes[-1] == (
        "Levels are written above 5,000 ft, the transition altitude of XVAL and above 18,000 ft, the transition "
        "altitude of XVOR."
    )
    assert view.all_levels_from_ft == 18_000.0 + 1.0


def test_where_no_transition_altitude_is_known_the_filed_level_alone_is_one(seen) -> None:
    assessment = with_transition(seen(replace(STAR, level="F090"))[1], None, None)
    view = lay_out_side_view(assessment)
    assert "Planned FL090, level" in read(view, assessment, view.whole_nm / 3.0)
    assert view.notes[-1] == (
        "Levels are written from 9,000 ft on, as the transition altitude of XVAL and XVOR is not known."
    )


def test_a_grid_minimum_is_an_altitude_however_low_levels_begin(seen) -> None:
    assessment = with_transition(seen(STAR)[1], 3_000.0, 3_000.0)
    view = lay_out_side_view(assessment)
    assert {step.what: "FL" in step.label for step in view.minima} == {AIRWAY: True, GRID: False}
