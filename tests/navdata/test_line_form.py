"""Navigation data is neutral of its source: the demo region in a second form gives the same results everywhere."""

import datetime as dt
import json
import pathlib

import pytest
from arinc_records import fix
from arinc_records import read as read_records
from line_form import HEAD, LineReader, write_lines
from test_sqlite_image import assert_same_answers, through_an_image

from routecheck.navdata import readers, store
from routecheck.navdata.database import NavDatabase, demo_database, load_navdata
from routecheck.pipeline import assess_many
from routecheck.reading.inputs import read_input
from routecheck.report import jsonl
from routecheck.settings import DataError, Settings

DAY = dt.date(2026, 12, 3)


@pytest.fixture(autouse=True)
def two_forms(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(readers, "READERS", (*readers.READERS, LineReader()))


@pytest.fixture(scope="module")
def text() -> str:
    return write_lines(demo_database())


@pytest.fixture
def second(text: str) -> NavDatabase:
    return NavDatabase.from_tables(readers.read_text(text, "demo region"))


def results(database: NavDatabase, folder: pathlib.Path) -> list[str]:
    files = sorted(folder.rglob("*.toml"))
    assert len(files) > 50
    routes = [route for file in files for route in read_input(file.read_bytes(), file.name)]
    return [jsonl.format_line(one) for one in assess_many(routes, database, Settings(), DAY)]


@pytest.mark.slow
def test_all_sample_routes_have_the_same_result(second: NavDatabase, root: pathlib.Path) -> None:
    first = results(demo_database(), root / "sample_routes")
    assert results(second, root / "sample_routes") == first
    assert any('"weight":"wrong"' in line for line in first)


def test_every_question_has_the_same_answer(second: NavDatabase) -> None:
    assert_same_answers(demo_database(), second)
    assert second.coverage == demo_database().coverage
    assert {block.reader for block in second.records.blocks.values()} == {"lines"}


def test_it_is_compiled_and_opened_again(second: NavDatabase) -> None:
    assert_same_answers(second, through_an_image(second))


@pytest.mark.usefixtures("own_store")
def test_the_store_keeps_it_beside_the_other_form(text: str, tmp_path: pathlib.Path) -> None:
    (tmp_path / "region").write_text(text)
    (tmp_path / "records").write_text(fix("ZAQIP", 1, 1))
    store.add_file(tmp_path / "region")
    store.add_file(tmp_path / "records")
    opened = store.open_store()
    assert opened is not None
    assert sorted(source.name for source in opened.sources) == ["records", "region"]
    assert_same_answers(load_navdata([tmp_path / "records", tmp_path / "region"]), opened)


def test_a_procedure_of_one_form_goes_by_a_fix_of_the_other(text: str) -> None:
    """The fix is only in ARINC 424 records, the procedure only in the other form."""
    lines = [line for line in text.splitlines() if '"ident":"PIKAR"' not in line]
    (pikar,) = demo_database().places("PIKAR")
    elsewhere = read_records([fix("PIKAR", pikar.lat, pikar.lon, pikar.region)])
    database = NavDatabase.from_tables(readers.read_text("\n".join(lines), "lines"), elsewhere)
    legs = [
        leg
        for airport in database.records.blocks
        for kind, name in database.records.procedures[airport]
        for branch in (database.procedure(airport, kind, name) or pytest.fail(name)).branches
        for leg in branch.legs
        if leg.fix_ident == "PIKAR"
    ]
    assert legs
    assert {leg.fix.source for leg in legs if leg.fix} == {"test"}
    assert len(database.airways("UM12")) == 1


def test_a_file_of_no_known_form_names_all_forms() -> None:
    with pytest.raises(DataError, match="or lines of a made-up form in it"):
        readers.read_text("hello", "hello")
    with pytest.raises(DataError, match="it has no records"):
        readers.read_text(HEAD + "}", "bare")


def test_the_form_itself_has_no_column_of_the_other(text: str) -> None:
    kinds = [json.loads(line).get("record") for line in text.splitlines()]
    assert kinds[0] is None
    assert set(kinds[1:]) == {"minimum", "procedures", "segment", "runway", "place"}
    assert "SXVI" not in text
