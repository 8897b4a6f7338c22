"""Where a correction may lie: no place that wins enough is ever out of reach, so that none is left unscored."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from outlines import DEMO, drawn, with_errors

from routecheck.corrections.plausibility import WEIGHTS
from routecheck.corrections.scoring import AS_SHIPPED, LEAST_SAVED_NM, Scorer
from routecheck.earth import sphere
from routecheck.model import Place, PlaceKind, RouteInput, Via
from routecheck.resolution import airways

TERMINAL_FIXES = sorted(
    {ident for field in ("XVAL", "XVOR") for fixes in DEMO.terminal_fixes(field) for ident in fixes}
)
MARGIN = 0.001


def positions(minutes, ends):
    """A route of typed positions, minutes south of 31S and east of 0E, between two aerodromes or none."""
    words = (f"{31 + south // 60:02d}{south % 60:02d}S{east // 60:03d}{east % 60:02d}E" for south, east in minutes)
    return RouteInput(" DCT ".join(words), *ends)


MINUTES = st.tuples(st.integers(0, 300), st.integers(0, 600))
bent = st.builds(
    positions, st.lists(MINUTES, min_size=3, max_size=5, unique=True), st.sampled_from([(), ("XVAL", "XVOR")])
)


def on_the_line(before, after, share, ident=""):
    """A place on the great circle between two others: nothing is shorter, and nothing turns less there.

    With the name of a fix it counts as that fix of a procedure, wherever it lies.
    """
    one, other = (sphere.unit_vector(place.lat, place.lon) for place in (before, after))
    x, y, z = (a + (b - a) * share for a, b in zip(one, other, strict=True))
    lat, lon = math.degrees(math.atan2(z, math.hypot(x, y))), math.degrees(math.atan2(y, x))
    return Place(ident or "ON LINE", lat, lon, PlaceKind.FIX if ident else PlaceKind.TYPED)


def segments_won(route, index, place):
    """What scoring gives for more segments flown along the airways beside a route point: no bound counts it."""

    def flown(here):
        total = 0.0
        for way, other in ((index - 1, index - 1), (index, index + 1)):
            run = airways.run_between(route.connections[way].pieces, here, route.places[other])
            total += math.log(len(run.inner) + 1) if run and route.connections[way].via is Via.AIRWAY else 0.0
        return total

    return max(0.0, WEIGHTS.steps * (flown(place) - flown(route.places[index])))


def must_be_in_reach(scorer, index, place):
    """At a cost that leaves a place just enough to win, it is in reach: if it saves enough and fits the data."""
    won, before, after = scorer.score_place(index, place, 0.0)
    won -= segments_won(scorer.outline, index, place)
    if not after.features.defects and before.length_nm - after.length_nm > LEAST_SAVED_NM + 0.5:
        reach = scorer.reach(index, won - AS_SHIPPED.least_gain - MARGIN)
        assert not reach.empty
        assert reach.holds(sphere.unit_vector(place.lat, place.lon)), (index, place)


def placed_points(route):
    """The route points that are placed between placed ones, and beside which nothing contradicts the data."""
    inner = range(1, len(route.places) - 1)
    return [i for i in inner if None not in route.places[i - 1 : i + 2] and not {i - 1, i} & set(route.faulty)]


@given(bent | with_errors, st.floats(0.05, 0.95), st.sampled_from(["", *TERMINAL_FIXES]), st.data())
def test_the_straight_line_is_in_reach_of_all_that_it_wins(route_input, share, ident, data):
    """There the bound has nothing to spare: what is on the line wins all that can be won by length and by turns."""
    route = drawn(route_input)
    points = placed_points(route)
    assume(points)
    index = data.draw(st.sampled_from(points))
    place = on_the_line(route.places[index - 1], route.places[index + 1], share, ident)
    must_be_in_reach(Scorer(route, AS_SHIPPED), index, place)


@settings(max_examples=20)
@given(with_errors)
@pytest.mark.slow
def test_every_point_of_the_airways_beside_and_every_name_is_in_reach_of_what_it_wins(route_input):
    route = drawn(route_input)
    scorer = Scorer(route, AS_SHIPPED)
    names = [DEMO.places(name)[0] for name in sorted(DEMO.names())]
    for index in placed_points(route):
        own = [p for way in (index - 1, index) for piece in route.connections[way].pieces for p in piece.places]
        for place in (*own, *names):
            if not any(airways.is_same_place(place, node) for node in route.places[index - 1 : index + 2]):
                must_be_in_reach(scorer, index, place)


def test_what_wins_nothing_at_that_cost_is_out_of_reach():
    """Else a bound that holds everything would pass all of the above."""
    route = drawn(RouteInput("31S000E DCT 3130S00200E DCT 31S004E"))
    (index,) = placed_points(route)
    place = on_the_line(route.places[index - 1], route.places[index + 1], 0.5)
    scorer = Scorer(route, AS_SHIPPED)
    won = scorer.score_place(index, place, 0.0)[0]
    where = sphere.unit_vector(place.lat, place.lon)
    assert scorer.reach(index, won - AS_SHIPPED.least_gain - MARGIN).holds(where)
    assert not scorer.reach(index, won - AS_SHIPPED.least_gain + 0.6).holds(where)
