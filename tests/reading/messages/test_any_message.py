"""Any text with a message in it: nothing raises, every sign has its place, a message written again reads the same."""

import datetime as dt
import re
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from read_one import read_one, write_message

from routecheck.model import ElapsedTime, PlanTotals, RouteInput, join_off_block
from routecheck.reading.messages.flight_plan_message import read_messages
from routecheck.reading.route_file import read_route_file, write_route_file

_PIECES = (
    "(FPL- ( ) - / FPL CHG (CNL- -IS -B738/M -SDW/S -XVAL1400 -N0430F350 LENDU DCT PIKAR -XVOR0110 XVMA -0 DOF/261203 "
    "EET/XVFR0020 DLE/ PBN/A1 RMK/ E/0310 P/ ZCZC NNNN FF XVALZQZX 15/ STS/ ß ” \N{EGYPTIAN HIEROGLYPH A001} Regards"
)
PIECES = [*_PIECES.split(), "\N{NO-BREAK SPACE}"]
GLUE = st.sampled_from([" ", "\n", "\r\n", "", "-", "\n\n"])
LIKE_MESSAGES = st.lists(st.tuples(st.sampled_from(PIECES), GLUE), max_size=30).map(
    lambda pairs: "(FPL-" + "".join(piece + glue for piece, glue in pairs)
)
WORD = st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=2, max_size=5)
MINUTES = st.integers(0, 23 * 60 + 59).map(float)
TIMES = st.lists(st.builds(ElapsedTime, WORD, MINUTES), max_size=4).map(tuple)
PLANS = st.builds(
    RouteInput,
    st.lists(WORD, min_size=1, max_size=9).map(lambda words: "N0430F350 " + " DCT ".join(words)),
    st.sampled_from(["XVAL", "XVOR"]),
    st.sampled_from(["XVAL", "XVMA"]),
    name=st.text("ABCX0123456789", min_size=3, max_size=7),
    rules=st.sampled_from("IVYZ"),
    equipment=st.sampled_from(["SDW", "SDE2FGHIRWXY", "V", "N"]),
    pbn=st.sampled_from(["", "A1", "A1B1C1"]),
    off_block=st.builds(
        join_off_block,
        st.none() | st.dates(dt.date(2000, 1, 1), dt.date(2099, 12, 31)),
        st.builds(dt.time, st.integers(0, 23), st.integers(0, 59)),
    ),
    alternate=st.lists(st.sampled_from(["XVMA", "XVFR"]), max_size=2).map(tuple),
    elapsed=TIMES,
    delays=TIMES,
    stated_totals=st.builds(PlanTotals, time_min=MINUTES, endurance_min=st.none() | MINUTES),
)


@given(st.text().map(lambda text: f"(FPL-{text}") | LIKE_MESSAGES)
def test_every_visible_sign_lies_in_a_part(text):
    read = list(read_messages(text, "any"))
    assert "".join(one.pasted.text for one in read) == text
    for route_input in read:
        pasted, end = route_input.pasted, 0
        for part in pasted.parts:
            assert end <= part.span.start < part.span.end <= len(pasted.text)
            assert re.fullmatch(r"[\s()/-]*", pasted.text[end : part.span.start])
            end = part.span.end
        assert re.fullmatch(r"[\s()/-]*", pasted.text[end:])


@given(LIKE_MESSAGES)
def test_the_route_is_what_its_pieces_say(text):
    for route_input in read_messages(text, "any"):
        for piece in route_input.pasted.pieces:
            start, end = piece.span
            assert route_input.route[piece.start :][: end - start] == route_input.pasted.text[start:end]


@given(PLANS)
def test_a_message_written_again_reads_the_same(plan):
    read = read_one(write_message(plan))
    assert replace(read, remarks=(), not_used=(), pasted=None) == plan
    assert replace(read_one(write_message(read)), remarks=(), not_used=(), pasted=None) == plan


@given(PLANS)
def test_a_message_kept_as_a_route_file_reads_the_same(plan):
    read = read_one(write_message(plan))
    back = read_route_file(write_route_file(read), read.name)
    assert replace(back, remarks=(), not_used=(), rules=read.rules) == replace(
        read, remarks=(), not_used=(), pasted=None
    )
