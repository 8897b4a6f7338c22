"""Known routes on real routes, one command: pytest -m bench tests/bench/test_bench_known.py -s.

Half of the published routes as a collection, entry errors planted in routes of the other half. The goals are those that
were set before anything was built; where a figure falls short of one, the floor is what was reached.
"""

import csv

import measure_intended
import measure_known
import pytest

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


def test_small_entry_errors_without_and_with_known_routes(split, country):
    name, collection, routes = split
    planted = measure_known.plant_small(routes, country, CASES // 2)
    flagged = {}
    for title, known in (("without", None), ("with", measure_known.known_routes(collection, country))):
        scores = measure_known.judge_all(planted, country, known)
        print(f"\n{name}, {title}: errors of 10 to 15 NM")
        for kind, score in scores.items():
            print(score.row(kind))
        flagged[title], first, _ = total(scores.values())
        print(f"all: flagged {flagged[title]:.2%}, first {first:.2%}")
    assert flagged["with"] >= flagged["without"]


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
