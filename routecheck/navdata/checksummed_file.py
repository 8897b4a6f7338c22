"""Files that are whole or not there at all: written beside, put in place by renaming, opened only when undamaged.

What is in them is not known here.
"""

from __future__ import annotations

import hashlib
import os
import secrets
from contextlib import contextmanager
from typing import IO, TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

UNFINISHED = ".new"
"""How the name of a file ends that is still being written."""


class DamagedError(Exception):
    """A file is not what was sealed: cut off, altered, or sealed by another version."""


def unfinished(path: Path) -> Path:
    """A name beside that path for what is still being written: nobody else's."""
    return path.with_name(f"{path.name}.{os.getpid()}-{secrets.token_hex(4)}{UNFINISHED}")


@contextmanager
def writing(path: Path) -> Iterator[IO[bytes]]:
    """A new file, open for writing; when the block ends well it is whole and on the disk. Raises OSError."""
    with path.open("xb") as stream:
        yield stream
        stream.flush()
        os.fsync(stream.fileno())


def seal(path: Path, mark: str, content: bytes) -> None:
    """Write content under a mark of what it is, with its checksum, in place of what was there. Raises OSError."""
    new = unfinished(path)
    try:
        with writing(new) as stream:
            stream.write(f"{mark}\n{hashlib.sha256(content).hexdigest()}\n".encode())
            stream.write(content)
        new.replace(path)
    finally:
        new.unlink(missing_ok=True)


def unseal(path: Path, mark: str) -> memoryview:
    """What was sealed under that mark. Raises DamagedError where a byte of it is not as it was, OSError."""
    whole = memoryview(path.read_bytes())
    head = f"{mark}\n".encode()
    start = len(head) + 65
    if whole[: len(head)] != head:
        raise DamagedError(f"{path.name} is of another version, or no such file")
    content = whole[start:]
    if bytes(whole[len(head) : start]) != f"{hashlib.sha256(content).hexdigest()}\n".encode():
        raise DamagedError(f"{path.name} is damaged")
    return content
