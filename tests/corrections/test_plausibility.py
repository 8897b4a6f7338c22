"""How stretches made by hand look, and what corrections of them win."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.corrections.outline import procedure_shape
from routecheck.corrections.plausibility import WEIGHTS, CandidateConnection, difference, gain, measure_stretch
from routecheck.model import Place, PlaceKind, Via
from routecheck.navdata.database import demo_database

DEMO = demo_database()
DIRECT = CandidateConnection(Via.DIRECT)
UM12 = CandidateConnection(Via.AIRWAY, "UM12", DEMO.airways("UM12"))


def at(lat, lon, kind=PlaceKind.FIX):
    return Place(f"P{lat:+.0f}{lon:+.0f}", lat, lon, kind)


def named(ident):
    return DEMO.places(ident)[0]


class Around:
    """What scoring asks of the data around a point: the airways by it, and an airport's own fixes."""

    def __init__(self, passing=1, feeders=(), fixes=()):
        self._passing, self._terminal = passing, (frozenset(feeders), frozenset({*feeders, *fixes}))

    def airways_through(self, ident):
        return frozenset(range(self._passing))

    def terminal_fixes(self, airport):
        return self._terminal


def seen(nodes, ways, lead=None, trail=None, around=None):
    return measure_stretch(nodes, ways, lead, trail, around or Around())


points = st.builds(at, st.floats(-60, 60), st.floats(-60, 60))
ways = st.sampled_from(
    [DIRECT, UM12, CandidateConnection(Via.UNKNOWN), CandidateConnection(Via.PROCEDURE, known=False)]
)
stretches = st.lists(st.tuples(st.one_of(st.none(), points), ways), min_size=2, max_size=5)


@given(stretches, st.floats(0, 12))
def test_a_correction_that_changes_nothing_loses_what_it_costs(stretch, cost):
    nodes, joined = [node for node, _ in stretch], [way for _, way in stretch][1:]
    here = seen(nodes, joined)
    assert gain(here, here, cost) == pytest.approx(-cost)
    assert set(difference(here, here)) == {0.0}


@given(stretches, stretches)
def test_what_one_way_wins_the_other_way_loses(one, two):
    a, b = (seen([n for n, _ in s], [w for _, w in s][1:]) for s in (one, two))
    assert gain(a, b, 0.0) == pytest.approx(-gain(b, a, 0.0))
    assert gain(a, b, 3.0) == pytest.approx(gain(a, b, 0.0) - 3.0)


def test_the_length_of_one_degree_of_the_equator_and_a_right_angle():
    line = seen([at(0, 0), at(0, 1), at(1, 1)], [DIRECT, DIRECT])
    assert line.length_nm == pytest.approx(120.0, rel=0.006)
    assert line.turning_deg == pytest.approx(90.0, abs=0.02)
    assert line.features.turns == pytest.approx((90.0 - 30.0) / 90.0, abs=0.001)
    assert line.features.sharp_turns == 0.0
    assert line.features.direct == pytest.approx(line.length_nm / 100.0)
    assert line.features.unlinked == 2
    assert line.features.defects == 0


def test_a_reversal_counts_as_sharp_too():
    line = seen([at(0, 0), at(0, 2), at(0, 1)], [DIRECT, DIRECT])
    assert line.features.turns == pytest.approx(150 / 90)
    assert line.features.sharp_turns == pytest.approx(80 / 80)


def test_the_points_outside_turn_the_line_and_add_no_length():
    bare = seen([at(0, 1), at(0, 2)], [DIRECT])
    inside = seen([at(0, 1), at(0, 2)], [DIRECT], lead=at(0, 0), trail=at(1, 2))
    assert inside.length_nm == pytest.approx(bare.length_nm)
    assert bare.turning_deg == 0.0
    assert inside.turning_deg == pytest.approx(90.0, abs=0.02)


def test_a_turn_next_to_an_airport_is_counted_among_the_end_turns():
    field = at(0, 0, PlaceKind.AIRPORT)
    line = seen([field, at(0, 1), at(1, 1)], [DIRECT, DIRECT])
    assert line.features.end_turns == pytest.approx(line.features.turns)
    assert line.features.unlinked == 1, "an airport needs no link"
    assert seen([at(0, 0), at(0, 1), at(1, 1)], [DIRECT, DIRECT]).features.end_turns == 0.0


def test_each_node_that_is_not_placed_inside_is_a_contradiction():
    assert seen([at(0, 0), None, at(0, 2)], [DIRECT, DIRECT]).features.defects == 1
    assert seen([None, at(0, 1), None], [DIRECT, DIRECT]).features.defects == 0, "the ends belong to the next stretch"


def test_an_airway_is_followed_and_its_ends_are_weighed():
    line = seen([named("LENDU"), named("UVAGI")], [UM12], around=Around(passing=4))
    legs = [seen([named(a), named(b)], [DIRECT]).length_nm for a, b in (("LENDU", "PIKAR"), ("PIKAR", "UVAGI"))]
    assert line.length_nm == pytest.approx(sum(legs))
    assert line.features.steps == pytest.approx(math.log(2))
    assert line.features.junctions == pytest.approx(2 * math.log(4))
    assert line.features.navaids == 0
    assert line.features.unlinked == line.features.direct == line.features.defects == 0
    assert seen([named("VAL"), named("LENDU")], [UM12]).features.navaids == 1


@pytest.mark.parametrize(("entering", "leaving"), [("PIKOR", "UVAGI"), ("LENDU", "SEBRO"), ("UVAGI", "UVAGI")])
def test_off_the_airway_or_of_no_length_is_a_contradiction(entering, leaving):
    assert seen([named(entering), named(leaving)], [UM12]).features.defects == 1


def test_a_typed_position_is_weighed_by_how_far_it_is_from_the_airways_own_points():
    pikar = named("PIKAR")
    near = Place("typed", pikar.lat + 0.3 / 60, pikar.lon, PlaceKind.TYPED)
    line = seen([near, named("UVAGI")], [UM12])
    assert line.features.defects == 0
    assert line.features.off_points == pytest.approx(0.3, abs=0.01)


def test_a_procedure_counts_where_it_is_joined_and_whether_it_is_known():
    field, lendu, pikar, uvagi = DEMO.airport("XVAL"), named("LENDU"), named("PIKAR"), named("UVAGI")
    way = CandidateConnection(Via.PROCEDURE, "LENDU1", shape=procedure_shape(DEMO, "XVAL", "", "SID", "LENDU1"))
    at_end, at_transition, beside = (seen([field, place], [way]).features for place in (lendu, pikar, uvagi))
    assert [f.transitions for f in (at_end, at_transition, beside)] == [0, 1, 0]
    assert [f.loose for f in (at_end, at_transition, beside)] == [0, 0, 1]
    assert seen([field, lendu], [CandidateConnection(Via.PROCEDURE, known=False)]).features.defects == 1


def test_a_procedure_is_followed_to_where_it_is_joined():
    """LENDU1 goes by LENDU to its transition PIKAR: the turn there is measured from LENDU, not from the field."""
    field, lendu, pikar, uvagi = DEMO.airport("XVAL"), named("LENDU"), named("PIKAR"), named("UVAGI")
    way = CandidateConnection(Via.PROCEDURE, "LENDU1", shape=procedure_shape(DEMO, "XVAL", "", "SID", "LENDU1"))
    assert lendu in way.shape.inner_places(pikar)
    assert way.shape.inner_places(lendu) == way.shape.inner_places(pikar)[:-1]
    by_hand = seen([*way.shape.inner_places(pikar), pikar, uvagi], [DIRECT] * 4)
    assert seen([field, pikar, uvagi], [way, DIRECT]).length_nm > by_hand.length_nm


def test_the_point_next_to_an_airport_is_weighed_by_the_airports_own_procedures():
    field, near = at(0, 0, PlaceKind.AIRPORT), at(0, 1)
    around = Around(feeders=[near.ident])
    arriving, leaving = seen([near, field], [DIRECT], around=around), seen([field, near], [DIRECT], around=around)
    assert (arriving.features.feeders, arriving.features.arrivals, arriving.features.departures) == (1, 1, 0)
    assert (leaving.features.feeders, leaving.features.arrivals, leaving.features.departures) == (0, 0, 1)
    assert seen([near, field], [DIRECT], around=Around(fixes=[near.ident])).features.feeders == 0
    assert seen([near, field], [DIRECT]).features.arrivals == 0


def test_a_contradiction_cleared_wins_more_than_any_error_costs():
    before = seen([named("LENDU"), named("PIKOR"), named("UVAGI")], [DIRECT, UM12])
    after = seen([named("LENDU"), named("PIKAR"), named("UVAGI")], [DIRECT, UM12])
    assert gain(before, after, 12.0) > -WEIGHTS.defects - 12.0 > 0.0


def test_a_detour_less_wins_and_a_detour_more_loses():
    bent = seen([at(0, 0), at(1.5, 1), at(0, 2)], [DIRECT, DIRECT])
    straight = seen([at(0, 0), at(0, 1), at(0, 2)], [DIRECT, DIRECT])
    assert gain(bent, straight, 0.0) > 0.0 > gain(straight, bent, 0.0)
    changed = difference(bent, straight)
    assert changed.length_log == pytest.approx(-math.log1p((bent.length_nm - straight.length_nm) / 10.0))
