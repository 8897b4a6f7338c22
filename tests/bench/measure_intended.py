"""How well entry errors are found and corrected on real routes: planted one a route, judged by the whole pipeline.

Routes are split into two halves by their departure airport (crc32): weights were fitted on half 0, half 1 is reported.
"""

import datetime as dt
import random
import zlib
from collections import Counter

from scores import Score

from routecheck.corrections.candidate import with_proposal
from routecheck.drill.planters import ENDS, PLANTERS, POSITION_KINDS, plant, with_position
from routecheck.model import Weight
from routecheck.pipeline import assess, assess_many
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.settings import Settings

DAY = dt.date(2023, 2, 1)
BINS = ((15, "10–15 NM"), (25, "15–25 NM"), (50, "25–50 NM"), (150, "50–150 NM"), (1e9, "over 150 NM"))


def half(route_input):
    return zlib.crc32(route_input.departure.encode()) % 2


def in_order(assessment):
    """Every word placed and every link followed in the data: what contradicts the data is no false alarm."""
    resolved = assessment.route.resolved
    joined = all(
        not connection.is_blocked and not (connection.procedure and connection.procedure.faults)
        for connection in resolved.connections
    )
    return joined and all(route_point.place for route_point in resolved.route_points)


def clean_routes(route_inputs, database, which):
    """The entries of one half that resolve fully."""
    chosen = [e for e in route_inputs if half(e) == which and e.route.strip()]
    return [a.route.route_input for a in assess_many(chosen, database, Settings(), DAY) if in_order(a)]


def judge(planted, database, known=None):
    """(flagged at the right word, first right, among three, silent); the first proposal is the first finding's."""
    answer = assess(planted.route_input, database, Settings(), DAY, known)
    heavy = [f for f in answer.findings if f.weight is not Weight.NOTE]
    wrong = _mistaken_airport(planted)
    if planted.spans:
        right = [f for f in heavy if len(f.spans) <= 3 and any(s.overlaps(p) for s in f.spans for p in planted.spans)]
    else:
        right = [f for f in heavy if not f.spans or _of_aerodromes(f) or (wrong and wrong in f.message)]
    right.sort(key=lambda f: not f.likely_intended)
    offers = [p for f in right[:1] for p in f.likely_intended]
    truth = [_is_truth(p, planted) for p in offers]
    return bool(right), truth[:1] == [True], any(truth[:3]), not offers


def _of_aerodromes(finding):
    return any(proposal.span is None for proposal in finding.likely_intended)


def _mistaken_airport(planted):
    """The airport that is not in the clean entry; "" where none is, as with exchanged ends."""
    clean = {planted.clean.departure, planted.clean.destination}
    return next(
        (ident for ident in (planted.route_input.departure, planted.route_input.destination) if ident not in clean), ""
    )


def mirrored(planted, database):
    """Whether the two points of the route exchanged would give the same line as its ends: nothing tells them apart."""
    exchanged = planted.route_input.departure == planted.clean.destination != planted.clean.departure
    route_points = resolve(read_route(planted.clean), database, DAY).route_points if exchanged else ()
    return len(route_points) == 4 and not any(route_point.implied for route_point in route_points)


def _is_truth(proposal, planted):
    if planted.spans:
        return proposal.route == planted.clean.route
    made = with_proposal(planted.route_input, proposal)
    return (made.departure, made.destination) == (planted.clean.departure, planted.clean.destination)


def entry_errors(routes, database, cases, seed=1, known=None):
    """Planted errors by kind and by size: {kind: Score}, {(kind, bin): Score}.

    Where exchanging the two points of a route gives the same line as exchanging its ends, the case stands among the
    sizes only, as mirrored: what is first there is a matter of order.
    """
    by_kind, by_size = {}, {}
    rng = random.Random(seed)
    for kind in (*PLANTERS, *ENDS):
        score = by_kind[kind] = Score()
        for route_input in rng.sample(routes, len(routes)):
            if score.planted >= cases:
                break
            base = with_position(route_input, database, DAY, rng) if kind in POSITION_KINDS else route_input
            planted = plant(kind, base, database, DAY, rng) if base else None
            if planted is None:
                continue
            size = "breaks a rule" if planted.breaks else next(n for top, n in BINS if abs(planted.added_nm) < top)
            verdict = judge(planted, database, known)
            told_apart = not mirrored(planted, database)
            size = size if told_apart else "mirrored"
            add_verdict(by_size.setdefault((kind, size), Score()), verdict)
            if told_apart:
                add_verdict(score, verdict)
            if not verdict[0]:
                score.to_look_at.append(
                    (planted.route_input.departure, planted.route_input.destination, planted.route_input.route)
                )
    return by_kind, by_size


def add_verdict(score, verdict):
    flagged, first, three, silent = verdict
    score.planted += 1
    score.flagged += flagged
    score.first += flagged and first
    score.three += flagged and three
    score.silent += flagged and silent
    score.wrong += flagged and not first and not silent


def false_alarms(routes, database, seed=1, known=None):
    """Shares of clean routes with something Wrong, and with something Wrong or Doubtful; and per check."""
    rng = random.Random(seed)
    with_points = [p for p in (with_position(e, database, DAY, rng) for e in routes) if p]
    told = {}
    for name, route_inputs in (("as published", routes), ("one point as coordinates", with_points)):
        answers = [a for a in assess_many(route_inputs, database, Settings(), DAY, known=known) if in_order(a)]
        heaviest = Counter(a.heaviest() for a in answers)
        checks = Counter(c for a in answers for c in {f.check for f in a.findings if f.weight is not Weight.NOTE})
        wrong, doubtful = heaviest[Weight.WRONG] / len(answers), heaviest[Weight.DOUBTFUL] / len(answers)
        told[name] = (len(answers), wrong, wrong + doubtful, checks)
    return told
