"""The collections kept in the user's data folder: one compiled file each, named after the collection.

A file is written whole or not at all. One that is damaged or of another version is named and not used; the list of
routes that it was made of is the user's own, so adding it again makes it anew.
"""

from __future__ import annotations

import hashlib
from contextlib import contextmanager
from typing import TYPE_CHECKING

from routecheck.faults import DataError, UsageError, system_reason
from routecheck.files import remove_abandoned_drafts, write_atomically
from routecheck.known.collection import UnusableError, open_collection
from routecheck.known.folder import SUFFIX, folder, list_files
from routecheck.known.known_routes import KnownRoutes

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from routecheck.known.collection import Collection


def keep_collection(collection: Collection) -> None:
    """Keep a collection for every run, in place of one of the same name. Raises DataError."""
    with _faults_as_sentences("nothing was added"):
        folder().mkdir(parents=True, exist_ok=True)
        write_atomically(_path_of(collection.about.name), collection.serialize())


def open_store() -> KnownRoutes | None:
    """All collections that are kept; None where there are none. Those that cannot be used are named in it."""
    if not list_files():
        return None
    collections, unusable = _open_files()
    return KnownRoutes(
        collections, [f"the known routes {name} cannot be used: {why}" for name, why in unusable.items()]
    )


def _open_files() -> tuple[list[Collection], dict[str, str]]:
    """The collections by name, and by what they are called here those that cannot be used, with the reason."""
    collections, unusable = [], {}
    for path in list_files():
        try:
            collections.append(open_collection(path.absolute().as_uri()))
        except UnusableError as why:
            unusable[_name_unusable(path)] = str(why)
    return sorted(collections, key=lambda one: one.about.name), unusable


def remove_collection(name: str) -> None:
    """Take a collection out again. Raises UsageError where there is none of that name, DataError."""
    path = _path_of(name)
    unusable = next((one for one in list_files() if name == _name_unusable(one)), None)
    with _faults_as_sentences("it was not removed"):
        for found in (path, unusable):
            if found is not None and found.exists():
                found.unlink()
                remove_abandoned_drafts(folder())
                return
    raise UsageError(_explain_not_found(name))


def _path_of(name: str) -> Path:
    return folder() / f"{hashlib.sha256(name.encode()).hexdigest()[:32]}{SUFFIX}"


def _name_unusable(path: Path) -> str:
    """What a collection is called that does not tell its name."""
    return f"unnamed-{path.stem[:8]}"


def _explain_not_found(name: str) -> str:
    collections, unusable = _open_files()
    there = [*(one.about.name for one in collections), *unusable]
    if not there:
        return f"there are no known routes called {name}: none were added"
    return f"there are no known routes called {name}; there is {', '.join(there)}"


@contextmanager
def _faults_as_sentences(outcome: str) -> Iterator[None]:
    """Turn what the system says of the folder into one of our own sentences."""
    try:
        yield
    except OSError as error:
        raise DataError(str(folder()), None, f"{system_reason(error)}; {outcome}") from None
