"""The one door: any text gets an answer, however long, in time; nothing depends on the chunk; our faults are shown."""

import datetime as dt
import json
import random
import time
from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from routecheck.assess import assess, assess_many
from routecheck.library import gazetteer
from routecheck.model import Entry, Outcome
from routecheck.reading.samples import samples
from routecheck.report import jsonl, text
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = gazetteer.demo()
KNOWN = (
    "LENDU PIKAR UVAGI TOVIK RULPO KIVAN SEBRO NILAK ORO SARNO KEBUL RIPAS MOKSI UM12 M12 UN21 UN34 UN46 UL7 V27 J61 DCT "
    "XVAL XVOR LENDU1 SARNO2 VELOR1 KEL106 KEL106063 VAL040 31S002E 3130S00230E 90S180E 00N000W NATB N0430F350 VFR T "
    "TOVIK/N0430F350 XVAL/27 PIKER UM13 LENDU7 91S002E S31E002 .. EGLL ZE KO 50N170E"
).split()


def said(entry, library=DEMO):
    return assess(entry, library, Settings(), DAY)


def must_hold(answer, entry):
    """What is true of every answer, whatever was typed."""
    route = answer.route
    assert answer.could_not_run == ()
    assert route.faults == ()
    assert route.entry == entry
    assert len(answer.outcomes) == len({name for name, _ in answer.outcomes})
    counted = [sum(o is outcome for _, o in answer.outcomes) for outcome in Outcome]
    assert sum(counted) == len(answer.outcomes)
    assert len(route.legs) == len(route.points) - 1 == len(route.joints) - 1
    pinned = [s for f in (*answer.findings, *answer.not_checked) for s in f.spans]
    pinned += [point.span for point in route.points if point.span]
    words = {word.span for word in route.parsed.words}
    assert set(pinned) <= words, "findings are pinned to words"
    assert all(0 <= s.start < s.end <= len(entry.route) for s in pinned)
    share = route.totals.checked_share
    assert share is None or 0.0 <= share <= 1.0
    assert share != 1.0 or not route.totals.not_checked
    line = json.loads(jsonl.line(answer))
    assert line["route"] == entry.route
    assert sum(line["outcomes"].values()) == len(answer.outcomes)
    assert text.one(answer)
    assert text.brief(answer)


# ---- any text at all


@given(st.text(), st.text(max_size=5), st.text(max_size=5))
@example("\x00\ud800\u202e\ufeff", "ß", "\n")
@example("LENDU DCT\x1b[31mPIKAR", "xval", " xvor ")
@example("", "", "")
@example("/", "/", "/")
@example("NATNAT NAT A", "", "")
def test_any_text_gets_an_answer(route, departure, destination):
    entry = Entry(route, departure, destination)
    must_hold(said(entry), entry)


@given(st.lists(st.sampled_from(KNOWN), max_size=9), st.sampled_from(["", "XVAL", "XVOR", "EGLL", "ZZZZ"]))
def test_any_order_of_words_gets_an_answer(words, departure):
    entry = Entry(" ".join(words), departure, "XVOR")
    must_hold(said(entry), entry)


def test_every_byte_as_a_character():
    for code in (*range(0x300), 0xD800, 0xFFFF, 0x1F6EB, 0x10FFFF):
        entry = Entry(f"LENDU DCT{chr(code)}PIKAR {chr(code)}", "XVAL", "XVOR")
        must_hold(said(entry), entry)


@pytest.mark.parametrize(
    "unit", ["LENDU DCT PIKAR ", "x", "☂ ", "31S002E/", ".", "A1 ", "KEL106 UM12 ", "\n", "(FPL-", "9" * 30 + " "]
)
def test_a_megabyte_pasted_is_answered_in_seconds(unit):
    entry = Entry((unit * (1_000_000 // len(unit) + 1))[:1_000_000], "XVAL", "XVOR")
    start = time.perf_counter()
    answer = said(entry)
    assert time.perf_counter() - start < 8.0
    must_hold(answer, entry)


# ---- time


RANDOM = random.Random(11)
NAMES = "LENDU PIKAR UVAGI TOVIK RULPO KIVAN OSDEK DUL SEBRO NILAK ORO SARNO KEBUL RIPAS MOKSI".split()
MANY_WORDS = {
    "known names": lambda: RANDOM.choice(NAMES),
    "unknown names": lambda: "".join(RANDOM.choices("BCDFGHJKLMNPQRSTVWXZ", k=5)),
    "one name": lambda: "TOVIK",
    "positions": lambda: f"{RANDOM.randint(0, 89):02}S{RANDOM.randint(0, 179):03}E",
    "one airway": lambda: "UM12",
    "off airways": lambda: RANDOM.choice(["LENDU", "UN21"]),
    "radials and airways": lambda: RANDOM.choice(["KEL106", "UM12", "VAL040"]),
    "junk": lambda: "☂" * RANDOM.randint(1, 9),
}


@pytest.mark.parametrize("word", MANY_WORDS.values(), ids=MANY_WORDS)
def test_five_thousand_words_take_no_more_than_their_share(word):
    """Linear: eight times the words in less than sixteen times the time, where quadratic would be sixty-four."""
    took = []
    for words in (625, 5_000):
        entry = Entry(" ".join(word() for _ in range(words)), "XVAL", "XVOR")
        said(entry)
        start = time.perf_counter()
        answer = said(entry)
        took.append(time.perf_counter() - start)
        assert answer.could_not_run == ()
    assert took[1] < 16 * took[0] + 0.2
    assert took[1] < 6.0
