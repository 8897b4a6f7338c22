"""Coverage by ICAO region and kind of record: by hand, through the store's image, and for the whole country."""

from arinc_records import HEADERS, airport, coded, fix, leg, localizer, ndb, procedure, read, runway, terminal_fix, vhf
from test_sqlite_image import through_an_image

from routecheck.navdata.coverage import RecordKind, kind_of_name, well_known_areas
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


def ring(region: str, *, gap: str = "", number: int = 1) -> list[str]:
    """Fixes a degree round 50N 010E in one area, those of one quadrant left out."""
    spots = {"NE": (50.9, 10.9), "SE": (49.1, 10.9), "SW": (49.1, 9.1), "NW": (50.9, 9.1)}
    kept = [spot for quadrant, spot in spots.items() if quadrant != gap]
    return [fix(f"Z{i}{n}{region}", *spot, region) for i, spot in enumerate(kept) for n in range(number)]


def covered(*lines: str, kind: RecordKind = RecordKind.FIX) -> bool:
    return NavDatabase.from_tables(read([*HEADERS, *lines])).covers(kind, 50.0, 10.0)


def test_points_all_round_cover() -> None:
    assert covered(*ring("ZZ"))
    for gap in ("NE", "SE", "SW", "NW"):
        assert not covered(*ring("ZZ", gap=gap))


def test_a_few_points_of_a_neighbour_do_not_count() -> None:
    assert not covered(*ring("ZZ", gap="SW", number=9), fix("ZAQIP", 49.1, 9.1, "YY"))
    assert covered(*ring("ZZ", number=9), fix("ZAQIP", 50.9, 10.9, "YY"))
    assert not covered(*ring("ZZ", number=9), fix("ZAQIP", 50.1, 10.1, "YY"))  # nearer than all of ours


def test_a_kind_of_which_there_is_none_is_not_covered() -> None:
    assert not covered(*ring("ZZ"), kind=RecordKind.VHF_NAVAID)
    assert covered(*ring("ZZ"), vhf("ZAQ", (50.2, 10.2), region="ZZ"), kind=RecordKind.VHF_NAVAID)


def test_names_of_up_to_three_letters_are_of_navaids() -> None:
    assert [kind_of_name(name) for name in ("LU", "VAL", "LENDU")] == [RecordKind.VHF_NAVAID] * 2 + [RecordKind.FIX]


def test_across_the_border_the_country_file_covers_nothing(country: NavDatabase) -> None:
    """Winnipeg, Regina, Smithers, Toronto, Halifax, Hermosillo, Piarco: from memory, to a tenth of a degree."""
    abroad = [
        (49.9, -97.2),
        (50.4, -104.6),
        (54.8, -127.2),
        (43.7, -79.6),
        (44.9, -63.5),
        (29.1, -111.0),
        (10.6, -61.3),
    ]
    at_home = [(47.4, -122.3), (42.3, -71.0), (25.8, -80.3), (61.2, -150.0), (42.2, -83.3), (32.9, -97.0)]
    for kind in (RecordKind.FIX, RecordKind.VHF_NAVAID, RecordKind.AIRWAY):
        assert not any(country.covers(kind, *where) for where in abroad)
        assert all(country.covers(kind, *where) for where in at_home)
    assert country.covers(RecordKind.FIX, 21.3, -158.0)
    assert well_known_areas(country.coverage, RecordKind.AIRWAY).isdisjoint({"CY", "MM", "MY"})


def test_the_demo_region_is_covered_to_its_border() -> None:
    demo = demo_database()
    fixes = [place for name in demo.names() for place in demo.places(name) if place.kind == "fix"]
    inside = [demo.covers(RecordKind.FIX, place.lat, place.lon) for place in fixes]
    assert (sum(inside), len(inside)) == (82, 95)
    for ident in ("XVAL", "XVOR", "XVMA", "XVKE"):
        airport = demo.airport(ident)
        assert airport
        assert demo.covers(RecordKind.FIX, airport.lat, airport.lon)
    assert not demo.covers(RecordKind.FIX, 50.0, -30.0)
