"""The store: adding, listing, removing, and what cannot be added; it is the old one or the new one, and says so."""

import gzip
import io
import lzma
import os
import pathlib
import threading
import zipfile
from collections.abc import Callable

import pytest
from arinc_records import HEADERS, fix
from store_files import NEW, OLD, files, idents, names, opened, opened_without_compiling, the_one, written
from test_sqlite_image import assert_same_answers

from routecheck.navdata import readers, store
from routecheck.navdata.database import NavDatabase, load_navdata
from routecheck.settings import DataError, UsageError

pytestmark = pytest.mark.usefixtures("own_store")


# Adding, listing, removing


def test_nothing_was_ever_added() -> None:
    assert store.open_store() is None
    assert store.stored_sources() == ()
    assert store.stored_files() == ()
    assert not store.folder().exists()
    with pytest.raises(UsageError, match="none was added"):
        store.remove_file("x")


def test_the_answers_are_those_of_the_file(excerpt: pathlib.Path, northeast: NavDatabase) -> None:
    assert store.add_file(excerpt) == northeast.sources
    assert_same_answers(northeast, opened())
    assert store.stored_sources() == northeast.sources


def test_opened_again_without_compiling_and_without_the_file(tmp_path: pathlib.Path, before: dict[str, bytes]) -> None:
    (tmp_path / "old.txt").unlink()
    assert list(opened_without_compiling().names()) == ["ZAQIP"]
    assert files() == before


@pytest.mark.parametrize("pack", [bytes, gzip.compress, lzma.compress])
def test_compiled_anew_from_the_copy(tmp_path: pathlib.Path, pack: Callable[[bytes], bytes]) -> None:
    path = tmp_path / "data"
    path.write_bytes(pack("\n".join([*HEADERS, fix("ZAQIP", 1, 1), "junk"]).encode()))
    (source,) = store.add_file(path)
    path.unlink()
    the_one(".image").unlink()
    assert opened().sources == (source,)
    assert (source.name, source.cycle, source.rejected) == ("data", "2612", ((4, "not an ARINC 424 record"),))


def test_a_zip_of_several_is_one_file_with_several_sources(tmp_path: pathlib.Path) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name, ident in (("east", "ZAQIP"), ("west", "TOVIZ")):
            archive.writestr(name, "\n".join([*HEADERS, fix(ident, 1, 1)]))
    (tmp_path / "both.zip").write_bytes(packed.getvalue())
    assert [source.name for source in store.add_file(tmp_path / "both.zip")] == ["both.zip: east", "both.zip: west"]
    assert names() == ["both.zip"]
    the_one(".image").unlink()
    assert sorted(source.name for source in store.stored_sources()) == ["both.zip: east", "both.zip: west"]
    with pytest.raises(UsageError, match=r"part of both\.zip; only the whole of it can be removed"):
        store.remove_file("both.zip: east")
    store.remove_file("both.zip")
    assert store.open_store() is None
    assert files() == {}


@pytest.mark.parametrize("swap", [False, True])
def test_the_newer_cycle_holds_whatever_was_added_first(tmp_path: pathlib.Path, swap: bool) -> None:
    paths = [
        written(tmp_path, "old", fix("ZAQIP", 1, 1), fix("TOVIZ", 1, 1), header=OLD),
        written(tmp_path, "new", fix("ZAQIP", 2, 2), header=NEW),
    ]
    for path in reversed(paths) if swap else paths:
        store.add_file(path)
    assert_same_answers(load_navdata(paths), opened())
    assert [place.source for place in opened().places("ZAQIP")] == ["new"]
    assert idents() == ["TOVIZ", "ZAQIP"]
    assert [source.name for source in store.stored_sources()] == ["new", "old"]
    store.remove_file("new")
    assert [place.source for place in opened().places("ZAQIP")] == ["old"]
    assert len(list(store.folder().glob("*.image"))) == 1


def test_of_equally_new_files_the_later_added_holds(tmp_path: pathlib.Path) -> None:
    one, other = (written(tmp_path, str(lat), fix("ZAQIP", lat, 1)) for lat in (1, 2))
    for path, lat in ((one, 1), (other, 2), (one, 1)):
        store.add_file(path)
        assert [place.lat for place in opened().places("ZAQIP")] == [lat]
    assert names() == ["2", "1"]


def test_a_file_of_the_same_name_is_replaced(tmp_path: pathlib.Path, before: dict[str, bytes]) -> None:
    store.add_file(written(tmp_path / "next", "old.txt", fix("TOVIZ", 1, 1), header=NEW))
    assert names() == ["old.txt"]
    assert idents() == ["TOVIZ"]
    assert len(files()) == len(before) == 3


def test_the_same_content_under_another_name_is_renamed(tmp_path: pathlib.Path, before: dict[str, bytes]) -> None:
    (tmp_path / "old.txt").rename(tmp_path / "new.txt")
    store.add_file(tmp_path / "new.txt")
    assert names() == ["new.txt"]
    assert [source.name for source in store.stored_sources()] == ["new.txt"]
    assert len(files()) == 3


def test_removing_what_is_not_there(before: dict[str, bytes]) -> None:
    with pytest.raises(UsageError, match=r"no navigation data called x; there is old\.txt"):
        store.remove_file("x")
    assert files() == before


@pytest.mark.parametrize("name", ["a name, with “marks”.txt", "näme", os.fsdecode(b"n\xff"), "x" * 250])
def test_names_of_every_kind(tmp_path: pathlib.Path, name: str) -> None:
    (source,) = store.add_file(written(tmp_path, name, fix("ZAQIP", 1, 1)))
    assert source.name == name
    assert store.stored_sources() == (source,)
    store.remove_file(name)
    assert store.stored_files() == ()


# What cannot be added


@pytest.mark.parametrize("content", [b"", b"hello", b"PK\x03\x04", gzip.compress(b"hello" * 99, mtime=0)[:-20]])
def test_files_of_no_use_change_nothing(tmp_path: pathlib.Path, before: dict[str, bytes], content: bytes) -> None:
    (tmp_path / "bad").write_bytes(content)
    with pytest.raises(DataError, match="bad"):
        store.add_file(tmp_path / "bad")
    with pytest.raises(UsageError, match="no such file"):
        store.add_file(tmp_path / "nowhere")
    assert files() == before


def test_a_file_that_changes_meanwhile(
    tmp_path: pathlib.Path, before: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = written(tmp_path, "new.txt", fix("TOVIZ", 1, 1))
    read = readers.read_file

    def read_and_change(*args: object, **named: object) -> object:
        tables = read(*args, **named)  # type: ignore[arg-type]
        written(tmp_path, "new.txt", fix("PIKOZ", 1, 1), fix("KOLOZ", 1, 1))
        return tables

    monkeypatch.setattr(readers, "read_file", read_and_change)
    with pytest.raises(DataError, match="changed while it was being read; nothing was added"):
        store.add_file(path)
    assert files() == before


class _StopError(Exception):
    pass


def test_stopped_while_the_image_is_written(
    excerpt: pathlib.Path, before: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    stopped, write = threading.Event(), store.write_checksummed

    def write_and_stop(path: pathlib.Path, kind: str, content: bytes) -> None:
        write(path, kind, content)
        stopped.set()

    monkeypatch.setattr(store, "write_checksummed", write_and_stop)
    with pytest.raises(store.StoppedError):
        store.add_file(excerpt, cancelled=stopped.is_set)
    assert files() == before


def test_stopped_at_any_step(region: pathlib.Path, before: dict[str, bytes]) -> None:
    told: list[float] = []
    store.add_file(region, progress=told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0
    store.remove_file(region.name)
    store.stored_sources()
    for step in range(len(told)):
        left = iter(range(step))

        def stop(_share: float, left: object = left) -> None:
            if next(left, None) is None:  # type: ignore[call-overload]
                raise _StopError

        with pytest.raises(_StopError):
            store.add_file(region, progress=stop)
        assert files() == before
    asked = iter([False, False, True])
    with pytest.raises(store.StoppedError):
        store.add_file(region, cancelled=lambda: next(asked))
    assert files() == before
