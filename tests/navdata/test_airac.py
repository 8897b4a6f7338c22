"""AIRAC cycles against published dates (ICAO Annex 15, 6.2, as restated in public AIS texts)."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.navdata import airac

MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]


def day(text: str, year: int | None = None) -> dt.date:
    number, month, *rest = text.split()
    return dt.date(year or 2000 + int(rest[0]), MONTHS.index(month) + 1, int(number))


# Source: effective dates that public AIS texts announce.
CONFIRMED = "25 Jan 24, 27 Nov 25, 22 Jan 26, 19 Feb 26, 19 Mar 26, 14 May 26, 9 Jul 26, 3 Sep 26, 29 Oct 26, 24 Dec 26"
# Counted on by 28 days from 2 Jan 2020 = 2001, the base in the same texts.
YEARS = {
    2025: "23 Jan, 20 Feb, 20 Mar, 17 Apr, 15 May, 12 Jun, 10 Jul, 7 Aug, 4 Sep, 2 Oct, 30 Oct, 27 Nov, 25 Dec",
    2026: "22 Jan, 19 Feb, 19 Mar, 16 Apr, 14 May, 11 Jun, 9 Jul, 6 Aug, 3 Sep, 1 Oct, 29 Oct, 26 Nov, 24 Dec",
    2027: "21 Jan, 18 Feb, 18 Mar, 15 Apr, 13 May, 10 Jun, 8 Jul, 5 Aug, 2 Sep, 30 Sep, 28 Oct, 25 Nov, 23 Dec",
    2028: "20 Jan, 17 Feb, 16 Mar, 13 Apr, 11 May, 8 Jun, 6 Jul, 3 Aug, 31 Aug, 28 Sep, 26 Oct, 23 Nov, 21 Dec",
}


@pytest.mark.parametrize("text", CONFIRMED.split(", "))
def test_confirmed_dates_begin_a_cycle(text: str) -> None:
    start = day(text)
    cycle = airac.cycle_of(start)
    assert airac.first_day(cycle) == start
    assert airac.cycle_of(start - dt.timedelta(days=1)) != cycle


@pytest.mark.parametrize("year", YEARS)
def test_dates_of_a_year(year: int) -> None:
    dates = [day(text, year) for text in YEARS[year].split(", ")]
    cycles = [f"{year % 100}{number:02d}" for number in range(1, 14)]
    assert [airac.first_day(cycle) for cycle in cycles] == dates
    assert [airac.cycle_of(date) for date in dates] == cycles


def test_base_and_years_of_fourteen() -> None:
    # Source: public AIS texts: base 2 Jan 2020 = 2001, so that 2014 begins on 31 Dec 2020.
    assert airac.first_day("2001") == dt.date(2020, 1, 2)
    assert airac.first_day("2014") == dt.date(2020, 12, 31)
    assert airac.first_day_of_next("2014") == airac.first_day("2101")


def test_boundary_by_date() -> None:
    # 22 Jan 2026 is one of the announced dates: it is 2601, the day before is still 2513.
    assert airac.cycle_of(dt.date(2026, 1, 22)) == "2601"
    assert airac.cycle_of(dt.date(2026, 1, 21)) == "2513"


def test_the_country_file_says_the_same() -> None:
    # Source: header of the U.S. FAA CIFP: "VOLUME 2301  EFFECTIVE 26 JAN 2023".
    assert airac.first_day("2301") == dt.date(2023, 1, 26)


@pytest.mark.parametrize("cycle", ["2600", "2614", "26", "26011", "26A1", "", "٢٦٠١", "-601"])
def test_what_is_no_cycle(cycle: str) -> None:
    with pytest.raises(ValueError, match="no AIRAC cycle"):
        airac.first_day(cycle)


@given(st.dates(dt.date(1964, 2, 1), dt.date(2063, 12, 1)))
def test_every_day_lies_in_its_cycle(date: dt.date) -> None:
    cycle = airac.cycle_of(date)
    assert airac.first_day(cycle) <= date < airac.first_day_of_next(cycle)
    assert airac.first_day_of_next(cycle) - airac.first_day(cycle) == dt.timedelta(days=28)
