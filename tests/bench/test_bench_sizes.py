"""Speeds and levels of a wrong size on real routes: pytest -m bench tests/bench/test_bench_sizes.py -s.

Data: U.S. FAA CIFP, cycle 2301, and preferred routes of January 2023 (public domain).
"""

import csv
import pathlib

import pytest
from measure_intended import clean_routes
from measure_sizes import DAY, JETS, MACHS, PISTONS, TURBOPROPS, false_alarms, quiet_when_filed, slips_found

from routecheck.model import RouteInput
from routecheck.navdata.database import NavDatabase

pytestmark = pytest.mark.bench


@pytest.fixture(scope="module")
def published(shared_data: pathlib.Path) -> list[RouteInput]:
    with (shared_data / "faa_preferred_routes_2023_part.csv").open() as file:
        rows = list(csv.DictReader(file))
    return [RouteInput(row["route"], row["departure"], row["destination"], off_block=DAY) for row in rows]


def test_slips_of_speed_and_level_are_flagged_and_corrected(published: list[RouteInput], country: NavDatabase) -> None:
    routes = quiet_when_filed(clean_routes(published, country, 1), country, 100)
    scores = slips_found(routes, country)
    print(f"\n{'':34s} cases  flagged    first    three   silent    wrong")
    for name, score in scores.items():
        print(score.row(name))
    for name, score in scores.items():
        assert score.flagged == score.planted, name
        assert score.first >= 0.9 * score.planted, name


@pytest.mark.parametrize("figures", [JETS, MACHS, TURBOPROPS, PISTONS], ids=["jets", "Mach", "turboprops", "pistons"])
def test_usual_figures_are_flagged_on_no_published_route(
    figures: list[tuple[str, str]], published: list[RouteInput], country: NavDatabase
) -> None:
    assert false_alarms(published, figures, country) == []
