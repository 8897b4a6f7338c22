"""Files: written whole or not at all, and read only where they are files. What stands in them is not known here.

The bytes go into a draft beside the file, are brought onto the disk, and the draft is renamed: whoever opens the file
finds the old content or the new one, even where the program is killed. A draft that a killed program left is removed
by the next one that writes into the folder, opens a route file in it, or starts on it.
"""

from __future__ import annotations

import errno
import os
import re
import stat
import time
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, BinaryIO

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

_DRAFT, _DRAFT_NAME = ".routecheck-{}.draft", re.compile(r"\.routecheck-[0-9a-f]{16}\.draft")
_ABANDONED_S = 3_600
"""No draft is written for so long: an older one was left by a program that was killed."""


_LONGEST_WAIT_S, _BETWEEN_TRIES_S = 20.0, 0.005
"""How long a lock is waited for: what is done under it takes a fraction of a second."""
_KINDS = (
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe; a pipe is given as -, standard input"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)


class NoRegularFileError(OSError):
    """What bears the name is no file: reading it could wait for ever. `strerror` says what it is."""


def require_file(path: Path) -> None:
    """Raise NoRegularFileError where a folder, a pipe or a device bears the name; OSError where nothing does."""
    _refuse_irregular(path, path.stat().st_mode)


def open_file(path: Path) -> BinaryIO:
    """Open a file to read its bytes. Raises like `require_file`, at once."""
    require_file(path)
    # Without waiting: between the look at the name and the opening another thing may have taken it.
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        _refuse_irregular(path, os.fstat(handle).st_mode)
        return os.fdopen(handle, "rb")
    except BaseException:
        os.close(handle)
        raise


def read_bytes(path: Path) -> bytes:
    """The bytes of a file. Raises like `open_file`."""
    with open_file(path) as stream:
        return stream.read()


def _refuse_irregular(path: Path, mode: int) -> None:
    if not stat.S_ISREG(mode):
        kind = next((name for is_kind, name in _KINDS if is_kind(mode)), "something else")
        raise NoRegularFileError(errno.EINVAL, f"it is no file but {kind}", str(path))


class Draft:
    """A file that is still being written; `stream` takes its bytes."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / _DRAFT.format(os.urandom(8).hex())
        self.stream = self._path.open("xb")

    def put_in_place(self, path: Path) -> None:
        """Make this the file of that path, in the same folder, in place of any that is there. Raises OSError."""
        self.stream.flush()
        os.fsync(self.stream.fileno())
        self.stream.close()
        if path.exists():
            mode = path.stat().st_mode
            _refuse_irregular(path, mode)  # a device that lost its place to a file would serve nobody any more
            self._path.chmod(mode)
        self._path.replace(path)

    def discard(self) -> None:
        """Remove what was not put in place."""
        with suppress(OSError):  # a full disk may refuse the last bytes even now
            self.stream.close()
        with suppress(OSError):
            self._path.unlink()


@contextmanager
def draft_in(folder: Path) -> Iterator[Draft]:
    """A new draft in a folder, discarded at the end of the block unless it was put in place. Raises OSError."""
    remove_abandoned_drafts(folder)
    draft = Draft(folder)
    try:
        yield draft
    finally:
        draft.discard()


def write_atomically(path: Path, content: bytes) -> None:
    """Write a file whole or not at all, a link followed and the file's mode kept. Raises OSError."""
    path = path.resolve()
    with draft_in(path.parent) as draft:
        draft.stream.write(content)
        draft.put_in_place(path)


def remove_abandoned_drafts(folder: Path) -> None:
    """Remove the drafts of this user in a folder that nobody writes any more. What cannot be removed stays."""
    with suppress(OSError):  # a folder that is not there, or may not be listed
        for path in folder.iterdir():
            if _DRAFT_NAME.fullmatch(path.name):
                _remove_if_abandoned(path)


def _remove_if_abandoned(path: Path) -> None:
    with suppress(OSError):
        known = path.lstat()
        is_ours = stat.S_ISREG(known.st_mode) and known.st_uid == getattr(os, "getuid", lambda: known.st_uid)()
        if is_ours and known.st_mtime < time.time() - _ABANDONED_S:
            path.unlink()


@contextmanager
def locked_folder(folder: Path) -> Iterator[None]:
    """Let no other program that asks for the same lock change a folder meanwhile; the system frees it of a killed one.

    After some seconds, and where the system has no such lock, the block runs without it: nobody waits for ever.
    """
    handle = _lock(folder)
    try:
        yield
    finally:
        if handle is not None:
            os.close(handle)


def _lock(folder: Path) -> int | None:
    """The open folder, locked; None where that cannot be done."""
    try:
        import fcntl  # here, because not every system has it

        handle = os.open(folder, os.O_RDONLY)
    except (ImportError, OSError):
        return None
    deadline = time.monotonic() + _LONGEST_WAIT_S
    while time.monotonic() < deadline:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            time.sleep(_BETWEEN_TRIES_S)
        except OSError:
            break
        else:
            return handle
    os.close(handle)
    return None
