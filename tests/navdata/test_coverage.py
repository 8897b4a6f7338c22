"""Coverage by ICAO region and kind of record: by hand, through the store's image, and for the whole country."""

from arinc_records import HEADERS, airport, coded, fix, leg, localizer, ndb, procedure, read, runway, terminal_fix, vhf
from test_sqlite_image import through_an_image

from routecheck.navdata.coverage import RecordKind
from routecheck.navdata.database import NavDatabase, demo_database, empty_database


def test_records_are_counted_by_region_and_kind() -> None:
    database = NavDatabase.from_tables(
        read(
            [
                *HEADERS,
                fix("ZAQIP", 1, 1, "K1"),
                fix("TOVIZ", 1, 2, "K1"),
                fix("KOLOZ", 1, 3, "CY"),
                terminal_fix("XVZZ", "PIKOZ", 1, 1, "K1"),
                vhf("ZAQ", (1, 1), region="K "),
                ndb("ZQ", 1, 1),
                airport("XVZZ", 1, 1),
                runway("XVZZ", "RW09", 1, 1),
                runway("XVYY", "RW09", 1, 1),
                leg("UZ5", 1, "ZAQIP", region="K1"),
                leg("UZ5", 2, "TOVIZ", region="K1"),
                leg("UZ5", 3, "KOLOZ", region="CY"),
                procedure("XVZZ", "D", "ZAQIP1", "5"),
                procedure("XVZZ", "D", "ZAQIP1", "6", "TOVIZ"),
                procedure("XVZZ", "E", "ZAQIP2", "5"),
                coded("XVZZ", "F", "I09", "I", "", 10, "IF"),
                localizer("XVZZ", "IZZ", 1, 1),
            ]
        )
    )
    assert database.coverage == {
        ("K1", RecordKind.FIX): 2,
        ("CY", RecordKind.FIX): 1,
        ("K1", RecordKind.TERMINAL_FIX): 1,
        ("K", RecordKind.VHF_NAVAID): 1,
        ("XX", RecordKind.NDB): 1,
        ("XX", RecordKind.AIRPORT): 1,
        ("XX", RecordKind.RUNWAY): 1,
        ("", RecordKind.RUNWAY): 1,
        ("K1", RecordKind.AIRWAY): 2,
        ("CY", RecordKind.AIRWAY): 1,
        ("XX", RecordKind.SID): 1,
        ("XX", RecordKind.STAR): 1,
        ("XX", RecordKind.APPROACH): 1,
    }
    assert through_an_image(database).coverage == database.coverage


def test_of_two_sources_what_holds_is_counted() -> None:
    old = read(["HDR04 VOLUME 2601", fix("ZAQIP", 1, 1, "K1"), fix("TOVIZ", 1, 1, "K1")], "old")
    new = read(["HDR04 VOLUME 2602", fix("ZAQIP", 2, 2, "K1")], "new")
    assert NavDatabase.from_tables(new, old).coverage == {("K1", RecordKind.FIX): 2}


def test_nothing_loaded_covers_nothing() -> None:
    assert empty_database().coverage == {}


def test_the_demo_region_has_every_kind_of_record() -> None:
    counts = demo_database().coverage
    assert {kind for _, kind in counts} == set(RecordKind)
    assert {region for region, _ in counts} == {"XV", "XW"}


def test_across_the_border_the_country_file_has_little(country: NavDatabase) -> None:
    """Source of the points: the records of the U.S. FAA CIFP, cycle 2301, counted by the region in their columns."""
    counts = country.coverage
    points = (RecordKind.FIX, RecordKind.TERMINAL_FIX, RecordKind.VHF_NAVAID, RecordKind.NDB)
    assert [counts["CY", kind] for kind in points] == [158, 86, 28, 12]
    assert ("CY", RecordKind.APPROACH) not in counts
    assert counts["CY", RecordKind.AIRWAY] == 10
    assert counts["K1", RecordKind.APPROACH] == 609
    assert counts["K1", RecordKind.AIRWAY] == 1_841
