"""Likely intended on real routes, one command: pytest -m bench tests/bench/test_bench_intended.py -s.

The figures reached are the floor: later changes may not worsen them.
"""

import csv
import importlib.util
from pathlib import Path

import pytest
from scores import Score

from routecheck.model import RouteInput

CASES = 300
NOT_SMALL = ("breaks a rule", "over 150 NM")
"""What adds less to the line stands apart: of a detour of 15 NM nobody can say that it was not meant."""
FIRST, FIRST_OF_ENDS, THREE_OF_ENDS = 0.95, 0.70, 0.90
"""The next point along an airway is as likely meant as the one before: its ends are asked for less."""
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
    print("without those that change the length by less than 150 NM and break no rule:")
    large = _without_small(by_size)
    for kind, score in large.items():
        print(score.row(f"  {kind}"))
    assert flagged >= 0.99
    assert first >= 0.96
    assert [kind for kind, score in large.items() if score.flagged < 0.99 * score.planted] == []
    assert [kind for kind, score in large.items() if score.first < _least_first(kind) * score.flagged] == []
    ends = [score for kind, score in large.items() if _is_of_ends(kind)]
    assert all(score.three >= THREE_OF_ENDS * score.flagged for score in ends)


def _without_small(by_size):
    found = {}
    for (kind, size), score in by_size.items():
        if size in NOT_SMALL:
            found.setdefault(kind, Score()).add(score)
    return found


def _is_of_ends(kind):
    return kind in ("exit too far", "entry too far")


def _least_first(kind):
    return FIRST_OF_ENDS if _is_of_ends(kind) else FIRST


def test_clean_routes_stay_quiet(routes, country):
    for name, (number, wrong, either, checks) in _measure().false_alarms(routes, country).items():
        print(f"\n{name}: {number} routes, Wrong {wrong:.2%}, Wrong or Doubtful {either:.2%}")
        print(dict(checks.most_common()))
        assert wrong <= 0.01
        assert either <= 0.04
