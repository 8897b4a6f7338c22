"""The questions navigation data answers, on hand-made records."""

import pytest
from arinc_records import HEADERS, airport, fix, grid, leg, ndb, procedure, read, runway, terminal_fix, vhf

from routecheck.model import AirwaySegment, PlaceKind
from routecheck.navdata.coverage import RecordKind
from routecheck.navdata.database import NavDatabase, demo_database, empty_database
from routecheck.navdata.tables import Tables

LAT, LON = -31.5, 12.25
NEAR = 0.05 / 60  # 0.05 NM of latitude, in degrees
OLD, NEW = "HDR04 VOLUME 2601", "HDR04 VOLUME 2602"


def tables(*lines: str, header: str = HEADERS[1], name: str = "test") -> Tables:
    return read([header, *lines], name)


def database(*lines: str) -> NavDatabase:
    return NavDatabase.from_tables(tables(*lines))


def kinds(answer: tuple[object, ...]) -> list[PlaceKind]:
    return [place.kind for place in answer]  # type: ignore[attr-defined]


# Names


def test_vhf_navaid_and_ndb_of_one_name_both_appear_fixes_first() -> None:
    data = database(ndb("ZQ", LAT, LON), vhf("ZQ", (LAT, LON)), fix("ZQ", LAT, LON), airport("ZQ", LAT, LON))
    assert kinds(data.places("ZQ")) == [PlaceKind.FIX, PlaceKind.VOR, PlaceKind.NDB]
    assert list(data.names()) == ["ZQ"]


def test_order_does_not_depend_on_the_file() -> None:
    lines = [fix("ZAQIP", 10.0, 10.0, "AA"), fix("ZAQIP", 5.0, 5.0, "BB"), terminal_fix("XVZZ", "ZAQIP", 0.0, 0.0)]
    assert database(*lines).places("ZAQIP") == database(*reversed(lines)).places("ZAQIP")
    assert [place.region for place in database(*lines).places("ZAQIP")] == ["AA", "BB", "XX"]


def test_a_terminal_fix_on_the_spot_of_an_enroute_fix_appears_once() -> None:
    here = fix("ZAQIP", LAT, LON)
    assert kinds(database(here, terminal_fix("XVZZ", "ZAQIP", LAT + NEAR, LON)).places("ZAQIP")) == [PlaceKind.FIX]
    apart = database(here, terminal_fix("XVZZ", "ZAQIP", LAT + 3 * NEAR, LON)).places("ZAQIP")
    assert kinds(apart) == [PlaceKind.FIX, PlaceKind.TERMINAL_FIX]


def test_a_terminal_fix_of_two_airports_appears_once() -> None:
    data = database(terminal_fix("XVZZ", "ZAQIP", LAT, LON), terminal_fix("XVYY", "ZAQIP", LAT, LON))
    assert [place.airport for place in data.places("ZAQIP")] == ["XVYY"]


def test_regions_tell_fixes_apart_blanks_included() -> None:
    data = database(fix("ZAQIP", LAT, LON, "K "), fix("ZAQIP", LAT + 1, LON, "K1"))
    assert [place.region for place in data.places("ZAQIP")] == ["K", "K1"]


def test_nothing_known() -> None:
    data = database(fix("ZAQIP", LAT, LON))
    assert data.places("NOSUQ") == ()
    assert data.airways("UZ9") == ()
    assert data.runways("XVZZ") == ()
    assert data.procedure_kinds("XVZZ", "ZAQIP1") == frozenset()
    assert data.procedure_airports("ZAQIP1") == frozenset()
    assert data.procedure_names("XVZZ", "SID") == ()
    assert data.transitions("XVZZ", "ZAQIP1") == frozenset()
    assert data.mora_ft(LAT, LON) is None


# Airports


def test_loaded_airports_come_before_the_world_list() -> None:
    data = database(airport("EGLL", LAT, LON))
    assert data.airport("EGLL") == tables(airport("EGLL", LAT, LON)).airports["EGLL"]
    found = empty_database().airport("EGLL")
    assert found is not None
    assert found.source == "airportsdata"


def test_no_airport_by_passenger_code() -> None:
    data = database(airport("XVZZ", LAT, LON, passenger_code="ZQU"))
    assert data.airport("ZQU") is None
    assert data.airport("XVZZ") is not None


def test_runways_in_order() -> None:
    data = database(*(runway("XVZZ", mark, LAT, LON) for mark in ("RW27R", "RW09L", "RW27L")))
    assert [one.ident for one in data.runways("XVZZ")] == ["09L", "27L", "27R"]


# Airways

FIXES = [fix(f"ZAQ{letter}", LAT, LON + n / 5) for n, letter in enumerate("ABCDEF")]


def shapes(data: NavDatabase, designator: str) -> list[tuple[str, str]]:
    return [(one.area, "".join(place.ident[-1] for place in one.places)) for one in data.airways(designator)]


def test_pieces_end_where_the_record_says_so_and_follow_the_sequence() -> None:
    legs = [leg("UZ5", n, f"ZAQ{letter}", end="E" if letter in "CF" else "") for n, letter in enumerate("ABCDEF")]
    assert shapes(database(*FIXES, *reversed(legs)), "UZ5") == [("XXX", "ABC"), ("XXX", "DEF")]


def test_sequence_numbers_count_within_an_area_only() -> None:
    legs = [leg("UZ5", 10 * n, f"ZAQ{letter}", area="AAA") for n, letter in enumerate("AB")]
    legs += [leg("UZ5", 10 * n + 5, f"ZAQ{letter}", area="BBB") for n, letter in enumerate("DE")]
    assert shapes(database(*FIXES, *legs), "UZ5") == [("AAA", "AB"), ("BBB", "DE")]


def test_areas_that_meet_end_to_end_make_one_piece() -> None:
    first = [leg("UZ5", 1, "ZAQA", area="BBB"), leg("UZ5", 2, "ZAQB", area="BBB", inbound="0900", end="E")]
    then = [leg("UZ5", 1, "ZAQB", area="AAA", distance="0102"), leg("UZ5", 2, "ZAQC", area="AAA", end="E")]
    data = database(*FIXES, *first, *then)
    assert shapes(data, "UZ5") == [("BBB/AAA", "ABC")]
    segments = data.airways("UZ5")[0].segments
    assert [(one.inbound_course_deg, one.distance_nm) for one in segments] == [(90.0, None), (None, 10.2)]


def test_an_end_inside_an_area_is_believed() -> None:
    legs = [leg("UZ5", n, f"ZAQ{letter}", end="E" if n == 2 else "") for n, letter in ((1, "A"), (2, "B"))]
    legs += [leg("UZ5", n, f"ZAQ{letter}") for n, letter in ((3, "B"), (4, "C"))]
    assert shapes(database(*FIXES, *legs), "UZ5") == [("XXX", "AB"), ("XXX", "BC")]


def test_nothing_is_joined_across_a_fix_that_is_missing() -> None:
    legs = [leg("UZ5", n, ident) for n, ident in enumerate(("ZAQA", "ZAQB", "NOSUQ", "ZAQC", "ZAQD"))]
    data = database(*FIXES, *legs)
    assert shapes(data, "UZ5") == [("XXX", "AB"), ("XXX", "CD")]
    assert data.sources[0].count_of("rejected") == 1


def test_fixes_of_an_airway_are_found_by_their_whole_key() -> None:
    twins = [fix("ZAQIP", LAT, LON, "K "), fix("ZAQIP", LAT + 9, LON, "K1"), vhf("ZAQ", (LAT, LON + 1), region="K ")]
    legs = [leg("UZ5", 1, "ZAQIP", region="K "), leg("UZ5", 2, "ZAQ", region="K ", section="D ")]
    (airway,) = database(*twins, *legs).airways("UZ5")
    assert [(place.ident, place.lat) for place in airway.places] == [("ZAQIP", LAT), ("ZAQ", LAT)]


def test_a_segment_has_its_figures_from_both_records() -> None:
    legs = [
        leg("UZ5", 1, "ZAQA", course="0874", distance="0102", minimum="05000", minimum_back="07000", maximum="45000",
            level="H", one_way="F"),
        leg("UZ5", 2, "ZAQB", inbound="0861", end="E"),
    ]  # fmt: skip
    (airway,) = database(*FIXES, *legs).airways("UZ5")
    assert airway.level == "H"
    assert airway.segments == (
        AirwaySegment(
            course_deg=87.4,
            distance_nm=10.2,
            inbound_course_deg=86.1,
            minimum_ft=5000.0,
            minimum_back_ft=7000.0,
            maximum_ft=45000.0,
            one_way="F",
        ),
    )


# Procedures


def test_procedures() -> None:
    data = database(
        procedure("XVZZ", "D", "ZAQIP1", "5"),
        procedure("XVZZ", "D", "ZAQIP1", "6", "TOVIZ"),
        procedure("XVZZ", "D", "ALPHZ1", "5"),
        procedure("XVZZ", "E", "ZAQIP1", "4", "KOLOZ"),
        procedure("XVYY", "E", "ZAQIP1", "5"),
    )
    assert data.procedure_kinds("XVZZ", "ZAQIP1") == {"SID", "STAR"}
    assert data.procedure_kinds("XVYY", "ZAQIP1") == {"STAR"}
    assert data.procedure_airports("ZAQIP1") == {"XVZZ", "XVYY"}
    assert data.procedure_names("XVZZ", "SID") == ("ALPHZ1", "ZAQIP1")
    assert data.transitions("XVZZ", "ZAQIP1") == {"TOVIZ", "KOLOZ"}


# Grid MORA


@pytest.mark.parametrize(
    ("lat", "lon", "feet"),
    [
        (-31.5, 10.5, 1400.0),
        (-31.5, 11.5, None),
        (-31.5, 12.5, 2300.0),
        (-31.5, 12.0, 2300.0),
        (-31.0, 10.5, 1400.0),
        (-30.9, 10.5, None),
        (-32.0, 13.0, 2300.0),
        (90.0, 0.0, None),
        (-90.0, 180.0, None),
    ],
)
def test_grid_mora(lat: float, lon: float, feet: float | None) -> None:
    assert database(grid("S32E010", ["014", "UNK", *["023"] * 28])).mora_ft(lat, lon) == feet


def test_grid_mora_at_the_date_line() -> None:
    data = database(grid("S32E179", ["014", "030", *["UNK"] * 28]))
    assert data.mora_ft(-31.5, 179.9) == 1400.0
    assert data.mora_ft(-31.5, -179.9) == 3000.0
    assert data.mora_ft(-31.5, 180.0) == data.mora_ft(-31.5, -180.0) == 3000.0


# Several sources


@pytest.mark.parametrize("swap", [False, True])
def test_the_newer_cycle_holds_key_by_key(swap: bool) -> None:
    old = tables(fix("ZAQIP", 1.0, 1.0), fix("TOVIZ", 2.0, 2.0), airport("XVZZ", 1.0, 1.0), header=OLD, name="old")
    new = tables(fix("ZAQIP", 1.5, 1.0), fix("PIKOZ", 3.0, 3.0), airport("XVZZ", 1.5, 1.0), header=NEW, name="new")
    data = NavDatabase.from_tables(*((new, old) if swap else (old, new)))
    assert [(place.lat, place.source) for place in data.places("ZAQIP")] == [(1.5, "new")]
    assert sorted(data.names()) == ["PIKOZ", "TOVIZ", "ZAQIP"]
    assert data.airport("XVZZ") == new.airports["XVZZ"]
    assert [source.name for source in data.sources] == ["new", "old"]


def test_of_equally_new_sources_the_later_given_holds() -> None:
    one, other = (tables(fix("ZAQIP", lat, 1.0), name=str(lat)) for lat in (1.0, 2.0))
    assert [place.lat for place in NavDatabase.from_tables(one, other).places("ZAQIP")] == [2.0]


def test_a_source_without_dates_counts_as_the_oldest() -> None:
    dateless = read([fix("ZAQIP", 2.0, 1.0, cycle="")], "dateless")
    dated = tables(fix("ZAQIP", 1.0, 1.0), header=OLD)
    assert [place.lat for place in NavDatabase.from_tables(dated, dateless).places("ZAQIP")] == [1.0]


def test_superseded_procedures_do_not_come_back_from_an_older_file() -> None:
    old = tables(procedure("XVZZ", "D", "ZAQIP1", "5"), procedure("XVYY", "D", "TOVIZ1", "5"), header=OLD)
    new = tables(procedure("XVZZ", "D", "ZAQIP2", "5"), header=NEW)
    data = NavDatabase.from_tables(new, old)
    assert data.procedure_names("XVZZ", "SID") == ("ZAQIP2",)
    assert data.procedure_names("XVYY", "SID") == ("TOVIZ1",)


def test_an_airway_finds_its_fixes_in_another_source() -> None:
    points, lines = tables(*FIXES, header=OLD), tables(leg("UZ5", 1, "ZAQA"), leg("UZ5", 2, "ZAQB"), header=NEW)
    assert shapes(NavDatabase.from_tables(points, lines), "UZ5") == [("XXX", "AB")]


def test_merging_leaves_the_tables_as_they_were() -> None:
    old, new = tables(fix("ZAQIP", 1.0, 1.0), header=OLD), tables(fix("ZAQIP", 2.0, 1.0), header=NEW)
    NavDatabase.from_tables(old, new)
    assert [place.lat for place in old.places.values()] == [1.0]


# The demo region and nothing at all


def test_nothing_loaded() -> None:
    data = empty_database()
    assert data.sources == ()
    assert data.places("ZAQIP") == ()
    assert list(data.places_within(0.0, 0.0, 20_000.0)) == []
    assert not data.covers(RecordKind.FIX, LAT, LON)


def test_the_demo_region_is_invented_and_in_order() -> None:
    data = demo_database()
    (source,) = data.sources
    assert source.invented
    assert source.rejected == ()
    assert data.names()
