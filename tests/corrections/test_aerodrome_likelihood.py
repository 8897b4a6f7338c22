"""What an aerodrome is worth at an end of a route, by hand and on the demo region."""

from __future__ import annotations

import datetime as dt
import math
from collections import defaultdict

import pytest

from routecheck.corrections.aerodrome_likelihood import AERODROME_WEIGHTS, likelihood, likelihood_straight_on
from routecheck.corrections.outline import draw_outline
from routecheck.earth.sphere import EARTH_RADIUS_NM
from routecheck.model import Place, PlaceKind, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve

DEMO = demo_database()
DAY = dt.date(2026, 12, 3)


def drawn(route, departure="XVAL", destination="XVOR"):
    return draw_outline(resolve(read_route(RouteInput(route, departure, destination)), DEMO, DAY), DEMO)


class Published:
    """A library of one airport: its approaches, and the fixes of its procedures."""

    def __init__(self, approaches=0, fixes=()):
        self._approaches, self._fixes = approaches, frozenset(fixes)
        self.derived = defaultdict(dict)

    def terminal_fixes(self, airport):
        return frozenset(), self._fixes

    def procedure_names(self, airport, kind):
        assert kind == "APPROACH"
        return tuple(f"I{number:02d}" for number in range(self._approaches))


FIELD = Place("XVQQ", 0.0, 0.0, PlaceKind.AIRPORT)


def off(nm):
    return Place("NEAR", 0.0, math.degrees(nm / EARTH_RADIUS_NM), PlaceKind.FIX)


@pytest.mark.parametrize("nm", [0.0, 30.0, 300.0, 3000.0])
def test_the_farther_the_less_and_far_away_a_mile_more_says_little(nm):
    by_hand = AERODROME_WEIGHTS.far * math.log1p(nm / 30) + AERODROME_WEIGHTS.very_far * math.log1p(nm / 300)
    here, farther = (likelihood_straight_on(Published(), FIELD, off(d)) for d in (nm, nm + 10))
    assert here == pytest.approx(by_hand, abs=0.01)
    assert farther < here
    assert here - farther <= likelihood_straight_on(Published(), FIELD, off(0)) - likelihood_straight_on(
        Published(), FIELD, off(10)
    )


def test_an_airport_with_more_approaches_or_with_that_point_in_its_procedures_is_likelier():
    bare, many, own = (
        likelihood_straight_on(there, FIELD, off(20))
        for there in (Published(), Published(15), Published(fixes=["NEAR"]))
    )
    assert many - bare == pytest.approx(AERODROME_WEIGHTS.approaches * math.log(16))
    assert own - bare == pytest.approx(AERODROME_WEIGHTS.published)


@pytest.mark.parametrize("end", [0, -1])
def test_a_turn_at_the_point_beside_counts_from_30_to_100_degrees(end):
    """From 33S002E: straight on, at a right angle, sharply back, straight back."""

    def worth(far):
        route = f"33S002E {far}" if end == 0 else f"{far} 33S002E"
        route = drawn(route, "XVAL", "XVAL")
        return likelihood(route, end % len(route.places)), route.line.turns_deg[1 if end == 0 else 2]

    told = sorted((worth(far) for far in ("33S006E", "31S003E", "36S001E", "33S001W")), key=lambda pair: pair[1])
    assert len({round(turn) for _, turn in told}) == len(told)
    for one, turn in told:
        share = (min(max(turn, 30.0), 100.0) - 30.0) / 70.0
        straight = likelihood_straight_on(DEMO, DEMO.airport("XVAL"), drawn("33S002E").places[1])
        assert one - straight == pytest.approx(AERODROME_WEIGHTS.turn * share, abs=0.01)
    assert {round(turn > 100) for _, turn in told} == {0, 1}


def test_where_nothing_is_beside_it_an_airport_is_worth_nothing():
    assert likelihood(drawn(""), 0) == 0.0
    assert likelihood(drawn("LENDU", departure="XVZZ"), 0) == 0.0
