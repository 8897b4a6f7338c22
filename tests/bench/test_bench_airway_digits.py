"""A digit of a Q, T or Y airway lost, or two swapped, on published routes: is the first proposal what was meant?

Data: FAA preferred routes of January 2023 and CIFP cycle 2301 (public domain).
Run with: pytest -n 0 -m bench tests/bench/test_bench_airway_digits.py -s
"""

import csv
import datetime as dt
import pathlib
import random
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

import pytest

from routecheck.entry_errors.words import with_neighbours_swapped
from routecheck.model import Assessment, RouteInput, Span, Weight
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess_many
from routecheck.settings import Settings

pytestmark = pytest.mark.bench
DAY = dt.date(2023, 2, 1)
_AREA_NAVIGATION = re.compile(r"[QTY]\d{2,3}")
_MOST = 250
_LEAST = 0.95

Planted = tuple[RouteInput, Span, str]


def test_the_first_proposal_is_the_airway_meant(
    shared_data: pathlib.Path, country: NavDatabase, capsys: pytest.CaptureFixture[str]
) -> None:
    with (shared_data / "faa_preferred_routes_2023_part.csv").open(encoding="utf-8") as file:
        rows = [RouteInput(row["route"], row["departure"], row["destination"]) for row in csv.DictReader(file)]
    rng, kinds = random.Random(5), defaultdict[str, list[Planted]](list)
    for answer in assess_many(rows, country, Settings(), DAY):
        if not any(finding.weight is Weight.WRONG for finding in answer.findings):
            for kind, planted in _plant(answer, rng):
                kinds[kind].append(planted)
    for kind, all_planted in kinds.items():
        chosen = rng.sample(all_planted, min(_MOST, len(all_planted)))
        answers = assess_many([route for route, _, _ in chosen], country, Settings(), DAY)
        right = [_first_proposal(answer, at) == meant for answer, (_, at, meant) in zip(answers, chosen, strict=True)]
        with capsys.disabled():
            print(f"\n{kind}: {len(right)} planted, first proposal right {sum(right) / len(right):.1%}")
        assert sum(right) >= _LEAST * len(right)


def _plant(answer: Assessment, rng: random.Random) -> Iterator[tuple[str, Planted]]:
    """One airway of each kind of error for every Q, T or Y airway that the route follows."""
    parsed = answer.route.parsed
    for connection in answer.route.resolved.connections:
        name, words = connection.name, connection.words
        if connection.fault or len(words) != 1 or not _AREA_NAVIGATION.fullmatch(name):
            continue
        span, digits = parsed.words[words[0]].span, name[1:]
        lost = [digits[:i] + digits[i + 1 :] for i in range(len(digits))]
        for kind, typed in (("lost", lost), ("swapped", with_neighbours_swapped(digits))):
            if typed:
                wrong = name[0] + rng.choice(typed)
                text = parsed.route_input.route
                route = replace(parsed.route_input, route=text[: span.start] + wrong + text[span.end :])
                yield kind, (route, Span(span.start, span.start + len(wrong)), name)


def _first_proposal(answer: Assessment, at: Span) -> str:
    here = [finding for finding in answer.findings if any(span.overlaps(at) for span in finding.spans)]
    return next((proposal.new for finding in here for proposal in finding.likely_intended), "")
