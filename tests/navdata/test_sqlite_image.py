"""An image of records says what the records say: every question, every answer, on real, merged and damaged data."""

import sqlite3
import threading
from collections.abc import Callable, Iterable, ValuesView
from contextlib import closing
from dataclasses import fields

import pytest
from arinc_records import HEADERS, fix, leg, procedure, read, runway
from hypothesis import given, settings
from hypothesis import strategies as st
from test_any_bytes import real_records

from routecheck.model import Place, PlaceKind
from routecheck.navdata import sqlite_image
from routecheck.navdata.coverage import RecordKind
from routecheck.navdata.database import NavDatabase, demo_database, empty_database, merge_sources
from routecheck.navdata.sqlite_image import Image, ImageError, compile_image
from routecheck.navdata.tables import Records, Tables
from routecheck.settings import DataError

POSITIONS = [
    *(
        (lat, lon)
        for lat in (-90.0, -31.5, 0.0, 40.0, 40.6, 64.2, 90.0)
        for lon in (-180.0, -149.5, -73.8, 12.3, 180.0)
    ),
    (41.0, -74.0),
    (38.85, -77.04),
]


def silent(_share: float) -> None:
    pass


def reopened(*tables: Tables) -> NavDatabase:
    stored = Image(compile_image(*merge_sources(tables), silent))
    return NavDatabase(stored, stored.sources)


@pytest.fixture(scope="module")
def stored_northeast(northeast: NavDatabase) -> NavDatabase:
    return through_an_image(northeast)


def through_an_image(database: NavDatabase) -> NavDatabase:
    stored = Image(compile_image(database.records, database.sources, silent))
    return NavDatabase(stored, stored.sources)


def assert_same_answers(one: NavDatabase, other: NavDatabase, *, every: int = 1, farthest_nm: float = 400.0) -> None:
    """Airways, airports and procedures exhaustively, idents each `every`-th, neighbourhoods of some positions."""
    assert one.sources == other.sources
    assert set(one.names()) == set(other.names())
    assert set(one.airway_names()) == set(other.airway_names())
    idents = sorted(one.names())[::every]
    for ident in [*idents, "NOSUQ", ""]:
        assert one.places(ident) == other.places(ident)
        assert one.airways_through(ident) == other.airways_through(ident)
    for beginning in ("", "B", "BO", "ZZZZ"):
        assert sorted(one.spots(beginning)) == sorted(other.spots(beginning))
    for designator in [*one.airway_names(), "UZ9"]:
        assert one.airways(designator) == other.airways(designator)
    airports = [*one.records.airports, "EGLL", "XVQZ"]
    assert list(one.records.airports) == list(other.records.airports)
    for ident in airports:
        assert one.airport(ident) == other.airport(ident)
        assert one.runways(ident) == other.runways(ident)
    assert_same_procedures(one, other)
    for lat, lon in POSITIONS:
        assert one.covers(RecordKind.FIX, lat, lon) == other.covers(RecordKind.FIX, lat, lon)
        assert one.mora_ft(lat, lon) == other.mora_ft(lat, lon)
        for radius_nm in (0.0, 30.0, farthest_nm):
            assert list(one.places_within(lat, lon, radius_nm)) == list(other.places_within(lat, lon, radius_nm))


def assert_same_procedures(one: NavDatabase, other: NavDatabase) -> None:
    assert set(one.records.blocks) == set(other.records.blocks)
    for airport in [*one.records.blocks][::40]:
        assert one.terminal_fixes(airport) == other.terminal_fixes(airport)
        for kind in ("SID", "STAR", "APPROACH"):
            for name in one.procedure_names(airport, kind):
                assert one.procedure(airport, kind, name) == other.procedure(airport, kind, name) is not None
    airports = [*one.records.procedures, "XVQZ"]
    assert set(one.records.procedures) == set(other.records.procedures)
    for airport in airports:
        for kind in ("SID", "STAR"):
            names = one.procedure_names(airport, kind)
            assert other.procedure_names(airport, kind) == names
            for name in (*names, "NOSUQ1"):
                assert one.procedure_kinds(airport, name) == other.procedure_kinds(airport, name)
                assert one.transitions(airport, name) == other.transitions(airport, name)
                assert one.procedure_airports(name) == other.procedure_airports(name)


def test_the_excerpt(northeast: NavDatabase, stored_northeast: NavDatabase) -> None:
    assert_same_answers(northeast, stored_northeast)
    assert dict(northeast.records.blocks) == dict(stored_northeast.records.blocks)


def test_the_whole_country(country: NavDatabase) -> None:
    stored = through_an_image(country)
    assert_same_answers(country, stored, every=17, farthest_nm=60.0)
    cells = country.records.by_cell
    assert {cell: list(cells[cell]) for cell in cells} == {cell: list(stored.records.by_cell[cell]) for cell in cells}


def test_the_demo_region() -> None:
    assert_same_answers(demo_database(), through_an_image(demo_database()))


def test_nothing_at_all() -> None:
    assert_same_answers(empty_database(), through_an_image(empty_database()))


def test_which_airways_go_by_a_point_is_what_their_pieces_say(northeast: NavDatabase) -> None:
    by_pieces: dict[str, set[str]] = {}
    for designator in northeast.airway_names():
        for piece in northeast.airways(designator):
            for place in piece.places:
                by_pieces.setdefault(place.ident, set()).add(designator)
    for ident in northeast.names():
        assert northeast.airways_through(ident) == by_pieces.get(ident, set())


def contents(records: Records) -> list[object]:
    kept = [records.places, records.airports, records.runways, records.airways, records.mora]
    kept += [records.procedures, records.blocks, records.coverage]
    grouped = [records.by_ident, records.by_cell, records.areas, records.through, records.procedure_airports]
    cells = {cell: sorted(areas) for cell, areas in records.area_cells.items()}
    return [*({k: plain(one[k]) for k in one} for one in (*kept, *grouped)), cells]


def plain(value: object) -> object:
    if isinstance(value, set | frozenset):
        return sorted(value)
    return list(value) if isinstance(value, list | ValuesView) else value


@pytest.mark.real_data
@settings(max_examples=100)
@given(st.data())
def test_real_records_with_a_few_characters_changed(data: st.DataObject) -> None:
    mutated = []
    for line in data.draw(st.lists(st.sampled_from(real_records()), min_size=1, max_size=15)):
        letters = list(line)
        for at in data.draw(st.lists(st.integers(0, 131), max_size=4)):
            letters[at % len(letters)] = data.draw(st.sampled_from(" 0179ANSEWKZ-+T\0é²\x80\xff"))
        mutated.append("".join(letters))
    try:
        tables = read(mutated, "any \udcff")
    except DataError:
        return
    stored = Image(compile_image(*merge_sources([tables]), silent))
    assert contents(stored) == contents(tables)
    assert stored.sources == (tables.source,)


def test_several_sources_keep_their_names_and_order() -> None:
    old = read(["HDR04 VOLUME 2601", fix("ZAQIP", 1, 1), fix("TOVIZ", 2, 2), "junk"], "old")
    new = read(["HDR04 VOLUME 2602", fix("ZAQIP", 3, 3)], "new")
    database = reopened(new, old)
    assert_same_answers(NavDatabase.from_tables(new, old), database)
    assert [(p.lat, p.source) for name in ("ZAQIP", "TOVIZ") for p in database.places(name)] == [(3, "new"), (2, "old")]
    assert [source.name for source in database.sources] == ["new", "old"]
    assert database.sources[1].rejected == ((4, "not an ARINC 424 record"),)


def test_no_field_of_a_place_is_forgotten() -> None:
    assert ["ident", *sqlite_image.PLACE_COLUMNS.split(", ")] == [field.name for field in fields(Place)]


def test_kinds_and_numbers_come_back_as_what_they_were() -> None:
    legs = [leg("UZ5", 1, "ZAQIP"), leg("UZ5", 2, "TOVIZ", end="E")]
    lines = [*HEADERS, fix("ZAQIP", -31.0, 12.0), *legs, runway("XVZZ", "RW09", 1.0, 2.0)]
    records = reopened(read([*lines, procedure("XVZZ", "D", "ZAQIP1", "5")])).records
    (place,) = records.by_ident["ZAQIP"]
    assert place.kind is PlaceKind.FIX
    assert (type(place.lat), place.elevation_ft) == (float, None)
    assert place.rnav is False
    (segment,) = records.airways["UZ5", "XXX"]
    assert segment.ends is True
    assert segment.start == ("fix", "", "ZAQIP", "XX")
    assert {kind: number for (_, kind), number in records.coverage.items()}[RecordKind.FIX] == 1
    assert records.procedures["XVZZ"] == {("SID", "ZAQIP1"): frozenset()}


def test_progress_grows_and_may_stop(northeast: NavDatabase) -> None:
    told: list[float] = []
    compile_image(northeast.records, northeast.sources, told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0
    assert len(told) > 2

    def stop(_share: float) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        compile_image(northeast.records, northeast.sources, stop)


@pytest.mark.parametrize("content", [b"", b"\0" * 5_000, b"SQLite format 3\0" + b"\1" * 5_000])
def test_what_is_no_image(content: bytes) -> None:
    with pytest.raises(ImageError):
        Image(content)


def test_another_database_is_no_image() -> None:
    with closing(sqlite3.connect(":memory:")) as database:
        database.execute("CREATE TABLE flights (number)")
        content = database.serialize()
    with pytest.raises(ImageError, match="no such table: source"):
        Image(content)


def at_once(work: Callable[[], Iterable[object]], threads: int) -> list[list[object]]:
    answers: list[list[object]] = []
    gate = threading.Barrier(threads)

    def run() -> None:
        gate.wait()
        answers.append(list(work()))

    running = [threading.Thread(target=run) for _ in range(threads)]
    for thread in running:
        thread.start()
    for thread in running:
        thread.join()
    return answers


def test_several_threads_ask_at_once(northeast: NavDatabase) -> None:
    stored = through_an_image(northeast)
    idents, designators = sorted(northeast.names())[:300], sorted(northeast.airway_names())[:100]

    def ask() -> Iterable[object]:
        for ident in idents:
            yield stored.places(ident)
        for designator in designators:
            yield stored.airways(designator)
        yield list(stored.places_within(40.6, -73.8, 60.0))

    answers = at_once(ask, 6)
    expected = [*map(northeast.places, idents), *map(northeast.airways, designators)]
    assert len(answers) == 6
    assert all(answer == [*expected, list(northeast.places_within(40.6, -73.8, 60.0))] for answer in answers)
