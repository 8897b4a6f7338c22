"""The demo region is what its README says: counts, references, coded figures, and made by its script byte for byte."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import pytest
from geographiclib.geodesic import Geodesic

from routecheck.model import PlaceKind
from routecheck.navdata.database import demo_database

DEMO = Path(__file__).resolve().parents[2] / "resources" / "demo"
LINES = (DEMO / "demo_region.txt").read_text("ascii").splitlines()
RECORDS = [line for line in LINES if not line.startswith("HDR")]
LIBRARY = demo_database()
BOX_LAT, BOX_LON = (-37.0, -26.0), (-6.0, 10.0)

# The columns are read here a second time, by themselves, so that the reader of the program is no witness for the file.


def columns(record: str, first: int, last: int) -> str:
    return record[first - 1 : last]


def degrees(text: str) -> float:
    letter, digits = text[0], text[1:]
    whole, minutes, hundredths = int(digits[:-6]), int(digits[-6:-4]), int(digits[-4:])
    return (-1 if letter in "SW" else 1) * (whole + minutes / 60 + hundredths / 360000)


def place(text: str) -> tuple[float, float]:
    return degrees(text[:9]), degrees(text[9:])


def east(text: str) -> float:
    return (-1 if text[0] == "W" else 1) * int(text[1:]) / 10


def is_kind(record: str, section: str, subsection: str = "") -> bool:
    return columns(record, 5, 6) == section and (not subsection or columns(record, 13, 13) == subsection)


class Known(NamedTuple):
    """A place of the file with the variation or declination of its record."""

    lat: float
    lon: float
    variation: float


def known_places() -> dict[tuple[str, str, str], Known]:
    found = {}
    for r in RECORDS:
        if columns(r, 5, 6) not in ("EA", "D ", "DB"):
            continue
        position = columns(r, 33, 51) if columns(r, 33, 51).strip() else columns(r, 56, 74)
        key = (columns(r, 14, 18).strip(), columns(r, 20, 21), columns(r, 5, 6))
        assert key not in found, "a key that is there twice cannot be referred to"
        found[key] = Known(*place(position), east(columns(r, 75, 79)))
    return found


PLACES = known_places()
AIRWAY_RECORDS = [r for r in RECORDS if is_kind(r, "ER")]


def key_of_fix(record: str) -> tuple[str, str, str]:
    return columns(record, 30, 34).strip(), columns(record, 35, 36), columns(record, 37, 38)


def segments() -> list[tuple[str, str]]:
    """Neighbouring records of one continuous piece."""
    pairs = pairwise(AIRWAY_RECORDS)
    return [(a, b) for a, b in pairs if columns(a, 14, 18) == columns(b, 14, 18) and columns(a, 41, 41) != "E"]


def geodesic(a: Known, b: Known) -> tuple[float, float, float]:
    line = Geodesic.WGS84.Inverse(a.lat, a.lon, b.lat, b.lon)
    return line["azi1"] % 360, line["azi2"] % 360, line["s12"] / 1852


def apart(a: float, b: float) -> float:
    return abs((a - b + 180) % 360 - 180)


def test_made_again_it_is_the_same_byte_for_byte(tmp_path: Path) -> None:
    subprocess.run([sys.executable, str(DEMO / "make_region.py"), str(tmp_path)], check=True, cwd=tmp_path)
    for file in ("demo_region.txt", "islands.json"):
        assert (tmp_path / file).read_bytes() == (DEMO / file).read_bytes(), (
            f"run make_region.py: {file} is not its work"
        )


def test_every_line_has_132_columns_and_says_that_nothing_is_real() -> None:
    assert {len(line) for line in LINES} == {132}
    header = [line for line in LINES if line.startswith("HDR")]
    assert any("INVENTED REGION, NOT FOR NAVIGATION" in line for line in header)
    assert any("EFFECTIVE 26 NOV 2026" in line for line in header)
    assert int(columns(header[0], 29, 35)) == len(LINES)
    assert [int(columns(r, 124, 128)) for r in RECORDS] == list(range(1, len(RECORDS) + 1))


def test_the_library_rejects_no_record_and_knows_it_for_invented() -> None:
    (source,) = LIBRARY.sources
    assert source.rejected == ()
    assert source.count_of("rejected") == source.count_of("other records") == 0
    assert source.invented
    assert (source.cycle, str(source.effective), str(source.until)) == ("2612", "2026-11-26", "2026-12-24")


def test_it_holds_as_much_as_was_asked_for() -> None:
    count = Counter(columns(r, 5, 6) + (columns(r, 13, 13) if columns(r, 5, 6) == "P " else "") for r in RECORDS)
    with_vor = sum(is_kind(r, "D ") and columns(r, 33, 51).strip() != "" for r in RECORDS)
    assert count["P A"] == 6
    assert count["EA"] >= 80
    assert with_vor >= 6
    assert count["D "] - with_vor == 1
    assert count["DB"] >= 3
    assert count["P C"] >= 12
    assert len({columns(r, 14, 18) for r in AIRWAY_RECORDS}) >= 10
    assert count["AS"] == 12
    assert count["PN"] == 1


@pytest.mark.parametrize("airport", ["XVAL", "XVOR"])
@pytest.mark.parametrize("kind", ["SID", "STAR"])
def test_both_main_airports_have_four_of_each(airport: str, kind: str) -> None:
    assert len(LIBRARY.procedure_names(airport, kind)) == 4


def positioned(record: str) -> bool:
    """Whether it is an airport, a runway end, a terminal fix or a terminal navaid."""
    return is_kind(record, "PN") or any(is_kind(record, "P ", kind) for kind in "AGC")


def test_everything_lies_in_the_box_of_empty_ocean() -> None:
    spots = [PLACES[key][:2] for key in PLACES]
    spots += [place(columns(r, 33, 51)) for r in RECORDS if positioned(r)]
    spots += [tuple(corner) for island in outlines().values() for corner in island]
    assert len(spots) > 150
    assert all(BOX_LAT[0] <= lat <= BOX_LAT[1] and BOX_LON[0] <= lon <= BOX_LON[1] for lat, lon in spots)


def test_every_airway_reference_is_a_place_and_ends_are_marked() -> None:
    assert all(key_of_fix(r) in PLACES for r in AIRWAY_RECORDS)
    pieces = Counter(columns(r, 14, 18).strip() for r in AIRWAY_RECORDS if columns(r, 41, 41) == "E")
    assert pieces.pop("V27") == 2
    assert set(pieces.values()) == {1}


def test_coded_distances_and_courses_are_the_geodesics() -> None:
    for a, b in segments():
        start, end = PLACES[key_of_fix(a)], PLACES[key_of_fix(b)]
        leaving, arriving, length = geodesic(start, end)
        assert int(columns(a, 75, 78)) / 10 == pytest.approx(length, abs=0.0501)
        assert apart(int(columns(a, 71, 74)) / 10, leaving - alignment(a, start)) <= 0.5
        assert apart(int(columns(b, 79, 82)) / 10, arriving - alignment(b, end)) <= 0.5


def alignment(record: str, at: Known) -> float:
    """The station's own on radials, else the field: for a VOR of an area-navigation airway a neighbour's will do."""
    if columns(record, 37, 38) == "D " and columns(record, 45, 45) == "R":
        near = [p for key, p in PLACES.items() if key[2] == "EA"]
        return min(near, key=lambda p: geodesic(at, p)[2]).variation
    return at.variation


def test_airway_legs_are_of_ordinary_length_and_bend_gently() -> None:
    legs = [(a, b, geodesic(PLACES[key_of_fix(a)], PLACES[key_of_fix(b)])) for a, b in segments()]
    assert all(30 <= length <= 120 for _, _, (_, _, length) in legs)
    for (_, middle, before), (on_from, _, after) in pairwise(legs):
        if middle is on_from:
            assert apart(before[1], after[0]) <= 45


def test_minima_are_given_unknown_once_and_higher_one_way_once() -> None:
    minima = [columns(a, 84, 88) for a, _ in segments()]
    assert minima.count("UNKNN") == 1
    assert all(m == "UNKNN" or 3000 <= int(m) <= 24500 for m in minima)
    assert [columns(a, 89, 93) for a, _ in segments() if columns(a, 89, 93).strip()] == ["08000"]


def test_one_airway_is_one_way() -> None:
    assert {columns(r, 14, 18).strip() for r in AIRWAY_RECORDS if columns(r, 47, 47) == "F"} == {"T16"}
    (t16,) = LIBRARY.airways("T16")
    assert {segment.one_way for segment in t16.segments} == {"F"}


def names_on(designator: str) -> list[str]:
    return [f"{p.ident}/{p.region}" for piece in LIBRARY.airways(designator) for p in piece.places]


@pytest.mark.parametrize(
    ("first", "second", "common"),
    [
        ("UM12", "UN34", ["UVAGI/XV"]),
        ("UL7", "J61", ["SARNO/XV"]),
        ("UN21", "UN46", ["ROPIN/XW", "MUVEK/XW"]),
        ("UM12", "M12", ["VAL/XV", "LENDU/XV", "PIKAR/XV", "UVAGI/XV"]),
        ("UM12", "UN21", []),
        ("UM12", "UL7", []),
    ],
)
def test_airways_meet_where_the_readme_says(first: str, second: str, common: list[str]) -> None:
    assert [name for name in names_on(first) if name in names_on(second)] == common


def test_the_sketch_holds() -> None:
    north, south = sorted(LIBRARY.places("TOVIK"), key=lambda p: -p.lat)
    apart_nm = geodesic(Known(north.lat, north.lon, 0), Known(south.lat, south.lon, 0))[2]
    assert apart_nm == pytest.approx(41, abs=0.5)
    assert "TOVIK/XV" in names_on("UM12")
    assert "TOVIK/XW" in names_on("M12")
    um12 = names_on("UM12")
    assert um12.index("LENDU/XV") + 1 == um12.index("PIKAR/XV") == um12.index("UVAGI/XV") - 1
    assert "PIKOR/XW" not in um12
    west, east_end = LIBRARY.airport("XVAL"), LIBRARY.airport("XVOR")
    assert west is not None
    assert east_end is not None
    assert geodesic(Known(west.lat, west.lon, 0), Known(east_end.lat, east_end.lon, 0))[2] == pytest.approx(606, abs=1)


def test_only_tovik_is_there_twice() -> None:
    idents = Counter(key[0] for key in PLACES)
    idents.update(columns(r, 14, 18).strip() for r in RECORDS if is_kind(r, "P ", "C") or is_kind(r, "PN"))
    assert [ident for ident, times in idents.items() if times > 1] == ["TOVIK"]


def test_one_station_has_an_old_alignment_and_the_others_do_not() -> None:
    off = {}
    for (ident, _, section), spot in PLACES.items():
        if section == "D ":
            near = min((p for key, p in PLACES.items() if key[2] == "EA"), key=lambda p: geodesic(spot, p)[2])
            off[ident] = apart(spot.variation, near.variation)
    assert off.pop("KEL") == pytest.approx(4.4, abs=0.5)
    assert max(off.values()) < 1.0


def test_a_dme_alone_is_placed_by_its_dme() -> None:
    (teb,) = LIBRARY.places("TEB")
    assert teb.kind is PlaceKind.DME


def test_runways_point_from_one_end_to_the_other() -> None:
    fields = {columns(r, 7, 10): east(columns(r, 52, 56)) for r in RECORDS if is_kind(r, "P ", "A")}
    ends = [r for r in RECORDS if is_kind(r, "P ", "G")]
    assert {columns(r, 7, 10) for r in ends} == set(fields)
    for low, high in zip(ends[::2], ends[1::2], strict=True):
        here, there = (Known(*place(columns(r, 33, 51)), 0) for r in (low, high))
        course, arriving, length = geodesic(here, there)
        variation = fields[columns(low, 7, 10)]
        assert length * 1852 / 0.3048 == pytest.approx(int(columns(low, 23, 27)), abs=2)
        assert apart(int(columns(low, 28, 31)) / 10, course - variation) < 0.1
        assert apart(int(columns(high, 28, 31)) / 10, arriving + 180 - variation) < 0.1
        assert apart(10 * int(columns(low, 16, 17)), course - variation) <= 5.1
        assert apart(10 * int(columns(high, 16, 17)), arriving + 180 - variation) <= 5.1


LEG_TYPES = {"IF", "TF", "CF", "DF", "RF", "AF", "FC", "FM", "CA", "VA", "VD", "VI", "VM", "HF", "HM"}


def procedure_rows() -> list[str]:
    return [r for r in RECORDS if any(is_kind(r, "P ", kind) for kind in "DEF")]


def test_procedures_have_legal_route_types_and_leg_types() -> None:
    allowed = {"D": "456", "E": "456", "F": "AIR"}
    runway_types = {"D": "4", "E": "6"}
    for r in procedure_rows():
        kind, route_type, branch = columns(r, 13, 13), columns(r, 20, 20), columns(r, 21, 25).strip()
        assert route_type in allowed[kind]
        assert (branch == "ALL") == (kind != "F" and route_type == "5")
        assert branch.startswith("RW") == (route_type == runway_types.get(kind))
        assert columns(r, 48, 49) in LEG_TYPES
        assert columns(r, 83, 83) in " +-B" or kind == "F"


def test_coded_legs_refer_to_what_is_there() -> None:
    local = {
        (columns(r, 14, 18).strip(), columns(r, 11, 12), columns(r, 7, 10), f"P{columns(r, 13, 13)}")
        for r in RECORDS
        if any(is_kind(r, "P ", kind) for kind in "CG")
    }
    local |= {
        (columns(r, 14, 17).strip(), columns(r, 11, 12), columns(r, 7, 10), "PI")
        for r in RECORDS
        if is_kind(r, "P ", "I")
    }
    for r in procedure_rows():
        for ident, region, section in (((30, 34), (35, 36), (37, 38)), ((51, 54), (55, 56), (79, 80)),
                                       ((107, 111), (113, 114), (115, 116))):  # fmt: skip
            key = columns(r, *ident).strip(), columns(r, *region), columns(r, *section)
            assert not key[0] or key in PLACES or (key[0], key[1], columns(r, 7, 10), key[2]) in local


def test_every_branch_of_a_procedure_ends_once() -> None:
    rows = procedure_rows()
    last = [a for a, b in zip(rows, [*rows[1:], ""], strict=True) if columns(b, 27, 29) in ("010", "")]
    assert all(columns(r, 41, 41) in "EB" for r in last)
    assert sum(columns(r, 41, 41) in "EB" for r in rows) == len(last)


def outlines() -> dict[str, list[list[float]]]:
    return {i["name"]: i["outline"] for i in json.loads((DEMO / "islands.json").read_text("utf-8"))["islands"]}


def within(lat: float, lon: float, ring: list[list[float]]) -> bool:
    inside = False
    for (lat1, lon1), (lat2, lon2) in pairwise(ring):
        if (lat1 > lat) != (lat2 > lat) and lon < lon1 + (lat - lat1) / (lat2 - lat1) * (lon2 - lon1):
            inside = not inside
    return inside


def test_every_airport_stands_on_an_island_of_its_name() -> None:
    rings = outlines()
    assert all(ring[0] == ring[-1] and 40 <= len(set(map(tuple, ring))) <= 80 for ring in rings.values())
    for r in RECORDS:
        if is_kind(r, "P ", "A"):
            assert within(*place(columns(r, 33, 51)), rings[columns(r, 94, 123).strip()])


def test_grid_minima_are_above_the_ground_and_unknown_outside() -> None:
    assert LIBRARY.mora_ft(-31.5, 8.5) == 5200
    assert LIBRARY.mora_ft(-29.9, 0.1) == 7300
    assert LIBRARY.mora_ft(-36.5, -3.5) == 1000
    assert LIBRARY.mora_ft(-31.5, -15.0) is None


def test_the_readme_names_every_airway_in_order() -> None:
    text = (DEMO / "README.md").read_text("utf-8")
    for designator in {columns(r, 14, 18).strip() for r in AIRWAY_RECORDS}:
        row = next(line for line in text.splitlines() if line.startswith(f"| {designator} |"))
        fixes = row.split("|")[2].replace(", then", "").split()
        assert fixes == [name.partition("/")[0] for name in names_on(designator)]
