"""Known routes on real routes, one command: pytest -m bench tests/bench/test_bench_known.py -s.

Half of the published routes as a collection, entry errors planted in routes of the other half. The goals are those that
were set before anything was built; where a figure falls short of one, the floor is what was reached.
"""

import csv

import measure_intended
import measure_known
import pytest
from measure_intended import half

CASES = 200
pytestmark = pytest.mark.bench


@pytest.fixture(scope="module")
def published(shared_data):
    with (shared_data / "faa_preferred_routes_2023_part.csv").open() as file:
        return measure_known.read_routes(csv.DictReader(file))


@pytest.fixture(scope="module", params=measure_known.SPLITS)
def split(request, published, country):
    collection, others = measure_known.SPLITS[request.param](published)
    return request.param, collection, measure_known.in_order(others, country)


def total(scores):
    planted, flagged = (sum(getattr(s, name) for s in scores) for name in ("planted", "flagged"))
    return flagged / planted, sum(s.first for s in scores) / flagged, sum(s.three for s in scores) / flagged


def print_table(title, by_kind, by_size):
    print(f"\n{title}\n{'kind':34s} cases  flagged    first    three   silent    wrong")
    for kind, score in by_kind.items():
        print(score.row(kind))
    small = [score for (_, size), score in by_size.items() if size == "10–15 NM"]
    for (kind, size), score in sorted(by_size.items()):
        if size == "10–15 NM":
            print(score.row(f"  {kind}, {size}"[:34]))
    print("all kinds: flagged {:.2%}, first {:.2%}, among three {:.2%}".format(*total(by_kind.values())))
    print("small ones: flagged {:.2%}, first {:.2%}, among three {:.2%}".format(*total(small)))
    return total(by_kind.values()), total(small)


def test_entry_errors_without_and_with_known_routes(split, country):
    name, collection, routes = split
    known = measure_known.known_routes(collection, country)
    with_errors = measure_known.poisoned(collection, country)
    assert sum(one != other for one, other in zip(collection, with_errors, strict=True)) == round(
        0.05 * len(collection)
    )
    bad = measure_known.known_routes(with_errors, country)
    print(f"\n{name}: {len(collection)} known routes, cases of {len(routes)} routes in order")
    reached = {}
    for title, asked in (("without", None), ("with known routes", known), ("5 % of them with an error", bad)):
        scores = measure_intended.entry_errors(routes, country, CASES, known=asked)
        reached[title] = print_table(f"{name}, {title}", *scores), scores[0]
    (flagged, first, _), _ = reached["with known routes"][0]
    (bad_flagged, bad_first, _), _ = reached["5 % of them with an error"][0]
    assert flagged >= 0.99
    assert first >= reached["without"][0][0][1]
    assert abs(flagged - bad_flagged) < 0.01
    assert first - bad_first < 0.01


def test_small_entry_errors_in_several_splits(published, country):
    planted = measure_known.plant_small(measure_known.in_order([*filter(half, published)], country), country)
    reached = {}
    for name, split_routes in measure_known.SEVERAL_SPLITS.items():
        collection, others = split_routes(published)
        known = measure_known.known_routes(collection, country)
        cases = measure_known.of_routes(planted, others)
        for title, asked in (("without", None), ("with", known)):
            scores = measure_known.judge_all(cases, country, asked)
            print(f"\n{name}, {title}: errors of 10 to 15 NM")
            for kind, score in scores.items():
                print(score.row(kind))
            flagged, first, _ = total(scores.values())
            print(f"all: flagged {flagged:.2%}, first {first:.2%}")
        alarms, unlike, number = measure_known.count_alarms(others, country, known)
        reached[name] = flagged, 1.0 - alarms / number, unlike / number
    print(f"\n{'with known routes':34s} flagged  free of Wrong and Doubtful  unlike-known")
    for name, figures in reached.items():
        print(f"{name:34s} {figures[0]:7.1%} {figures[1]:28.2%} {figures[2]:13.2%}")
    of_splits = [figures for name, figures in reached.items() if name != "other departures"]
    flagged, free, _ = (sum(column) / len(of_splits) for column in zip(*of_splits, strict=True))
    print(f"{'mean but for other departures':34s} {flagged:7.1%} {free:28.2%}")
    assert flagged >= 0.97
    assert free >= 0.98
    assert min(figures[0] for figures in reached.values()) >= 0.95
    assert min(figures[1] for figures in reached.values()) >= 0.975
    assert max(figures[2] for figures in reached.values()) <= 0.01


def test_clean_routes_without_and_with_known_routes(split, country):
    name, collection, routes = split
    known = measure_known.known_routes(collection, country)
    for title, asked in (("without", None), ("with", known)):
        for which, (number, wrong, either, checks) in measure_intended.false_alarms(
            routes, country, known=asked
        ).items():
            print(f"\n{name}, {title}, {which}: {number} routes, Wrong {wrong:.2%}, Wrong or Doubtful {either:.2%}")
            print(dict(checks.most_common()))
            assert wrong <= 0.01
            assert either <= 0.04
    print(f"\nthe first thirty alarms, {name}")
    for given, finding in measure_known.alarms(routes, country, known)[:30]:
        print(f"{given.departure} {given.route} {given.destination}\n   {finding.check}: {finding.message}")
