"""No text of a route costs more than some milliseconds a word, and what is too much of it is said."""

import datetime as dt
import time

import pytest
from hostile_texts import DEMO_NAMES, hostile_texts

from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.presentation.assessment_view import view_assessment
from routecheck.report import jsonl
from routecheck.settings import Settings

DEMO = demo_database()
TEXTS = hostile_texts(DEMO_NAMES)
MOST_MS_A_WORD = 25
"""Five times the bound that tests/bench/test_bench_hostile_texts.py holds, for a busy machine."""


def assessed(route):
    return assess(RouteInput(route, *DEMO_NAMES.airports), DEMO, Settings(), dt.date(2026, 12, 3))


@pytest.mark.parametrize("make_text", TEXTS.values(), ids=TEXTS)
def test_no_text_takes_long_a_word(make_text):
    text = make_text(60)
    assessed(make_text(5))  # what is worked out of the data the first time does not count
    begun = time.process_time()
    answer = assessed(text)
    took_ms = 1e3 * (time.process_time() - begun)
    assert took_ms / 60 < MOST_MS_A_WORD
    assert answer.could_not_run == ()
    assert not answer.failure
    assert view_assessment(answer).headline
    assert jsonl.format_line(answer)


def test_a_route_that_is_wrong_throughout_says_what_was_not_tried():
    answer = assessed(TEXTS["crossings everywhere"](100))
    because = {one.because for one in answer.not_checked}
    assert any(one.endswith("not tried: too much of this route is suspect") for one in because)
    assert any(one.startswith("the route crosses itself more than") for one in because)


def test_of_a_long_word_no_more_is_looked_at_than_that_it_is_long():
    begun = time.process_time()
    answer = assessed("LENDU DCT " + "A" * 1_000_000 + " DCT SARNO")
    assert time.process_time() - begun < 1.0
    (finding,) = [one for one in answer.findings if one.check == "unread-word"]
    assert "it has 1,000,000 characters; one of more than 64 is no route word" in finding.message
