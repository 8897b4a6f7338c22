"""What a correction can win at most is never less than what it wins, so that nothing worth saying is left unscored."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from outlines import DEMO, drawn, with_errors

from routecheck.corrections import aerodrome_likelihood, scoring
from routecheck.corrections.airway_ends import STEP_TO_FIXED_END, other_airway_ends
from routecheck.corrections.best_edits import suspect_points
from routecheck.corrections.plausibility import MOST_SHARE, SHARE, WEIGHTS, turning_cost, won_by_share
from routecheck.corrections.scoring import AS_SHIPPED, LEAST_SAVED_NM, Scorer
from routecheck.earth import sphere
from routecheck.entry_errors.kinds import COST
from routecheck.model import RouteInput, Via
from routecheck.resolution import airways


def segments(route, index, place, sides=(-1, 1)):
    """What scoring says of the segments flown along the airways on these sides of a route point, with a place there."""
    total = 0.0
    for way, other in ((index + min(side, 0), index + side) for side in sides):
        if route.connections[way].via is Via.AIRWAY:
            run = airways.run_between(route.connections[way].pieces, place, route.places[other])
            total += math.log(len(run.inner) + 1) if run else 0.0
    return WEIGHTS.steps * total


def inner(route):
    return range(1, len(route.places) - 1)


@settings(max_examples=100)
@given(with_errors)
def test_every_move_along_an_airway_that_wins_enough_is_tried(route_input):
    """But for the segments flown along an airway beyond the point. What it costs is set to what it may just cost."""
    route = drawn(route_input)
    scorer, nodes = Scorer(route, AS_SHIPPED), route.places
    for index in (i for i in inner(route) if None not in nodes[i - 1 : i + 2]):
        for error, step in STEP_TO_FIXED_END.items():
            for place in between(route, index, step):
                won, before, after = scorer.score_place(index, place, 0.0)
                saved = before.length_nm - after.length_nm
                won += won_by_share(saved, scorer.straight_nm(index, step))
                won -= max(0.0, segments(route, index, place, [-step]) - segments(route, index, nodes[index], [-step]))
                joins = not after.features.defects and not after.features.loose
                if joins and saved > LEAST_SAVED_NM + 0.5:
                    with pytest.MonkeyPatch.context() as patch:
                        patch.setitem(COST, error, won - AS_SHIPPED.least_gain - 0.001)
                        assert (error, place) in list(other_airway_ends(scorer, index))


def between(route, index, step):
    """The points of the airway on that side of a route point between its ends as typed."""
    way = index - 1 if step < 0 else index
    if route.connections[way].via is not Via.AIRWAY:
        return []
    run = airways.run_between(route.connections[way].pieces, route.places[index + step], route.places[index])
    beyond = route.places[index - step]
    return [place for place in run.inner if not airways.is_same_place(place, beyond)] if run else []


@given(st.floats(-50, 500), st.floats(0, 500))
def test_the_share_of_the_way_saved_wins_nothing_where_none_is_and_never_more_than_its_most(shorter, straight):
    won = won_by_share(shorter, straight)
    assert 0.0 <= won <= SHARE * MOST_SHARE
    assert won > 0.0 if shorter > 1e-9 else won < 1e-9
    assert won_by_share(shorter, math.inf) == 0.0
    assert won_by_share(shorter + 1.0, straight) >= won >= won_by_share(shorter, straight + 1.0)


def test_what_is_saved_is_a_share_of_the_way_between_the_points_beside_but_of_nothing_next_to_an_airport():
    route = drawn(RouteInput("LENDU UM12 TOVIK DCT SARNO", "XVAL", "XVOR"))
    scorer = Scorer(route, AS_SHIPPED)
    lendu, sarno = (sphere.vector_of(route.places[i]) for i in (1, 3))
    assert scorer.straight_nm(2, -1) == pytest.approx(sphere.distance_nm(lendu, sarno))
    assert scorer.straight_nm(1, 1) == math.inf, "XVAL is before LENDU: there routes overshoot and come back"


def test_nothing_is_a_share_where_the_point_beyond_is_in_doubt_itself():
    joined, not_joined = (
        Scorer(drawn(RouteInput(f"LENDU UM12 TOVIK DCT {point} SARNO2", "XVAL", "XVOR")), AS_SHIPPED)
        for point in ("TEMGU", "HADRU")
    )
    assert math.isfinite(joined.straight_nm(2, -1))
    assert not_joined.straight_nm(2, -1) == math.inf


@given(st.lists(st.floats(0, 180), max_size=6))
def test_no_straightening_wins_more_than_all_turns_cost(turns):
    assert turning_cost(turns) >= -1e-9
    assert all(turning_cost(turns[:i]) <= turning_cost(turns) + 1e-9 for i in range(len(turns)))


def test_a_route_in_order_is_sound_and_one_that_is_not_has_no_bound():
    route = drawn(RouteInput("LENDU1 LENDU UM12 PIKOR DCT SARNO", "XVAL", "XVOR"))
    scorer = Scorer(route, AS_SHIPPED)
    assert route.faulty == {1}, "PIKOR is not on UM12"
    assert not scorer.reach(2, 1_000.0).empty, "whatever a correction costs"
    in_order = drawn(RouteInput("LENDU1 LENDU UM12 PIKAR DCT SARNO", "XVAL", "XVOR"))
    assert Scorer(in_order, AS_SHIPPED).reach(2, 1_000.0).empty


def test_a_procedure_that_the_route_does_not_join_is_faulty_and_looked_at():
    route = drawn(RouteInput("LENDU1 UVAGI DCT SARNO", "XVAL", "XVOR"))
    assert 0 in route.faulty
    assert 1 in suspect_points(route)
    assert drawn(RouteInput("LENDU1 PIKAR UM12 UVAGI DCT SARNO", "XVAL", "XVOR")).faulty == frozenset()


def test_an_exit_beyond_the_way_on_is_looked_at_with_its_neighbours():
    route = drawn(RouteInput("LENDU UM12 OSDEK DCT RULPO DCT SARNO", "XVAL", "XVOR"))
    here = [node.ident for node in route.places].index("OSDEK")
    assert {here - 1, here, here + 1} <= set(suspect_points(route))


# ---- points of airways


def test_only_coded_points_count_as_on_an_airway():
    um12 = DEMO.airways("UM12")
    assert DEMO.places("PIKAR")[0].key in scoring.coded_points(um12, DEMO)
    assert DEMO.places("PIKOR")[0].key not in scoring.coded_points(um12, DEMO)
    north, south = sorted(DEMO.places("TOVIK"), key=lambda place: -place.lat)
    assert north.key in scoring.coded_points(um12, DEMO)
    assert south.key not in scoring.coded_points(um12, DEMO)
    assert all(
        p.key in scoring.coded_points(DEMO.airways("V27"), DEMO) for piece in DEMO.airways("V27") for p in piece.places
    )


# ---- other aerodromes

FIELDS = ["XVAL", "XVOR", "XVMA", "XVDU", "XVSU"]


@pytest.mark.parametrize("end", [0, -1])
@pytest.mark.parametrize("text", ["PIKAR DCT TEMGU DCT SARNO", "LENDU UM12 TOVIK DCT RIPAS", "SARNO DCT LENDU"])
def test_no_other_airport_is_worth_more_than_it_can_be_at_most(text, end):
    def with_ends(field):
        return drawn(RouteInput(text, field, "XVOR") if end == 0 else RouteInput(text, "XVAL", field))

    typed = with_ends("XVSU")
    last = 0 if end == 0 else len(typed.places) - 1
    near = aerodrome_likelihood.neighbour(typed, last)
    straight_on = []
    for field in FIELDS:
        most = aerodrome_likelihood.most_likelihood(typed, last, DEMO.airport(field), near)
        assert aerodrome_likelihood.likelihood(with_ends(field), last) <= most + 0.01
        straight_on.append(aerodrome_likelihood.likelihood_straight_on(DEMO, DEMO.airport(field), near) - most)
    assert min(straight_on) >= -1e-9
    assert max(straight_on) > 1.0, "of one of them the turn is known to count"
