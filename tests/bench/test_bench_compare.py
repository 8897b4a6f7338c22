"""Versions of real routes that differ in one to three known ways: pytest -m bench tests/bench/test_bench_compare.py -s.

Data: U.S. FAA CIFP, cycle 2301, and preferred routes of January 2023 (public domain).
"""

import csv
import datetime as dt
import pathlib
import random
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace

import pytest

from routecheck.compare.compare import compare_routes
from routecheck.model import Comparison, DifferenceKind, Route, RouteInput, Via
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.settings import Settings

pytestmark = pytest.mark.bench
DAY = dt.date(2023, 2, 1)
PAIRS = 1_000


@dataclass
class Draft:
    """A route as points and what leads from each to the next; `changed` are the points that a difference may name."""

    before: list[str]
    points: list[str]
    ways: list[str]
    after: list[str]
    level: str = "F350"

    @property
    def text(self) -> str:
        words = [word for pair in zip(self.points, [*self.ways, ""], strict=True) for word in pair]
        return " ".join(filter(None, [*self.before, *words, *self.after]))


@dataclass(frozen=True)
class Made:
    """A difference that was made: its kind and the names that must be said."""

    kind: DifferenceKind
    names: frozenset[str]


Change = Callable[[Draft, random.Random, list[str]], Made | None]


def left_out(draft: Draft, rng: random.Random, _: list[str]) -> Made | None:
    """A clearance direct to a later point."""
    if len(draft.points) < 4:
        return None
    first = rng.randrange(len(draft.points) - 2)
    last = min(first + rng.randint(2, 4), len(draft.points) - 1)
    gone = draft.points[first + 1 : last]
    del draft.points[first + 1 : last]
    draft.ways[first:last] = ["DCT"]
    return Made(DifferenceKind.MISSING, frozenset(gone))


def between_direct(draft: Draft, rng: random.Random) -> int | None:
    found = [i for i in range(1, len(draft.points) - 1) if draft.ways[i - 1] == draft.ways[i] == "DCT"]
    return rng.choice(found) if found else None


def another_point(draft: Draft, rng: random.Random, names: list[str]) -> Made | None:
    index = between_direct(draft, rng)
    if index is None:
        return None
    old, new = draft.points[index], rng.choice(names)
    draft.points[index] = new
    return Made(DifferenceKind.MOVED, frozenset({old, new}))


def one_more(draft: Draft, rng: random.Random, names: list[str]) -> Made | None:
    found = [i for i, way in enumerate(draft.ways) if way == "DCT"]
    if not found:
        return None
    index, new = rng.choice(found), rng.choice(names)
    draft.points.insert(index + 1, new)
    draft.ways.insert(index, "DCT")
    return Made(DifferenceKind.EXTRA, frozenset({new}))


def exchanged(draft: Draft, rng: random.Random, _: list[str]) -> Made | None:
    found = [i for i in range(1, len(draft.points) - 2) if draft.ways[i - 1 : i + 2] == ["DCT"] * 3]
    if not found:
        return None
    index = rng.choice(found)
    pair = draft.points[index : index + 2]
    draft.points[index : index + 2] = pair[::-1]
    return Made(DifferenceKind.REORDERED, frozenset(pair))


def direct(draft: Draft, rng: random.Random, _: list[str]) -> Made | None:
    found = [i for i, way in enumerate(draft.ways) if way != "DCT"]
    if not found:
        return None
    index = rng.choice(found)
    airway, draft.ways[index] = draft.ways[index], "DCT"
    return Made(DifferenceKind.WAY, frozenset({airway}))


def other_procedure(draft: Draft, rng: random.Random, _: list[str]) -> Made | None:
    side = rng.choice([side for side in (draft.before, draft.after) if side] or [[]])
    if not side or not side[0][-1].isdigit():
        return None
    old = side[0]
    side[0] = old[:-1] + str((int(old[-1]) + 1) % 9 + 1)
    return Made(DifferenceKind.PROCEDURE, frozenset({old, side[0]}))


def other_level(draft: Draft, rng: random.Random, _: list[str]) -> Made | None:
    draft.level = rng.choice(["F330", "F370", "F310"])
    return Made(DifferenceKind.SPEED_OR_LEVEL, frozenset({draft.level}))


CHANGES: tuple[Change, ...] = (left_out, another_point, one_more, exchanged, direct, other_procedure, other_level)


def drafted(route: Route) -> Draft | None:
    """A route as a draft; None where it is not a chain of named points joined by airways or directly."""
    resolved = route.resolved
    chosen = [
        i
        for i, point in enumerate(resolved.route_points)
        if point.word is not None and 0 < i < len(resolved.route_points) - 1
    ]
    if (
        len(chosen) < 4
        or chosen != list(range(chosen[0], chosen[-1] + 1))
        or any(resolved.route_points[i].place is None for i in chosen)
    ):
        return None
    ways = []
    for i in chosen[:-1]:
        connection = resolved.connections[i]
        if connection.fault or connection.via not in (Via.DIRECT, Via.IMPLIED, Via.AIRWAY):
            return None
        ways.append(connection.name if connection.via is Via.AIRWAY else "DCT")
    points = [resolved.route_points[i].text for i in chosen]
    if len(set(points)) < len(points):
        return None
    return Draft(_procedure(route, chosen[0] - 1), points, ways, _procedure(route, chosen[-1]))


def _procedure(route: Route, connection: int) -> list[str]:
    found = route.resolved.connections[connection]
    return [route.parsed.words[i].text for i in found.words] if found.via is Via.PROCEDURE else []


def said(found: Comparison) -> set[tuple[DifferenceKind, str]]:
    return {(one.kind, name) for one in found.differences for name in (*one.first, *one.second)}


def test_every_difference_is_named_and_none_invented(shared_data: pathlib.Path, country: NavDatabase) -> None:
    rng = random.Random(19)
    with (shared_data / "faa_preferred_routes_2023_part.csv").open() as file:
        rows = list(csv.DictReader(file))
    rng.shuffle(rows)
    made, hidden, invented = Counter[str](), [], []
    pairs = 0
    for row in rows:
        route_input = RouteInput(row["route"], row["departure"], row["destination"], off_block=DAY)
        draft = drafted(read(route_input, country))
        if draft is None:
            continue
        first = replace(route_input, route=draft.text, level=draft.level)
        before = [*draft.points, *draft.ways, *draft.before, *draft.after]
        changes = [make(draft, rng, FIXES) for make in rng.sample(CHANGES, rng.randint(1, 3))]
        changes = [change for change in changes if change]
        if not changes or len({name for change in changes for name in change.names}) < sum(
            len(c.names) for c in changes
        ):
            continue
        second = replace(route_input, route=draft.text, level=draft.level)
        found = compare_routes(read(first, country), read(second, country))
        names = {name for _, name in said(found)}
        words = [*first.route.split(), *second.route.split(), second.level]
        missed = [change for change in changes if change.names.intersection(words) and not change.names & names]
        allowed = (
            {name for change in changes for name in change.names}
            | {"DCT", "F350"}
            | set(draft.ways)
            | set(before) - set(draft.points)
        )
        more = names - allowed
        pairs += 1
        made.update(change.kind.value for change in changes)
        hidden += [(first.route, second.route, missed)] if missed else []
        invented += [(first.route, second.route, more)] if more else []
        if pairs == PAIRS:
            break
    sys.stdout.write(
        f"\n{pairs:,} pairs, {made.total():,} differences: {dict(made)}\n"
        f"not named {len(hidden)}, invented {len(invented)}\n"
    )
    assert pairs == PAIRS
    assert not hidden, hidden[:3]
    assert not invented, invented[:3]


FIXES = ["LENDY", "CAMRN", "MERIT", "BAYYS", "HOFFI", "SPARK", "DIXIE", "WAVEY", "SHIPP", "BETTE"]


def read(route_input: RouteInput, database: NavDatabase) -> Route:
    return assess(route_input, database, Settings(), DAY).route
