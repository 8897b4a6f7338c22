"""Files that are written whole or not at all. What stands in them is not known here.

The bytes go into a draft beside the file, are brought onto the disk, and the draft is renamed: whoever opens the file
finds the old content or the new one, even where the program is killed. A draft that a killed program left is removed
by the next one that writes into the folder.
"""

from __future__ import annotations

import os
import time
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

_DRAFT = ".routecheck-{}.draft"
_ABANDONED_S = 3_600
"""No draft is written for so long: an older one was left by a program that was killed."""


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
            self._path.chmod(path.stat().st_mode)
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
    """Remove the drafts in a folder that nobody writes any more."""
    for draft in folder.glob(_DRAFT.format("*")):
        with suppress(OSError):
            if draft.stat().st_mtime < time.time() - _ABANDONED_S:
                draft.unlink()
