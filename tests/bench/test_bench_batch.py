"""Time a route in a batch against bare geodesics, and growth: pytest -m bench tests/bench/test_bench_batch.py -s."""

import csv
import datetime as dt
import random
import time

import numpy as np
import pytest

from routecheck.earth import geo
from routecheck.garbage import collect_garbage_seldom
from routecheck.model import RouteInput
from routecheck.pipeline import assess, assess_many
from routecheck.report import jsonl
from routecheck.settings import Settings

pytestmark = pytest.mark.bench


@pytest.fixture(scope="module")
def route_inputs(shared_data):
    with (shared_data / "faa_preferred_routes_2023_part.csv").open() as file:
        rows = list(csv.DictReader(file))
    return [RouteInput(r["route"], r["departure"], r["destination"], off_block=dt.date(2023, 2, 1)) for r in rows]


def best_of(times, job):
    took = []
    for _ in range(times):
        start = time.perf_counter()
        job()
        took.append(time.perf_counter() - start)
    return min(took)


def test_a_batch_against_bare_geodesics(route_inputs, country):
    with collect_garbage_seldom():  # as the command proof does it
        day = route_inputs[0].date
        start = time.perf_counter()
        answers = list(assess_many(route_inputs, country, Settings(), day))
        first = time.perf_counter() - start
        legs = [(a.place, b.place) for x in answers for a, b in zip(x.route.points, x.route.points[1:], strict=False)]
        table = np.array([(a.lat, a.lon, b.lat, b.lon) for a, b in legs if a and b])
        bare = best_of(5, lambda: geo.inverse_many(*table.T))
        whole = best_of(2, lambda: sum(1 for _ in assess_many(route_inputs, country, Settings(), day)))
        lines = best_of(2, lambda: [jsonl.format_line(a) for a in answers])
        half = best_of(2, lambda: sum(1 for _ in assess_many(route_inputs[::2], country, Settings(), day)))
    per = 1e6 / len(route_inputs)
    print(f"\n{len(route_inputs)} routes, {len(table)} legs: geodesics {bare * per:.1f} µs a route")
    print(f"assess {whole * per:.0f} µs a route, {whole / bare:.0f} ×")
    print(f"with JSON Lines {(whole + lines) * per:.0f} µs, {(whole + lines) / bare:.0f} ×")
    print(f"the first time through the data {first * per:.0f} µs, {first / bare:.0f} × (goal 220)")
    print(f"half the routes take {half / whole:.2f} of the time")
    assert half / whole < 0.7
    assert first / bare <= 220


def test_growth_in_points(country, route_inputs):
    rng = random.Random(1)
    clean = [e for e in route_inputs if len(e.route.split()) >= 6]
    for points in (10, 60, 500, 2000):
        words = []
        while len(words) < points:
            words += rng.choice(clean).route.split()
        lat = [f"{30 + (i % 2):02d}N{100 + i * 40 // points:03d}W" for i in range(points)]
        along = [f"{2000 + i * 3000 // points // 60 * 100 + i * 3000 // points % 60:04d}N10000W" for i in range(points)]
        for name, text in (("chained real routes", words[:points]), ("zigzag", lat), ("straight", along)):
            route_input = RouteInput(" ".join(text), "KJFK", "KLAX", off_block=route_inputs[0].date)
            took = best_of(
                2, lambda route_input=route_input: assess(route_input, country, Settings(), route_input.date)
            )
            print(f"{points:5d} words, {name}: {took * 1000:.0f} ms, {took / points * 1e6:.0f} µs a word")
