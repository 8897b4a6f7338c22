"""The room over every published arrival and departure of the whole-country file, against what was measured before."""

import itertools

import pytest

from routecheck.reckon.heights import OPEN, Gradients, pairs, room
from routecheck.reckon.procedures_path import walked


def combinations(library, kind):
    """(lengths, windows) of every transition, common part and runway branch together that has two windows."""
    for airport in sorted(library._records.procedures):
        for name in library.procedure_names(airport, kind):
            procedure = library.procedure(airport, kind, name)
            branches = [procedure.transitions, procedure.common, procedure.runways]
            ordered = branches if kind == "STAR" else branches[::-1]
            for chain in itertools.product(*(part or (None,) for part in ordered)):
                walk = walked(procedure, [leg for branch in chain if branch for leg in branch.legs])
                windows = [(p.window.low_ft, p.window.high_ft) if p.window else OPEN for p in walk.points]
                if sum(window != OPEN for window in windows) > 1:
                    yield [leg.distance_nm for leg in walk.legs], windows


def share_empty(cases, gradients):
    return 100 * sum(bool(room(lengths, windows, gradients).conflicts) for lengths, windows in cases) / len(cases)


def greatest(cases, *, climbs):
    needed = (pairs(lengths, windows, 1.0) for lengths, windows in cases)
    return sorted(max((p.needed_ft_nm for p in found if p.climbs is climbs), default=0.0) for found in needed)


@pytest.fixture(scope="module")
def arrivals(country):
    return list(combinations(country, "STAR"))


@pytest.fixture(scope="module")
def departures(country):
    return list(combinations(country, "SID"))


# 8-arinc424.md, "What was measured on it", Heights, STAR: 4,991 combinations with two windows; empty room at 318 ft/NM
# 3.0 %, 400 0.10 %, 450 0.06 %, 500 none; greatest descent needed: median 231, 95 % 305, 99 % 330, largest 463.


def test_as_many_arrivals_as_were_measured(arrivals):
    assert len(arrivals) == 4_991


@pytest.mark.parametrize(
    ("descent", "share", "digit"), [(318, 3.0, 0.05), (400, 0.10, 0.005), (450, 0.06, 0.005), (500, 0, 0)]
)
def test_the_room_of_published_arrivals(arrivals, descent, share, digit):
    assert share_empty(arrivals, Gradients(1_000.0, descent)) == pytest.approx(share, abs=digit)


def test_what_published_arrivals_ask_for(arrivals):
    needed = greatest(arrivals, climbs=False)
    at = [needed[int(share * len(needed))] for share in (0.5, 0.95, 0.99)] + needed[-1:]
    assert at == pytest.approx([231, 305, 330, 463], abs=1.0)
    assert greatest(arrivals, climbs=True)[-1] == 0.0


def test_no_published_departure_asks_for_a_descent_and_few_for_a_steep_climb(departures):
    """There: 0.68 % empty at 400 ft/NM and 0.09 % at 450 of combinations counted a little otherwise."""
    assert greatest(departures, climbs=False)[-1] == 0.0
    assert share_empty(departures, Gradients(400.0, 1_000.0)) < 1.0
    assert share_empty(departures, Gradients(450.0, 1_000.0)) < 0.1
