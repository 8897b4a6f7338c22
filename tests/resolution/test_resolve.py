"""Names, airways, aerodromes and procedures to places on the demo region (resources/demo/README.md)."""

import pytest
from resolved_words import idents, point_named

from routecheck.earth import geo
from routecheck.model import (
    AirwaysApart,
    BothEndsOffAirway,
    BrokenAirway,
    EndUnplaced,
    OffAirway,
    OpenEnd,
    PlaceKind,
    ProcedureElsewhere,
    ProcedureOutOfPlace,
    SeveralCrossings,
    UnknownAirway,
    UnknownProcedure,
)

# ---- several places of one name


def test_of_two_places_the_one_is_taken_that_makes_the_route_shortest(resolved):
    route_point = point_named(resolved("LENDU DCT UVAGI DCT TOVIK DCT SEBRO"), "TOVIK")
    (lost,) = route_point.lost_choices
    assert route_point.place.region == "XW"
    assert (lost.place.region, lost.reason) == ("XV", "makes the route longer")
    assert lost.longer_nm > 0


@pytest.mark.parametrize(
    ("route", "region", "airway"), [("LENDU UM12 TOVIK", "XV", "UM12"), ("M12 TOVIK", "XW", "M12")]
)
def test_the_airway_decides_which_of_two_places_is_meant(resolved, route, region, airway):
    route_point = point_named(resolved(route), "TOVIK")
    assert route_point.place.region == region
    assert [(o.longer_nm, o.reason) for o in route_point.lost_choices] == [(None, f"not on {airway}")]


def test_the_airway_decides_also_against_the_length(resolved):
    """RULPO is north of UM12: by length alone the same TOVIK would be taken, by M12 the southern one must be."""
    route_point = point_named(resolved("LENDU M12 TOVIK DCT RULPO"), "TOVIK")
    assert route_point.place.region == "XW"


def test_a_word_stays_where_its_candidates_are_none(resolved):
    route_point = point_named(resolved("LENDU DCT PIKER DCT UVAGI"), "PIKER")
    assert (route_point.place, route_point.unknown, route_point.covered, route_point.why) == (
        None,
        True,
        True,
        "PIKER: not in the loaded data",
    )


def test_a_name_where_the_data_has_nothing_is_not_covered(resolved):
    route_point = point_named(resolved("52N020W LIMRI 52N030W", "EGLL", "EIDW"), "LIMRI")
    assert (route_point.place, route_point.unknown, route_point.covered) == (None, True, False)


def test_one_covered_neighbour_is_not_enough(resolved):
    assert not point_named(resolved("LENDU DCT LIMRI DCT 52N030W", "XVAL", "EGLL"), "LIMRI").covered


# ---- airways


def test_an_airway_is_expanded_forwards_and_backwards(flown):
    there = ["LENDU", "PIKAR", "UVAGI", "TOVIK"]
    assert idents(flown("LENDU UM12 TOVIK"))[1:-1] == there
    assert idents(flown("TOVIK UM12 LENDU"))[1:-1] == there[::-1]


def test_segments_come_in_flown_order_with_their_direction(resolved, demo):
    (piece,) = demo.airways("UM12")
    first, second = piece.segments[1:3]
    forward = resolved("LENDU UM12 UVAGI").connections[1]
    backward = resolved("UVAGI UM12 LENDU").connections[1]
    assert (forward.segments, forward.forward) == ((first, second), True)
    assert (backward.segments, backward.forward) == ((second, first), False)


def test_an_airway_is_followed_on_one_continuous_piece_only(resolved):
    """V27 is two pieces, NIR–HOSTU and KORAM–KAMBE, with nothing between."""
    assert resolved("NIR V27 HOSTU").connections[1].fault is None
    broken = resolved("DERUS V27 KORAM").connections[1]
    assert (broken.inner, broken.is_gap) == ((), True)
    assert broken.fault == BrokenAirway(
        first_piece=("NIR", "HOSTU"), second_piece=("KORAM", "KAMBE"), facing=("HOSTU", "KORAM"), leaves_data=False
    )


@pytest.mark.parametrize(
    ("route", "fault", "gap"),
    [
        ("PIKOR UM12 TOVIK", OffAirway, "PIKOR is not on UM12"),
        ("LENDU UM12 PIKOR", OffAirway, "PIKOR is not on UM12"),
        ("PIKOR UM12 ESGAL", BothEndsOffAirway, "neither PIKOR nor ESGAL is on UM12"),
        ("DERUS V27 KORAM", BrokenAirway, "V27 is not continuous from DERUS to KORAM"),
        ("LENDU UM13 TOVIK", UnknownAirway, "UM13 is not in the data"),
        ("LENDU UM12 PIKER", EndUnplaced, "an end of UM12 could not be placed"),
        ("LENDU UM12 UN21 MUVEK", AirwaysApart, "UM12 and UN21 have no point in common"),
        ("LENDU SARNO2 PIKAR", ProcedureOutOfPlace, "SARNO2 is not at its end of the route, so that it leads nowhere"),
    ],
)
def test_what_keeps_a_connection_from_being_followed(flown, route, fault, gap):
    answer = flown(route)
    connection, leg = answer.resolved.connections[1], answer.legs[1]
    assert type(connection.fault) is fault
    assert connection.is_blocked
    assert (leg.distance_nm, leg.gap) == (None, gap)


def test_which_end_is_off_the_airway(resolved):
    assert resolved("PIKOR UM12 TOVIK").connections[1].fault.at_entry
    assert not resolved("LENDU UM12 PIKOR").connections[1].fault.at_entry


def test_the_nearest_point_is_told_by_the_geodesic(resolved, demo):
    """README: PIKOR lies 154 NM south-east of PIKAR. On the sphere it would be 0.1 NM out."""
    fault = resolved("PIKOR UM12 TOVIK").connections[1].fault
    (pikor,), (pikar,) = demo.places("PIKOR"), demo.places("PIKAR")
    assert fault.nearest == "PIKAR"
    assert fault.nearest_nm == pytest.approx(geo.inverse(pikor.lat, pikor.lon, pikar.lat, pikar.lon)[2], abs=1e-9)
    assert fault.nearest_nm == pytest.approx(154, abs=0.5)


# ---- junctions that no word names


@pytest.mark.parametrize(
    ("route", "junction"),
    [
        ("UVAGI UN34 UN21 MUVEK", "ESGAL"),
        ("NORVI UN34 UM12 TOVIK", "UVAGI"),
        ("MAV UL7 J61 NILAK", "SARNO"),
        ("LENDU UM12 J61 SARNO", "KIVAN"),
        ("SOR J30 UN46 TOLGI", "CIVUK"),
    ],
)
def test_two_airways_with_one_crossing_have_their_joint(resolved, route, junction):
    answer = resolved(route)
    route_point = point_named(answer, junction)
    assert route_point.implied
    assert len(route_point.crossings) == 1
    assert all(connection.fault is None for connection in answer.connections)


def test_two_crossings_are_several_and_the_shorter_is_taken(resolved):
    """UN21 and UN46 meet at ROPIN and at MUVEK. ROPIN lies nearer the straight line, but by airway MUVEK is shorter."""
    answer = resolved("ULDET UN21 UN46 TOLGI DCT RENDA")
    junction = point_named(answer, "MUVEK")
    assert junction.crossings == (("ROPIN",), ("MUVEK",))
    assert SeveralCrossings() in [connection.fault for connection in answer.connections]


def test_the_joint_said_to_be_the_shortest_is(flown):
    left_open, by_ropin, by_muvek = (
        flown(f"ULDET UN21 {junction} UN46 TOLGI DCT RENDA").totals.distance_nm for junction in ("", "ROPIN", "MUVEK")
    )
    assert left_open == by_muvek < by_ropin


def test_a_stretch_flown_by_both_airways_is_one_joint_and_no_leg_is_flown_to_nowhere(flown):
    for route in ("LENDU UM12 M12 NILAK", "NILAK M12 UM12 LENDU", "LENDU DCT UVAGI UM12 M12 SEBRO", "UM12 M12 SEBRO"):
        answer = flown(route)
        assert all(leg.distance_nm > 1.0 for leg in answer.legs), route
        assert answer.totals.gaps == 0
        assert {w for connection in answer.resolved.connections for w in connection.words} == {
            i for i, word in enumerate(answer.parsed.words) if word.text[:3] in ("UM1", "M12", "DCT")
        }, "every airway word belongs to a connection"


def test_an_airway_left_open_near_the_field_is_joined_where_it_comes_near(flown):
    """VAL, on UM12, stands 5 NM from XVAL; ORO, on UN21, 5 NM from XVOR."""
    assert idents(flown("UM12 UVAGI"))[:3] == ["XVAL", "VAL", "LENDU"]
    assert idents(flown("ULDET UN21"))[-3:] == ["TIBOK", "ORO", "XVOR"]


def test_an_airway_left_open_far_from_the_field_is_a_gap_and_a_question(flown):
    answer = flown("UN21 MUVEK")
    fault = answer.resolved.connections[0].fault
    assert fault == OpenEnd("XVAL", "KORAM", pytest.approx(72.5, abs=0.5))
    assert (answer.legs[0].distance_nm, answer.legs[0].gap) == (None, "where UN21 is joined or left is not said")


# ---- aerodromes


def test_aerodromes_at_the_ends_of_the_text_are_the_ends_of_the_route(resolved):
    answer = resolved("XVAL/27 LENDU DCT TOVIK XVOR/09")
    assert [route_point.text for route_point in answer.route_points] == ["XVAL", "LENDU", "TOVIK", "XVOR"]
    assert (answer.roles[0], answer.roles[-2]) == ("departure", "destination")


@pytest.mark.parametrize(("departure", "destination"), [("", ""), ("xval", " xvor "), (" XVAL", "XVOR\n")])
def test_they_are_known_again_however_they_are_given_beside_the_text(resolved, departure, destination):
    answer = resolved("xval lendu dct tovik xvor", departure, destination)
    assert [route_point.text for route_point in answer.route_points] == ["XVAL", "LENDU", "TOVIK", "XVOR"]


def test_another_aerodrome_inside_the_text_is_a_point(resolved):
    answer = resolved("LENDU DCT XVKE DCT TOVIK")
    assert answer.route_points[2].place.kind is PlaceKind.AIRPORT


def test_an_unknown_departure_is_said_and_its_leg_is_open(flown):
    answer = flown("LENDU DCT PIKAR", "XVQZ")
    assert answer.points[0].place is None
    assert answer.resolved.route_points[0].why == (
        "XVQZ is in neither the loaded data nor the list of the world's airports"
    )
    assert answer.legs[0].distance_nm is None
    assert (answer.totals.whole_nm, answer.totals.checked_share, answer.totals.direct_nm) == (None, None, None)


def test_no_departure_given_is_said(flown):
    assert flown("LENDU DCT PIKAR", "").legs[0].gap == "no departure given"


@pytest.mark.parametrize("code", ["LHR", "JFK", "ORO"])
def test_three_letters_inside_a_route_are_never_a_passenger_code(resolved, code):
    """LHR and JFK are passenger codes of airports; ORO is a VOR here, and the code of an airport elsewhere."""
    answer = resolved(f"LENDU DCT {code} DCT SARNO")
    route_point = point_named(answer, code)
    assert route_point.place is None or route_point.place.kind is PlaceKind.VOR_DME


def test_three_letters_are_no_departure_either(resolved):
    assert resolved("LENDU", "LHR").route_points[0].place is None


# ---- procedures, before they are expanded


def test_a_sid_and_a_star_are_gaps_of_no_length(flown):
    answer = flown("LENDU1 LENDU UM12 TOVIK DCT SARNO SARNO2")
    first, last = answer.legs[0], answer.legs[-1]
    assert (first.via, first.distance_nm, last.via, last.distance_nm) == ("LENDU1", None, "SARNO2", None)
    assert first.least_nm > 0
    assert answer.totals.gaps == 2
    assert answer.turns[1] is None, "the ends of a gap are not judged"
    assert answer.turns[-2] is None


@pytest.mark.parametrize(
    ("route", "fault", "role", "gap"),
    [
        (
            "LENDU7 LENDU",
            UnknownProcedure(("XVAL",), True, (("LENDU1", "XVAL"),)),
            "unknown procedure",
            "procedure LENDU7 is not in the data",
        ),
        (
            "VELOR1 LENDU",
            ProcedureElsewhere(("XVAL",), True, ("XVMA",)),
            "procedure of another airport",
            "VELOR1 belongs to another airport",
        ),
    ],
)
def test_procedures_that_are_not_there(flown, route, fault, role, gap):
    answer = flown(route)
    assert answer.resolved.connections[0].fault == fault
    assert (answer.resolved.roles[0], answer.legs[0].gap) == (role, gap)


# ---- words beside the path


def test_speed_level_and_rules_are_no_points(resolved):
    answer = resolved("N0430F350 LENDU/N0440F370 DCT PIKAR VFR T")
    assert [route_point.text for route_point in answer.route_points] == ["XVAL", "LENDU", "PIKAR", "XVOR"]
    assert all(answer.roles)


def test_an_unread_word_stays_as_a_point_without_a_place(flown):
    answer = flown("LENDU DCT ☂ DCT PIKAR")
    assert idents(answer) == ["XVAL", "LENDU", "☂", "PIKAR", "XVOR"]
    assert [leg.distance_nm is None for leg in answer.legs] == [False, True, True, False]
    assert answer.totals.gaps == 2


@pytest.mark.parametrize("text", ["", "T", "VFR", "IFR", "N0430F350", "XVAL", "XVOR", "XVAL XVOR", "N0430F350 T"])
def test_a_text_that_names_no_route_is_no_direct_flight(flown, text):
    route = flown(text)
    assert [leg.distance_nm for leg in route.legs] == [None]
    assert route.totals.checked_share == 0.0
    assert route.legs[0].gap == "no route is given"


@pytest.mark.parametrize("text", ["()", '""', "?", "---"])
def test_signs_alone_are_an_unread_word_and_no_direct_flight(flown, text):
    route = flown(text)
    assert [leg.distance_nm for leg in route.legs] == [None, None]
    assert route.totals.checked_share == 0.0


def test_a_route_cut_short_is_open_from_there(flown):
    whole, cut = flown("LENDU UM12 TOVIK DCT SARNO"), flown("LENDU UM12 TOVIK DCT SARNO T")
    assert whole.totals.checked_share == 1.0
    assert cut.legs[-1].distance_nm is None
    assert "cut short" in cut.legs[-1].gap
    assert cut.totals.checked_share < 1.0
    assert cut.totals.distance_nm == whole.totals.distance_nm - whole.legs[-1].distance_nm
