"""Day and time off-block: by the route file, by rows with one column or two, and completed from another value."""

import datetime as dt

import pytest

from routecheck.model import complete_off_block
from routecheck.reading.route_file import read_route_file, write_route_file
from routecheck.reading.rows import read_rows

DAY, TIME = dt.date(2026, 12, 3), dt.time(14, 30)
BOTH = dt.datetime(2026, 12, 3, 14, 30, tzinfo=dt.UTC)


@pytest.mark.parametrize(
    ("written", "off_block"),
    [
        ("2026-12-03T09:30:00-05:00", BOTH),
        ("2026-12-03", DAY),
        ("14:30:00", TIME),
        ('"03DEC26 1430"', BOTH),
    ],
)
def test_a_route_file_keeps_what_it_says(written, off_block):
    given = read_route_file(f'route = "A"\noff_block = {written}', "f")
    assert (given.off_block, given.remarks) == (off_block, ())
    assert read_route_file(write_route_file(given), "f").off_block == off_block


def test_a_time_without_zone_is_said_to_be_taken_as_utc():
    given = read_route_file('route = "A"\noff_block = 2026-12-03T14:30:00', "f")
    assert (given.off_block, given.remarks) == (BOTH, ("off_block has no time zone: taken as UTC.",))


@pytest.mark.parametrize(
    ("head", "cells", "off_block"),
    [
        ("date", "2026-12-03", DAY),
        ("off_block", "2026-12-03 1430", BOTH),
        ("off_block", "1430", TIME),
        ("DOF,EOBT", "2026-12-03,1430", BOTH),
        ("date,off_block", "2026-12-03,2026-12-03 14:30", BOTH),
        ("date,off_block", "2026-12-03,2026-12-04 14:30", None),
    ],
)
def test_rows_give_it_in_one_column_or_in_two(head, cells, off_block):
    (given,) = read_rows(f"departure,destination,route,{head}\nXVAL,XVOR,A,{cells}\n".encode(), "f.csv")
    assert (given.off_block, bool(given.typed)) == (off_block, off_block is None)


@pytest.mark.parametrize(
    ("own", "other", "whole"),
    [(None, DAY, DAY), (TIME, DAY, BOTH), (DAY, TIME, BOTH), (BOTH, dt.date(2027, 1, 1), BOTH), (dt.time(), DAY, DAY)],
)
def test_what_one_does_not_say_another_adds(own, other, whole):
    if own == dt.time():
        whole = dt.datetime.combine(DAY, own, dt.UTC)
    assert complete_off_block(own, other) == whole
