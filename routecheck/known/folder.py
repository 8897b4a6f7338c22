"""Where collections of known routes are kept, and whether there are any. Nothing heavy is imported for that."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import platformdirs

SUFFIX = ".known"


def folder() -> Path:
    """The folder of the collections, beside that of the navigation data."""
    return Path(platformdirs.user_data_dir("routecheck", appauthor=False)) / "known_routes"


def list_files() -> list[Path]:
    """The files of all collections, by name; [] where there is no folder, or it may not be read."""
    with suppress(OSError):
        return sorted(path for path in folder().iterdir() if path.suffix == SUFFIX)
    return []
