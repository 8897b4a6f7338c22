"""Records into tables: every field at its column, bad lines listed and never fatal, files that are something else."""

import datetime as dt

import pytest
from arinc_records import (
    HEADERS,
    airport,
    fix,
    grid,
    leg,
    ndb,
    position,
    procedure,
    read,
    record,
    runway,
    terminal_fix,
    vhf,
)

from routecheck.model import AirwaySegment, Place, PlaceKind, Runway
from routecheck.navdata.tables import SegmentRecord, Tables
from routecheck.settings import DataError

LAT, LON = -31.5, 12.25

FORMS = "ARINC 424 records or FAA designated points (CSV)"


def tables_of(*lines: str) -> Tables:
    return read([*HEADERS, *lines])


def fix_at(columns_33_to_51: str) -> str:
    return fix("ZAQIP", LAT, LON)[:32] + columns_33_to_51


def only(tables: Tables) -> Place:
    (place,) = tables.places.values()
    return place


def rejected(tables: Tables) -> tuple[tuple[int, str], ...]:
    assert tables.source.count_of("rejected") == len(tables.source.rejected)
    return tables.source.rejected


def test_enroute_fix() -> None:
    assert only(tables_of(fix("ZAQIP", LAT, LON, variation="W0125", name="ZAQIP POINT"))) == Place(
        "ZAQIP", LAT, LON, PlaceKind.FIX, region="XX", name="ZAQIP POINT", variation_deg=-12.5, source="test"
    )


def test_terminal_fix_knows_its_airport() -> None:
    place = only(tables_of(terminal_fix("XVZZ", "D130K", LAT, LON)))
    assert (place.ident, place.airport, place.kind) == ("D130K", "XVZZ", PlaceKind.TERMINAL_FIX)


def test_vor_stands_at_the_vor_and_carries_its_declination() -> None:
    place = only(
        tables_of(vhf("ZAQ", (LAT, LON), (LAT + 1, LON), declination="W0130", elevation="-0012", name="ZAQUA"))
    )
    assert place == Place(
        "ZAQ",
        LAT,
        LON,
        PlaceKind.VOR_DME,
        region="XX",
        name="ZAQUA",
        declination_deg=-13.0,
        elevation_ft=-12.0,
        source="test",
    )


@pytest.mark.parametrize(
    ("vor", "dme", "letter", "kind"),
    [
        ((LAT, LON), None, " ", PlaceKind.VOR),
        ((LAT, LON), (LAT, LON), "T", PlaceKind.VOR_DME),
        (None, (LAT, LON), "D", PlaceKind.DME),
        (None, (LAT, LON), "T", PlaceKind.DME),
        (None, (LAT, LON), "M", PlaceKind.DME),
    ],
)
def test_kind_of_vhf_navaid(vor: tuple[float, float], dme: tuple[float, float], letter: str, kind: PlaceKind) -> None:
    place = only(tables_of(vhf("ZAQ", vor, dme, letter=letter)))
    assert (place.kind, place.lat, place.lon) == (kind, LAT, LON)


def test_dme_of_a_localizer_is_no_point_of_routes() -> None:
    tables = tables_of(vhf("IZAQ", None, (LAT, LON), letter="I", airport="XVZZ"), fix("ZAQIP", LAT, LON))
    assert only(tables).ident == "ZAQIP"
    assert not rejected(tables)


@pytest.mark.parametrize(
    ("text", "degrees"), [("E0120", 12.0), ("T0000", 0.0), ("", None), ("G0120", None), ("E9999", None)]
)
def test_declination_unread_is_unknown(text: str, degrees: float | None) -> None:
    assert only(tables_of(vhf("ZAQ", (LAT, LON), declination=text))).declination_deg == degrees


@pytest.mark.parametrize("of", ["", "XVZZ"])
def test_ndb(of: str) -> None:
    place = only(tables_of(ndb("ZQ", LAT, LON, of)))
    assert (place.ident, place.kind, place.airport, place.variation_deg) == ("ZQ", PlaceKind.NDB, of, -5.0)


def test_airport() -> None:
    tables = tables_of(airport("XVZZ", LAT, LON, name="ZAQUA FIELD", passenger_code="ZQU"))
    assert tables.airports == {
        "XVZZ": Place(
            "XVZZ",
            LAT,
            LON,
            PlaceKind.AIRPORT,
            region="XX",
            airport="",
            name="ZAQUA FIELD",
            variation_deg=3.5,
            elevation_ft=450.0,
            source="test",
        )
    }


def test_runway_elevation_is_in_feet_and_not_the_ellipsoid_height() -> None:
    tables = tables_of(runway("XVZZ", "RW09R", LAT, LON))
    assert tables.runways == {
        "XVZZ": {
            "09R": Runway("09R", length_ft=8200.0, bearing_magnetic_deg=87.4, lat=LAT, lon=LON, elevation_ft=433.0)
        }
    }


def test_a_true_bearing_is_not_taken_for_magnetic() -> None:
    assert (
        tables_of(runway("XVZZ", "RW09R", LAT, LON, bearing="087T")).runways["XVZZ"]["09R"].bearing_magnetic_deg is None
    )


def segment_of(**more: str) -> SegmentRecord:
    """The only segment, its figures from the first of two records."""
    ends = [fix("ZAQIP", LAT, LON), fix("TOVIZ", LAT, LON + 1)]
    tables = tables_of(*ends, leg("UZ5", 100, "ZAQIP", **more), leg("UZ5", 110, "TOVIZ", inbound="0861", end="E"))
    assert not rejected(tables)
    (segment,) = tables.airways["UZ5", "XXX"]
    return segment


def test_airway_record() -> None:
    more = {"course": "0874", "distance": "0123", "minimum": "05000", "maximum": "45000", "inbound": "1111"}
    segment = segment_of(**more, level="H")
    assert (segment.start, segment.end) == (("fix", "", "ZAQIP", "XX"), ("fix", "", "TOVIZ", "XX"))
    assert (segment.level, segment.ends) == ("H", True)
    assert segment.figures == AirwaySegment(
        course_deg=87.4,
        distance_nm=12.3,
        inbound_course_deg=86.1,
        minimum_ft=5000.0,
        minimum_back_ft=5000.0,
        maximum_ft=45000.0,
        one_way="",
    )


@pytest.mark.parametrize(
    ("minimum", "back", "expected"),
    [
        ("05000", "08000", (5000.0, 8000.0)),
        ("05000", "", (5000.0, 5000.0)),
        ("UNKNN", "", (None, None)),
        ("05000", "UNKNN", (5000.0, None)),
        ("FL180", "", (18000.0, 18000.0)),
        ("", "", (None, None)),
        ("0X000", "", (None, None)),
    ],
)
def test_minima(minimum: str, back: str, expected: tuple[float | None, float | None]) -> None:
    figures = segment_of(minimum=minimum, minimum_back=back).figures
    assert (figures.minimum_ft, figures.minimum_back_ft) == expected


@pytest.mark.parametrize(("letter", "expected"), [("F", "F"), ("B", "B"), (" ", ""), ("?", "")])
def test_one_way(letter: str, expected: str) -> None:
    assert segment_of(one_way=letter).figures.one_way == expected


def test_procedures_keep_enroute_transitions_only() -> None:
    tables = tables_of(
        procedure("XVZZ", "D", "ZAQIP1", "4", "RW09"),
        procedure("XVZZ", "D", "ZAQIP1", "5", "ALL"),
        procedure("XVZZ", "D", "ZAQIP1", "6", "TOVIZ"),
        procedure("XVZZ", "D", "ZAQIP1", "3", "RWF"),
        procedure("XVZZ", "D", "ZAQIP1", "V", "KOLOZ"),
        procedure("XVZZ", "E", "TOVIZ2", "4", "KOLOZ"),
        procedure("XVZZ", "E", "TOVIZ2", "6", "RW27"),
        procedure("XVZZ", "E", "TOVIZ2", "1", "ALL"),
    )
    assert tables.procedures == {"XVZZ": {("SID", "ZAQIP1"): {"TOVIZ", "RWF", "KOLOZ"}, ("STAR", "TOVIZ2"): {"KOLOZ"}}}


def test_grid_mora_runs_eastward_and_past_the_date_line() -> None:
    cells = ["014", "UNK", *["023"] * 28]
    tables = tables_of(grid("S32E179", cells))
    assert tables.mora[-32, 179] == 1400.0
    assert (-32, -180) not in tables.mora
    assert tables.mora[-32, -179] == 2300.0
    assert len(tables.mora) == 29


def test_continuation_records_are_left_alone() -> None:
    tables = tables_of(
        fix("ZAQIP", LAT, LON, continuation="1"),
        fix("ZAQIP", 0.0, 0.0, continuation="2"),
        fix("TOVIZ", LAT, LON),
        leg("UZ5", 100, "ZAQIP", continuation="1"),
        leg("UZ5", 100, "NOSUQ", continuation="2"),
        leg("UZ5", 110, "TOVIZ", continuation="1"),
        procedure("XVZZ", "D", "ZAQIP1", "5", continuation="2"),
    )
    assert [(place.lat, place.lon) for place in tables.places.values()] == [(LAT, LON)] * 2
    assert len(tables.airways["UZ5", "XXX"]) == 1
    assert not tables.procedures
    assert not rejected(tables)


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        (fix_at("N91000000E012150000"), "EA record: the position 'N91000000' is nowhere on earth"),
        (fix_at("N31600000E012150000"), "EA record: the position 'N31600000' is nowhere on earth"),
        (fix_at("N31596000E012150000"), "EA record: the position 'N31596000' is nowhere on earth"),
        (fix_at("N31000000E180000001"), "EA record: the position 'E180000001' is nowhere on earth"),
        (fix_at("X31000000E012150000"), "EA record: the position 'X31000000' cannot be read"),
        (fix_at("N3100000²E012150000"), "EA record: the position 'N3100000²' cannot be read"),
        (fix("ZAQIP", LAT, LON)[:45], "EA record: the position 'E012' cannot be read"),
        (fix("ZAQIP", LAT, LON)[:20], "EA record: no position"),
        (fix("", LAT, LON), "EA record: no ident"),
        (fix("ZA QP", LAT, LON), "EA record: the ident 'ZA QP' cannot be read"),
        (fix("ZÀQIP", LAT, LON), "EA record: the ident 'ZÀQIP' cannot be read"),
        (vhf("ZAQ", None, None), "D record: no position"),
        (grid("X32E179", []), "AS record: the corner 'X32' cannot be read"),
        (grid("S91E179", []), "AS record: the corner 'S91' cannot be read"),
        (leg("UZ5", 1, "TOVIZ").replace("0001", "OOO1"), "ER record: the sequence number 'OOO1' cannot be read"),
        (leg("UZ5", 100, "KOLOZ"), "ER record: UZ5 goes by KOLOZ, which is not in this file"),
        (leg("UZ5", 100, "TOVIZ"), "ER record: UZ5 leads from TOVIZ to no other point"),
        ("Dear reader, here is the data you asked for", "not an ARINC 424 record"),
        (fix("TOVIZ", 0.0, 0.0), "EA record: a second record of TOVIZ"),
    ],
)
def test_a_bad_record_is_listed_with_its_line_and_the_rest_is_used(line: str, reason: str) -> None:
    tables = tables_of(fix("TOVIZ", LAT, LON), line, fix("PIKOZ", LAT, LON))
    assert rejected(tables) == ((4, reason),)
    assert [place.ident for place in tables.places.values()] == ["TOVIZ", "PIKOZ"]


def test_all_bad_records_are_counted_and_the_first_thousand_listed() -> None:
    tables = tables_of(fix("ZAQIP", LAT, LON), *["no record"] * 2_500)
    assert tables.source.count_of("rejected") == 2_500
    assert len(tables.source.rejected) == 1_000


def test_names_survive_whatever_their_encoding() -> None:
    for raw in ("ZÜRIQ".encode(), "ZÜRIQ".encode("latin-1")):
        line = fix("ZAQIP", LAT, LON, name=raw.decode("latin-1"))
        assert only(tables_of(line)).name == "ZÜRIQ"
    assert only(tables_of(fix("ZAQIP", LAT, LON, name="ZA\x00Q"))).name == "ZA?Q"


def test_counts_tell_what_was_read() -> None:
    counts = tables_of(
        fix("ZAQIP", LAT, LON), airport("XVZZ", LAT, LON), record({1: "SXXXUC", 129: "2601"})
    ).source.counts
    assert {what: number for what, number in counts if number} == {
        "enroute fixes": 1,
        "airports": 1,
        "other records": 1,
    }


# The source: cycle and dates


@pytest.mark.parametrize(
    ("headers", "cycle", "effective"),
    [
        (["HDR04  VOLUME 2301  EFFECTIVE 26 JAN 2023"], "2301", dt.date(2023, 1, 26)),
        (["HDR04  VOLUME 2301"], "2301", dt.date(2023, 1, 26)),
        (["HDR04  effective 26-Jan-2023"], "2301", dt.date(2023, 1, 26)),
        (["HDR04  EFFECTIVE 31 FEB 2023"], "2513", dt.date(2025, 12, 25)),
        (["HDR04  EFFECTIVE 26 JUX 2023"], "2513", dt.date(2025, 12, 25)),
        ([], "2513", dt.date(2025, 12, 25)),
    ],
)
def test_cycle_and_dates(headers: list[str], cycle: str, effective: dt.date) -> None:
    """By the header, else by the newest of the records: 99 is a year of last century, 2599 and blank are no cycles."""
    records = [
        fix(f"ZAQ{n}", LAT, LON, cycle=c) for n, c in enumerate(("2513", "9913", "2501", "2599", "    ", "0802"))
    ]
    source = read([*headers, *records], "test").source
    assert (source.cycle, source.effective) == (cycle, effective)
    assert source.until == effective + dt.timedelta(days=28)


def test_no_cycle_is_said_where_nothing_tells_it() -> None:
    source = read([fix("ZAQIP", LAT, LON, cycle="")], "test").source
    assert (source.cycle, source.effective, source.until) == ("", None, None)


def test_invented_data_says_so() -> None:
    assert not tables_of(fix("ZAQIP", LAT, LON)).source.invented
    assert read(["HDR05 ALL PLACES INVENTED", fix("ZAQIP", LAT, LON)], "test").source.invented


# What is no navigation data


@pytest.mark.parametrize(
    ("lines", "why"),
    [
        ([], "there is nothing in it"),
        (["", "  ", "\t"], "there is nothing in it"),
        (
            ["<!DOCTYPE html>", "<html>"],
            f"this is a web page or XML, not navigation data in {FORMS}",
        ),
        (
            ["departure,destination,route"],
            f"not navigation data: there are no {FORMS} in it",
        ),
        ([fix("", LAT, LON)], "not one of its records can be used; line 1: EA record: no ident"),
        ([record({1: "SXXXUC"})], "its records are all of kinds that are not used here"),
        (HEADERS, "its records are all of kinds that are not used here"),
    ],
)
def test_refused_in_one_sentence(lines: list[str], why: str) -> None:
    with pytest.raises(DataError) as refusal:
        read(lines, "test")
    assert refusal.value.why == why


def test_position_helper_writes_what_the_standard_says() -> None:
    assert position(LAT, LON) == "S31300000E012150000"
