"""Positions that a plan states: they choose among namesakes, and place what no data has."""

import datetime as dt

import pytest

from routecheck.model import Claim, PlaceKind, RouteInput
from routecheck.pipeline import assess
from routecheck.settings import Settings


@pytest.fixture(scope="module")
def flown_with(demo):
    def made(route, *claims, departure="XVAL", destination="XVOR"):
        given = RouteInput(route, departure, destination, claims=claims)
        return assess(given, demo, Settings(), dt.date(2026, 12, 3)).route

    return made


def at(route, name):
    return next(point.place for point in route.points if point.text == name)


def test_a_position_tells_namesakes_apart(flown_with):
    north, south = (at(flown_with(f"LENDU {via} TOVIK"), "TOVIK") for via in ("UM12", "M12"))
    assert north != south
    for place in (north, south):
        route = flown_with("LENDU DCT TOVIK", Claim("TOVIK", lat=place.lat, lon=place.lon, precision_deg=0.01))
        assert at(route, "TOVIK") == place


def test_a_name_without_data_is_placed_by_the_plan(flown_with):
    route = flown_with("LENDU DCT XQXQX DCT PIKAR", Claim("XQXQX", lat=-31.25, lon=1.5, precision_deg=0.01))
    place = at(route, "XQXQX")
    assert (place.lat, place.lon, place.kind) == (-31.25, 1.5, PlaceKind.TYPED)
    assert route.totals.gaps == 0


def test_a_namesake_at_the_other_end_of_the_world_is_not_meant(flown_with):
    route = flown_with("51N000E DCT PIKAR DCT 51N004E", Claim("PIKAR", lat=51.5, lon=2.0, precision_deg=0.01))
    assert at(route, "PIKAR").kind is PlaceKind.TYPED


def test_a_wrong_position_near_by_leaves_the_point_where_the_data_has_it(flown_with):
    wanted = at(flown_with("LENDU DCT PIKAR"), "PIKAR")
    assert at(flown_with("LENDU DCT PIKAR", Claim("PIKAR", lat=-33.0, lon=2.0)), "PIKAR") == wanted


def test_what_the_data_does_not_know_is_measured_between_stated_points(flown_with):
    claims = Claim("XQXQX", lat=-31.25, lon=1.5), Claim("XQXQY", lat=-31.0, lon=2.5)
    route = flown_with("XQXQX UZ99 XQXQY", *claims)
    leg = route.legs[1]
    assert (leg.via, leg.gap) == ("UZ99", "")
    assert leg.distance_nm == pytest.approx(53.5, abs=0.5)
    assert flown_with("XQXQX UZ99 XQXQY", claims[0]).legs[1].distance_nm is None


def test_an_aerodrome_that_nobody_knows(flown_with):
    route = flown_with("LENDU DCT PIKAR", Claim("XVZZ", lat=-31.0, lon=3.0), destination="XVZZ")
    assert route.points[-1].place.kind is PlaceKind.TYPED


def test_a_position_that_is_none_places_nothing(flown_with):
    assert at(flown_with("LENDU DCT XQXQX", Claim("XQXQX", lat=91.0, lon=0.0)), "XQXQX") is None


def test_nothing_is_measured_straight_where_nothing_is_stated(flown_with):
    assert flown_with("UZ99").legs[0].distance_nm is None


def test_what_is_measured_straight_is_counted_and_not_called_checked(flown_with):
    claims = Claim("XQXQX", lat=-31.25, lon=1.5), Claim("XQXQY", lat=-31.0, lon=2.5)
    totals = flown_with("XQXQX UZ99 XQXQY", *claims).totals
    (lost,) = totals.lost
    assert (lost.first, lost.last, lost.is_measured) == (1, 2, True)
    assert lost.because == "measured straight between positions of the plan, without data of UZ99"
    assert totals.checked_nm == pytest.approx(totals.distance_nm - lost.least_nm)
    assert totals.least_nm == totals.distance_nm == totals.whole_nm
