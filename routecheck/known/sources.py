"""Which files make which collection: a file makes its own, a folder one, route files that are given together one."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from routecheck.faults import UsageError
from routecheck.reading.folders import list_folder
from routecheck.reading.route_file import FORMAT as ROUTE_FILE

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path


class Source(NamedTuple):
    """The files of one collection, and what it is called."""

    name: str
    files: tuple[Path, ...]


def group_sources(paths: Sequence[Path]) -> list[Source]:
    """The collections that files and folders make. Raises UsageError for a folder without a route input in it.

    A folder is one, under its name, and so are several route files of one folder: each holds a single route.
    """
    single_routes = Counter(path.parent for path in paths if path.name.endswith(ROUTE_FILE.suffixes))
    files: dict[str, list[Path]] = {}
    for path in paths:
        if path.is_dir():
            files.setdefault(path.resolve().name, []).extend(_files_in(path))
        elif path.name.endswith(ROUTE_FILE.suffixes) and single_routes[path.parent] > 1:
            files.setdefault(path.resolve().parent.name, []).append(path)
        else:
            files.setdefault(path.name, []).append(path)
    return [Source(name, tuple(of_name)) for name, of_name in files.items()]


def _files_in(folder: Path) -> list[Path]:
    found, _ = list_folder(folder)
    if not found:
        raise UsageError(f"there is no route input in the folder {folder}")
    return found
