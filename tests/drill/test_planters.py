"""Planted entry errors: one place of the text differs, the clean route is kept, and the error can be seen."""

from __future__ import annotations

import datetime as dt
import random
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.drill.planters import (
    DETECTABLE_NM,
    ENDS,
    PLANTERS,
    POSITION_KINDS,
    in_minutes,
    plant,
    with_position,
)
from routecheck.earth import geo
from routecheck.entry_errors.positions import position_of
from routecheck.geometry.legs import compute_routes
from routecheck.model import Place, ResolvedRoute, RouteInput, Via, WordKind
from routecheck.navdata.database import demo_database
from routecheck.reading.route_text import read_route
from routecheck.reading.samples import read_samples
from routecheck.resolution.resolve import resolve

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()
CLEAN = [route_input for _, route_input in read_samples("clean") if route_input.departure]
MORE = [
    RouteInput("LENDU UM12 UVAGI UN34 ESGAL UN21 ORO", "XVAL", "XVOR"),
    RouteInput("SOR T16 DISEM V40 ROPIN UN21 ULDET", "XVSU", "XVAL"),
    RouteInput("3300S00200W 3300S00000E 3300S00200E 3300S00400E 3300S00600E", "XVAL", "XVOR"),
    RouteInput("33S002W 33S001E 33S003E", "XVAL", "XVOR"),
]
ROUTES = CLEAN + MORE
KINDS = [*PLANTERS, *ENDS]
SEEDS = st.integers(0, 10_000)


def read(route_input: RouteInput) -> ResolvedRoute:
    return resolve(read_route(route_input), DEMO, DAY)


def planted(kind: str, route_input: RouteInput, seed: int):
    return plant(kind, route_input, DEMO, DAY, random.Random(seed))


@given(st.sampled_from(KINDS), st.sampled_from(ROUTES), SEEDS)
def test_the_same_seed_plants_the_same_error(kind, route_input, seed):
    assert planted(kind, route_input, seed) == planted(kind, route_input, seed)


@given(st.sampled_from(sorted(PLANTERS)), st.sampled_from(ROUTES), SEEDS)
def test_exactly_the_span_named_differs_and_the_clean_route_is_kept(kind, route_input, seed):
    found = planted(kind, route_input, seed)
    if found is None:
        return
    assert found.kind == kind
    assert found.clean is route_input
    (span,) = found.spans
    wrong, clean = found.route_input.route, route_input.route
    assert wrong != clean
    assert wrong[: span.start] == clean[: span.start]
    rest = len(wrong) - span.end
    assert wrong[span.end :] == clean[len(clean) - rest :]
    assert span.start < len(clean) - rest, "a word of the clean route stood there"
    assert (found.route_input.departure, found.route_input.destination) == (
        route_input.departure,
        route_input.destination,
    )
    bounds = {(word.span.start, word.span.end) for word in read_route(found.route_input).words}
    assert span.start in {start for start, _ in bounds}
    assert span.end in {end for _, end in bounds}


def contradictions(route: ResolvedRoute) -> int:
    """Counted by the pipeline's own words, not by the sketch that the planters judge with."""
    unplaced = sum(route_point.place is None for route_point in route.route_points)
    broken = sum(connection.is_blocked for connection in route.connections)
    twice = sum(a.place is not None and a.place == b.place for a, b in pairwise(route.route_points))
    return unplaced + broken + twice


def length(route: ResolvedRoute) -> float:
    """Point to point on the ellipsoid, along airways where they are followed."""
    line: list[Place] = []
    for route_point, connection in zip(route.route_points, [*route.connections, None], strict=True):
        line += [route_point.place] if route_point.place else []
        line += connection.inner if connection and connection.via is Via.AIRWAY else ()
    return sum(geo.inverse(a.lat, a.lon, b.lat, b.lon)[2] for a, b in pairwise(line))


@given(st.sampled_from(sorted(PLANTERS)), st.sampled_from(ROUTES), SEEDS)
def test_it_can_be_seen_in_the_text_as_it_is_really_read(kind, route_input, seed):
    found = planted(kind, route_input, seed)
    if found is None:
        return
    clean, wrong = read(route_input), read(found.route_input)
    if found.breaks:
        assert contradictions(wrong) > contradictions(clean)
    else:
        added = length(wrong) - length(clean)
        assert abs(found.added_nm) >= DETECTABLE_NM
        assert added == pytest.approx(found.added_nm, rel=0.006, abs=0.02 * DETECTABLE_NM)


def test_an_airway_over_the_other_place_of_the_same_name_is_no_error():
    """M12 for UM12 to TOVIK leads to the TOVIK that M12 has: nothing is contradicted, and it is 6 NM shorter."""
    route_input = RouteInput("LENDU UM12 TOVIK DCT SARNO", "XVAL", "XVOR")
    texts = {found.route_input.route for seed in range(30) if (found := planted("airway number", route_input, seed))}
    assert "LENDU M12 TOVIK DCT SARNO" not in texts


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_finds_a_place_on_some_clean_route(kind):
    assert any(planted(kind, route_input, seed) for route_input in ROUTES for seed in range(3))


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in POSITION_KINDS])
def test_every_kind_of_names_is_planted_in_real_data_too(kind, northeast):
    """Names and airways as in the excerpt of FAA CIFP cycle 2301, which the next line asks for."""
    route_inputs = [
        RouteInput("HTO J174 SWL J121 ORF", "KJFK", "KORF"),
        RouteInput("PSB J49 HNK DCT ALB", "KBUF", "KALB"),
        RouteInput("DEEZZ5 DEEZZ DCT HNK DCT ITH DCT BUF", "KJFK", "KBUF"),
    ]
    day = dt.date(2023, 2, 1)
    assert all(contradictions(resolve(read_route(route_input), northeast, day)) == 0 for route_input in route_inputs)
    assert any(
        plant(kind, route_input, northeast, day, random.Random(seed))
        for route_input in route_inputs
        for seed in range(4)
    )


@pytest.mark.parametrize("kind", sorted(POSITION_KINDS))
@pytest.mark.parametrize("route", ["", "LENDU DCT PIKAR DCT UVAGI", "ULDET UN21 ORO"])
def test_a_kind_that_has_no_place_there_plants_nothing(kind, route):
    assert planted(kind, RouteInput(route, "XVAL", "XVOR"), 0) is None


@pytest.mark.parametrize(
    "route_input",
    [RouteInput(""), RouteInput("LENDU"), RouteInput("", "XVAL", "XVAL"), RouteInput("?!", "ZZZZ", "XVOR")],
)
def test_routes_that_hold_nothing_are_left_alone_by_every_kind(route_input):
    for kind in KINDS:
        found = planted(kind, route_input, 1)
        assert found is None or found.route_input != route_input


@given(st.sampled_from(sorted(ENDS)), st.sampled_from(ROUTES), SEEDS)
def test_errors_of_the_aerodromes_leave_the_text_alone_and_can_be_seen(kind, route_input, seed):
    found = planted(kind, route_input, seed)
    if found is None:
        return
    assert found.route_input.route == route_input.route
    before, after = (
        (route_input.departure, route_input.destination),
        (found.route_input.departure, found.route_input.destination),
    )
    changed = sum(a != b for a, b in zip(before, after, strict=True))
    assert after == before[::-1] if kind == "ends exchanged" else changed == 1
    assert all(DEMO.airport(name) for name in after)
    clean, wrong = read(route_input), read(found.route_input)
    if found.breaks:
        assert contradictions(wrong) > contradictions(clean)
    else:
        assert abs(found.added_nm) >= DETECTABLE_NM
        added = length(wrong) - length(clean)
        assert added == pytest.approx(found.added_nm, rel=0.006, abs=0.02 * DETECTABLE_NM)


def test_ends_that_make_no_difference_are_not_exchanged():
    """By way of one point it is as far there as back, and nothing else tells the two apart."""
    assert planted("ends exchanged", RouteInput("KEBUL", "XVAL", "XVOR"), 0) is None


# ---- a point written as its coordinates


@given(st.sampled_from(ROUTES), SEEDS)
def test_a_point_written_as_coordinates_keeps_the_route_in_order(route_input, seed):
    written = with_position(route_input, DEMO, DAY, random.Random(seed))
    if written is None:
        assert all(
            word.kind is not WordKind.NAME or word.text in TAKEN_OTHERWISE for word in read_route(route_input).words
        )
        return
    before, after = read(route_input), read(written)
    assert contradictions(after) == contradictions(before) == 0
    route_points = [
        [route_point.place for route_point in route.route_points if not route_point.implied]
        for route in (before, after)
    ]
    moved = [(a, b) for a, b in zip(*route_points, strict=True) if a.ident != b.ident]
    assert len(moved) == 1
    ((named, typed),) = moved
    assert geo.inverse(named.lat, named.lon, typed.lat, typed.lon)[2] <= 0.72, "half a minute each way"
    whole = [compute_routes([r], [DAY])[0].totals.distance_nm for r in (before, after)]
    assert whole[1] == pytest.approx(whole[0], abs=1.5)


TAKEN_OTHERWISE = {"DCT"} | {
    word for route_input in ROUTES for word in route_input.route.split() if word[-1:].isdigit()
}


@given(st.floats(-90, 90), st.floats(-180, 180))
def test_whole_minutes_are_a_position_of_item_15_half_a_minute_off_at_most(lat, lon):
    """ICAO Doc 4444 Appendix 2, Item 15: degrees and minutes, 11 characters."""
    text = in_minutes(lat, lon)
    assert len(text) == 11
    value = position_of(text)
    assert value is not None
    assert value[0] == pytest.approx(lat, abs=0.5 / 60 + 1e-9)
    assert value[1] == pytest.approx(lon, abs=0.5 / 60 + 1e-9)
