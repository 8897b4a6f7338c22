"""Standard input as it comes: line by line, so that a row is checked as soon as it is there."""

from __future__ import annotations

import codecs
import sys
from collections import deque
from typing import TYPE_CHECKING, Any

from routecheck.faults import UsageError

if TYPE_CHECKING:
    from collections.abc import Iterator

NAME = "standard input"
_BLOCK = 65_536
_HEAD = 4_096
"""So much is looked at to tell what the input is, where its first line is no shorter."""
_WIDE = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


class StandardInput:
    """What stands on standard input. Lines end where they do in a file; bytes that are no UTF-8 are Windows-1252."""

    def __init__(self) -> None:
        if sys.stdin is None:
            raise UsageError("there is no standard input: it is closed")
        self._stream: Any = sys.stdin.buffer
        self._lines: deque[bytes] = deque()
        self._rest = b""
        self._is_at_end = False

    def read_head(self) -> bytes:
        """What it begins with: up to the end of the first line that is not empty. It comes again."""
        while not (
            self._is_at_end or len(self._bytes_read_ahead()) > _HEAD or any(line.strip() for line in self._lines)
        ):
            self._read_block()
        return self._bytes_read_ahead()

    def is_wide(self) -> bool:
        """Whether it is in UTF-16, of which single lines cannot be told."""
        return self._bytes_read_ahead().startswith(_WIDE)

    def read_all(self) -> bytes:
        """All of it."""
        while not self._is_at_end:
            self._read_block()
        return self._bytes_read_ahead()

    def lines(self) -> Iterator[str]:
        """Its lines with their ends, each as soon as it is there."""
        mark = codecs.BOM_UTF8
        while self._lines or not self._is_at_end:
            if self._lines:
                yield _decode(self._lines.popleft().removeprefix(mark))
                mark = b""
            else:
                self._read_block()

    def would_wait(self) -> bool:
        """Whether the next line is not there yet."""
        return not (self._lines or self._is_at_end)

    def _bytes_read_ahead(self) -> bytes:
        return b"".join((*self._lines, self._rest))

    def _read_block(self) -> None:
        block: bytes = self._stream.read1(_BLOCK)
        self._is_at_end = not block
        lines = (self._rest + block).splitlines(keepends=True)
        # The end of the last line may still be to come.
        self._rest = b"" if self._is_at_end or not lines or lines[-1].endswith(b"\n") else lines.pop()
        self._lines.extend(lines)


def _decode(line: bytes) -> str:
    try:
        return line.decode("utf-8")
    except UnicodeDecodeError:
        return line.decode("cp1252", errors="replace")
