"""Milliseconds a word of the worst texts there are: pytest -m bench tests/bench/test_bench_hostile_texts.py -s.

Processor time, with whole-country data that has been used before: what is worked out of it once does not count.
"""

import datetime as dt
import time

import pytest
from hostile_texts import Names, hostile_texts

from routecheck.model import RouteInput
from routecheck.pipeline import assess
from routecheck.settings import Settings

pytestmark = pytest.mark.bench
DAY = dt.date(2023, 2, 1)
LENGTHS = (12, 40, 100, 1_000, 10_000)
MOST_MS_A_WORD = 5.0
ENDS = ("KJFK", "KLAX")


def names_of(country):
    fixes = [name for name in sorted(country.names()) if len(name) == 5 and name.isalpha() and country.places(name)]
    by_number = sorted(country.names(), key=lambda name: (-len(country.places(name)), name))
    airways = sorted(country.airway_names(), key=lambda name: -sum(len(p.places) for p in country.airways(name)))
    return Names(
        points=fixes[::7],
        namesakes=by_number[:6],
        airways=airways[:60],
        station="SLI",
        procedure="SEEVR4",
        airports=ENDS,
        on_airway=("DIXIE", "V1", "HOWIE"),
    )


@pytest.fixture(scope="module")
def texts(country):
    made = hostile_texts(names_of(country))
    for make_text in made.values():
        took_ms(country, make_text(100))
    return made


def took_ms(country, text):
    begun = time.process_time()
    answer = assess(RouteInput(text, *ENDS), country, Settings(), DAY)
    assert answer.could_not_run == ()
    return 1e3 * (time.process_time() - begun)


def test_no_text_takes_more_than_milliseconds_a_word(country, texts):
    print(f"\n{'ms a word, words':<36}" + "".join(f"{length:>9,}" for length in LENGTHS))
    worst = 0.0
    for name, make_text in texts.items():
        row = [
            min(took_ms(country, make_text(length)) for _ in range(3 if length < 1_000 else 1)) / length
            for length in LENGTHS
        ]
        worst = max(worst, *row)
        print(f"{name:<36}" + "".join(f"{ms:9.2f}" for ms in row), flush=True)
    assert worst <= MOST_MS_A_WORD


LONG_ROWS = [
    "ORW V16 V16 V16 V16 V16 V16 CYN",
    "CMK V3 HFD CLOWW MAD V1 V1 V1 V1 V1 V1 HFD KEYNN",
    "DIXIE V1 V1 V1 HOWIE",
]


@pytest.mark.parametrize("text", LONG_ROWS)
def test_airways_in_a_row_as_they_were_found(country, text):
    took_ms(country, text)
    assert took_ms(country, text) / len(text.split()) <= MOST_MS_A_WORD


@pytest.mark.parametrize("letters", ["A", "1", "é", "A1", "?", ".", "'", "\N{AIRPLANE}"])
def test_a_word_of_a_million_characters(country, letters):
    text = letters * (1_000_000 // len(letters))
    ms = took_ms(country, text)
    print(f"\n1,000,000 characters of {letters}: {ms:.0f} ms")
    assert ms < 200
