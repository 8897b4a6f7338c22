"""The one door: any text gets an answer, however long, in time; nothing depends on the chunk; our faults are shown."""

import datetime as dt
import gc
import json
import random
import time
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from routecheck import pipeline
from routecheck.checks.catalogue import collect
from routecheck.entry_errors.kinds import MOST_WORDS
from routecheck.model import Outcome, RouteInput, VariationFrom, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess, assess_many
from routecheck.presentation.headline import headline
from routecheck.presentation.verdict import is_fully_checked
from routecheck.reading.samples import read_samples
from routecheck.report import jsonl, text
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()
_KNOWN = """LENDU PIKAR UVAGI TOVIK RULPO KIVAN SEBRO NILAK ORO SARNO KEBUL RIPAS MOKSI UM12 M12 UN21 UN34 UN46 UL7 V27
    J61 DCT XVAL XVOR LENDU1 SARNO2 VELOR1 KEL106 KEL106063 VAL040 31S002E 3130S00230E 90S180E 00N000W NATB N0430F350
    VFR T TOVIK/N0430F350 XVAL/27 PIKER UM13 LENDU7 91S002E S31E002 .. EGLL ZE KO 50N170E"""
KNOWN = _KNOWN.split()


def said(route_input, database=DEMO):
    return assess(route_input, database, Settings(), DAY)


def must_hold(answer, route_input):
    """What is true of every answer, whatever was typed."""
    route = answer.route
    assert answer.could_not_run == ()
    assert route.own_mistakes == ()
    assert route.route_input is route_input
    assert len(answer.outcomes) == len({name for name, _ in answer.outcomes})
    counted = [sum(o is outcome for _, o in answer.outcomes) for outcome in Outcome]
    assert sum(counted) == len(answer.outcomes)
    assert len(route.legs) == len(route.points) - 1 == len(route.turns) - 1
    pinned = [s for f in (*answer.findings, *answer.not_checked) for s in f.spans]
    pinned += [point.span for point in route.points if point.span]
    words = {word.span for word in route.parsed.words}
    assert set(pinned) <= words, "findings are pinned to words"
    assert all(0 <= s.start < s.end <= len(route_input.route) for s in pinned)
    share = route.totals.checked_share
    assert share is None or 0.0 <= share <= 1.0
    assert share != 1.0 or not route.totals.not_checked
    line = json.loads(jsonl.format_line(answer))
    given_back = line["route"] == route_input.route  # apart, for a comparison of megabytes is not to be explained
    assert given_back
    assert sum(line["outcomes"].values()) == len(answer.outcomes)
    assert text.describe_route(answer)
    reasons = [*(one.why or one.bad for one in route.parsed.words), *(one.because for one in answer.not_used)]
    assert not any(reason.endswith(".") for reason in reasons), "a sentence ends where it is written, not before"
    assert text.describe_briefly(answer)


# ---- any text at all


@given(st.text(), st.text(max_size=5), st.text(max_size=5))
@example("\x00\ud800\u202e\ufeff", "ß", "\n")
@example("LENDU DCT\x1b[31mPIKAR", "xval", " xvor ")
@example("", "", "")
@example("/", "/", "/")
@example("NATNAT NAT A", "", "")
def test_any_text_gets_an_answer(route, departure, destination):
    route_input = RouteInput(route, departure, destination)
    must_hold(said(route_input), route_input)


@given(st.lists(st.sampled_from(KNOWN), max_size=9), st.sampled_from(["", "XVAL", "XVOR", "EGLL", "ZZZZ"]))
def test_any_order_of_words_gets_an_answer(words, departure):
    route_input = RouteInput(" ".join(words), departure, "XVOR")
    must_hold(said(route_input), route_input)


@pytest.mark.slow
def test_every_byte_as_a_character():
    for code in (*range(0x100), 0xD800, 0xFFFF, 0x1F6EB, 0x10FFFF):
        route_input = RouteInput(f"LENDU DCT{chr(code)}PIKAR {chr(code)}", "XVAL", "XVOR")
        must_hold(said(route_input), route_input)


@pytest.mark.parametrize("unit", ["LENDU DCT PIKAR ", "x", "31S002E/", ".", "\n", "(FPL-", "9" * 30 + " "])
def test_a_megabyte_pasted_is_answered_in_seconds(unit):
    route_input = RouteInput((unit * (1_000_000 // len(unit) + 1))[:1_000_000], "XVAL", "XVOR")
    start = time.process_time()
    answer = said(route_input)
    assert time.process_time() - start < 8.0
    must_hold(answer, route_input)


# ---- time


RANDOM = random.Random(11)
MANY_WORDS = {
    "known names": lambda: RANDOM.choice(KNOWN[:12]),
    "unknown names": lambda: "".join(RANDOM.choices("BCDFGHJKLMNPQRSTVWXZ", k=5)),
    "one name": lambda: "TOVIK",
    "positions": lambda: f"{RANDOM.randint(0, 89):02}S{RANDOM.randint(0, 179):03}E",
    "off airways": lambda: RANDOM.choice(["LENDU", "UN21"]),
    "junk": lambda: "☂" * RANDOM.randint(1, 9),
}


@pytest.mark.parametrize("word", MANY_WORDS.values(), ids=MANY_WORDS)
def test_five_thousand_words_take_no_more_than_their_share(word):
    """Linear: eight times the words in less than 24 times the time, where quadratic would be 64 times."""
    took = []
    for words in (625, 5_000):
        route_input = RouteInput(" ".join(word() for _ in range(words)), "XVAL", "XVOR")
        start = time.process_time()
        answer = said(route_input)
        took.append(time.process_time() - start)
        assert answer.could_not_run == ()
    assert took[1] < 24 * took[0] + 0.5
    assert took[1] < 8.0


@pytest.mark.parametrize(
    "words", ["UM12", "UM12 M12", "KEL106 UM12", "KEL090 VAL040", "LENDU UM13", "DCT", "SARNO2", "T"]
)
def test_a_thousand_words_over_and_over(words):
    route_input = RouteInput(f"{words} " * (1_000 // len(words.split())), "XVAL", "XVOR")
    start = time.process_time()
    must_hold(said(route_input), route_input)
    assert time.process_time() - start < 4.0


# ---- the chunk


REAL = [RouteInput("SBJ Q430 COPES Q75 GVE LYH", "KEWR", "KCLT"), RouteInput("PUCKY J75 MOL FLCHR8", "KBOS", "KATL")]
POOL = [route_input for folder in ("clean", "planted") for _, route_input in read_samples(folder)] + REAL
POOL += [
    RouteInput("", "XVAL", "XVOR"),
    RouteInput(""),
    RouteInput("", unread="line 7: no"),
    RouteInput("☂ 91S002E", "XVQZ", "EGLL"),
]
random_entries = st.builds(RouteInput, st.lists(st.sampled_from(KNOWN), max_size=7).map(" ".join), st.just("XVAL"))


@pytest.mark.slow
@given(st.lists(st.sampled_from(POOL) | random_entries, max_size=12))
@settings(max_examples=15)
def test_what_is_said_of_a_route_does_not_depend_on_the_chunk(route_inputs):
    alone = [said(route_input) for route_input in route_inputs]
    for chunk in (2, 7, 256):
        assert list(assess_many(route_inputs, DEMO, Settings(), DAY, chunk=chunk)) == alone


def test_the_same_with_real_data(northeast):
    alone = [said(route_input, northeast) for route_input in POOL]
    for chunk in (1, 7, 256):
        assert list(assess_many(POOL, northeast, Settings(), DAY, chunk=chunk)) == alone


@pytest.mark.slow
def test_assessing_leaves_nothing_for_the_collector():
    route_inputs = [RouteInput(" ".join(KNOWN[i : i + 9]), "XVAL", "XVOR") for i in range(40)]
    gc.freeze()  # what other tests keep need not be gone through
    list(assess_many(route_inputs, DEMO, Settings(), DAY))  # whatever is made once for all
    gc.collect()
    gc.freeze()
    gc.disable()
    try:
        for _ in assess_many(route_inputs, DEMO, Settings(), DAY):
            pass
        assert gc.collect() == 0
    finally:
        gc.enable()
        gc.unfreeze()


def test_nothing_is_taken_from_the_input_before_it_is_asked_for():
    taken = []
    route_inputs = (
        taken.append(route_input) or route_input for route_input in [RouteInput("LENDU", "XVAL", "XVOR")] * 5
    )
    answers = assess_many(route_inputs, DEMO, Settings(), DAY, chunk=2)
    assert not taken
    next(answers)
    assert len(taken) == 2


def test_no_entries_no_answers():
    assert list(assess_many([], DEMO, Settings(), DAY)) == []


# ---- outcomes


def test_an_unread_row_is_wrong_and_no_other_check_passes_it():
    answer = said(RouteInput("", unread="line 7: only 2 cells, but the header has 5"))
    assert [f.check for f in answer.findings] == ["unread-row"]
    others = {outcome for name, outcome in answer.outcomes if name != "unread-row"}
    assert others == {Outcome.NOT_CHECKED}
    assert json.loads(jsonl.format_line(answer))["totals"]["checked_share"] == 0.0


def test_an_organised_track_is_asked_for_and_never_passed():
    answer = said(RouteInput("LENDU NATB TOVIK", "XVAL", "XVOR"))
    because = [n.because for n in answer.not_checked if n.check == "unread-word"]
    assert because == ["track B of which day? Paste its points"]
    assert dict(answer.outcomes)["unread-word"] is Outcome.NOT_CHECKED
    assert answer.route.totals.gaps == 1


def test_a_check_that_raises_could_not_run_and_the_others_do(monkeypatch):
    def broken(route, limit):
        yield from ()
        raise ZeroDivisionError("told")

    checks = tuple(replace(c, function=broken) if c.name == "dogleg" else c for c in collect())
    monkeypatch.setattr(pipeline, "collect", lambda: checks)
    answer = said(RouteInput("LENDU DCT PIKOR DCT UVAGI", "XVAL", "XVOR"))
    assert dict(answer.outcomes)["dogleg"] is Outcome.COULD_NOT_RUN
    assert answer.could_not_run == (("dogleg", "ZeroDivisionError: told"),)
    assert not is_fully_checked(answer)
    assert "dogleg" in headline(answer).sentence
    assert json.loads(jsonl.format_line(answer))["outcomes"]["could_not_run"] == 1
    assert sum(o is not Outcome.COULD_NOT_RUN for _, o in answer.outcomes) == len(checks) - 1


def test_long_routes_say_that_no_corrections_were_looked_for():
    answer = said(RouteInput("LENDU DCT PIKOR DCT " * (MOST_WORDS // 4 + 1), "XVAL", "XVOR"))
    assert any(f"up to {MOST_WORDS:,} words" in n.because for n in answer.not_checked if n.check == "best-edit")


def test_the_headline_never_says_all_where_a_stretch_of_no_length_is_open():
    """LENDU UM13 LENDU: the open stretch measures nothing at least, so that the shares alone would make it all."""
    answer = said(RouteInput("LENDU UM13 LENDU", "XVAL", "XVOR"))
    assert answer.route.totals.checked_share < 1.0
    assert "100 %" not in headline(answer).sentence
    assert "UM13" in headline(answer).sentence
    assert json.loads(jsonl.format_line(answer))["totals"]["checked_share"] < 1.0


def test_points_typed_with_slashes_between_are_lost_and_the_leg_past_them_is_not_checked():
    """LENDU/PIKAR/UVAGI was “Checked: all of the route.”, with a leg from LENDU past the two words that are unread."""
    answer = said(RouteInput("LENDU/PIKAR/UVAGI", "XVAL", "XVOR"))
    assert [f.check for f in answer.findings if f.weight is Weight.WRONG] == ["unread-word", "unread-word"]
    assert [leg.distance_nm is None for leg in answer.route.legs] == [False, True, True, True]
    assert "Lost: LENDU–XVOR" in headline(answer).sentence


@pytest.mark.parametrize(
    "text", ["N0430 F350 LENDU", "LENDU/N043OF350 DCT PIKAR", "XVAL/0X9 LENDU", "LENDU/N0430 PIKAR"]
)
def test_no_unread_word_leaves_a_route_checked_in_full(text):
    answer = said(RouteInput(text, "XVAL", "XVOR"))
    assert answer.route.totals.checked_share < 1.0
    assert "all of the route" not in headline(answer).sentence


# ---- the day


def test_a_route_is_judged_by_its_own_day_and_by_today_only_where_it_has_none():
    """WMM2025 ends with 2029, so that in 2031 magnetic courses go by the variation of the records."""
    own, today = dt.date(2031, 1, 1), dt.date(2026, 12, 3)
    text = "LENDU UM12 TOVIK"
    dated, undated = RouteInput(text, "XVAL", "XVOR", off_block=own), RouteInput(text, "XVAL", "XVOR")
    routes = [answer.route for answer in assess_many([dated, undated, dated], DEMO, Settings(), today)]
    assert [route.date for route in routes] == [own, today, own]
    sources = [route.legs[1].variation_from for route in routes]
    assert sources == [VariationFrom.RECORD, VariationFrom.WMM, VariationFrom.RECORD]


# ---- corrections and causes


def test_a_correction_that_only_takes_an_unknown_name_out_of_sight_does_not_clear_it():
    """Exchanged, PIKER stands beside a position where the data has nothing: it would be not checked, not found."""
    answer = said(RouteInput("LENDU PIKAR 50N170E RIPAS PIKER", "XVAL", "XVOR"))
    by_check = {finding.check: finding for finding in answer.findings}
    assert not by_check["unknown-name"].likely_intended
    text = answer.route.route_input.route
    bent = [f for f in answer.findings if any(text[s.start : s.end] == "50N170E" for s in f.spans)]
    assert bent, "a detour of 9,000 NM is told"


@given(st.lists(st.sampled_from(KNOWN), max_size=9), st.sampled_from(["", "XVAL", "EGLL", "ZZZZ"]))
def test_what_is_said_to_explain_a_finding_stands_on_the_list(words, departure):
    answer = said(RouteInput(" ".join(words), departure, "XVOR"))
    standing = {finding.check for finding in answer.findings}
    explained = {n.explained_by for n in answer.not_checked if n.explained_by}
    assert explained <= standing
