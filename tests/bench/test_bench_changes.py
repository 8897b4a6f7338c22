"""Proposals beside the text on real routes: pytest -m bench tests/bench/test_bench_changes.py -s.

Data: U.S. FAA CIFP, cycle 2301, and preferred routes of January 2023 (public domain); only the half of the routes that
nothing was fitted on. The figures reached are the floor: later changes may not worsen them.
"""

import csv
import pathlib
import sys
import zlib
from collections.abc import Iterator

import pytest
from measure_changes import measured
from scores import Score

from routecheck.model import RouteInput
from routecheck.navdata.database import NavDatabase

pytestmark = pytest.mark.bench
CASES = 300
BY_CHANCE = "runway not served: any other"
"""Any other runway tells nothing of the one that was meant: no figure is asked for."""


TWO_ERRORS = (
    "runway unknown: both digits",
    "runway unknown: one digit and the letter",
    "approach: other letter and digits swapped",
)
"""Of those two errors away another is often nearer to what was typed: only that it is among three can be asked."""


@pytest.fixture(scope="module")
def scores(shared_data: pathlib.Path, country: NavDatabase) -> dict[str, Score]:
    with (shared_data / "faa_preferred_routes_2023_part.csv").open() as file:
        rows = list(csv.DictReader(file))
    route_inputs = [RouteInput(row["route"], row["departure"], row["destination"]) for row in rows]
    return measured([e for e in route_inputs if zlib.crc32(e.departure.encode()) % 2 == 1], country, CASES)


@pytest.fixture(scope="module", autouse=True)
def printed(request: pytest.FixtureRequest, scores: dict[str, Score]) -> Iterator[None]:
    yield
    with request.config.pluginmanager.getplugin("capturemanager").global_and_fixture_disabled():
        sys.stdout.write(f"\n{'':40s} cases  flagged    first    three   silent    wrong\n")
        sys.stdout.writelines(f"{score.row(name, 40)}\n" for name, score in scores.items())


def test_every_kind_was_planted_often_enough_to_say_anything(scores: dict[str, Score]) -> None:
    assert {name: score.planted for name, score in scores.items() if score.planted < 20} == {}


@pytest.mark.parametrize(
    ("start", "flagged", "first", "three"),
    [
        ("runway", 0.99, 0.84, 0.98),
        ("approach", 0.99, 0.80, 0.98),
        ("transition", 0.95, 0.72, 0.93),
        ("window", 0.60, 0.95, 0.97),
        ("level", 0.75, 0.98, 0.98),
    ],
)
def test_errors_beside_the_text(
    scores: dict[str, Score], start: str, flagged: float, first: float, three: float
) -> None:
    apart = (BY_CHANCE, *TWO_ERRORS)
    of_kind = [score for name, score in scores.items() if name.startswith(start) and name not in apart]
    found = sum(score.flagged for score in of_kind)
    assert found / sum(score.planted for score in of_kind) >= flagged
    assert sum(score.first for score in of_kind) / found >= first
    assert sum(score.three for score in of_kind) / found >= three


@pytest.mark.parametrize("name", TWO_ERRORS)
def test_what_is_two_errors_away_is_among_three_nearly_every_second_time(scores: dict[str, Score], name: str) -> None:
    assert scores[name].flagged == scores[name].planted
    assert scores[name].three / scores[name].planted >= 0.45
