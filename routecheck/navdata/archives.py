"""Opens a file of navigation data, packed or not, as blocks of lines. What the lines say is not looked at here.

How a file is packed is seen from its first bytes, not from its name.
"""

from __future__ import annotations

import gzip
import io
import lzma
import zipfile
import zlib
from contextlib import contextmanager
from typing import IO, TYPE_CHECKING, cast

from routecheck.files import NoRegularFileError, open_file
from routecheck.frozen_dataclass import dataclass
from routecheck.settings import DataError, UsageError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

BLOCK = 1 << 20
"""Characters taken at once."""
LONGEST_LINE = 1 << 20
"""What has no line end for so long is no text: it is handed on in pieces instead of being gathered."""
_MARK = "ï»¿"
"""The byte order mark of UTF-8, with which a file may begin, as the three characters that it is here."""
_BROKEN = (OSError, EOFError, lzma.LZMAError, zlib.error, zipfile.BadZipFile)


@dataclass(frozen=True, slots=True)
class Member:
    """One text: the file itself (name "") or one of several in a .zip.

    `head` is how it begins, to be sniffed at. `blocks` gives (lines, share of the file read); bytes become characters
    one by one (latin-1), so that columns stay columns whatever the encoding was.
    """

    name: str
    head: bytes
    blocks: Iterator[tuple[list[str], float]]


def members(path: Path) -> Iterator[Member]:
    """The texts in a file, to be read one after the other. Raises DataError, and UsageError where there is no file."""
    with _faults_as_sentences(path), open_file(path) as raw:
        magic = raw.read(6)
        raw.seek(0)
        share = _share_read(raw)
        if magic.startswith(b"PK"):
            yield from _zip_members(path, raw, share)
        else:
            with _unpack_stream(raw, magic) as stream:
                yield _member("", path, stream, share)


def text_member(text: str) -> Member:
    """A text that is not in a file."""
    return Member("", text[:BLOCK].encode("latin-1", "replace"), iter([(text.removeprefix(_MARK).split("\n"), 1.0)]))


def is_packed(magic: bytes) -> bool:
    """Whether a file that begins so is packed in one of the ways that are read here."""
    return magic.startswith((b"PK", b"\x1f\x8b", b"\xfd7zXZ\x00"))


def raw_blocks(path: Path) -> Iterator[tuple[bytes, float]]:
    """The bytes of a file as they are, with the share read so far. Raises like `members`."""
    with _faults_as_sentences(path), open_file(path) as raw:
        share = _share_read(raw)
        while block := raw.read(BLOCK):
            yield block, share()


def _unpack_stream(raw: IO[bytes], magic: bytes) -> IO[bytes]:
    if magic.startswith(b"\x1f\x8b"):
        return cast("IO[bytes]", gzip.open(raw))
    return lzma.open(raw) if magic == b"\xfd7zXZ\x00" else raw


def _zip_members(path: Path, raw: IO[bytes], share: Callable[[], float]) -> Iterator[Member]:
    with zipfile.ZipFile(raw) as archive:
        files = [info for info in archive.infolist() if not info.is_dir()]
        for info in files:
            try:
                stream = archive.open(info)
            except RuntimeError:  # zipfile has no better name for a password, nor for a packing it does not know
                raise DataError(
                    str(path), None, f"{info.filename} in it is locked or packed in an unknown way"
                ) from None
            with stream:
                yield _member(info.filename if len(files) > 1 else "", path, stream, share)


def _member(name: str, path: Path, stream: IO[bytes], share: Callable[[], float]) -> Member:
    head = stream.read(BLOCK)
    stream.seek(0)
    return Member(name, head, _blocks(path, stream, share))


def _blocks(path: Path, stream: IO[bytes], share: Callable[[], float]) -> Iterator[tuple[list[str], float]]:
    with _faults_as_sentences(path):
        text = io.TextIOWrapper(stream, encoding="latin-1")
        rest, mark = "", _MARK
        while block := text.read(BLOCK):
            lines = (rest + block.removeprefix(mark)).split("\n")
            mark = ""
            rest = lines.pop()
            if len(rest) > LONGEST_LINE:
                lines.append(rest)
                rest = ""
            yield lines, share()
        text.detach()
        yield [rest] if rest else [], 1.0


def _share_read(raw: IO[bytes]) -> Callable[[], float]:
    size = raw.seek(0, io.SEEK_END) if raw.seekable() else 0
    raw.seek(0)
    return lambda: raw.tell() / size if size else 0.0


@contextmanager
def _faults_as_sentences(path: Path) -> Iterator[None]:
    """Turn what the system says of a file that cannot be read into one of our own sentences."""
    try:
        yield
    except (FileNotFoundError, NotADirectoryError):
        raise UsageError(f"{path}: there is no such file") from None
    except NoRegularFileError as error:
        raise DataError(str(path), None, str(error.strerror)) from None
    except PermissionError:
        raise DataError(str(path), None, "reading this file is not allowed") from None
    except _BROKEN as error:
        raise DataError(str(path), None, f"the file is damaged or cut off ({error})") from None
