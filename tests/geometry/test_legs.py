"""Distances, courses, turns and totals; what was not checked and how much; date line, poles, points on one spot."""

import datetime as dt
import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import geo, magnetic, vincenty
from routecheck.geometry.legs import compute_routes
from routecheck.model import RouteInput, VariationFrom
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.presentation.headline import headline
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()


def reckoned(route, departure="", destination="", date=DAY, database=DEMO):
    return compute_routes([resolve(read_route(RouteInput(route, departure, destination)), database, date)], [date])[0]


def inside(route):
    """The legs and turns between the first and the last point typed, where no aerodromes are given."""
    return route.legs[1:-1], route.turns[2:-2]


# ---- figures


def test_the_table_of_a_parallel_at_57_north():
    """Legs of 10° along 57N, by another library: they turn by 8.4° at every point, from a leg's END course."""
    legs, turns = inside(reckoned("57N030W 57N020W 57N010W 57N000W"))
    assert [leg.course_true_deg for leg in legs] == pytest.approx([85.8] * 3, abs=0.05)
    assert [leg.end_course_true_deg for leg in legs] == pytest.approx([94.2] * 3, abs=0.05)
    assert [turn.turn_deg for turn in turns] == pytest.approx([-8.4] * 2, abs=0.05)
    back_legs, back_turns = inside(reckoned("57N000W 57N010W 57N020W 57N030W"))
    assert [turn.turn_deg for turn in back_turns] == pytest.approx([8.4] * 2, abs=0.05)
    assert back_legs[0].course_true_deg == pytest.approx(274.2, abs=0.05)


def test_a_turn_to_the_right_is_positive_and_half_round_is_plus_180():
    right, left = (reckoned(f"00N000E 00N010E {third}").turns[2].turn_deg for third in ("10S010E", "10N010E"))
    assert (right, left) == (pytest.approx(90, abs=0.01), pytest.approx(-90, abs=0.01))
    assert reckoned("00N000E 00N010E 00N000E").turns[2].turn_deg == pytest.approx(180.0)


def test_detour_share_and_d_value():
    route = reckoned("31S000E 31S002E 29S004E 31S006E 31S008E")
    turn, (before, after) = route.turns[3], route.legs[2:4]
    a, b = route.points[2].place, route.points[4].place
    past = geo.inverse(a.lat, a.lon, b.lat, b.lon)[2]
    assert turn.detour_nm == pytest.approx(before.distance_nm + after.distance_nm - past, abs=1e-9)
    assert turn.share == pytest.approx(turn.detour_nm / past)
    assert turn.d_value_nm == pytest.approx(turn.detour_nm * abs(turn.turn_deg) / 90)
    assert not turn.next_to_airport


def test_beside_an_airport_the_d_value_is_a_third():
    route = reckoned("29S004E 31S002E", "XVAL", "XVOR")
    for turn in route.turns[1:3]:
        assert turn.next_to_airport
        assert turn.d_value_nm == pytest.approx(turn.detour_nm * abs(turn.turn_deg) / 270)


def test_magnetic_courses_by_the_model_at_each_end():
    legs, _ = inside(reckoned("31S000E 31S010E"))
    (leg,) = legs
    assert leg.variation_from is VariationFrom.WMM
    for course, magnetic_course, lon in (
        (leg.course_true_deg, leg.course_magnetic_deg, 0.0),
        (leg.end_course_true_deg, leg.end_course_magnetic_deg, 10.0),
    ):
        west = -magnetic.declination(-31.0, lon, DAY).declination_deg
        assert west > 5
        assert magnetic_course == pytest.approx((course + west) % 360)


def test_magnetic_courses_by_records_where_the_model_does_not_reach():
    legs, _ = inside(reckoned("PIKAR KEL", date=dt.date(2031, 1, 1)))
    (leg,) = legs
    (pikar,), (kel,) = DEMO.places("PIKAR"), DEMO.places("KEL")
    assert leg.variation_from is VariationFrom.RECORD
    assert leg.course_magnetic_deg == pytest.approx((leg.course_true_deg - pikar.variation_deg) % 360)
    assert kel.declination_deg is not None
    assert leg.end_course_magnetic_deg is None, "an alignment is no variation"


def test_a_typed_position_has_no_record_and_so_no_magnetic_course():
    legs, _ = inside(reckoned("31S000E 31S002E", date=dt.date(2020, 1, 1)))
    (leg,) = legs
    assert (leg.course_magnetic_deg, leg.end_course_magnetic_deg, leg.variation_from) == (None, None, None)
    assert leg.course_true_deg is not None


# ---- totals


def positions(lat, lon):
    south, west = "NS"[lat < 0], "EW"[lon < 0]
    return f"{abs(lat):02}{south}{abs(lon):03}{west}"


degrees = st.tuples(st.integers(-90, 90), st.integers(-180, 180))


@given(st.lists(degrees, min_size=2, max_size=8))
def test_totals_equal_a_second_computation(typed):
    route = reckoned(" ".join(positions(*where) for where in typed))
    by_the_other = sum(geo.second_distance_nm(*a, *b) for a, b in itertools.pairwise(typed))
    assert route.totals.distance_nm == pytest.approx(by_the_other, abs=1 / 1852)
    assert route.own_mistakes == ()
    for leg in route.legs:
        for course in (leg.course_true_deg, leg.end_course_true_deg, leg.course_magnetic_deg):
            assert course is None or 0.0 <= course < 360.0
    for turn in filter(None, route.turns):
        assert -180.0 < turn.turn_deg <= 180.0
        assert turn.detour_nm >= 0.0
        assert math.isfinite(turn.d_value_nm)


@pytest.mark.parametrize(("metres", "fault"), [(0.9, False), (1.1, True)])
def test_a_second_computation_that_differs_by_over_a_metre_is_our_fault_and_shown(monkeypatch, metres, fault):
    right = vincenty.distances_nm
    monkeypatch.setattr(vincenty, "distances_nm", lambda *four: right(*four) + metres / 1852)
    mistakes = reckoned("31S000E 31S002E").own_mistakes
    assert bool(mistakes) is fault
    assert all("two computations of the total differ" in said for said in mistakes)


def test_each_route_of_a_batch_is_reckoned_as_if_alone():
    texts = ["31S000E 31S002E", "", "LENDU UM12 TOVIK", "☂", "PIKER"]
    resolved = [resolve(read_route(RouteInput(t, "XVAL", "XVOR")), DEMO, DAY) for t in texts]
    alone = [compute_routes([one], [DAY])[0] for one in resolved]
    assert compute_routes(resolved, [DAY] * len(resolved)) == alone
    assert compute_routes([], []) == []


def test_routes_that_share_their_legs_keep_their_own_days_and_figures():
    """What several routes of a batch ask is computed once: there and back, and on two days with two variations."""
    asked = [("LENDU UM12 TOVIK", DAY), ("TOVIK UM12 LENDU", DAY), ("LENDU UM12 TOVIK", dt.date(2031, 1, 1))] * 2
    resolved = [resolve(read_route(RouteInput(text, "XVAL", "XVOR")), DEMO, day) for text, day in asked]
    together = compute_routes(resolved, [day for _, day in asked])
    assert together == [compute_routes([one], [day])[0] for one, (_, day) in zip(resolved, asked, strict=True)]
    assert together[0].legs[1].variation_from is VariationFrom.WMM
    assert together[2].legs[1].variation_from is VariationFrom.RECORD
    assert together[0].legs[1].course_true_deg != pytest.approx(together[1].legs[1].course_true_deg, abs=1)


# ---- what was not checked


@pytest.mark.parametrize(
    ("route", "stretches"),
    [
        ("LENDU DCT PIKAR", []),
        ("LENDU DCT PIKER DCT UVAGI", [("LENDU", "UVAGI")]),
        ("LENDU DCT PIKER DCT PIKIR DCT UVAGI", [("LENDU", "UVAGI")]),
        ("PIKER DCT LENDU", [("XVAL", "LENDU")]),
        ("LENDU PIKER", [("LENDU", "XVOR")]),
        ("PIKER", [("XVAL", "XVOR")]),
        ("LENDU UM13 TOVIK", [("LENDU", "TOVIK")]),
        ("LENDU UM13 PIKER UM14 TOVIK", [("LENDU", "TOVIK")]),
        ("LENDU1 LENDU DCT SARNO SARNO2", [("XVAL", "TILBU"), ("HUNSA", "XVOR")]),
        ("LENDU UM12 UN21 MUVEK", [("LENDU", "MUVEK")]),
        ("PIKER LENDU UM13 TOVIK PIKIR", [("XVAL", "LENDU"), ("LENDU", "TOVIK"), ("TOVIK", "XVOR")]),
    ],
)
def test_stretches_not_checked_reach_from_placed_point_to_placed_point(route, stretches):
    answer = reckoned(route, "XVAL", "XVOR")
    totals = answer.totals
    assert [(answer.points[s.first].text, answer.points[s.last].text) for s in totals.not_checked] == stretches
    open_legs = [i for i, leg in enumerate(answer.legs) if leg.distance_nm is None]
    assert [i for s in totals.not_checked for i in range(s.first, s.last)] == open_legs, "each open leg once"
    assert totals.gaps == len(open_legs)
    for s in totals.not_checked:
        a, b = answer.points[s.first].place, answer.points[s.last].place
        assert s.least_nm == pytest.approx(geo.inverse(a.lat, a.lon, b.lat, b.lon)[2], abs=1e-9)
        assert s.because
    assert totals.whole_nm == pytest.approx(totals.checked_nm + sum(s.least_nm for s in totals.not_checked))
    assert (totals.checked_share == 1.0) == (not stretches)
    assert 0.0 <= totals.checked_share <= 1.0


def test_the_share_is_the_checked_part_of_the_least_length():
    answer = reckoned("LENDU DCT PIKER DCT UVAGI", "XVAL", "XVOR")
    lendu, uvagi = answer.points[1].place, answer.points[3].place
    open_nm = geo.inverse(lendu.lat, lendu.lon, uvagi.lat, uvagi.lon)[2]
    known = answer.totals.distance_nm
    assert answer.totals.checked_share == pytest.approx(known / (known + open_nm))


@pytest.mark.parametrize("route", ["LENDU UM13 LENDU", "LENDU UM13 LENDU DCT PIKAR"])
def test_an_open_stretch_that_may_have_no_length_still_keeps_the_share_under_one(route):
    assert reckoned(route, "XVAL", "XVOR").totals.checked_share < 1.0


def test_nothing_checked_is_zero_and_no_length_at_all_is_not_known():
    assert reckoned("PIKER", "XVAL", "XVOR").totals.checked_share == 0.0
    assert reckoned("UM13", "XVAL", "XVAL").totals.checked_share == 0.0
    nowhere = reckoned("PIKER", "", "").totals
    assert (nowhere.checked_share, nowhere.whole_nm, nowhere.direct_nm) == (None, None, None)


# ---- one spot


def test_two_points_on_one_spot_have_a_leg_of_no_length_and_no_course():
    route = reckoned("31S000E 31S002E 3100S00200E 30S003E")
    legs, _ = inside(route)
    assert legs[1].distance_nm == 0.0
    assert (legs[1].course_true_deg, legs[1].end_course_true_deg, legs[1].course_magnetic_deg) == (None, None, None)
    assert not legs[1].gap
    assert route.totals.gaps == 2, "the aerodromes that are not given"


def test_the_turn_over_two_points_on_one_spot_is_told_once_at_the_first():
    """A course was once made up for the leg between them: a turn of 105° was told where the route turns 30°."""
    single, double = reckoned("31S000E 31S002E 30S003E"), reckoned("31S000E 31S002E 3100S00200E 30S003E")
    assert double.turns[2] == single.turns[2]
    assert single.turns[2].turn_deg < -40
    assert (double.turns[3].turn_deg, double.turns[3].detour_nm) == (0.0, 0.0)


def test_a_detour_is_not_hidden_by_writing_its_point_twice():
    single = reckoned("31S000E 31S002E 29S004E 31S006E 31S008E").turns[3]
    double = reckoned("31S000E 31S002E 29S004E 2900S00400E 31S006E 31S008E").turns[3]
    assert double == single
    assert single.d_value_nm > 25


def test_a_whole_route_on_one_spot():
    route = reckoned("DCT", "XVAL", "XVAL")
    assert (route.totals.distance_nm, route.totals.checked_share, route.totals.direct_nm) == (0.0, 1.0, 0.0)
    assert route.legs[0].course_true_deg is None


# ---- the edges of the world


def test_across_the_date_line_the_short_way_is_taken():
    legs, turns = inside(reckoned("50N175E 50N180E 50N175W"))
    assert [leg.distance_nm for leg in legs] == pytest.approx([legs[0].distance_nm] * 2)
    assert legs[0].distance_nm < 200
    assert abs(turns[0].turn_deg) < 5


def test_180_east_and_180_west_are_one_meridian():
    legs, _ = inside(reckoned("50N180E 50N180W"))
    assert legs[0].distance_nm == pytest.approx(0.0, abs=1e-9)


def test_over_the_pole():
    """Half the meridian ellipse from pole to pole: 2 × 10,001.966 km (WGS 84 quarter meridian)."""
    route = reckoned("90N000E 90S000E")
    legs, _ = inside(route)
    assert legs[0].distance_nm == pytest.approx(2 * 10_001_965.729 / 1852, abs=0.001)
    over, _ = inside(reckoned("80N000E 90N000E 80N180E"))
    assert over[1].distance_nm == pytest.approx(over[0].distance_nm)


def test_straight_over_the_pole_is_no_turn():
    """The same way with the pole named must not be told to turn there: longitudes at the pole mean nothing."""
    turn = reckoned("80N000E 90N000E 80N180E").turns[2]
    assert turn.detour_nm == pytest.approx(0.0, abs=1e-6)
    assert turn.d_value_nm == pytest.approx(0.0, abs=1e-6)


def test_points_opposite_each_other():
    route = reckoned("10N020E 10S160W")
    legs, _ = inside(route)
    assert legs[0].distance_nm == pytest.approx(10_801, abs=15)
    assert route.own_mistakes == ()


def test_headline_of_a_route_without_aerodromes():
    assert headline_of("31S000E 31S002E").startswith(
        "Checked 103 NM of the route; how long the rest is cannot be known."
    )
    assert headline_of("PIKER").startswith("Checked nothing of the route; how long it is cannot be known.")


def headline_of(text):
    return headline(assess(RouteInput(text), DEMO, Settings(), DAY)).how_much
