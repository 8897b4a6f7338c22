"""Names and airways outside the loaded data, on the demo region: open, and never on the other side of the world."""

import pytest
from resolved_words import point_named

from routecheck.model import AirwayNotCovered, OffAirway, PlaceKind, UnknownAirway, WordRole


def test_a_namesake_on_the_other_side_of_the_world_is_not_taken(resolved):
    route = resolved("LAM L9 LENDU DCT 51N002E", "EGLL", "EHAM")
    route_point = point_named(route, "LENDU")
    assert (route_point.place, route_point.unknown, route_point.covered) == (None, True, False)
    assert route_point.namesake_nm == pytest.approx(5000, rel=0.2)
    assert route_point.why.startswith("LENDU: another LENDU is loaded, 4,")
    assert isinstance(route.connections[1].fault, AirwayNotCovered)


def test_one_across_the_ocean_from_a_typed_position_is_not_taken(resolved):
    route = resolved("52N020W LENDU 52N030W PIKAR 52N040W", "EGLL", "CYQX")
    assert [point.place is None for point in route.route_points[1:-1]] == [False, True, False, True, False]


def test_beside_covered_points_a_far_namesake_is_taken(resolved):
    route = resolved("LENDU DCT PIKAR DCT UVAGI", "XVAL", "EGLL")
    assert all(point.place for point in route.route_points)


@pytest.mark.parametrize(
    ("route", "ends", "fault"),
    [
        ("LENDU UM13 TOVIK", ("XVAL", "XVOR"), UnknownAirway),
        ("LENDU UM13 LIMRI 52N020W", ("XVAL", "EGLL"), AirwayNotCovered),
        ("LENDU UM13 20S010W", ("XVAL", "EGLL"), AirwayNotCovered),
        ("PIKAR UM12 20S010W", ("XVAL", "EGLL"), AirwayNotCovered),
        ("LENDU UM12 PIKOR", ("XVAL", "XVOR"), OffAirway),
    ],
)
def test_an_airway_with_an_end_not_covered_is_not_to_blame(resolved, route, ends, fault):
    assert [type(one.fault) for one in resolved(route, *ends).connections if one.fault] == [fault]


# ---- words of airway form


@pytest.mark.parametrize("word", ["L94", "Y49", "W40", "C1177", "UT225", "UW208", "UN133", "UL180"])
def test_between_two_points_a_word_of_airway_form_is_an_airway(resolved, word):
    """L94, Y49 and W40 are airfields of the United States too, and UT225 might be a radial."""
    route = resolved(f"LENDU {word} PIKAR", "XVAL", "XVOR")
    assert route.roles[1] is WordRole.UNKNOWN_AIRWAY
    assert [type(one.fault) for one in route.connections if one.fault] == [UnknownAirway]


@pytest.mark.parametrize("route", ["SFO DCT L94 DCT LAS", "L94 DCT LAS", "SFO DCT L94"])
def test_beside_dct_or_at_an_end_and_near_the_line_it_is_an_airfield(resolved, route):
    assert point_named(resolved(route, "KSFO", "KLAS"), "L94").place.kind is PlaceKind.AIRPORT
    far = resolved(route, "EGLL", "EHAM")
    assert WordRole.UNKNOWN_AIRWAY in far.roles
    assert "L94" not in [point.text for point in far.route_points]


def test_beside_dct_two_letters_and_three_figures_are_a_radial(resolved):
    assert resolved("LENDU DCT UL180 DCT PIKAR").roles[2] is WordRole.UNKNOWN_NAME
    assert resolved("LENDU KEL180 PIKAR").roles[1] is WordRole.RADIAL


# ---- hints of an undated list


def test_a_station_near_the_way_is_a_hint_and_no_place(flown):
    """Positions of the list: YWG 49.9N 97.2W, YQL 49.6N 112.7W. It has no YQR."""
    answer = flown("YWG DCT YQR DCT YQL", "CYYZ", "CYVR")
    points = answer.resolved.route_points
    assert [point.place for point in points[1:-1]] == [None] * 3
    assert [one.hint and (round(one.hint.lat), round(one.hint.lon)) for one in points[1:-1]] == [
        (50, -97),
        None,
        (50, -113),
    ]
    assert points[1].hint.source == "undated list"
    assert answer.totals.distance_nm == 0
    assert [leg.distance_nm for leg in answer.legs] == [None] * 4
    assert points[1].why.endswith("an undated world list has a VOR/DME of that name on the way")


def test_a_station_off_the_way_or_of_a_covered_name_is_none(resolved):
    assert [point.hint for point in resolved("POS DCT KEA", "CYYZ", "CYVR").route_points] == [None] * 4
    assert [point.hint for point in resolved("LENDU DCT YQR DCT PIKAR").route_points] == [None] * 5


def test_loaded_data_goes_before_it(resolved):
    (val,) = (point for point in resolved("LENDU DCT VAL").route_points if point.text == "VAL")
    assert val.place.source != "undated list"
    assert val.hint is None


# ---- routes of which an aerodrome is not known


def test_without_aerodromes_a_few_namesakes_cover_nothing(resolved):
    route = resolved("NUNTO L610 LAM UM197 REDFA L980 LENDU", "", "")
    assert [point.covered for point in route.route_points[1:-2]] == [False] * 3
    assert {type(one.fault) for one in route.connections if one.fault} == {AirwayNotCovered}


def test_without_aerodromes_one_unknown_name_among_many_is_covered(resolved):
    route = resolved("LENDU DCT PIKUR DCT TOVIK DCT SARNO", "", "")
    assert point_named(route, "PIKUR").covered


def test_far_from_the_only_aerodrome_known_a_namesake_is_not_taken(resolved):
    assert point_named(resolved("LENDU DCT ABCDE", "EGLL", ""), "LENDU").place is None
    assert point_named(resolved("LENDU DCT ABCDE", "XVDU", ""), "LENDU").place
