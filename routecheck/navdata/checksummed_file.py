"""Files that carry a checksum and the kind of content they have: a damaged one, or another kind, is never read."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING

from routecheck.files import read_bytes, write_atomically

if TYPE_CHECKING:
    from pathlib import Path


class DamagedError(Exception):
    """A file is not as it was written: cut off, altered, or of another kind."""


def write_checksummed(path: Path, kind: str, content: bytes) -> None:
    """Write content with its checksum, under a line that says what kind it is. Raises OSError."""
    head = f"{kind}\n{hashlib.sha256(content).hexdigest()}\n".encode()
    write_atomically(path, head + content)


def read_checksummed(path: Path, kind: str) -> memoryview:
    """The content of a file of that kind. Raises DamagedError where a byte of it is not as it was written, OSError."""
    whole = memoryview(read_bytes(path))
    head = f"{kind}\n".encode()
    start = len(head) + 65
    if whole[: len(head)] != head:
        raise DamagedError(f"{path.name} is of another version, or no such file")
    content = whole[start:]
    if bytes(whole[len(head) : start]) != f"{hashlib.sha256(content).hexdigest()}\n".encode():
        raise DamagedError(f"{path.name} is damaged")
    return content
