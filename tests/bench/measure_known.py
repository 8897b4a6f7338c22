"""What known routes add on real routes: some published routes as a collection, entry errors planted in others.

The weights of usage were fitted on cases of half 0 of the routes, by departure (measure_intended); every case reported
is of half 1.
"""

import hashlib
import random
from functools import partial

import measure_intended as intended

from routecheck.known.collection import About, KnownRow, compile_collection
from routecheck.known.known_routes import KnownRoutes
from routecheck.known.word_sequence import word_sequence
from routecheck.model import RouteInput, Weight
from routecheck.pipeline import assess_many
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.settings import Settings

DAY = intended.DAY


def known_routes(route_inputs, database):
    """These routes as one collection."""
    rows = []
    for given in route_inputs:
        sequence = [word.text for word in word_sequence(resolve(read_route(given), database, DAY))]
        words = " ".join(sequence[1:-1])
        rows.append(KnownRow(departure=sequence[0], destination=sequence[-1], words=words, text=given.route))
    return KnownRoutes([compile_collection(rows, lambda n: About(name="known.csv", routes=n), lambda _: None)])


def split_by_departure(route_inputs):
    """Routes of other departures as collection: no case has a known route of its own aerodrome in it."""
    return [g for g in route_inputs if not intended.half(g)], [g for g in route_inputs if intended.half(g)]


def split_by_row(route_inputs, seed=1):
    """Any half of the routes as collection; of the others those on which nothing was fitted."""
    chosen = set(random.Random(seed).sample(range(len(route_inputs)), len(route_inputs) // 2))
    collection = [given for place, given in enumerate(route_inputs) if place in chosen]
    return collection, [g for place, g in enumerate(route_inputs) if place not in chosen and intended.half(g)]


def split_by_pair(route_inputs, seed=1):
    """Routes between other pairs of aerodromes as collection: no case has a known route from and to the same in it."""
    known, others = [], []
    for given in route_inputs:
        digest = hashlib.md5(f"{seed}:{given.departure}{given.destination}".encode()).digest()
        (others if digest[0] % 2 else known).append(given)
    return known, [g for g in others if intended.half(g)]


SPLITS = {"collection of other departures": split_by_departure, "any half as collection": split_by_row}
SEVERAL_SPLITS = {
    "other departures": split_by_departure,
    **{f"any half, {seed}": partial(split_by_row, seed=seed) for seed in (1, 2, 3)},
    **{f"other pairs of aerodromes, {seed}": partial(split_by_pair, seed=seed) for seed in (0, 1)},
}
"""Small errors are few, and of many there are several of one stretch: one split says little."""


def in_order(route_inputs, database):
    """Those that resolve fully."""
    answers = assess_many(route_inputs, database, Settings(), DAY)
    return [answer.route.route_input for answer in answers if intended.in_order(answer)]


def poisoned(route_inputs, database, share=0.05, seed=1):
    """The routes with a planted error in that share of them, of any kind in the text."""
    rng = random.Random(seed)
    found = list(route_inputs)
    kinds = [kind for kind in intended.PLANTERS if kind not in intended.POSITION_KINDS]
    left = round(share * len(found))
    for place in rng.sample(range(len(found)), len(found)):
        planted = intended.plant(rng.choice(kinds), found[place], database, DAY, rng) if left else None
        if planted:
            found[place] = planted.route_input
            left -= 1
    return found


SMALL_KINDS = ("letter to a known name", "points exchanged", "exit too far", "entry too far")
"""The kinds of which small ones are planted often enough to be counted, positions aside."""
TRIES = 3


def plant_small(route_inputs, database, seed=2):
    """Errors that change the length of the route by 10 to 15 NM and break no rule: of each kind one a route at most."""
    rng = random.Random(seed)
    tried = (
        (kind, (intended.plant(kind, given, database, DAY, rng) for _ in range(TRIES)))
        for given in route_inputs
        for kind in SMALL_KINDS
    )
    small = (
        (kind, next((p for p in made if p and not p.breaks and abs(p.added_nm) < 15.0), None)) for kind, made in tried
    )
    found = {kind: [] for kind in SMALL_KINDS}
    for kind, planted in small:
        if planted:
            found[kind].append(planted)
    return found


def of_routes(planted, route_inputs):
    """Those that were planted in some of these routes."""
    routes = {(one.departure, one.route, one.destination) for one in route_inputs}
    return {
        kind: [p for p in of_kind if (p.clean.departure, p.clean.route, p.clean.destination) in routes]
        for kind, of_kind in planted.items()
    }


def judge_all(planted, database, known):
    """The scores of planted errors by kind."""
    scores = {kind: intended.Score() for kind in planted}
    for kind, of_kind in planted.items():
        for one in of_kind:
            intended.add_verdict(scores[kind], intended.judge(one, database, known))
    return scores


def alarms(route_inputs, database, known):
    """What is Wrong or Doubtful on clean routes: (ends, route, finding), in order."""
    return [
        (answer.route.route_input, finding)
        for answer in assess_many(route_inputs, database, Settings(), DAY, known=known)
        if intended.in_order(answer)
        for finding in answer.findings
        if finding.weight is not Weight.NOTE
    ]


def count_alarms(route_inputs, database, known):
    """How many routes in order have something Wrong or Doubtful, how many something of unlike-known, and how many there
    are."""
    answers = [a for a in assess_many(route_inputs, database, Settings(), DAY, known=known) if intended.in_order(a)]
    heavy = [{one.check for one in a.findings if one.weight is not Weight.NOTE} for a in answers]
    return sum(map(bool, heavy)), sum("unlike-known" in checks for checks in heavy), len(answers)


def read_routes(rows):
    """The published rows that have a route."""
    inputs = [RouteInput(row["route"], row["departure"], row["destination"], off_block=DAY) for row in rows]
    return [given for given in inputs if given.route.strip()]
