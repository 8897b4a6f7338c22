"""The navigation data kept in the user's data folder: files added once, compiled once, opened in a moment.

Of every file added the folder holds a packed copy and a small record with its name; the record's rename into place is
the moment from which it counts. Of all files together it holds one compiled image under a generation name, which says
the program, the schema and the files it was made of: it can always be made again from the copies, so a damaged, older
or missing one is never more than a wait. Nothing is changed in place and nothing is locked: two programs at once may
do work twice, never harm.
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
from dataclasses import dataclass
from pathlib import Path
from typing import IO, TYPE_CHECKING

import platformdirs

from routecheck import __version__
from routecheck.files import draft_in, remove_abandoned_drafts
from routecheck.navdata import archives, readers
from routecheck.navdata.checksummed_file import DamagedError, read_checksummed, write_checksummed
from routecheck.navdata.database import NavDatabase, merge_sources, partial_progress
from routecheck.navdata.sqlite_image import SCHEMA, Image, ImageError, image
from routecheck.settings import DataError, UsageError

if TYPE_CHECKING:
    import os
    from collections.abc import Callable, Iterator, Sequence

    from routecheck.files import Draft
    from routecheck.model import DataSource
    from routecheck.navdata.tables import Tables

    Progress = Callable[[float], None]

LOG = logging.getLogger(__name__)
_RECORD, _COPY, _VIEW = ".record", ".copy", ".library"
_RECORD_MARK = "routecheck file of navigation data 1"
_VIEW_MARK = f"routecheck navigation data, schema {SCHEMA}, program {__version__}"
_ABANDONED_S = 3_600
"""What no record speaks of and is older than this was left by a program that was killed."""
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
class KeptFile:
    """A file in the store: its name when it was added, a digest of its content, its place in the order of adding."""

    name: str
    digest: str
    order: int

    @property
    def record(self) -> Path:
        """The file that says it counts."""
        return folder() / f"{self.digest}{_RECORD}"

    @property
    def copy(self) -> Path:
        """The packed copy of its content."""
        return folder() / f"{self.digest}{_COPY}"


def folder() -> Path:
    """Where all this is kept."""
    return Path(platformdirs.user_data_dir("routecheck", appauthor=False)) / "navdata"


def _made_folder() -> Path:
    folder().mkdir(parents=True, exist_ok=True)
    return folder()


def kept() -> tuple[KeptFile, ...]:
    """The files in the store, in the order in which they were added. Raises DataError where the folder is closed."""
    with _told("its navigation data cannot be used"):
        try:
            records = [path for path in folder().iterdir() if path.suffix == _RECORD]
        except FileNotFoundError:
            return ()
        found = filter(None, map(_kept_file, records))
        return tuple(sorted(found, key=lambda file: (file.order, file.digest)))


def listed() -> tuple[DataSource, ...]:
    """The data sources in use, newest first; () where nothing was added. Raises DataError like `open_store`."""
    database = open_store()
    return database.sources if database else ()


def open_store(*, progress: Progress | None = None) -> NavDatabase | None:
    """The library of all files added; None where there are none.

    Compiles anew where the compiled image is damaged, missing or of another version; only then is `progress` told the
    share done, and it may raise to stop. Raises DataError where that cannot be done: never a library that lacks a file.
    """
    files = kept()
    while files:
        try:
            return _database(read_checksummed(_view(files), _VIEW_MARK))
        except (OSError, DamagedError, ImageError) as reason:
            LOG.info("compiling the navigation data anew: %s", reason)
        try:
            return _compiled(files, progress or _silent)
        except DataError:
            before, files = files, kept()
            if files == before:
                raise
    return None


def add(
    path: str | os.PathLike[str], *, progress: Progress | None = None, cancelled: Callable[[], bool] | None = None
) -> tuple[DataSource, ...]:
    """Add a file, in place of one of the same name. The answer is what was in it: several sources in a .zip of several.

    `progress` is told the share done and may raise to stop; where `cancelled` says so, StoppedError is raised. Whatever
    is raised, the store is as before. Raises DataError (nothing usable in the file, no room, a closed folder),
    UsageError (no such file).
    """
    path = Path(path)
    step = _stoppable(progress or _silent, cancelled)
    others = [file for file in kept() if file.name != path.name]
    parts = len(others) + 3
    before = _stamp(path)
    tables = readers.read_file(path, progress=partial_progress(step, 0, parts))
    try:
        with _told("nothing was changed"), draft_in(_made_folder()) as copy:
            digest = _copied(path, copy, partial_progress(step, 1, parts))
            if _stamp(path) != before:
                raise DataError(str(path), None, "the file was changed while it was being read; nothing was added")
            file = KeptFile(path.name, digest, 1 + max((other.order for other in others), default=0))
            others = [other for other in others if other.digest != digest]
            all_tables = [*_all_tables(others, partial_progress(step, 2, parts)), *tables]
            content = image(*merge_sources(all_tables), partial_progress(step, parts - 1, parts))
            write_checksummed(_view([*others, file]), _VIEW_MARK, content)
            _commit(file, copy)
    finally:
        _tidy()
    return tuple(one.source for one in tables)


def remove(name: str) -> None:
    """Take a file out of the store. Raises UsageError where there is none of that name, DataError."""
    files = kept()
    found = [file for file in files if file.name == name]
    if not found:
        raise UsageError(_not_there(name, files))
    with _told("it was not removed"):
        for file in found:
            _forget(file)
    _tidy()


# One file


def _kept_file(record: Path) -> KeptFile | None:
    """What a record says; where it is damaged the file still counts, its name lost; None where it is gone by now."""
    try:
        told = json.loads(bytes(read_checksummed(record, _RECORD_MARK)))
    except FileNotFoundError:
        return None
    except DamagedError:
        LOG.warning("the record %s is damaged", record)
        return KeptFile(f"unnamed-{record.stem[:8]}", record.stem, 0)
    return KeptFile(told["name"], record.stem, told["order"])


def _copied(path: Path, copy: Draft, step: Progress) -> str:
    """Copy a file, packing what is not packed; the answer is the digest of what was in it."""
    digest = hashlib.sha256()
    blocks = archives.raw_blocks(path)
    first, share = next(blocks, (b"", 1.0))
    with _packing(copy.stream, first) as packed:
        while first:
            digest.update(first)
            packed.write(first)
            step(share)
            first, share = next(blocks, (b"", 1.0))
    return digest.hexdigest()[:32]


@contextmanager
def _packing(stream: IO[bytes], first: bytes) -> Iterator[IO[bytes]]:
    if archives.is_packed(first):
        yield stream
    else:
        with gzip.GzipFile(filename="", mode="wb", compresslevel=1, fileobj=stream, mtime=0) as packed:
            yield packed  # type: ignore[misc]


def _commit(file: KeptFile, copy: Draft) -> None:
    """From here on the file counts, and what it stands for no longer does."""
    copy.put_in_place(file.copy)
    try:
        write_checksummed(file.record, _RECORD_MARK, json.dumps({"name": file.name, "order": file.order}).encode())
    finally:
        if not file.record.exists():
            file.copy.unlink(missing_ok=True)
    for other in kept():
        if other.name == file.name and other.digest != file.digest:
            _forget(other)


def _forget(file: KeptFile) -> None:
    file.record.unlink(missing_ok=True)
    with suppress(OSError):  # a copy that no record speaks of does not count, and goes later
        file.copy.unlink(missing_ok=True)


def _stamp(path: Path) -> tuple[int, int] | None:
    with suppress(OSError):
        known = path.stat()
        return known.st_size, known.st_mtime_ns
    return None


# All files together


def _view(files: Sequence[KeptFile]) -> Path:
    """The generation name: another program, schema, file or order of files has another."""
    told = json.dumps([_VIEW_MARK, [(file.digest, file.name) for file in files]])
    return folder() / f"{hashlib.sha256(told.encode()).hexdigest()[:32]}{_VIEW}"


def _compiled(files: Sequence[KeptFile], step: Progress) -> NavDatabase:
    """Compile from the copies. Where the image cannot be kept it serves this once."""
    tables = _all_tables(files, lambda share: step(share * 0.8))
    content = image(*merge_sources(tables), lambda share: step(0.8 + share * 0.2))
    try:
        write_checksummed(_view(files), _VIEW_MARK, content)
    except OSError as error:
        LOG.warning("the compiled navigation data cannot be kept: %s", error)
    else:
        _tidy()
    return _database(content)


def _database(content: bytes | memoryview) -> NavDatabase:
    records = Image(content)
    return NavDatabase(records, records.sources)


def _all_tables(files: Sequence[KeptFile], step: Progress) -> list[Tables]:
    tables = []
    for n, file in enumerate(files):
        tables += _tables(file, partial_progress(step, n, len(files)))
    return tables


def _tables(file: KeptFile, step: Progress) -> list[Tables]:
    try:
        return readers.read_file(file.copy, progress=step, name=file.name)
    except (DataError, UsageError) as error:
        why = error.why if isinstance(error, DataError) else "it is gone"
        remedy = f"Add the file again, or remove it: routecheck navdata remove {shlex.quote(file.name)}"
        raise DataError(file.name, None, f"the copy that was kept cannot be used, {why}. {remedy}") from None


def _tidy() -> None:
    """Remove what no longer counts: other generations, and what killed programs left. What cannot go stays."""
    with suppress(OSError, DataError):
        files = kept()
        counting = {_view(files), *(file.copy for file in files), *(file.record for file in files)}
        remove_abandoned_drafts(folder())
        for path in folder().iterdir():
            if path not in counting and (path.suffix == _VIEW or _abandoned(path)):
                with suppress(OSError):
                    path.unlink()


def _abandoned(path: Path) -> bool:
    return path.suffix == _COPY and path.stat().st_mtime < time.time() - _ABANDONED_S


# Words


@contextmanager
def _told(so: str) -> Iterator[None]:
    """What the system says of the folder, as one of our own sentences."""
    try:
        yield
    except OSError as error:
        why = _REASONS.get(error.errno or 0) or (error.strerror or str(error)).lower()
        raise DataError(str(folder()), None, f"{why}; {so}") from None


def _not_there(name: str, files: Sequence[KeptFile]) -> str:
    if not files:
        return f"there is no navigation data called {name}: none was added"
    whole = next((file.name for file in files if name.startswith(f"{file.name}: ")), None)
    if whole:
        return f"{name} is part of {whole}; only the whole of it can be removed"
    return f"there is no navigation data called {name}; there is {', '.join(file.name for file in files)}"


def _stoppable(progress: Progress, cancelled: Callable[[], bool] | None) -> Progress:
    def step(share: float) -> None:
        if cancelled and cancelled():
            raise StoppedError
        progress(share)

    return step


def _silent(_share: float) -> None:
    pass
