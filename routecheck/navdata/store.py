"""The store of navigation data in the user's data folder: files are added once, compiled once, opened in a moment.

For every file added the folder holds a packed copy and a small record with its name. The file counts from the moment
its record is renamed into place. For all files together the folder holds one compiled image, named after the program,
the schema and the files it was made of. It can always be made again from the copies: where it is damaged, of another
version or missing, the user waits and loses nothing. Nothing is changed in place. Two programs at once may do the same
work twice; only while records are put in place or taken away each waits for the other.
"""

from __future__ import annotations

import errno
import gzip
import hashlib
import json
import logging
import shlex
import time
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from typing import IO, TYPE_CHECKING

import platformdirs

from routecheck import __version__
from routecheck.faults import DataError, UsageError, system_reason
from routecheck.files import draft_in, locked_folder, remove_abandoned_drafts
from routecheck.frozen_dataclass import dataclass
from routecheck.garbage import collect_no_garbage
from routecheck.navdata import archives, readers
from routecheck.navdata.checksummed_file import DamagedError, read_checksummed, write_checksummed
from routecheck.navdata.database import NavDatabase, merge_sources, partial_progress
from routecheck.navdata.sqlite_image import SCHEMA, Image, ImageError, compile_image

if TYPE_CHECKING:
    import os
    from collections.abc import Callable, Iterator, Sequence

    from routecheck.files import Draft
    from routecheck.model import DataSource
    from routecheck.navdata.tables import Tables

    Progress = Callable[[float], None]

LOG = logging.getLogger(__name__)
_RECORD, _COPY, _IMAGE = ".record", ".copy", ".image"
_RECORD_KIND = "routecheck file of navigation data 1"
IMAGE_KIND = f"routecheck navigation data, schema {SCHEMA}, program {__version__}"
_ABANDONED_S = 3_600
"""A copy older than this that has no record was left by a program that was killed."""
_REASONS = {
    errno.ENOSPC: "there is no room left on the disk",
    errno.EDQUOT: "there is no room left on the disk for this user",
    errno.EACCES: "this folder may not be used by this user",
    errno.EPERM: "this folder may not be used by this user",
    errno.EROFS: "this folder is read-only",
}


class StoppedError(Exception):
    """The user stopped the work."""


@dataclass(frozen=True, slots=True)
class StoredFile:
    """A file in the store: its name when it was added, a digest of its content, its place in the order of adding."""

    name: str
    digest: str
    order: int

    @property
    def record(self) -> Path:
        """The record, without which the file does not count."""
        return folder() / f"{self.digest}{_RECORD}"

    @property
    def copy(self) -> Path:
        """The packed copy of its content."""
        return folder() / f"{self.digest}{_COPY}"


def folder() -> Path:
    """The folder of the store."""
    return Path(platformdirs.user_data_dir("routecheck", appauthor=False)) / "navdata"


def _make_folder() -> Path:
    folder().mkdir(parents=True, exist_ok=True)
    return folder()


def stored_files() -> tuple[StoredFile, ...]:
    """The files in the store, in the order in which they were added. Raises DataError where the folder is closed."""
    with _faults_as_sentences("its navigation data cannot be used"):
        try:
            records = [path for path in folder().iterdir() if path.suffix == _RECORD]
        except FileNotFoundError:
            return ()
        found = filter(None, map(_read_record, records))
        return tuple(sorted(found, key=lambda file: (file.order, file.digest)))


def stored_sources() -> tuple[DataSource, ...]:
    """The data sources in use, newest first; () where nothing was added. Raises DataError like `open_store`."""
    database = open_store()
    return database.sources if database else ()


def open_store(*, progress: Progress | None = None) -> NavDatabase | None:
    """The database of all files added; None where there are none.

    Compiles anew where the image is damaged, missing or of another version; only then `progress` gets the share done,
    and may raise to stop. Raises DataError where that cannot be done: a database never lacks a file.
    """
    files = stored_files()
    while files:
        try:
            return _open_image(read_checksummed(_image_path(files), IMAGE_KIND))
        except (OSError, DamagedError, ImageError) as reason:
            LOG.info("compiling the navigation data anew: %s", reason)
        try:
            return _compile(files, progress or _ignore_progress)
        except DataError:
            before, files = files, stored_files()
            if files == before:
                raise
    return None


@collect_no_garbage()
def add_file(
    path: str | os.PathLike[str], *, progress: Progress | None = None, cancelled: Callable[[], bool] | None = None
) -> tuple[DataSource, ...]:
    """Add a file, in place of one of the same name. The answer is what was in it: several sources in a .zip of several.

    `progress` gets the share done and may raise to stop; where `cancelled` says so, StoppedError is raised. Whatever
    is raised, the store is as before. Raises DataError (nothing usable in the file, no room, a closed folder),
    UsageError (no such file).
    """
    path = Path(path)
    step = _stop_if_cancelled(progress or _ignore_progress, cancelled)
    others = [file for file in stored_files() if file.name != path.name]
    parts = len(others) + 3
    before = _size_and_time(path)
    tables = readers.read_file(path, progress=partial_progress(step, 0, parts))
    try:
        with _faults_as_sentences("nothing was changed"), draft_in(_make_folder()) as copy:
            digest = _copy_packed(path, copy, partial_progress(step, 1, parts))
            if _size_and_time(path) != before:
                raise DataError(str(path), None, "the file was changed while it was being read; nothing was added")
            file = StoredFile(path.name, digest, 1 + max((other.order for other in others), default=0))
            others = [other for other in others if other.digest != digest]
            all_tables = [*_read_copies(others, partial_progress(step, 2, parts)), *tables]
            content = compile_image(*merge_sources(all_tables), partial_progress(step, parts - 1, parts))
            write_checksummed(_image_path([*others, file]), IMAGE_KIND, content)
            step(1.0)  # The last moment to stop: with the record the file counts.
            with locked_folder(folder()):
                _commit(_as_last(file), copy)
    finally:
        _remove_leftovers()
    return tuple(one.source for one in tables)


def remove_file(name: str) -> None:
    """Take a file out of the store. Raises UsageError where there is none of that name, DataError."""
    files = stored_files()
    found = [file for file in files if file.name == name]
    if not found:
        raise UsageError(_name_not_found(name, files))
    with _faults_as_sentences("it was not removed"), locked_folder(folder()):
        for file in found:
            _delete(file)
    _remove_leftovers()


# One file


def _read_record(record: Path) -> StoredFile | None:
    """The file that a record stands for, without its name where the record is damaged; None where it is gone by now."""
    try:
        values = json.loads(bytes(read_checksummed(record, _RECORD_KIND)))
    except FileNotFoundError:
        return None
    except DamagedError:
        LOG.warning("the record %s is damaged", record)
        return StoredFile(f"unnamed-{record.stem[:8]}", record.stem, 0)
    return StoredFile(values["name"], record.stem, values["order"])


def _copy_packed(path: Path, copy: Draft, step: Progress) -> str:
    """Copy a file, packed, and answer with the digest of its bytes."""
    digest = hashlib.sha256()
    blocks = archives.raw_blocks(path)
    first, share = next(blocks, (b"", 1.0))
    with _packed_stream(copy.stream, first) as packed:
        while first:
            digest.update(first)
            packed.write(first)
            step(share)
            first, share = next(blocks, (b"", 1.0))
    return digest.hexdigest()[:32]


@contextmanager
def _packed_stream(stream: IO[bytes], first: bytes) -> Iterator[IO[bytes]]:
    if archives.is_packed(first):
        yield stream
    else:
        with gzip.GzipFile(filename="", mode="wb", compresslevel=1, fileobj=stream, mtime=0) as packed:
            yield packed  # type: ignore[misc]


def _commit(file: StoredFile, copy: Draft) -> None:
    """Put a file's copy and record in place: from here on it counts, and one of the same name no longer does."""
    copy.put_in_place(file.copy)
    try:
        write_checksummed(file.record, _RECORD_KIND, json.dumps({"name": file.name, "order": file.order}).encode())
    finally:
        if not file.record.exists():
            file.copy.unlink(missing_ok=True)
    for other in stored_files():
        if other.name == file.name and other.digest != file.digest:
            _delete(other)


def _as_last(file: StoredFile) -> StoredFile:
    """The file behind all that are there now, which may be others than when its reading began."""
    others = [other.order for other in stored_files() if other.name != file.name and other.digest != file.digest]
    return replace(file, order=1 + max(others, default=0))


def _delete(file: StoredFile) -> None:
    file.record.unlink(missing_ok=True)
    with suppress(OSError):  # a copy without a record does not count, and is removed later
        file.copy.unlink(missing_ok=True)


def _size_and_time(path: Path) -> tuple[int, int] | None:
    with suppress(OSError):
        known = path.stat()
        return known.st_size, known.st_mtime_ns
    return None


# All files together


def _image_path(files: Sequence[StoredFile]) -> Path:
    """The path of the image of these files: of another program, schema, file or order of files it is another."""
    values = json.dumps([IMAGE_KIND, [(file.digest, file.name) for file in files]])
    return folder() / f"{hashlib.sha256(values.encode()).hexdigest()[:32]}{_IMAGE}"


@collect_no_garbage()
def _compile(files: Sequence[StoredFile], step: Progress) -> NavDatabase:
    """Compile from the copies. An image that cannot be written still serves this once."""
    tables = _read_copies(files, lambda share: step(share * 0.8))
    content = compile_image(*merge_sources(tables), lambda share: step(0.8 + share * 0.2))
    try:
        write_checksummed(_image_path(files), IMAGE_KIND, content)
    except OSError as error:
        LOG.warning("the compiled navigation data cannot be kept: %s", error)
    else:
        _remove_leftovers()
    return _open_image(content)


def _open_image(content: bytes | memoryview) -> NavDatabase:
    records = Image(content)
    return NavDatabase(records, records.sources)


def _read_copies(files: Sequence[StoredFile], step: Progress) -> list[Tables]:
    tables = []
    for n, file in enumerate(files):
        tables += _read_copy(file, partial_progress(step, n, len(files)))
    return tables


def _read_copy(file: StoredFile, step: Progress) -> list[Tables]:
    try:
        return readers.read_file(file.copy, progress=step, name=file.name)
    except (DataError, UsageError) as error:
        why = error.why if isinstance(error, DataError) else "it is gone"
        remedy = f"Add the file again, or remove it: routecheck navdata remove {shlex.quote(file.name)}"
        raise DataError(file.name, None, f"the copy that was kept cannot be used, {why}. {remedy}") from None


def _remove_leftovers() -> None:
    """Remove images of other files and what killed programs left. What cannot be removed stays."""
    with suppress(OSError, DataError), locked_folder(folder()):
        files = stored_files()
        in_use = {_image_path(files), *(file.copy for file in files), *(file.record for file in files)}
        remove_abandoned_drafts(folder())
        for path in folder().iterdir():
            if path not in in_use and (path.suffix == _IMAGE or _is_abandoned_copy(path)):
                with suppress(OSError):
                    path.unlink()


def _is_abandoned_copy(path: Path) -> bool:
    return path.suffix == _COPY and path.stat().st_mtime < time.time() - _ABANDONED_S


# Words


@contextmanager
def _faults_as_sentences(outcome: str) -> Iterator[None]:
    """Turn what the system says of the folder into one of our own sentences."""
    try:
        yield
    except OSError as error:
        why = _REASONS.get(error.errno or 0) or system_reason(error)
        raise DataError(str(folder()), None, f"{why}; {outcome}") from None


def _name_not_found(name: str, files: Sequence[StoredFile]) -> str:
    if not files:
        return f"there is no navigation data called {name}: none was added"
    whole = next((file.name for file in files if name.startswith(f"{file.name}: ")), None)
    if whole:
        return f"{name} is part of {whole}; only the whole of it can be removed"
    return f"there is no navigation data called {name}; there is {', '.join(file.name for file in files)}"


def _stop_if_cancelled(progress: Progress, cancelled: Callable[[], bool] | None) -> Progress:
    def step(share: float) -> None:
        if cancelled and cancelled():
            raise StoppedError
        progress(share)

    return step


def _ignore_progress(_share: float) -> None:
    pass
