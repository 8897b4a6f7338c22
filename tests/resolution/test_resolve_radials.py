"""Positions and radials to places on the demo region (names and roles: resources/demo/README.md)."""

import datetime as dt

import pytest
from resolved_words import idents, point_named

from routecheck.earth import geo
from routecheck.model import DataSource, OffAirway, Place, PlaceKind, Via
from routecheck.navdata.database import NavDatabase
from routecheck.navdata.tables import Tables
from routecheck.resolution import airways, radials

# ---- positions and radials


def beside(demo, first, second, off_nm, share=0.5):
    """A position a share of the way from one fix to another, so many NM to the right."""
    (a,), (b,) = demo.places(first), demo.places(second)
    course, _, length = geo.inverse(a.lat, a.lon, b.lat, b.lon)
    lat, lon = geo.direct(a.lat, a.lon, course, length * share)
    return geo.direct(lat, lon, course + 90, off_nm)


def typed(lat, lon):
    """As minutes, so it may be 0.7 NM away from where it was meant."""
    south, east = round(-lat * 60), round(lon * 60)
    return f"{south // 60:02}{south % 60:02}S{east // 60:03}{east % 60:02}E"


def test_a_position_within_a_mile_of_the_line_is_on_the_airway(flown, demo):
    where = typed(*beside(demo, "UVAGI", "KESTO", 0.0))
    answer = flown(f"NORVI UN34 {where} DCT SEBRO")
    assert answer.totals.gaps == 0
    assert idents(answer)[1:-2] == ["NORVI", "ELPAR", "BINOT", "UVAGI", where]


def test_a_position_two_miles_beside_it_is_not(flown, demo):
    where = typed(*beside(demo, "UVAGI", "KESTO", 2.4))
    fault = flown(f"NORVI UN34 {where} DCT SEBRO").resolved.connections[1].fault
    assert isinstance(fault, OffAirway)
    assert not fault.at_entry


@pytest.mark.parametrize(("off_nm", "on"), [(0.0, True), (0.9, True), (-0.9, True), (1.1, False), (-1.1, False)])
def test_one_mile_is_the_limit_to_either_side(demo, spot, off_nm, on):
    assert airways.is_on_airway(demo.airways("UN34"), spot(*beside(demo, "UVAGI", "KESTO", off_nm))) is on


@pytest.mark.parametrize(("beyond_nm", "on"), [(0.9, True), (1.1, False)])
def test_one_mile_is_the_limit_beyond_the_end(demo, spot, beyond_nm, on):
    """The last stretch measured on the sphere would be out by half a mile and more."""
    piece = demo.airways("UM12")[0]
    a, b = piece.places[-2:]
    course, _, length = geo.inverse(a.lat, a.lon, b.lat, b.lon)
    assert airways.is_on_airway((piece,), spot(*geo.direct(a.lat, a.lon, course, length + beyond_nm))) is on


def test_a_radial_is_a_line_from_the_station_along_its_own_alignment(resolved, demo):
    """KEL is aligned 25 W where the field is 20.6 W: radial 106 lies on 081 true."""
    answer = resolved("KEL106063 V14 MAV", "XVKE", "XVMA")
    (kel,) = demo.places("KEL")
    point = point_named(answer, "KEL106063")
    course, _, distance = geo.inverse(kel.lat, kel.lon, point.place.lat, point.place.lon)
    assert (course, distance) == (pytest.approx(81.0, abs=1e-6), pytest.approx(63.0, abs=1e-6))
    assert point.why == "KEL 106°M by the station's alignment, 25.0° W"
    assert answer.connections[1].fault is None, "by the field it would lie 5 NM off V14"


def test_a_station_without_a_declination_is_taken_by_the_model(resolved, demo):
    """ZE is an NDB: no alignment. Inside 2025 to 2029 the World Magnetic Model speaks, else its record."""
    (ze,) = demo.places("ZE")
    inside = point_named(resolved("ZE090010"), "ZE090010")
    outside = point_named(resolved("ZE090010", date=dt.date(2031, 1, 1)), "ZE090010")
    assert "WMM2025" in inside.why
    assert outside.why == "ZE 090°M by the record's variation, 20.7° W"
    course, _, _ = geo.inverse(ze.lat, ze.lon, outside.place.lat, outside.place.lon)
    assert course == pytest.approx(90.0 - 20.7, abs=1e-6)
    assert (inside.place.lat, inside.place.lon) != (outside.place.lat, outside.place.lon)


@pytest.fixture(scope="module")
def bare():
    """A library with an NDB whose record says no variation."""
    tables = Tables(source=DataSource("bare", cycle="2612", effective=None, until=None, counts=()))
    place = Place("QQ", 10.0, 10.0, PlaceKind.NDB, source="bare")
    tables.places["DB", "", "QQ", "XX"] = place
    return NavDatabase.from_tables(tables)


@pytest.mark.parametrize("word", ["QQ090010", "QQ090"])
def test_where_nobody_says_a_variation_the_point_is_not_placed_and_says_why(resolved, bare, word):
    answer = resolved(word, database=bare, date=dt.date(2031, 1, 1))
    route_point = point_named(answer, word)
    assert route_point.place is None
    assert route_point.why == f"{word}: no variation is known at QQ for this date"
    assert not route_point.unknown


def test_two_radials_cross(resolved, demo):
    """KEL 180 and VAL 085, each by its station's declination, meet where both true courses hold."""
    answer = resolved("KEL KEL180 VAL085 VAL")
    junction = next(route_point for route_point in answer.route_points if route_point.implied)
    (kel,), (val,) = demo.places("KEL"), demo.places("VAL")
    assert junction.place.kind is PlaceKind.COMPUTED
    from_kel, _, _ = geo.inverse(kel.lat, kel.lon, junction.place.lat, junction.place.lon)
    from_val, _, _ = geo.inverse(val.lat, val.lon, junction.place.lat, junction.place.lon)
    assert from_kel == pytest.approx(180 - 25.0, abs=1e-5)
    assert from_val == pytest.approx(85 - 22.0, abs=1e-5)
    assert junction.why == "where KEL180 and VAL085 meet"


def test_two_radials_that_part_meet_nowhere_and_say_so(flown):
    answer = flown("KEL KEL090 VAL270 VAL")
    junction = next(route_point for route_point in answer.resolved.route_points if route_point.implied)
    assert junction.place is None
    assert junction.why == "KEL090/VAL270: KEL090 and VAL270 do not meet in the loaded data"
    assert [leg.distance_nm is None for leg in answer.legs] == [False, True, True, False]


def test_a_radial_meets_an_airway(resolved, demo):
    answer = resolved("KEL KEL180 UM12 UVAGI")
    junction = next(route_point for route_point in answer.route_points if route_point.implied)
    (kel,) = demo.places("KEL")
    course, _, _ = geo.inverse(kel.lat, kel.lon, junction.place.lat, junction.place.lon)
    assert course == pytest.approx(155.0, abs=1e-5)
    assert airways.is_on_airway(demo.airways("UM12"), junction.place)
    assert [connection.via for connection in answer.connections] == [Via.IMPLIED, Via.RADIAL, Via.AIRWAY, Via.IMPLIED]
    assert all(connection.fault is None for connection in answer.connections)


def test_a_radial_between_two_points_is_how_the_stretch_is_flown(flown):
    answer = flown("VAL VAL085 KEL")
    assert answer.legs[1].via == "VAL085"
    assert answer.totals.gaps == 0


@pytest.mark.parametrize(
    ("route", "off"), [("KEL KEL180 UVAGI", False), ("LENDU KEL180 KEL", False), ("LENDU KEL180 UVAGI", True)]
)
def test_how_far_a_stretch_lies_off_the_radial_it_is_said_to_follow(resolved, route, off):
    assert (resolved(route).connections[1].off_radial_nm > 3.0) is off


def test_behind_the_station_the_radial_is_not(resolved, demo, spot):
    """A point on the reciprocal is as far off as the station is."""
    (kel,) = demo.places("KEL")
    line = radials.RadialLine(kel, 90.0, "")
    ahead, behind = (spot(*geo.direct(kel.lat, kel.lon, course, 40.0)) for course in (90.0, 270.0))
    assert radials.distance_off_radials_nm([line], ahead) == pytest.approx(0.0, abs=1e-6)
    assert radials.distance_off_radials_nm([line], behind) == pytest.approx(40.0, abs=1e-6)


def test_of_two_stations_of_one_name_the_one_taken_tells_its_own_alignment(resolved):
    tables = Tables(source=DataSource("two", cycle="2612", effective=None, until=None, counts=()))
    for region, lon, declination in (("X1", 0.0, -10.0), ("X2", 60.0, 5.0)):
        place = Place("QQQ", -31.0, lon, PlaceKind.VOR, region=region, declination_deg=declination, source="two")
        tables.places["D", "", "QQQ", region] = place
    database = NavDatabase.from_tables(tables)
    for near, told in (("31S001E", "10.0° W"), ("31S061E", "5.0° E")):
        route_point = point_named(resolved(f"{near} QQQ090040", "", "", database=database), "QQQ090040")
        assert route_point.why.endswith(told)
        assert len(route_point.lost_choices) == 1
