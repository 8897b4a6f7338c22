"""Names and airways outside the loaded data, on the demo region: open, and never on the other side of the world."""

import pytest
from resolved_words import point_named

from routecheck.model import AirwayNotCovered, OffAirway, UnknownAirway


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
