"""A mutated route text is answered otherwise, and no route with anything unread or unplaced is checked in full."""

import datetime as dt
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mutated_readers import ROUTE_TEXT, mean_words
from mutators import mutate

from routecheck.model import RouteInput, WordKind
from routecheck.navdata.database import demo_database
from routecheck.performance.speeds import filed_by_leg
from routecheck.pipeline import assess
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
TEXTS = (
    "N0430F350 LENDU DCT PIKAR UM12 TOVIK DCT SARNO",
    "N0430F350 LENDU UM12 TOVIK/N0450F370 DCT 3130S01215E DCT KEBUL",
)
SEEDS = st.integers(0, 2**32)
ANY_TEXTS = (
    *TEXTS,
    "FJC/ARD/CYN",
    "LENDU DCT 46N78 NAT B UT225 VAL361040",
    "XVAL/09 LENDU1 LENDU UM12 TOVIK SARNO SARNO2 XVOR T",
)


def assess_text(text):
    return assess(RouteInput(text, "XVAL", "XVOR"), demo_database(), Settings(), DAY)


def answer(assessment):
    """What a reader is told of a route, the text itself and how its words are counted apart."""
    route = assessment.route
    text = route.route_input.route
    return (
        [(point.text, point.place) for point in route.points],
        [(leg.distance_nm, leg.via) for leg in route.legs],
        filed_by_leg(route),
        [(one.check, one.message) for one in assessment.findings],
        [(one.check, one.because, [text[s.start : s.end] for s in one.spans]) for one in assessment.not_checked],
        assessment.not_used,
        route.totals,
    )


def mean_route(text):
    """The words; DCT between two points, and at an end, says no more than its absence."""
    words = mean_words(text)
    return [word for at, word in enumerate(words) if word != "DCT" or "UM12" in words[max(at - 1, 0) : at + 2]]


@pytest.mark.parametrize("text", TEXTS)
@settings(max_examples=8)
@given(seed=SEEDS)
def test_no_mutation_of_a_route_is_answered_alike(text, seed):
    changed = mutate(Random(seed), text, ROUTE_TEXT.mutators)
    if mean_route(changed) != mean_route(text):
        assert answer(assess_text(changed)) != answer(assess_text(text))


@settings(max_examples=10)
@given(seed=SEEDS, text=st.sampled_from(ANY_TEXTS))
def test_nothing_unread_or_unplaced_is_checked_in_full(seed, text):
    random = Random(seed)
    assessment = assess_text(mutate(random, mutate(random, text, ROUTE_TEXT.mutators), ROUTE_TEXT.mutators))
    route = assessment.route
    if route.totals.checked_share == 1.0:
        assert all(point.place for point in route.points)
        assert not [word for word in route.parsed.words if word.kind is WordKind.UNREAD or word.bad]


@pytest.mark.parametrize(
    "text", ["", "?", "—", "*", "FJC/ARD/CYN", "XVAL", "N0430F350", "VFR", '""', ",,,,", "(())", "++"]
)
def test_a_text_that_names_no_route_is_never_checked_in_full(text):
    assessment = assess_text(text)
    assert assessment.route.totals.checked_share != 1.0
    assert any(finding.weight == "wrong" for finding in assessment.findings)
