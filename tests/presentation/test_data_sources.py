"""Data sources in words: dates that say whether they hold, every rejected record with its line."""

import datetime as dt

import pytest

from routecheck.model import DataSource
from routecheck.navdata.database import demo_database
from routecheck.presentation.data_sources import describe_source

CYCLE = DataSource(
    "FAACIFP18.zip: a.txt",
    file="FAACIFP18.zip",
    cycle="2301",
    effective=dt.date(2023, 1, 26),
    until=dt.date(2023, 2, 23),
    counts=(("enroute fixes", 30339), ("NDBs", 0), ("rejected", 2)),
    rejected=((7, "the latitude cannot be read"), (0, "cut off")),
)


@pytest.mark.parametrize(
    ("day", "holds"), [("2023-01-25", False), ("2023-01-26", True), ("2023-02-22", True), ("2023-02-23", False)]
)
def test_it_holds_from_its_first_to_its_last_day(day: str, holds: bool) -> None:
    row = describe_source(CYCLE, dt.date.fromisoformat(day), [])
    assert row.is_current is holds
    assert row.dates.startswith("Cycle 2301, 26 JAN 2023 to 22 FEB 2023")
    assert ("Not for today" in row.dates) is not holds


def test_counts_and_rejected_records_are_told() -> None:
    row = describe_source(CYCLE, dt.date(2023, 2, 1), ["other.txt", "FAACIFP18.zip"])
    assert row.counts == "enroute fixes 30,339"
    assert row.rejected_line == "2 records rejected"
    assert row.rejected == ("line 7: the latitude cannot be read", "cut off")
    assert row.added_as == "FAACIFP18.zip"
    more = DataSource("a", cycle="2301", effective=None, until=None, counts=(("rejected", 5),), rejected=((1, "x"),))
    told = describe_source(more, dt.date(2023, 2, 1), [])
    assert told.rejected_line == "5 records rejected, of which 1 are listed"
    assert (told.is_current, told.added_as) == (None, "")
    assert "not known for which days" in told.dates


def test_the_demo_region_says_that_it_is_invented() -> None:
    row = describe_source(demo_database().sources[0], dt.date(2026, 12, 3), [])
    assert "invented" in row.dates
    assert row.rejected_line == "No record was rejected"
