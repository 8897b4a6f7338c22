"""Whatever bytes come in: an answer or a refusal in words, never a crash and never a place off the earth."""

import functools
import lzma
import pathlib

import pytest
from arinc_records import read
from hypothesis import given, settings
from hypothesis import strategies as st

from routecheck.navdata import readers
from routecheck.navdata.coverage import RecordKind
from routecheck.navdata.data_reader import MOST_LISTED
from routecheck.navdata.database import NavDatabase
from routecheck.settings import DataError

EXCERPT = pathlib.Path(__file__).resolve().parents[1] / "data" / "faa_cifp_2301_northeast.txt.xz"


@functools.cache
def real_records() -> list[str]:
    """Some of every section, so that each reader is met."""
    by_section: dict[str, list[str]] = {}
    with lzma.open(EXCERPT, "rt", encoding="latin-1") as lines:
        for line in lines:
            by_section.setdefault(line[4:6] + line[12], []).append(line.rstrip("\n"))
    return [line for lines in by_section.values() for line in lines[:: max(1, len(lines) // 12)]]


def check(lines: list[str]) -> None:
    try:
        tables = read(lines, "any")
    except DataError:
        return
    database = NavDatabase.from_tables(tables)
    places = [place for name in database.names() for place in database.places(name)]
    for place in (*places, *tables.airports.values()):
        assert -90 <= place.lat <= 90
        assert -180 <= place.lon <= 180
        assert place.ident.isalnum()
        for degrees in (place.variation_deg, place.declination_deg):
            assert degrees is None or -180 <= degrees <= 180
        assert database.covers(RecordKind.FIX, place.lat, place.lon) in (True, False)
        database.mora_ft(place.lat, place.lon)
    for designator, _ in tables.airways:
        for airway in database.airways(designator):
            assert len(airway.segments) == len(airway.places) - 1
    used = sum(n for what, n in tables.source.counts if what not in ("other records", "rejected"))
    assert used > 0
    assert len(tables.source.rejected) == min(tables.source.count_of("rejected"), MOST_LISTED)


@given(st.binary(max_size=3_000))
def test_random_bytes_in_a_file(tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    path = tmp_path_factory.mktemp("any") / "data"
    path.write_bytes(content)
    with pytest.raises(DataError):
        readers.read_file(path)


@given(st.sampled_from(["\x1f\x8b", "\xfd7zXZ\0", "PK\x03\x04", "PK\x05\x06"]), st.binary(max_size=300))
def test_random_bytes_after_the_mark_of_a_packing(
    tmp_path_factory: pytest.TempPathFactory, mark: str, content: bytes
) -> None:
    path = tmp_path_factory.mktemp("any") / "data"
    path.write_bytes(mark.encode("latin-1") + content)
    with pytest.raises(DataError):
        readers.read_file(path)


@given(st.lists(st.text(st.characters(max_codepoint=255), max_size=140), max_size=20))
def test_random_lines(lines: list[str]) -> None:
    check(lines)


@pytest.mark.real_data
@settings(max_examples=200)
@given(st.data())
def test_real_records_with_a_few_characters_changed(data: st.DataObject) -> None:
    lines = data.draw(st.lists(st.sampled_from(real_records()), min_size=1, max_size=12))
    mutated = []
    for line in lines:
        letters = list(line)
        for at in data.draw(st.lists(st.integers(0, 131), max_size=6)):
            letters[at % len(letters)] = data.draw(st.sampled_from(" 0179ANSEWKZ-+T\0é²"))
        mutated.append("".join(letters)[: data.draw(st.integers(1, 140))])
    check(mutated)
