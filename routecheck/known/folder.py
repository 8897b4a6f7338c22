"""Where collections of known routes are kept, and which known routes a run uses. Nothing heavy is imported for that."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import platformdirs

from routecheck.faults import UsageError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.known.choice import KnownChoice

SUFFIX = ".known"


def folder() -> Path:
    """The folder of the collections, beside that of the navigation data."""
    return Path(platformdirs.user_data_dir("routecheck", appauthor=False)) / "known_routes"


def list_files() -> list[Path]:
    """The files of all collections, by name; [] where there is no folder, or it may not be read."""
    with suppress(OSError):
        return sorted(path for path in folder().iterdir() if path.suffix == SUFFIX)
    return []


def choose_known(files: Sequence[str] = ()) -> KnownChoice | None:
    """The known routes of a run: these files, without any the collections that are kept; None where there are none.

    Every command, the worklist and the package as a library ask here; the drill does not, as the same seed gives the
    same drill whatever is kept. Raises UsageError for a missing file.
    """
    if not files and not list_files():
        return None
    from routecheck.known.choice import KnownChoice

    for name in files:
        if not Path(name).exists():
            raise UsageError(f"there is no file {name}")
    return KnownChoice(tuple(files))
