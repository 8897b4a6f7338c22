"""What checks ask of a route is reckoned once, and is always that of the very route they ask about."""

import datetime as dt
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

from routecheck.checks.per_route_cache import cached_per_route
from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings


def route(text):
    return assess(RouteInput(text, "XVAL", "XVOR"), demo_database(), Settings(), dt.date(2026, 12, 3)).route


def test_it_is_reckoned_once_for_a_route_and_anew_for_the_next():
    asked = []

    @cached_per_route
    def words(one):
        asked.append(one)
        return tuple(word.text for word in one.parsed.words)

    first, second = route("LENDU DCT PIKAR"), route("LENDU DCT SARNO")
    assert [words(one) for one in (first, first, second, first)] == [
        ("LENDU", "DCT", "PIKAR"),
        ("LENDU", "DCT", "PIKAR"),
        ("LENDU", "DCT", "SARNO"),
        ("LENDU", "DCT", "PIKAR"),
    ]
    assert len(asked) == 3


def test_an_equal_route_is_another_one():
    asked = []
    once = cached_per_route(asked.append)
    one = route("LENDU DCT PIKAR")
    once(one)
    once(replace(one))
    assert len(asked) == 2


def test_two_threads_at_two_routes_get_each_their_own():
    @cached_per_route
    def last(one):
        return one.parsed.words[-1].text

    routes = [route("LENDU DCT PIKAR"), route("LENDU DCT SARNO")] * 500
    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(last, routes)) == ["PIKAR", "SARNO"] * 500
