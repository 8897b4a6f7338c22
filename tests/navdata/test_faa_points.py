"""The FAA's table of designated points: rows by hand, the real table, and beside the country file.

Data: FAA designated points, January 2025 (U.S. government work).
"""

import pathlib

import pytest

from routecheck.navdata import readers
from routecheck.navdata.coverage import RecordKind
from routecheck.navdata.database import NavDatabase, load_navdata
from routecheck.settings import DataError

HEAD = "ï»¿X,Y,IDENT,LATITUDE,LONGITUDE,TYPE_CODE,MAGVAR,COUNTRY"


def rows(*lines: str) -> NavDatabase:
    return NavDatabase.from_tables(readers.read_text("\n".join([HEAD, *lines]), "points"))


def test_a_row_is_a_fix() -> None:
    data = rows(",,FULTY,31-53-41.240N,086-15-32.060W,RPT,-4.10083969,UNITED STATES")
    (fix,) = data.places("FULTY")
    assert (fix.lat, fix.lon) == pytest.approx((31 + 53 / 60 + 41.24 / 3600, -(86 + 15 / 60 + 32.06 / 3600)))
    assert (fix.kind, fix.region, fix.variation_deg, fix.source) == ("fix", "", -4.10083969, "points")
    assert data.sources[0].counts == (("fixes", 1), ("other records", 0), ("rejected", 0))
    assert not data.covers(RecordKind.FIX, fix.lat, fix.lon)


def test_what_cannot_be_used_is_listed() -> None:
    data = rows(
        ",,GOOD1,25-37-60.000N,095-31-0.000W,RPT,,Mexico",
        ",,(UK),25-37-00.000N,095-31-0.000W,RPT,,",
        ",,BADLA,25-67-00.000N,095-31-0.000W,RPT,,",
        ",,BADLO,25-07-00.000N,195-31-0.000W,RPT,,",
        ",,GOOD1,26-37-00.000N,095-31-0.000W,RPT,,",
        ",,MDO,59-25-18.960N,146-21-00.100W,OTHER,,",
        ",,SHORT",
    )
    assert [place.ident for name in data.names() for place in data.places(name)] == ["GOOD1"]
    assert data.sources[0].counts == (("fixes", 1), ("other records", 1), ("rejected", 5))
    assert [number for number, _ in data.sources[0].rejected] == [3, 4, 5, 6, 8]


GOOD = [f",,GOOD{number},25-37-60.000N,095-31-0.000W,RPT,,MEXICO" for number in "ABCD"]


@pytest.mark.parametrize(
    ("lines", "idents", "rejected"),
    [
        (['"' + GOOD[0], *GOOD[1:]], "BCD", [2]),
        ([GOOD[0], '"' + GOOD[1], GOOD[2], '"' + GOOD[3]], "AC", [3, 5]),
        ([GOOD[0], GOOD[1].replace("MEXICO", '"MEXICO'), 'AND MORE"', GOOD[2]], "AC", [3, 4]),
        ([GOOD[0], GOOD[1].replace("MEXICO", '"MEXICO" X'), GOOD[2]], "AC", [3]),
        ([GOOD[0], GOOD[1].removesuffix(",,MEXICO"), GOOD[2]], "AC", [3]),
        ([GOOD[0], GOOD[1].replace(",RPT", "\r,RPT"), GOOD[2]], "AC", [3]),
        ([GOOD[0], GOOD[1].replace("MEXICO", '"MEX, ICO"'), GOOD[2]], "ABC", []),
    ],
)
def test_a_stray_quotation_mark_swallows_no_row(lines: list[str], idents: str, rejected: list[int]) -> None:
    """Every row is a point, or is counted and listed with its line."""
    data = rows(*lines)
    source = data.sources[0]
    assert sorted(data.names()) == [f"GOOD{ident}" for ident in idents]
    assert sum(dict(source.counts).values()) == len(lines)
    assert [number for number, _ in source.rejected] == rejected


def test_a_column_that_stands_twice_is_refused() -> None:
    with pytest.raises(DataError, match="the column IDENT stands twice in the first line"):
        readers.read_text("\n".join([HEAD.replace("COUNTRY", "IDENT"), *GOOD]), "points")


def test_a_table_without_points_is_refused() -> None:
    with pytest.raises(DataError, match="there are no points in it"):
        rows()


@pytest.fixture(scope="module")
def points(shared_data: pathlib.Path) -> NavDatabase:
    return load_navdata([shared_data / "world" / "faa_points" / "Designated_Point_2025.csv.xz"])


@pytest.mark.real_data
def test_the_real_table(points: NavDatabase) -> None:
    source = points.sources[0]
    assert dict(source.counts) == {"fixes": 15_757, "other records": 1_377, "rejected": 109}
    assert sum(dict(source.counts).values()) == 17_243


@pytest.mark.real_data
def test_points_of_both_files_are_the_same_places(points: NavDatabase, country: NavDatabase) -> None:
    both = NavDatabase.from_tables(country.records, points.records)  # type: ignore[arg-type]
    names = sorted(set(country.names()) & set(points.names()))
    same = [name for name in names if both.places(name) == country.places(name)]
    assert len(names) > 10_000
    assert len(same) >= 0.95 * len(names)
