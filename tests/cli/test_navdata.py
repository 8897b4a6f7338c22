"""`routecheck navdata`, and which navigation data a run uses."""

import datetime as dt
import io
import json
import pathlib
import sys

import pytest

from routecheck.cli import navdata
from routecheck.cli.loading import load_database
from routecheck.cli.main import main
from routecheck.navdata import store
from routecheck.navdata.choice import DataChoice
from routecheck.presentation.data_sources import SEVERAL_SOURCES

READ = "cycle 2301, 15,370 records read, 0 rejected, 385,106 announced: 369,736 records are missing"


@pytest.fixture(autouse=True)
def own_store(tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "user"))


@pytest.fixture
def excerpt(test_data: pathlib.Path) -> pathlib.Path:
    return test_data / "faa_cifp_2301_northeast.txt.xz"


NAME = "faa_cifp_2301_northeast.txt.xz"


def fix(ident: str, lat: int) -> str:
    """An EA record (ident 14, region 20, position 33, cycle 129) of an invented fix."""
    return f"SXXXEAENRT   {ident} XX0{'':10}N{lat:02d}000000E012000000".ljust(128) + "2601"


def written(folder: pathlib.Path, name: str, *lines: str, volume: str = "2612") -> pathlib.Path:
    path = folder / name
    path.write_text("\n".join([f"HDR04 VOLUME {volume}", *lines]))
    return path


def said(capsys: pytest.CaptureFixture[str], *arguments: object, code: int = 0) -> str:
    assert main(["navdata", *map(str, arguments)]) == code
    out, err = capsys.readouterr()
    assert not (out and err)
    return out or err


def test_nothing_was_added(capsys: pytest.CaptureFixture[str]) -> None:
    assert "No navigation data was added: the invented demo region is used." in said(capsys, "list")
    assert said(capsys, "remove", "x", code=2).startswith("routecheck: there is no navigation data called x")


def test_added_listed_removed(capsys: pytest.CaptureFixture[str], excerpt: pathlib.Path) -> None:
    added = said(capsys, "add", excerpt)
    assert added.startswith(f"Added {NAME}\n  Cycle 2301, 26 JAN 2023 to 22 FEB 2023. Not for today, ")
    assert "enroute fixes 4,983, terminal fixes 1,043, VHF navaids 440" in added
    listed = said(capsys, "list")
    assert added.removeprefix("Added ") in listed
    assert f"A copy of each file is kept, so the files themselves are no longer needed: {store.folder()}" in listed
    assert said(capsys, "remove", NAME) == (
        f"Removed {NAME}.\nNothing else was added: the invented demo region is used.\n"
    )


def test_what_is_current_and_what_is_not_dated(
    capsys: pytest.CaptureFixture[str], tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(navdata, "today_utc", lambda: dt.date(2026, 12, 23))
    assert "  Cycle 2612, 26 NOV 2026 to 23 DEC 2026.\n" in said(capsys, "add", written(tmp_path, "a", fix("ZAQIP", 1)))
    path = tmp_path / "b"
    path.write_text(fix("ZAQIP", 1)[:128])
    assert "  Cycle not said: it is not known for which days it holds.\n" in said(capsys, "add", path)


def test_rejected_records_are_shown(capsys: pytest.CaptureFixture[str], tmp_path: pathlib.Path) -> None:
    path = written(tmp_path, "data", fix("ZAQIP", 1), *(f"junk {n}" for n in range(1_200)))
    added = said(capsys, "add", path)
    assert (
        "  1,200 records rejected, of which 1,000 are listed:\n    line 3: not an ARINC 424 record\n    line 4:"
        in added
    )
    assert "line 6:" not in added
    assert "    … the others: routecheck navdata list --rejected\n" in added
    listed = said(capsys, "list", "--rejected")
    assert listed.count("    line ") == 1_000


def test_several_together(capsys: pytest.CaptureFixture[str], tmp_path: pathlib.Path) -> None:
    old, new = (written(tmp_path, name, fix("ZAQIP", n), volume=f"26{n:02d}") for name, n in (("old", 11), ("new", 12)))
    assert SEVERAL_SOURCES not in said(capsys, "add", new)
    assert SEVERAL_SOURCES in said(capsys, "add", old)
    listed = said(capsys, "list")
    assert listed.index("new\n") < listed.index("old\n") < listed.index(SEVERAL_SOURCES)
    assert said(capsys, "remove", "old") == "Removed old.\nStill in use: new.\n"
    assert "It takes the place of the file of that name" in said(capsys, "add", new)


def test_several_files_in_one_go(capsys: pytest.CaptureFixture[str], tmp_path: pathlib.Path) -> None:
    one, bad = written(tmp_path, "one", fix("ZAQIP", 1)), written(tmp_path, "bad")
    assert main(["navdata", "add", str(one), str(bad)]) == 3
    out, err = capsys.readouterr()
    assert out.startswith("Added one\n")
    assert err.startswith(f"routecheck: {bad}: ")
    assert [file.name for file in store.stored_files()] == ["one"]


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (
            [],
            2,
            "routecheck: the following arguments are required: add | list | remove. See routecheck navdata --help.",
        ),
        (["mend"], 2, "“mend” is none of add, list, remove"),
        (["add"], 2, "required: FILE. See routecheck navdata add --help."),
        (["add", "nowhere.txt"], 2, "routecheck: nowhere.txt: there is no such file"),
        (["remove"], 2, "required: NAME"),
        (["list", "--reject"], 2, "--reject"),
    ],
)
def test_wrong_calls(capsys: pytest.CaptureFixture[str], arguments: list[str], code: int, told: str) -> None:
    assert told in said(capsys, *arguments, code=code)


@pytest.mark.parametrize("action", [[], ["add"], ["list"], ["remove"]])
def test_help_has_examples(capsys: pytest.CaptureFixture[str], action: list[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(["navdata", *action, "--help"])
    assert end.value.code == 0
    assert f"examples:\n  routecheck navdata {' '.join(action)}" in capsys.readouterr().out


def test_what_cannot_be_mended_is_said_on_every_run(capsys: pytest.CaptureFixture[str], tmp_path: pathlib.Path) -> None:
    said(capsys, "add", written(tmp_path, "one", fix("ZAQIP", 1)))
    for path in store.folder().iterdir():
        if path.suffix != ".record":
            path.write_bytes(b"")
    for arguments in (["navdata", "list"], ["proof", "--route", "DCT"]):
        assert main(arguments) == 3
        assert "Add the file again, or remove it: routecheck navdata remove one" in capsys.readouterr().err
    said(capsys, "add", tmp_path / "one")
    assert load_database(DataChoice()).names()


def test_stopped_from_the_keyboard(
    capsys: pytest.CaptureFixture[str], excerpt: pathlib.Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stop(*_args: object) -> bytes:
        raise KeyboardInterrupt

    monkeypatch.setattr(store, "compile_image", stop)
    assert main(["navdata", "add", str(excerpt)]) == 130
    assert capsys.readouterr() == ("", "")
    assert list(store.folder().iterdir()) == []


# Progress


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_is_shown_on_a_terminal_and_gone_at_the_end(
    excerpt: pathlib.Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stderr", Terminal())
    assert main(["navdata", "add", str(excerpt)]) == 0
    shown = sys.stderr.getvalue().split("\r")  # type: ignore[attr-defined]
    assert shown[-3] == f"Adding {excerpt} … 100 %"
    assert (shown[-2].strip(), shown[-1]) == ("", "")
    assert len(shown) == len(set(shown)) + 1  # the empty text before the first and after the last


# Which data a run uses


def test_files_given_then_the_store_then_the_demo_region(tmp_path: pathlib.Path) -> None:
    kept, given = written(tmp_path, "kept", fix("ZAQIP", 1)), written(tmp_path, "given", fix("TOVIZ", 1))

    def used(*files: pathlib.Path, demo: bool = False) -> list[str]:
        return [source.name for source in load_database(DataChoice(tuple(map(str, files)), demo)).sources]

    assert used() == ["demo region"]
    store.add_file(kept)
    assert used() == ["kept"]
    assert used(given) == ["given"]
    assert used(demo=True) == ["demo region"]
    assert sorted(used(given, demo=True)) == ["demo region", "given"]


def test_proof_rests_on_what_was_added(
    capsys: pytest.CaptureFixture[str], excerpt: pathlib.Path, tmp_path: pathlib.Path
) -> None:
    route = ["proof", "--route", "MERIT", "--departure", "KJFK", "--destination", "KBOS", "--date", "2023-02-01"]
    said(capsys, "add", excerpt)
    main(route)
    before = capsys.readouterr().out
    assert f"Navigation data: {NAME} ({READ})." in " ".join(before.split())
    main([*route, "--navdata", str(excerpt)])
    assert capsys.readouterr().out == before
    said(capsys, "add", written(tmp_path, "next", fix("ZAQIP", 1), volume="2302"))
    main(route)
    mixed = " ".join(capsys.readouterr().out.split())
    assert "Navigation data: next (cycle 2302, 1 record read, 0 rejected); " in mixed
    assert f"{NAME} ({READ}). Where several have a record, the" in mixed
    assert "part of the data holds for other days: cycle 2302, 23 FEB 2023 to 22 MAR 2023." in mixed
    assert "Data of several cycles is loaded together: where several have a record, the newest is used." in mixed


def test_replace_takes_out_all_that_was_there_once_the_new_is_in(
    capsys: pytest.CaptureFixture[str], excerpt: pathlib.Path, tmp_path: pathlib.Path
) -> None:
    said(capsys, "add", excerpt)
    out = said(capsys, "add", "--replace", written(tmp_path, "next", fix("ZAQIP", 1), volume="2302"))
    assert f"Removed {NAME}." in out
    assert [one.name for one in store.stored_files()] == ["next"]
    broken = tmp_path / "broken"
    broken.write_text("no data")
    assert main(["navdata", "add", "--replace", str(broken)]) == 3
    assert [one.name for one in store.stored_files()] == ["next"]


def test_an_older_cycle_in_use_is_said_with_the_way_out(
    capsys: pytest.CaptureFixture[str], excerpt: pathlib.Path, tmp_path: pathlib.Path
) -> None:
    said(capsys, "add", excerpt)
    new = written(tmp_path, "next", fix("ZAQIP", 1), volume="2302")
    for out in (said(capsys, "add", new), said(capsys, "list")):
        assert f"{NAME} is of the older cycle 2301 and stays in use." in out
        assert f"routecheck navdata remove {NAME}" in out
        assert "next is of the older" not in out


def test_the_list_as_json(capsys: pytest.CaptureFixture[str], excerpt: pathlib.Path) -> None:
    assert json.loads(said(capsys, "list", "--format", "json")) == []
    said(capsys, "add", excerpt)
    (source,) = json.loads(said(capsys, "list", "--format", "json"))
    assert (source["name"], source["cycle"], source["effective"]) == (NAME, "2301", "2023-01-26")
    assert source["counts"]["airports"] > 100
    assert source["is_current"] is False
