"""Files written whole or not at all: what stands there after a fault, a kill, a full disk; and no draft is left."""

import os
import pathlib
import signal
import socket
import subprocess
import sys
import threading
import time

import pytest

from routecheck.files import (
    NoRegularFileError,
    draft_in,
    locked_folder,
    read_bytes,
    remove_abandoned_drafts,
    write_atomically,
)


def names(folder: pathlib.Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_new_file(tmp_path: pathlib.Path) -> None:
    write_atomically(tmp_path / "file", b"content")
    assert (tmp_path / "file").read_bytes() == b"content"
    assert names(tmp_path) == ["file"]


def test_a_folder_that_is_gone_is_not_made_again(tmp_path: pathlib.Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_atomically(tmp_path / "gone" / "file", b"content")
    assert names(tmp_path) == []


def test_a_file_is_replaced_and_its_mode_kept(tmp_path: pathlib.Path) -> None:
    path = tmp_path / "file"
    path.write_bytes(b"a longer content than the new one")
    path.chmod(0o640)
    write_atomically(path, b"new")
    assert path.read_bytes() == b"new"
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_new_file_has_the_mode_that_the_user_gives_to_new_files(tmp_path: pathlib.Path) -> None:
    (tmp_path / "theirs").write_bytes(b"")
    write_atomically(tmp_path / "ours", b"")
    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "theirs").stat().st_mode


def test_a_link_stays_a_link(tmp_path: pathlib.Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    path = tmp_path / "elsewhere" / "file"
    path.write_bytes(b"old")
    (tmp_path / "link").symlink_to(path)
    write_atomically(tmp_path / "link", b"new")
    assert (tmp_path / "link").is_symlink()
    assert path.read_bytes() == b"new"


@pytest.mark.parametrize("call", ["replace", "open", "chmod"])
def test_whatever_fails_the_old_file_stands_and_no_draft_is_left(
    tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    def refuse(*_args: object, **_named: object) -> None:
        raise OSError

    path = tmp_path / "file"
    path.write_bytes(b"old")
    with monkeypatch.context() as patch:
        patch.setattr(pathlib.Path, call, refuse)
        with pytest.raises(OSError):  # noqa: PT011 – whichever it is
            write_atomically(path, b"new")
    assert path.read_bytes() == b"old"
    assert names(tmp_path) == ["file"]


def test_the_bytes_are_on_the_disk_before_the_name_is(tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch) -> None:
    done = []
    replace = pathlib.Path.replace
    monkeypatch.setattr(os, "fsync", lambda _handle: done.append("fsync"))
    monkeypatch.setattr(pathlib.Path, "replace", lambda *paths: (done.append("rename"), replace(*paths)))
    write_atomically(tmp_path / "file", b"new")
    assert done == ["fsync", "rename"]


def test_a_draft_that_is_not_put_in_place_goes(tmp_path: pathlib.Path) -> None:
    with draft_in(tmp_path) as draft:
        draft.stream.write(b"half")
        assert len(names(tmp_path)) == 1
    with pytest.raises(ZeroDivisionError), draft_in(tmp_path) as draft:
        draft.stream.write(1 // 0)  # type: ignore[arg-type]
    assert names(tmp_path) == []


_KILLED = """
import pathlib, sys, time
from routecheck.files import write_atomically
def wait(*_paths):
    print("now", flush=True)
    time.sleep(60)
pathlib.Path.replace = wait
write_atomically(pathlib.Path(sys.argv[1]), b"new")
"""


def test_what_a_killed_program_left_is_removed_later_and_only_that(tmp_path: pathlib.Path) -> None:
    path = tmp_path / "file"
    path.write_bytes(b"old")
    (tmp_path / "my.draft").write_bytes(b"the user's own")
    with subprocess.Popen([sys.executable, "-c", _KILLED, str(path)], stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"now\n"
        process.send_signal(signal.SIGKILL)
    assert path.read_bytes() == b"old"
    assert len(names(tmp_path)) == 3
    remove_abandoned_drafts(tmp_path)
    assert len(names(tmp_path)) == 3, "another program may still be writing it"
    for left in tmp_path.iterdir():
        os.utime(left, (time.time() - 7_200,) * 2)
    write_atomically(path, b"new")
    assert names(tmp_path) == ["file", "my.draft"]


def test_only_our_own_old_drafts_are_removed(tmp_path: pathlib.Path) -> None:
    ours = ".routecheck-0123456789abcdef.draft"
    others = [".routecheck-mine.draft", ".routecheck-0123456789abcdef.draft~", "a.draft", ".routecheck-0123.draft"]
    for name in (ours, *others):
        (tmp_path / name).write_bytes(b"")
    (tmp_path / ".routecheck-aaaaaaaaaaaaaaaa.draft").mkdir()
    (tmp_path / ".routecheck-bbbbbbbbbbbbbbbb.draft").symlink_to("a.draft")
    (tmp_path / ".routecheck-cccccccccccccccc.draft").write_bytes(b"still being written")
    for path in tmp_path.iterdir():
        if "cccc" not in path.name and not path.is_symlink():
            os.utime(path, (time.time() - 7_200,) * 2)
    before = names(tmp_path)
    remove_abandoned_drafts(tmp_path)
    assert names(tmp_path) == [name for name in before if name != ours]
    remove_abandoned_drafts(tmp_path / "nowhere")


_HOLDING = """
import pathlib, sys, time
from routecheck.files import locked_folder
with locked_folder(pathlib.Path(sys.argv[1])):
    print("now", flush=True)
    time.sleep(60)
"""


def test_a_locked_folder_is_waited_for_and_a_killed_holder_lets_it_go(tmp_path: pathlib.Path) -> None:
    with subprocess.Popen([sys.executable, "-c", _HOLDING, str(tmp_path)], stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"now\n"
        entered: list[float] = []
        waiting = threading.Thread(target=lambda: enter(tmp_path, entered))
        waiting.start()
        waiting.join(0.1)
        assert not entered
        process.send_signal(signal.SIGKILL)
        waiting.join(10.0)
        assert entered


def enter(folder: pathlib.Path, entered: list[float]) -> None:
    with locked_folder(folder):
        entered.append(time.monotonic())


def test_without_a_lock_the_work_is_done_all_the_same(tmp_path: pathlib.Path) -> None:
    entered: list[float] = []
    enter(tmp_path / "nowhere", entered)
    assert entered


def test_many_writers_at_once_leave_one_whole_file(tmp_path: pathlib.Path) -> None:
    path = tmp_path / "file"
    contents = [bytes([n]) * 200_000 for n in range(8)]
    threads = [threading.Thread(target=write_atomically, args=(path, content)) for content in contents]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert path.read_bytes() in contents
    assert names(tmp_path) == ["file"]


# ---- reading


def test_what_stands_in_a_file(tmp_path: pathlib.Path) -> None:
    (tmp_path / "file").write_bytes(b"content")
    (tmp_path / "link").symlink_to(tmp_path / "file")
    assert read_bytes(tmp_path / "file") == read_bytes(tmp_path / "link") == b"content"
    with pytest.raises(FileNotFoundError):
        read_bytes(tmp_path / "nowhere")


@pytest.mark.parametrize(
    ("kind", "said"),
    [("pipe", "it is no file but a pipe"), ("folder", "a folder"), ("device", "a device"), ("socket", "a socket")],
)
def test_what_is_no_file_is_refused_at_once(
    tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch, kind: str, said: str
) -> None:
    path = tmp_path / "given"
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "folder":
        path.mkdir()
    elif kind == "device":
        path = pathlib.Path(os.devnull)
    else:
        monkeypatch.chdir(tmp_path)  # the name of a socket may have a hundred characters
        listening = socket.socket(socket.AF_UNIX)
        listening.bind("given")
        listening.close()
    with pytest.raises(NoRegularFileError) as refused:
        read_bytes(path)
    assert said in refused.value.strerror


def test_a_pipe_that_takes_the_name_meanwhile_is_refused_too(
    tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "given"
    path.write_bytes(b"")
    before = path.stat()
    path.unlink()
    os.mkfifo(path)
    monkeypatch.setattr(pathlib.Path, "stat", lambda _path: before)
    with pytest.raises(NoRegularFileError):
        read_bytes(path)


def test_what_is_no_file_never_loses_its_place_to_one(tmp_path: pathlib.Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "folder").mkdir()
    for name in ("pipe", "folder"):
        with pytest.raises(NoRegularFileError):
            write_atomically(tmp_path / name, b"new")
    assert (tmp_path / "pipe").is_fifo()
    assert names(tmp_path) == ["folder", "pipe"]
