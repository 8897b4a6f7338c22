"""Figures that checks state of themselves, measured again on the data they name: real routes, coded procedures."""

import datetime as dt
import re
from dataclasses import replace

import pytest
from descend_via import combinations

from routecheck.checks.altitude_queries import rising_pairs
from routecheck.checks.catalogue import PUBLISHED_ROUTES, collect
from routecheck.checks.runner import run_checks
from routecheck.geometry.legs import compute_routes
from routecheck.model import FIELDS, Weight
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.vertical.room import UNBOUNDED, steep_pairs

CHECKS = {check.name: check for check in collect()}
MEASURED = [check for check in collect() if check.measured]
FLOWN = dt.date(2023, 2, 1)


@pytest.fixture(scope="module")
def every_route(assessed):
    return [answer.route for answer in assessed]


@pytest.fixture(scope="module")
def placed_in_full(every_route):
    whole = [route for route in every_route if all(point.place for point in route.resolved.route_points)]
    return [route for route in whole if not any(one.fault for one in route.resolved.connections)]


def shares(check, routes):
    """Percent of the routes by the heaviest weight that the check gives them by itself."""
    weights = [run_checks(route, [check], {}).heaviest() for route in routes]
    return {weight: 100.0 * weights.count(weight) / len(routes) for weight in Weight}


def test_there_are_as_many_routes_as_is_said(placed_in_full):
    assert PUBLISHED_ROUTES.startswith(f"{len(placed_in_full):,} published U.S. routes")


@pytest.mark.parametrize("check", MEASURED, ids=lambda check: check.name)
def test_a_check_finds_something_on_as_many_published_routes_as_it_says(check, placed_in_full):
    found = shares(check, placed_in_full)
    stated = check.measured.wrong, check.measured.doubtful, check.measured.note
    assert stated == tuple(round(found[weight], 2) for weight in Weight)


def test_every_check_that_finds_something_on_published_routes_says_on_how_many(placed_in_full):
    """But those that go by the day alone: it lies within the cycle and outside the years of the magnetic model."""
    silent = [check for check in CHECKS.values() if not check.measured and check.family != "Data"]
    found = {check.name for check in silent if any(run_checks(route, [check], {}).findings for route in placed_in_full)}
    assert found == set()


OTHER_LIMIT = re.compile(r"(\d+)(?:°| NM) (?:would be passed )?by (\d\.\d) %")


@pytest.mark.parametrize("name", ["dogleg", "sharp-turn", "first-leg-away"])
def test_other_limits_would_be_passed_by_as_many_as_is_said(name, placed_in_full):
    check = CHECKS[name]
    (limit,) = [limit for limit in check.limits if "of the same routes" in limit.why]
    beside = {one.name: 1e6 for one in check.limits if one.unit == limit.unit and one.name.startswith("doubtful")}
    told = [(float(value), float(percent)) for value, percent in OTHER_LIMIT.findall(limit.why)]
    assert len(told) > 1
    for value, percent in told:
        changed = {**beside, limit.name: value}
        passed = [run_checks(route, [check], {name: changed}).heaviest() for route in placed_in_full]
        assert round(100.0 * sum(_at_least(weight, limit) for weight in passed) / len(passed), 1) == percent


def _at_least(weight, limit):
    """Whether a finding, if any, is as heavy as the limit makes it."""
    return weight is Weight.DOUBTFUL if limit.name.startswith("doubtful") else weight is not None


def test_radials_on_published_routes(every_route):
    (limit,) = [limit for limit in CHECKS["off-airway"].limits if limit.name == "radial_nm"]
    asked = [one.off_radial_nm for route in every_route for one in route.resolved.connections]
    off = [nm for nm in asked if nm is not None]
    assert sum(nm > limit.default for nm in off) == 1
    assert f"of {len(off):,} radials on published routes all but one" in limit.why


def test_a_point_beyond_the_end_of_an_airway(every_route):
    check = CHECKS["off-airway"]
    found = [{finding.weight for finding in run_checks(route, [check], {}).findings} for route in every_route]
    share = 100.0 * sum(Weight.DOUBTFUL in weights for weights in found) / len(found)
    assert f"{share:.1f} % of {len(found):,} published U.S. routes" in check.explanation


def test_the_ends_of_published_routes_exchanged(placed_in_full, country):
    check = CHECKS["ends-exchanged"]
    given = (route.route_input for route in placed_in_full)
    turned = (replace(one, departure=one.destination, destination=one.departure) for one in given)
    resolved = [resolve(read_route(one), country, FLOWN) for one in turned]
    routes = compute_routes(resolved, [FLOWN] * len(resolved))
    share = 100.0 - 100.0 * [run_checks(route, [check], {}).heaviest() for route in routes].count(None) / len(routes)
    assert f"{share:.0f} % of the same published routes" in check.explanation


# ---- ways through coded procedures


def windows_of(way):
    """The altitude windows of a way through a procedure, the elevations of the fields left out."""
    places = (point.place for point in way.path.points)
    return [UNBOUNDED if p and p.kind in FIELDS else window for window, p in zip(way.windows, places, strict=True)]


def steepest_descent(way):
    asked = [pair.needed_ft_nm for pair in steep_pairs(way.lengths, windows_of(way), 330.0) if not pair.climbs]
    return max(asked, default=0.0)


def test_descents_and_climbs_in_published_arrivals(country):
    ways = list(combinations(country, "STAR"))
    needed = [steepest_descent(way) for way in ways]
    note, doubtful = (sum(most > limit.default for most in needed) for limit in CHECKS["steep"].limits[:2])
    population = f"Of {len(ways):,} ways through the published U.S. arrivals"
    for name in ("steep", "climb-in-arrival"):
        assert population in CHECKS[name].explanation
    told = f"{note} ask for more than 330 ft/NM and {doubtful} of these for more than 400"
    assert told in CHECKS["steep"].explanation
    assert [limit.why for limit in CHECKS["steep"].limits[:2]] == [
        f"{note} of {len(ways):,} ways through published arrivals ask for more",
        f"{doubtful} of them ask for more",
    ]
    assert not any(list(rising_pairs(windows_of(way), range(len(way.windows)))) for way in ways)


def test_descents_in_published_departures(country):
    ways = list(combinations(country, "SID"))
    assert f"Of {len(ways):,} ways through the published U.S. departures" in CHECKS["descent-in-departure"].explanation
    assert not any(list(rising_pairs(windows_of(way), range(len(way.windows) - 1, -1, -1))) for way in ways)
