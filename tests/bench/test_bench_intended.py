"""Likely intended on real routes, one command: pytest -m bench tests/bench/test_bench_intended.py -s.

The figures reached are the floor: later changes may not worsen them.
"""

import csv
import importlib.util
from pathlib import Path

import pytest

from routecheck.model import RouteInput

CASES = 300
pytestmark = pytest.mark.bench


def _measure():
    spec = importlib.util.spec_from_file_location("measure_intended", Path(__file__).with_name("measure_intended.py"))
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def routes(shared_data, country):
    measure = _measure()
    with (shared_data / "faa_preferred_routes_2023_part.csv").open() as file:
        rows = list(csv.DictReader(file))
    route_inputs = [RouteInput(r["route"], r["departure"], r["destination"], off_block=measure.DAY) for r in rows]
    return measure.clean_routes(route_inputs, country, 1)


def test_entry_errors_are_found_and_corrected(routes, country):
    by_kind, by_size = _measure().entry_errors(routes, country, CASES)
    print(f"\n{len(routes)} routes in order, not fitted on")
    print(f"{'kind':34s} cases  flagged    first    three   silent    wrong")
    for kind, score in by_kind.items():
        print(score.row(kind))
    for (kind, size), score in sorted(by_size.items()):
        print(score.row(f"  {kind}, {size}"[:34]))
    flagged = sum(s.flagged for s in by_kind.values()) / sum(s.planted for s in by_kind.values())
    first = sum(s.first for s in by_kind.values()) / sum(s.flagged for s in by_kind.values())
    print(f"all kinds: flagged {flagged:.1%}, first proposal right {first:.1%}")
    assert flagged >= 0.99
    assert first >= 0.96


def test_clean_routes_stay_quiet(routes, country):
    for name, (number, wrong, either, checks) in _measure().false_alarms(routes, country).items():
        print(f"\n{name}: {number} routes, Wrong {wrong:.2%}, Wrong or Doubtful {either:.2%}")
        print(dict(checks.most_common()))
        assert wrong <= 0.01
        assert either <= 0.04
