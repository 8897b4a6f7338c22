"""Procedures as scoring asks for them: where they are joined, what lies between there and the runway."""

from __future__ import annotations

import datetime as dt

import pytest

from routecheck.corrections.outline import procedure_shape
from routecheck.model import Place, PlaceKind, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve

DEMO = demo_database()
DAY = dt.date(2026, 12, 3)


def named(ident):
    return DEMO.places(ident)[0]


def typed(lat, lon):
    return Place("typed", lat, lon, PlaceKind.TYPED)


def idents(places):
    return [place.ident for place in places]


def test_one_is_made_for_a_library_and_none_for_what_the_data_lacks():
    assert procedure_shape(DEMO, "XVOR", "", "STAR", "SARNO2") is procedure_shape(DEMO, "XVOR", "", "STAR", "SARNO2")
    assert procedure_shape(DEMO, "XVOR", "", "STAR", "SARNO9") is None
    assert procedure_shape(DEMO, "XVAL", "", "STAR", "SARNO2") is None


@pytest.mark.parametrize(("ident", "joined"), [("SARNO", True), ("TEMGU", True), ("KEBUL", True), ("UVAGI", False)])
def test_a_star_is_joined_at_its_own_points(ident, joined):
    assert procedure_shape(DEMO, "XVOR", "", "STAR", "SARNO2").has_join(named(ident)) is joined


def test_between_the_join_and_the_field_in_the_order_of_flight():
    star = procedure_shape(DEMO, "XVOR", "", "STAR", "SARNO2")
    assert idents(star.inner_places(named("TEMGU")))[:3] == ["SARNO", "KEBUL", "RIPAS"]
    assert idents(star.inner_places(named("SARNO")))[:2] == ["KEBUL", "RIPAS"]
    sid = procedure_shape(DEMO, "XVAL", "", "SID", "LENDU1")
    assert idents(sid.inner_places(named("PIKAR")))[-1] == "LENDU"
    assert "LENDU" not in idents(sid.inner_places(named("LENDU")))


def test_where_it_is_not_joined_the_part_that_all_share_is_flown():
    star = procedure_shape(DEMO, "XVOR", "", "STAR", "SARNO2")
    assert idents(star.inner_places(named("UVAGI")))[:3] == ["SARNO", "KEBUL", "RIPAS"]
    assert star.inner_places(named("UVAGI")) is star.inner_places(named("LENDU")), "followed once"


def test_a_typed_position_joins_within_a_mile():
    """A position typed in whole minutes lies up to 0.7 NM off its fix: NEAR_ENOUGH_NM of reckon/procedures_choice."""
    star, sarno = procedure_shape(DEMO, "XVOR", "", "STAR", "SARNO2"), named("SARNO")
    near, far = typed(sarno.lat + 0.9 / 60, sarno.lon), typed(sarno.lat + 1.2 / 60, sarno.lon)
    assert star.has_join(near)
    assert not star.has_join(far)
    assert idents(star.inner_places(near))[-3:] == idents(star.inner_places(sarno))[-3:]


def test_what_the_pipeline_followed_is_taken_over():
    resolved = resolve(read_route(RouteInput("LENDU UM12 TOVIK DCT SARNO SARNO2", "XVAL", "XVOR")), DEMO, DAY)
    followed = resolved.connections[-1].procedure
    star = procedure_shape(demo_database(), "XVOR", "", "STAR", "SARNO2")
    star.keep_path(named("SARNO"), followed.points)
    assert star.inner_places(named("SARNO")) == procedure_shape(DEMO, "XVOR", "", "STAR", "SARNO2").inner_places(
        named("SARNO")
    )
