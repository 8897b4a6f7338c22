"""Points typed again, aerodromes that are none, two errors in a closed list, on real routes.

Run it by pytest -m bench tests/bench/test_bench_places.py -s.

Data: U.S. FAA CIFP, cycle 2301, and preferred routes of January 2023 (public domain); the half nothing was fitted on.
"""

import csv
import pathlib

import pytest
from measure_intended import DAY, clean_routes
from measure_places import PLANTERS, places_found

from routecheck.model import RouteInput
from routecheck.navdata.database import NavDatabase

pytestmark = pytest.mark.bench
CASES = 200
LEAST_FIRST = {"an aerodrome that is none": 0.95}
"""Of the others 98 % and more have the right one first."""


@pytest.fixture(scope="module")
def routes(shared_data: pathlib.Path, country: NavDatabase) -> list[RouteInput]:
    with (shared_data / "faa_preferred_routes_2023_part.csv").open() as file:
        rows = list(csv.DictReader(file))
    published = [RouteInput(row["route"], row["departure"], row["destination"], off_block=DAY) for row in rows]
    return clean_routes(published, country, 1)


@pytest.mark.parametrize("kind", PLANTERS)
def test_what_was_meant_is_proposed_first(kind: str, routes: list[RouteInput], country: NavDatabase) -> None:
    score = places_found(routes, country, CASES, [kind])[kind]
    print(f"\n{'':34s} cases  flagged    first    three   silent    wrong\n{score.row(kind)}")
    assert score.flagged >= 0.99 * score.planted
    assert score.first >= LEAST_FIRST.get(kind, 0.98) * score.planted
