"""Clearances as they are written down: what is route is read, what is as filed stays open, the rest is counted."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.model import AltitudeWindow, Role, Span, Use, parts_of_use
from routecheck.pipeline import assess
from routecheck.reading.clearances.clearance import read_clearance
from routecheck.reading.inputs import read_input, recognise_format
from routecheck.settings import Settings

WHOLE = (
    "XVA12 cleared to XVOR via LENDU1 departure, LENDU UM12 PIKAR then as filed. Climb via SID except maintain 5000, "
    "expect FL350 10 minutes after departure. Departure 124.35, squawk 4321."
)


def read_one(text):
    assert recognise_format(text, "clearance.txt").name == "clearance"
    (found,) = read_input(text.encode(), "clearance.txt")
    return found


def stretches(text, *uses):
    return [text[slice(*part.span)] for part in parts_of_use(read_clearance(text).parts, *uses)]


def test_a_whole_clearance():
    found = read_one(WHOLE)
    assert (found.route, found.destination, found.level) == ("LENDU1 LENDU UM12 PIKAR T", "XVOR", "F350")
    assert found.role is Role.CLEARED
    assert stretches(WHOLE, Use.AROUND) == ["XVA12"]
    assert found.first_altitude == "A050"
    assert stretches(WHOLE, Use.NOT_USED) == ["Climb via SID", "Departure 124.35", "squawk 4321"]
    assert [one.sentence for one in found.not_used] == [
        "Not used: “as filed”; what was filed is not in this text: behind PIKAR nothing is checked.",
        "Not used: 1 line of text around the plan; it begins “XVA12”.",
    ]


def test_behind_as_filed_nothing_counts_as_checked(demo):
    found = read_one(WHOLE)
    answer = assess(found, demo, Settings(), dt.date(2026, 12, 3))
    assert answer.route.totals.gaps > 0


@pytest.mark.parametrize(
    ("text", "route", "is_open"),
    [
        ("Recleared direct TOVIK, then as filed, maintain FL370", "TOVIK", True),
        ("PROCEED DIRECT PIKAR, REST OF ROUTE UNCHANGED", "PIKAR", True),
        ("Cleared direct SARNO. Report ready.", "SARNO", False),
        ("proceed direct to PIKAR then UM12 TOVIK direct SARNO", "PIKAR UM12 TOVIK DCT SARNO", False),
        ("Cleared to XVOR, LENDU ONE departure, PIKAR transition, then UM12 TOVIK", "LENDU1 PIKAR UM12 TOVIK", False),
        ("they gave us:\ncleared XVOR via LENDU UM12\nTOVIK flight level 350 squawk 1234", "LENDU UM12 TOVIK", False),
        ("cleared via LENDU/N0430F350 31S002E LEN090020 rest as filed", "LENDU/N0430F350 31S002E LEN090020", True),
    ],
)  # fmt: skip
def test_what_is_route(text, route, is_open):
    found = read_clearance(text)
    assert (found.route, found.is_rest_as_filed) == (route, is_open)
    assert read_one(text).route == (f"{route} T" if is_open else route)


@pytest.mark.parametrize(
    ("words", "window"),
    [
        ("cross SARNO at or above 12,000", AltitudeWindow("SARNO", 12_000.0, None)),
        ("cross SARNO at FL120 or below", AltitudeWindow("SARNO", None, 12_000.0)),
        ("cross SARNO at eleven thousand", AltitudeWindow("SARNO", 11_000.0, 11_000.0)),
    ],
)
def test_crossings_are_altitude_windows(words, window):
    assert read_clearance(f"Cleared direct SARNO, {words}, landing runway 27").windows == (window,)
    assert read_clearance("departing runway 09L, landing rwy 27").destination_runway == "27"


def test_all_as_filed_names_no_point():
    found = read_one("Cleared to XVOR as filed, maintain five thousand, squawk 4321")
    assert (found.destination, found.unread[:26]) == ("XVOR", "the clearance is as filed ")


def test_words_are_found_in_the_text():
    found = read_one(WHOLE)
    at = found.route.index("PIKAR")
    assert WHOLE[slice(*found.pasted.find_span(Span(at, at + 5)))] == "PIKAR"


@pytest.mark.parametrize("text", ["LENDU DCT PIKAR", "Is this route cleared?\nLENDU DCT PIKAR UM12 TOVIK\nThanks"])
def test_what_is_no_clearance(text):
    assert recognise_format(text, "x").name in ("text", "page")


WORDS = st.lists(
    st.sampled_from([*WHOLE.split(), "ß", "\n", "cross", "at", "FL", "SARNO", "direct", "via,", "."]), max_size=30
)


@given(WORDS)
def test_every_visible_sign_is_accounted_for(words):
    text = " ".join(words)
    end = 0
    for part in read_clearance(text).parts:
        assert end <= part.span.start < part.span.end <= len(text)
        assert not any(char.isalnum() for char in text[end : part.span.start])
        end = part.span.end
    assert not any(char.isalnum() for char in text[end:])


@given(st.text(max_size=200))
def test_any_text_raises_nothing(text):
    read_clearance(text)
