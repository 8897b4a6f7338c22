"""Routes from all over the world with one country's data, the demo region and nothing: silent where none is.

Source of the routes: the `source` column; those of tests/data/foreign_routes.csv are from memory.
"""

import csv
import datetime as dt
import pathlib
from collections.abc import Iterator

import pytest

from routecheck.earth import geo
from routecheck.model import Assessment, RouteInput, Weight
from routecheck.navdata.database import NavDatabase, demo_database, empty_database
from routecheck.pipeline import assess_many
from routecheck.settings import Settings

DAY = dt.date(2023, 2, 1)
CONTRADICT_THE_DATA = {
    ("FAA-UAL1447", "off-airway"),  # an example of 2012: J61, AR21 and FISEL2 are no more what they were
    ("FAA-UAL1447", "unknown-airway"),
    ("FAA-UAL1447", "unknown-procedure"),
    ("FAA-AAL945", "unknown-procedure"),  # JPOOL9, now JPOOL6
    ("border-1", "unknown-airway"),  # Y49 between two points of the United States
}
MOST_TIMES, MOST_NM = 2.0, 1000.0


def routes(file: pathlib.Path) -> list[RouteInput]:
    with file.open(encoding="utf-8") as text:
        return [
            RouteInput(row["route"], row["departure"], row["destination"], name=row["id"])
            for row in csv.DictReader(text)
        ]


@pytest.fixture(scope="module")
def abroad(test_data: pathlib.Path) -> list[RouteInput]:
    return routes(test_data / "foreign_routes.csv")


def heavy(answers: list[Assessment]) -> set[tuple[str, str]]:
    return {
        (answer.route.route_input.name, finding.check)
        for answer in answers
        for finding in answer.findings
        if finding.weight in (Weight.WRONG, Weight.DOUBTFUL)
        and finding.check not in ("not-covered", "data-not-current")
    }


def points_on_the_other_side_of_the_world(answer: Assessment) -> Iterator[str]:
    first, last = answer.route.points[0].place, answer.route.points[-1].place
    assert first
    assert last
    most = MOST_TIMES * geo.rough_nm(first.lat, first.lon, last.lat, last.lon) + MOST_NM
    for point in answer.route.points:
        ends = () if point.place is None else (first, last)
        if point.place and sum(geo.rough_nm(p.lat, p.lon, point.place.lat, point.place.lon) for p in ends) > most:
            yield point.text


@pytest.mark.real_data
def test_with_the_data_of_one_country(
    abroad: list[RouteInput], shared_data: pathlib.Path, country: NavDatabase
) -> None:
    official = routes(shared_data / "world" / "official_item15.csv")
    answers = list(assess_many([*official, *abroad], country, Settings(), DAY))
    assert heavy(answers) == CONTRADICT_THE_DATA
    assert [name for answer in answers for name in points_on_the_other_side_of_the_world(answer)] == []


@pytest.mark.parametrize("database", [demo_database(), empty_database()], ids=["demo", "nothing"])
def test_with_the_demo_region_or_nothing(abroad: list[RouteInput], database: NavDatabase) -> None:
    answers = list(assess_many(abroad, database, Settings(), DAY))
    assert heavy(answers) == set()
    assert [name for answer in answers for name in points_on_the_other_side_of_the_world(answer)] == []


@pytest.mark.real_data
@pytest.mark.parametrize(
    ("route", "ends", "check", "meant"),
    [
        ("GREKI DCT JUDSD DCT WHALE N139A JOOPY 49N050W 51N040W", ("KJFK", "EGLL"), "unknown-name", "JUDDS"),
        ("YVR J523 YZT J523 YYD J501 ANN J502 SSR J514 YAK J501 JOH", ("KSEA", "PANC"), "off-airway", "J541"),
        ("LAM UM197 REDFA L980 SPY SEEVR4", ("EGLL", "KDFW"), "unknown-procedure", ""),
        ("JCOBY4 SWANN DCT BROSS Q419 RBV", ("EGAA", "KEWR"), "procedure-elsewhere", "departure KIAD"),
        ("LITTR FEWWW SEEVR4", ("KBOS", "EGLL"), "procedure-elsewhere", "destination KDFW"),
    ],
)
def test_genuine_mistakes_among_them_are_found(
    country: NavDatabase, route: str, ends: tuple[str, str], check: str, meant: str
) -> None:
    (answer,) = assess_many([RouteInput(route, *ends)], country, Settings(), DAY)
    found = [finding for finding in answer.findings if finding.check == check]
    if meant:
        assert {finding.weight for finding in found} <= {Weight.WRONG, Weight.DOUBTFUL}
        assert meant in [proposal.new for finding in answer.findings for proposal in finding.likely_intended]
    else:
        assert found == []
