"""A table of several flights in a mail: a route a row, the rest counted; no nav log and no CSV is taken for one."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.model import Span, Use, parts_of_use
from routecheck.reading.flight_table import read_flight_table
from routecheck.reading.inputs import read_input, recognise_format

ALIGNED = """Flights of tomorrow, please look at them:

Flight   Dep   Dest  Speed  FL   Route
------   ----  ----  -----  ---  -------------------------
XVA123   XVAL  XVOR  N0430  350  LENDU DCT PIKAR UM12 UVAGI
                                 UM12 TOVIK DCT SARNO
XVA124   XVOR  XVAL  N0430  340  SARNO DCT TOVIK UM12 UVAGI
XVA201   XVAL  XVMA         190  LENDU DCT PIKAR

Thanks, Ben
"""
BARS = """hello,
| ADEP | ADES | Type | Routing |
|------|------|------|---------|
| XVAL | XVOR | B738 | LENDU DCT PIKAR |
| XVOR | XVAL | A320 | SARNO DCT TOVIK |
"""


def read_all(text):
    assert recognise_format(text, "mail.txt").name == "flight-table"
    return list(read_input(text.encode(), "mail.txt"))


def test_an_aligned_table_in_a_mail():
    first, second, third = read_all(ALIGNED)
    assert (first.name, first.departure, first.destination) == ("XVA123", "XVAL", "XVOR")
    assert (first.speed, third.speed, third.destination) == ("N0430", "", "XVMA")
    assert first.route == "LENDU DCT PIKAR UM12 UVAGI UM12 TOVIK DCT SARNO"
    assert second.route == "SARNO DCT TOVIK UM12 UVAGI"
    assert [one.name for one in first.not_used] == ["1 line of text around the plan"]
    assert [one.name for one in third.not_used] == ["1 line of text around the plan"]
    at = first.route.index("TOVIK")
    span = first.pasted.find_span(Span(at, at + 5))
    assert first.pasted.text[slice(*span)] == "TOVIK"


def test_bars_and_a_column_that_nothing_reads():
    first, _ = read_all(BARS)
    assert (first.departure, first.route) == ("XVAL", "LENDU DCT PIKAR")
    assert first.origin.columns == (("Type", "B738"),)
    assert "Passed through: column “Type”." in first.remarks


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        (
            "From\tTo\tRoute\tDist\nXVAL\tLENDU\tDCT\t101.2\nLENDU\tPIKAR\tUM12\t93.9\nPIKAR\tXVOR\tDCT\t500\n",
            "nav-log",
        ),
        (
            "hi\n\nFrom  To  Route  Dist\nXVAL  LENDU  DCT  101.2\nLENDU  PIKAR  UM12  93.9\nPIKAR  XVOR  DCT  500\n",
            "nav-log",
        ),
        ("departure,destination,route\nXVAL,XVOR,LENDU DCT PIKAR\n", "rows"),
        ("The route from XVAL to XVOR is\nLENDU DCT PIKAR\n", "page"),
    ],
)
def test_what_is_none(text, kind):
    assert recognise_format(text, "x").name == kind


LINES = st.sampled_from([*ALIGNED.splitlines(), *BARS.splitlines(), "ß ”", "Dep Dest Route"])


@given(st.lists(LINES, max_size=12))
def test_every_visible_sign_is_accounted_for(lines):
    text = "\n".join(lines)
    found = list(read_flight_table(text, "x"))
    if not found:
        return
    assert "".join(one.pasted.text for one in found) == text
    for one in found:
        end = 0
        for part in one.pasted.parts:
            assert end <= part.span.start < part.span.end
            assert re.fullmatch(r"[\s|,;+=_.*-]*", one.pasted.text[end : part.span.start])
            end = part.span.end
        assert re.fullmatch(r"[\s|,;+=_.*-]*", one.pasted.text[end:])
        assert parts_of_use(one.pasted.parts, Use.UNREAD) == []
