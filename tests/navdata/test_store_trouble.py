"""The store in trouble: no room, no rights, damage, several programs at once and killed ones; nothing is lost."""

import errno
import io
import logging
import os
import pathlib
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from itertools import accumulate
from typing import ClassVar

import pytest
from arinc_records import fix
from store_files import files, idents, names, opened, opened_without_compiling, the_one, written
from test_sqlite_image import at_once

from routecheck.files import draft_in
from routecheck.navdata import store
from routecheck.navdata.checksummed_file import write_checksummed
from routecheck.settings import DataError

HERE = pathlib.Path(__file__).parent
pytestmark = pytest.mark.usefixtures("own_store")


# No room, no rights


class _Full(io.FileIO):
    """A file on a disk with little room left."""

    room = 0
    sizes: ClassVar[list[int]] = []
    """How much was handed over at each write."""

    def write(self, data: object) -> int:
        size = memoryview(data).nbytes  # type: ignore[arg-type]
        _Full.sizes.append(size)
        _Full.room -= size
        if _Full.room < 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        super().write(data)  # type: ignore[arg-type]
        return size


@pytest.fixture
def room(monkeypatch: pytest.MonkeyPatch) -> Callable[[int], None]:
    """From the call on, so many bytes can be written."""
    really = pathlib.Path.open

    def opening(path: pathlib.Path, mode: str = "r", *args: object, **named: object) -> object:
        if mode == "xb":
            return _Full(str(path), mode)
        return really(path, mode, *args, **named)  # type: ignore[call-overload]

    def set_room(number: int) -> None:
        _Full.room = number
        _Full.sizes = []
        monkeypatch.setattr(pathlib.Path, "open", opening)

    return set_room


def test_a_disk_without_room(tmp_path: pathlib.Path, before: dict[str, bytes], room: Callable[[int], None]) -> None:
    """It ends with each write in turn, as a write finds room or none."""
    path = written(tmp_path, "new.txt", fix("TOVIZ", 1, 1))
    room(1_000_000)
    store.add_file(path)
    ends = list(accumulate(size for size in _Full.sizes if size))
    store.remove_file("new.txt")
    assert idents() == ["ZAQIP"]
    for end in ends:
        room(end - 1)
        with pytest.raises(DataError) as refused:
            store.add_file(path)
        assert refused.value.why == "there is no room left on the disk; nothing was changed"
        assert files() == before
    assert len(ends) > 8
    room(ends[-1])
    store.add_file(path)
    room(0)
    assert sorted(opened_without_compiling().names()) == ["TOVIZ", "ZAQIP"]


def test_without_room_the_compiled_image_serves_once(
    before: dict[str, bytes], room: Callable[[int], None], caplog: pytest.LogCaptureFixture
) -> None:
    the_one(".image").unlink()
    room(0)
    with caplog.at_level(logging.WARNING):
        assert idents() == ["ZAQIP"]
    assert "cannot be kept" in caplog.text
    assert list(store.folder().glob("*.image")) == []


_LIMITED = """
import resource, signal, sys
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))
from routecheck.navdata import store
from routecheck.settings import DataError
try:
    store.add_file(sys.argv[1])
except DataError as error:
    print(error.why)
"""


def test_a_limit_that_the_system_sets(excerpt: pathlib.Path, before: dict[str, bytes]) -> None:
    assert run(_LIMITED, excerpt) == "file too large; nothing was changed\n"
    assert files() == before


def test_a_folder_that_cannot_be_one(tmp_path: pathlib.Path) -> None:
    path = written(tmp_path, "new.txt", fix("TOVIZ", 1, 1))
    (tmp_path / "user").write_text("a file")
    for ask in (
        store.open_store,
        store.stored_files,
        store.stored_sources,
        lambda: store.add_file(path),
        lambda: store.remove_file("x"),
    ):
        with pytest.raises(DataError, match="not a directory"):
            ask()  # type: ignore[operator]


@pytest.mark.parametrize(("number", "why"), [(errno.EROFS, "this folder is read-only"), (errno.EACCES, "not be used")])
def test_a_folder_that_may_not_be_written(
    tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch, before: dict[str, bytes], number: int, why: str
) -> None:
    def refuse(*_args: object, **_named: object) -> None:
        raise OSError(number, os.strerror(number))

    path = written(tmp_path, "new.txt", fix("TOVIZ", 1, 1))
    really = pathlib.Path.open
    monkeypatch.setattr(
        pathlib.Path, "open", lambda p, mode="r", **n: (refuse if mode == "xb" else really)(p, mode, **n)
    )
    with pytest.raises(DataError, match=f"{why}.*nothing was changed"):
        store.add_file(path)
    monkeypatch.setattr(pathlib.Path, "unlink", refuse)
    with pytest.raises(DataError, match=f"{why}.*it was not removed"):
        store.remove_file("old.txt")
    assert files() == before


# Damage, other versions


def cut(content: bytes) -> bytes:
    return content[: len(content) // 2]


def one_bit(content: bytes) -> bytes:
    middle = len(content) * 2 // 3
    return content[:middle] + bytes([content[middle] ^ 4]) + content[middle + 1 :]


DAMAGES: list[Callable[[bytes], bytes]] = [
    cut,
    one_bit,
    lambda content: b"",
    lambda content: content[:-1],
    lambda content: content + b"\0",
    lambda content: b"\0" * len(content),
    lambda content: bytes(n * n % 251 for n in range(len(content))),
    lambda content: content[:40],
    lambda content: content.replace(b"schema ", b"schema 0.", 1),
    lambda content: content.replace(b"program ", b"program 0.", 1),
]


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_image_is_made_again(before: dict[str, bytes], damage: Callable[[bytes], bytes]) -> None:
    view = the_one(".image")
    damaged = damage(view.read_bytes())
    assert damaged != view.read_bytes()
    view.write_bytes(damaged)
    assert idents() == ["ZAQIP"]
    assert files() == before
    assert list(opened_without_compiling().names()) == ["ZAQIP"]


def test_whole_bytes_that_are_no_image_are_made_again(before: dict[str, bytes]) -> None:
    write_checksummed(the_one(".image"), store.IMAGE_KIND, b"SQLite format 3\0" + b"\1" * 5_000)
    assert idents() == ["ZAQIP"]
    assert files() == before


def test_an_image_of_another_version_is_made_again_and_goes(
    before: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    older = the_one(".image")
    monkeypatch.setattr(store, "IMAGE_KIND", "routecheck navigation data, schema 2, program 9.9")
    assert idents() == ["ZAQIP"]
    assert the_one(".image") != older


@pytest.mark.parametrize("damage", [*DAMAGES[:4], *DAMAGES[5:7]])
def test_a_damaged_copy_is_no_loss_while_the_image_is_whole(
    tmp_path: pathlib.Path, before: dict[str, bytes], damage: Callable[[bytes], bytes]
) -> None:
    copy = the_one(".copy")
    copy.write_bytes(damage(copy.read_bytes()))
    assert idents() == ["ZAQIP"]
    the_one(".image").unlink()
    with pytest.raises(DataError, match=r"old.txt: the copy that was kept cannot be used, .*navdata remove old.txt"):
        store.open_store()
    with pytest.raises(DataError, match="Add the file again"):
        store.add_file(written(tmp_path, "new.txt", fix("TOVIZ", 1, 1)))
    store.add_file(tmp_path / "old.txt")
    assert idents() == ["ZAQIP"]
    assert files() == before


def test_a_file_whose_copy_is_gone_can_be_removed(before: dict[str, bytes]) -> None:
    the_one(".copy").unlink()
    the_one(".image").unlink()
    with pytest.raises(DataError, match="cannot be used, it is gone"):
        store.stored_sources()
    store.remove_file("old.txt")
    assert store.open_store() is None


@pytest.mark.parametrize("damage", DAMAGES[:7])
def test_a_damaged_record_costs_the_name_and_nothing_else(
    tmp_path: pathlib.Path, before: dict[str, bytes], damage: Callable[[bytes], bytes]
) -> None:
    record = the_one(".record")
    record.write_bytes(damage(record.read_bytes()))
    assert idents() == ["ZAQIP"]
    assert [source.name for source in store.stored_sources()] == names() == [f"unnamed-{record.stem[:8]}"]
    store.add_file(tmp_path / "old.txt")
    assert files() == before


# Several programs at once, and killed ones


def run(code: str, *arguments: object) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code, *map(str, arguments)], capture_output=True, text=True, check=False, cwd=HERE
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def killed_when_it_says_so(code: str, *arguments: object) -> None:
    with subprocess.Popen([sys.executable, "-c", code, *map(str, arguments)], stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"now\n"
        process.send_signal(signal.SIGKILL)


_AT_A_SHARE = """
import sys, time
from routecheck.navdata import store
def progress(share):
    if share >= float(sys.argv[2]):
        print("now", flush=True)
        time.sleep(60)
store.add_file(sys.argv[1], progress=progress)
"""
_AT_A_RENAME = """
import pathlib, sys, time
from routecheck.navdata import store
left = int(sys.argv[2])
really = pathlib.Path.replace
def replace(path, target):
    global left
    if not left:
        print("now", flush=True)
        time.sleep(60)
    left -= 1
    return really(path, target)
pathlib.Path.replace = replace
store.add_file(sys.argv[1])
"""


@pytest.mark.parametrize(
    ("code", "when"),
    [(_AT_A_SHARE, 0.1), (_AT_A_SHARE, 0.8), (_AT_A_SHARE, 1.0), *((_AT_A_RENAME, n) for n in range(3))],
)
def test_killed_while_adding(region: pathlib.Path, before: dict[str, bytes], code: str, when: float) -> None:
    killed_when_it_says_so(code, region, when)
    left = files()
    assert before.items() <= left.items()
    assert names() == ["old.txt"]
    assert list(opened_without_compiling().names()) == ["ZAQIP"]
    for path in store.folder().iterdir():
        os.utime(path, (time.time() - 7_200,) * 2)
    store.add_file(region)
    assert names() == ["old.txt", region.name]
    assert "LENDU" in opened().names()
    assert len(files()) == 5, "two copies, two records, one image"


def test_what_others_are_still_writing_is_left_alone(tmp_path: pathlib.Path, before: dict[str, bytes]) -> None:
    with draft_in(store.folder()) as theirs:
        store.add_file(written(tmp_path, "new.txt", fix("TOVIZ", 1, 1)))
        theirs.stream.write(b"theirs")
        theirs.put_in_place(store.folder() / "theirs")
    assert (store.folder() / "theirs").read_bytes() == b"theirs"


_WHEN_TOLD = """
import pathlib, sys, time
from routecheck.navdata import store
print("ready", flush=True)
sys.stdin.readline()
store.add_file(sys.argv[1])
store.open_store()
"""


def test_two_programs_add_at_once(tmp_path: pathlib.Path, before: dict[str, bytes]) -> None:
    many = [fix(f"Q{n:04d}", n % 90, n % 180) for n in range(1_500)]
    paths = [written(tmp_path, name, *many, fix(f"ZAQ{name}", 1, 1)) for name in "ABCD"]
    add_at_once([*paths, paths[0]])
    assert sorted(names()) == ["A", "B", "C", "D", "old.txt"]
    assert set(idents()) >= {"ZAQA", "ZAQB", "ZAQC", "ZAQD", "ZAQIP", "Q1499"}
    assert len(files()) == 11, "five copies, five records, one image"


def add_at_once(paths: list[pathlib.Path]) -> None:
    started = [
        subprocess.Popen(
            [sys.executable, "-c", _WHEN_TOLD, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        for path in paths
    ]
    for process in started:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
    for process in started:
        assert process.stdin is not None
        process.stdin.write("go\n")
        process.stdin.flush()
    for process in started:
        process.communicate(timeout=60)
        assert process.returncode == 0


def test_two_threads_compile_at_once(before: dict[str, bytes]) -> None:
    the_one(".image").unlink()
    answers = at_once(idents, 4)
    assert answers == [["ZAQIP"]] * 4
    assert files() == before


def test_a_file_removed_while_the_one_before_it_is_compiled(tmp_path: pathlib.Path, before: dict[str, bytes]) -> None:
    store.add_file(written(tmp_path, "new.txt", fix("TOVIZ", 1, 1)))
    the_one(".image").unlink()
    removed: list[float] = []

    def remove(share: float) -> None:
        if not removed:
            removed.append(share)
            store.remove_file("new.txt")

    database = store.open_store(progress=remove)
    assert removed
    assert database is not None
    assert list(database.names()) == ["ZAQIP"]


def test_an_open_library_outlives_its_files(before: dict[str, bytes]) -> None:
    database = opened()
    store.remove_file("old.txt")
    assert files() == {}
    assert [place.lat for place in database.places("ZAQIP")] == [1.0]
